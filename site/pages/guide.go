package pages

import (
	"strings"

	"yearmark/schema"
	"yearmark/site/guide"
)

// guideView is how records are written, for contributors.
type guideView struct {
	Base base
	Text textView
}

// guidePath is the page for contributors.
const guidePath = "contribute.html"

func (p *page) guide() guideView {
	texts := make([]string, len(guide.Topics))
	for i, topic := range guide.Topics {
		texts[i] = topic.Text
	}
	base := p.base("How records are written", "For those who write records: files, years, sources and disputes.", "")
	return guideView{base, p.text(schema.Prose{Text: strings.Join(texts, "\n")}, nil)}
}
