package search

import (
	"strings"

	"yearmark/search/words"
)

// wish is one word asked for, before the index says what stands for it.
type wish struct {
	word     string   // as typed, folded
	terms    []string // the first one that the index knows counts
	parts    []string // of a code: searched for where the code is unknown
	optional bool     // counts only where the index knows it
	prefix   bool     // stands for its beginning as well
	fuzzy    bool     // may be misspelt
}

// phrase is words that must stand together; "" stands for a word of grammar between.
type phrase []string

// parse reads what was typed into words and phrases. Every text has a meaning.
func parse(typed string, typing bool) (wishes []wish, phrases []phrase) {
	segments := quoted(typed)
	for i, s := range segments {
		tokens := words.Split(s.text)
		if s.quoted {
			if p := phraseOf(tokens); len(p) > 0 && len(phrases) < maxPhrases {
				phrases = append(phrases, p)
			}
			continue
		}
		unfinished := typing && i == len(segments)-1
		wishes = append(wishes, wishesOf(s.text, tokens, unfinished)...)
	}
	return wishes, phrases
}

// segment is a stretch of what was typed.
type segment struct {
	text   string
	quoted bool
}

// quoted cuts a text at its quotation marks. One that stands behind a figure means
// inches; one that is never closed means nothing.
func quoted(typed string) []segment {
	typed = strings.NewReplacer("“", `"`, "”", `"`, "„", `"`).Replace(typed)
	var list []segment
	for {
		open := opening(typed)
		if open < 0 {
			return append(list, segment{text: typed})
		}
		length := strings.IndexByte(typed[open+1:], '"')
		if length < 0 {
			return append(list, segment{text: typed})
		}
		list = append(list, segment{text: typed[:open]}, segment{typed[open+1 : open+1+length], true})
		typed = typed[open+length+2:]
	}
}

// opening finds the first quotation mark that does not stand behind a figure, or -1.
func opening(s string) int {
	for i := 0; i < len(s); i++ {
		if s[i] == '"' && (i == 0 || s[i-1] < '0' || s[i-1] > '9') {
			return i
		}
	}
	return -1
}

// phraseOf gives the terms of a phrase at their distances.
func phraseOf(tokens []words.Token) phrase {
	var p phrase
	last := 0
	for _, t := range tokens {
		if t.Kind.Extra() {
			continue
		}
		for gap := last + 1; len(p) > 0 && gap < t.Pos; gap++ {
			p = append(p, "")
		}
		if len(p) >= maxPhrase {
			break
		}
		p, last = append(p, t.Term), t.Pos
	}
	for len(p) > 0 && p[len(p)-1] == "" {
		p = p[:len(p)-1]
	}
	return p
}

// wishesOf gives what the tokens of a stretch ask for.
func wishesOf(text string, tokens []words.Token, unfinished bool) []wish {
	var list []wish
	for i, t := range tokens {
		w := wish{
			word: t.Word, terms: []string{t.Term}, fuzzy: t.Kind == words.Word,
			prefix: strings.HasPrefix(text[t.End:], "*") || unfinished && t.End == len(text),
		}
		switch t.Kind {
		case words.Joined:
			w.optional = true
		case words.Code:
			for _, part := range tokens[i+1:] {
				if part.Kind != words.Part || part.Pos != t.Pos {
					break
				}
				w.parts = append(w.parts, part.Term)
			}
		case words.Figure:
			w.word, w.prefix = t.Term, false
			if i+1 < len(tokens) && tokens[i+1].Kind == words.Measure {
				w.terms = []string{tokens[i+1].Term, t.Term}
			}
		case words.Measure, words.Part:
			continue
		}
		list = append(list, w)
	}
	return list
}
