package dating

import (
	"yearmark/schema"
	"yearmark/schema/parallel"
)

// domains gives the outcomes of every feature.
func (e *Engine) domains() []Domain {
	list := make([]Domain, len(e.features))
	for i := range e.features {
		list[i] = e.features[i].Domain
	}
	return list
}

// domainsOf works out the outcomes of every feature.
func domainsOf(in inputs) []Domain {
	records := in.ref.Features.All()
	list := make([]Domain, len(records))
	var open []int // whose outcomes depend on what is claimed
	var asked []*schema.Feature
	for i, f := range records {
		switch schema.FeatureKind(f.Kind.Value) {
		case schema.Figure, schema.Wording:
			open, asked = append(open, i), append(asked, f)
		default:
			list[i] = newDomain(f, nil)
		}
	}
	claims := claimsOf(in, asked)
	parallel.For(len(open), func(k int) { list[open[k]] = newDomain(asked[k], claims[k].list) })
	return list
}

// renewDomains makes the outcomes of those features anew that a claim left out
// spoke of, where outcomes depend on what is claimed.
func (in *inputs) renewDomains(sources []string) {
	lost := map[string]bool{}
	for _, c := range in.weights.Touched(sources...) {
		if in.leavesOut(c) {
			lost[c.FeatureID()] = true
		}
	}
	for i, f := range in.ref.Features.All() {
		if _, fixed := in.domains[i].(*Values); !fixed && lost[f.ID] {
			in.domains[i] = newDomain(f, claimsOf(*in, []*schema.Feature{f})[0].list)
		}
	}
}
