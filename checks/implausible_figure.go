package checks

import (
	"fmt"
	"strconv"

	"yearmark/schema"
)

var implausibleFigure = Check{
	Name: "implausible-figure", Family: Specs, Level: Warning,
	Meaning: "A figure lies outside what its feature's record calls plausible, or outside what any bow could have in that unit.",
	Example: `# features/draw-weight.md says plausible: 10..120
specs:
  - {spec: draw-weight, range: 30..550 lb, span: 1958/1971, cites: ["list-1965, p. 6"]}
→ draw weight "30..550 lb" is beyond the plausible 10 to 120 lb`,
	Remedy: "Look for a slip of the pen or a wrong unit; if the figure is right, widen plausible: in the feature's record.",
	Run: func(p *Pass) {
		for _, t := range p.timelines() {
			for _, l := range t.dated {
				if l.About == schema.AboutSpec && t.feature != nil && !l.lent {
					p.implausible(l.Range, t.feature, claimsOf(l.Claim))
				}
			}
		}
		for _, e := range p.Ref.Examples.All() {
			for _, o := range e.Observed {
				p.implausibleObservation(o)
			}
		}
	},
}

func (p *Pass) implausibleObservation(o *schema.Observed) {
	feature, known := p.Ref.Features.Get(o.Feature.Value)
	if !known || schema.FeatureKind(feature.Kind.Value) != schema.Figure {
		return
	}
	for _, v := range o.Value {
		if r, err := schema.ParseRange(v.Value); err == nil {
			r.Pos, r.Written = v.Pos, v.Value
			p.implausible(r, feature, nil)
		}
	}
}

func (p *Pass) implausible(r schema.Range, f *schema.Feature, claims []*schema.Claim) {
	bounds, ok := plausible(f)
	if !ok || r.IsZero() || r.Low >= bounds.Low && r.High <= bounds.High {
		return
	}
	found := Finding{Pos: r.Pos, Claims: claims, Message: fmt.Sprintf("%s %s is beyond the plausible %s to %s",
		p.featureName(f.ID), quote(r.Written), number(bounds.Low), withUnit(bounds.High, schema.Unit(f.Unit.Value)))}
	if !bounds.Pos.IsZero() {
		found.Why = []Place{{Pos: bounds.Pos, Message: f.Title() + " is plausible within " + bounds.Written}}
	}
	p.Report(found)
}

// anyBow bounds what a bow, its parts or its arrows can measure in a unit:
// the editors' judgement, wide enough for a child's bow and a war bow.
var anyBow = map[schema.Unit]schema.Range{
	schema.Inch: {Low: 0, High: 100}, schema.Pound: {Low: 1, High: 250}, schema.Grain: {Low: 1, High: 20000},
	schema.Millimetre: {Low: 0, High: 2500}, schema.Centimetre: {Low: 0, High: 250},
	schema.Kilogram: {Low: 0, High: 120}, schema.Gram: {Low: 0, High: 10000},
}

func plausible(f *schema.Feature) (schema.Range, bool) {
	if !f.Plausible.IsZero() {
		return f.Plausible, true
	}
	r, ok := anyBow[schema.Unit(f.Unit.Value)]
	return r, ok
}

func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func withUnit(x float64, unit schema.Unit) string {
	if unit == "" {
		return number(x)
	}
	return number(x) + " " + string(unit)
}
