package pages

import (
	"strings"

	"yearmark/bench"
)

// rulesView is what the set-up sheet needs of the trade's arithmetic: how far
// published rules reach, as pairs of figures that its script works with.
type rulesView struct {
	String, Rate, Arrow  string
	Beyond               string
	NotCertified         string
	Disagree             string
	Inspection, Cautions []string
	NotFaults            []string // what looks like a fault and is none, feature by feature
	Faults               []bench.Fault
	WithFault            string
}

func (p *page) rules() rulesView {
	v := rulesView{
		String: pair(bench.StringLength(0)), Arrow: pair(bench.LightestArrow(1)),
		Beyond: plainNumber(bench.MaxBeyondMarked), NotCertified: bench.NotCertified,
		Faults: bench.Faults(), WithFault: bench.WithFault,
	}
	const pounds, draw = 100, 28
	further, _ := bench.DrawWeight(pounds, draw, draw+1)
	further.Low, further.High = further.Low-pounds, further.High-pounds
	v.Rate = pair(further)
	v.Disagree = "Published rules disagree, so these are ranges. The string: " + basisWords(bench.StringLength(0)) +
		". The arrow: " + basisWords(bench.LightestArrow(1)) + "."
	for _, c := range bench.Inspection() {
		v.Inspection = append(v.Inspection, c.Text)
	}
	for _, f := range p.ref.Features.All() {
		if f.NotAFault.Value != "" {
			v.NotFaults = append(v.NotFaults, f.Title()+": "+f.NotAFault.Value)
		}
	}
	for _, c := range append(bench.Cautions(), bench.StringMaterial()...) {
		v.Cautions = append(v.Cautions, c.Text)
	}
	return v
}

func pair(f bench.Figure) string { return plainNumber(f.Low) + " " + plainNumber(f.High) }

// basisWords names the rules behind a figure and who publishes them.
func basisWords(f bench.Figure) string {
	var parts []string
	for _, b := range f.Basis {
		parts = append(parts, b.Rule+" ("+b.Source+")")
	}
	return strings.Join(parts, "; ")
}
