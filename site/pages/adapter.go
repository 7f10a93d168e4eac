package pages

import (
	"context"
	"html/template"
	"io"
	"strings"

	"github.com/a-h/templ"

	"yearmark/site/charts"
	"yearmark/site/markup"
)

// What stands here joins components to what is no component yet.

// asHTML gives a component to a template.
func asHTML(c templ.Component) template.HTML {
	var b strings.Builder
	_ = c.Render(context.Background(), &b) // a Builder takes everything
	return template.HTML(b.String())
}

type (
	trail        []anchor
	partList     []partView
	noteList     []noteView
	tallyList    []tallyView
	cardList     []cardView
	lineList     []lineView
	bowList      []exampleLine
	openList     []openLine
	questionList []question
	namedList    []namedYears
)

func (l trail) HTML() template.HTML        { return asHTML(trailOf(l)) }
func (l partList) HTML() template.HTML     { return asHTML(parts(l)) }
func (l noteList) HTML() template.HTML     { return asHTML(notes(l)) }
func (l tallyList) HTML() template.HTML    { return asHTML(tally(l)) }
func (l cardList) HTML() template.HTML     { return asHTML(cards(l)) }
func (l lineList) HTML() template.HTML     { return asHTML(lines(l)) }
func (l bowList) HTML() template.HTML      { return asHTML(bows(l)) }
func (l openList) HTML() template.HTML     { return asHTML(openLines(l)) }
func (l questionList) HTML() template.HTML { return asHTML(questions(l)) }
func (l namedList) HTML() template.HTML    { return asHTML(named(l)) }

func (v textView) Block() template.HTML   { return asHTML(runningText(v)) }
func (v *chartView) HTML() template.HTML  { return asHTML(chartFigure(v)) }
func (v *recordView) HTML() template.HTML { return asHTML(record(v)) }
func (v barsView) HTML() template.HTML    { return asHTML(bars(v)) }

// drawn is what code draws with package markup.
func drawn(draw func(*markup.Writer)) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		m := markup.New(1 << 10)
		draw(m)
		_, err := w.Write(m.Bytes())
		return err
	})
}

func ruler(a charts.Axis) templ.Component { return drawn(a.Ruler) }
func lanes(a charts.Axis, r charts.Row) templ.Component {
	return drawn(func(w *markup.Writer) { a.Lanes(w, r) })
}
func bars(v barsView) templ.Component {
	return drawn(func(w *markup.Writer) { v.axis.Bars(w, v.chances, v.description) })
}
