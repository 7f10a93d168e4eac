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

// deskGuidePath is the page that shows the desk, deskPictures where its pictures are.
const (
	deskGuidePath = "desk.html"
	deskPictures  = "desk/"
)

// deskGuideView is how a first model is made at the desk.
type deskGuideView struct {
	Base  base
	Text  textView // before the first step
	Steps []deskStepView
}

type deskStepView struct {
	Name, Picture string // the picture is empty where there is none
	Text          textView
}

func (p *page) deskGuide() deskGuideView {
	before, steps := guide.DeskSteps()
	_, before, _ = strings.Cut(before, "\n") // the heading is the page's own
	v := deskGuideView{Base: p.base("The desk, step by step", "How a first model is written in forms, without an editor.", ""), Text: p.text(schema.Prose{Text: before}, nil)}
	for _, s := range steps {
		step := deskStepView{Name: s.Name, Text: p.text(schema.Prose{Text: s.Text}, nil)}
		if s.Picture != nil {
			step.Picture = deskPictures + s.File
		}
		v.Steps = append(v.Steps, step)
	}
	return v
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
