package checks

import (
	"regexp"
	"unicode/utf8"

	"github.com/yuin/goldmark/text"
)

// htmlTag is a tag that word processors and web pages leave in pasted text.
var htmlTag = regexp.MustCompile(`(?i)</?(p|span|div|font|b|i|u|em|strong|br|a|ul|ol|li|table|tr|td|th|h[1-6]|style|xml|meta|sup|sub|o:p|w:[a-z]+|v:[a-z]+)(\s[^<>]*)?/?>`)

var pastedMarkup = Check{
	Name: "pasted-markup", Family: Prose, Level: Warning,
	Meaning: "Tags of HTML stand in the text, as they come along when one pastes from a word processor or a web page; the site shows them as they are.",
	Example: `<p class="MsoNormal"><span lang="EN-GB">The <b>Plover</b> was made well.</span></p>
→ "<p class="MsoNormal">" would stand on the page as it is`,
	Remedy: "Paste the text again without its formatting (often Ctrl+Shift+V), and mark words with Markdown: *leaning*, **bold**, an empty line for a new paragraph.",
	Run: func(p *Pass) {
		for _, e := range p.prose() {
			if len(e.tags) > 0 {
				first := e.tags[0]
				p.Report(Finding{Pos: first.pos, Width: first.width, Message: quote(first.text) + " would stand on the page as it is"})
			}
		}
	},
}

// findTag notes the first tag of a stretch of HTML.
func (r *proseReader) findTag(lines *text.Segments) {
	for i := range lines.Len() {
		line := lines.At(i)
		if at := htmlTag.FindIndex(line.Value(r.source)); at != nil {
			tag := string(line.Value(r.source)[at[0]:at[1]])
			r.tags = append(r.tags, mention{pos: r.places.at(line.Start + at[0]), width: utf8.RuneCountInString(tag), text: tag})
			return
		}
	}
}
