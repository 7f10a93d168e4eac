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
	tokens, err := lexer.Tokenise(nil, line)
	if err != nil {
		return line
	}
	var b strings.Builder
	if err := formatters.TTY16.Format(&b, ink, tokens); err != nil {
		return line
	}
	return strings.TrimRight(strings.ReplaceAll(b.String(), "\n", ""), " ")
}
