package pages

import (
	"cmp"
	"net/url"
	"slices"
	"strings"

	"yearmark/bench"
	"yearmark/dating"
	"yearmark/schema"
)

// dateState is the form's state for an example, as its address holds it.
func dateState(ref *schema.Reference, e *schema.Example) string {
	var parts []string
	if e.Model.Value != "" {
		parts = append(parts, "model="+e.Model.Value)
	} else if len(e.Either) > 0 {
		parts = append(parts, "model="+strings.Join(schema.Texts(e.Either), ","))
	}
	for _, o := range e.Observed {
		if o.OwnersWork() {
			continue
		}
		var values []string
		for _, value := range o.Value {
			values = append(values, stateEscape(value.Value))
		}
		if measured, ok := dating.MeasuredWeight(ref, e, o); ok {
			values = measured
		}
		part := o.Feature.Value + "=" + strings.Join(values, ",")
		if s := o.Sureness(); s != schema.Sure {
			part += "~" + string(s)
		}
		parts = append(parts, part)
	}
	if mark := e.WeightMark.Value; mark != "" {
		parts = append(parts, stateMark+"="+stateEscape(mark))
	}
	faults := slices.DeleteFunc(e.Faults(), func(kind string) bool { return !bench.Dangerous(kind) })
	if len(faults) > 0 {
		parts = append(parts, stateFaults+"="+strings.Join(faults, ","))
	}
	return strings.Join(parts, "&")
}

// The names of the weight mark and of the faults found in the form's address
// have a full stop, which no feature's identifier has.
const (
	stateMark   = "weight.mark"
	stateFaults = "faults.found"
)

// stateEscapes mends what a query's escaping does otherwise than an address's.
var stateEscapes = strings.NewReplacer("+", "%20", "~", "%7E")

// stateEscape writes a value so that the form's script reads it back.
func stateEscape(s string) string {
	return stateEscapes.Replace(url.QueryEscape(s))
}

// exampleLine is one bow in a list.
type exampleLine struct {
	anchor
	ID, Model, ModelID, Dated, Documented, Picture string
	ModelHref                                      string
	Odd, Unreviewed                                bool
}

func (p *page) exampleLines(list []*schema.Example) []exampleLine {
	var lines []exampleLine
	for _, e := range list {
		line := exampleLine{anchor: anchor{p.to(e.Address()), e.Title()}, ID: e.ID, Unreviewed: e.Unreviewed()}
		if m, ok := p.ref.Models.Get(e.Model.Value); ok {
			line.Model, line.ModelID, line.ModelHref = m.Title(), m.ID, p.to(m.Address())
		}
		if e.Documented != nil {
			line.Documented = spanWords(e.Documented.Span)
		}
		if a := p.dated.brief(e); a != nil && !a.Impossible {
			line.Dated = p.shortYears(a.Likely95)
			line.Odd = len(a.Strict.Years) == 0
		}
		for _, shown := range e.Pictures {
			line.Picture = cmp.Or(line.Picture, p.picture(shown.File.Value))
		}
		if m, ok := p.ref.Models.Get(e.Model.Value); ok && line.Picture == "" { // as the model is drawn
			line.Picture = p.picture(m.Picture.Value)
		}
		lines = append(lines, line)
	}
	return lines
}
