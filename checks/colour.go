package checks

import (
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters"
	"github.com/alecthomas/chroma/v2/lexers"
)

// The marks of a terminal (ECMA-48, Select Graphic Rendition).
const (
	bold  = "1"
	faint = "2"
)

var levelColour = map[Level]string{Error: "1;31", Warning: "33", Note: "36"}

// paint sets text off on a terminal, and leaves it alone elsewhere.
func (t *textWriter) paint(colour, text string) string {
	if !t.opts.Color || text == "" {
		return text
	}
	return "\x1b[" + colour + "m" + text + "\x1b[0m"
}

// ink is how a shown line is coloured, in the sixteen colours that every
// terminal maps to its own theme.
var ink = chroma.MustNewStyle("yearmark", chroma.StyleEntries{
	chroma.Text:          "",
	chroma.Error:         "",
	chroma.NameTag:       "#00007f",
	chroma.Keyword:       "#00007f",
	chroma.LiteralString: "#007f00",
	chroma.Literal:       "#007f7f",
	chroma.LiteralNumber: "#007f7f",
	chroma.Comment:       "#7f7f7f",
	chroma.Punctuation:   "#7f7f7f",
	chroma.GenericStrong: "bold",
})

// highlight colours one line of a record for a terminal.
func highlight(line, language string) string {
	lexer := lexers.Get(language)
	if lexer == nil {
		return line
	}
	pieces := []string{line}
	if language == "yaml" {
		pieces = flowPieces(line)
	}
	var b strings.Builder
	for _, piece := range pieces {
		b.WriteString(inked(lexer, piece))
	}
	return b.String()
}

// flowPieces divides a line at the brackets and commas of lists and mappings
// written in one line, which the lexer takes for parts of the words beside them.
func flowPieces(line string) []string {
	var pieces []string
	start, quote := 0, byte(0)
	for i := 0; i < len(line); i++ {
		c := line[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '#' && i > 0 && line[i-1] == ' ':
			return append(pieces, line[start:i], line[i:])
		case strings.IndexByte("{}[],", c) >= 0:
			pieces = append(pieces, line[start:i], line[i:i+1])
			start = i + 1
		}
	}
	return append(pieces, line[start:])
}

// inked colours one piece; what the lexer or formatter cannot take stays plain.
func inked(lexer chroma.Lexer, piece string) string {
	words := strings.TrimSpace(piece)
	if words == "" {
		return piece
	}
	tokens, err := lexer.Tokenise(nil, words+"\n")
	if err != nil {
		return piece
	}
	var b strings.Builder
	if err := formatters.TTY16.Format(&b, ink, tokens); err != nil {
		return piece
	}
	before, after, _ := strings.Cut(piece, words)
	return before + strings.TrimRight(strings.ReplaceAll(b.String(), "\n", ""), " ") + after
}
