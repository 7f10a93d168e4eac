package dating

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"yearmark/dating/odds"
	"yearmark/schema"
)

// worstShown is how many misses a calibration lists.
const worstShown = 3

// Miss is a bow that the odds dated to another year than its papers give.
type Miss struct {
	Example string  `json:"example"`
	Year    int     `json:"year"` // the documented year
	Best    Odds    `json:"best"`
	Chance  float64 `json:"chance"`  // of the documented year
	Because string  `json:"because"` // lower case, no full stop
}

// objection is what speaks most against a documented year.
type objection struct {
	outside  bool // no model is dated to that year at all
	seen     Observation
	label    string
	decibans float64 // of the best year over the documented one
	claims   []*schema.Claim
}

// objection finds the observation that tells most between the best pair and
// the likeliest one of the documented year.
func (e *Engine) objection(p *odds.Posterior, query odds.Query, year int) objection {
	documented := -1
	for i, c := range p.Chance {
		if int(e.table.Years[p.Pair(i)]) == year && (documented < 0 || c > p.Chance[documented]) {
			documented = i
		}
	}
	if documented < 0 {
		return objection{outside: true}
	}
	best := p.Pair(p.Best())
	o := objection{decibans: math.Inf(-1)}
	against := e.table.Decibans(query, p.Pair(documented))
	for i, d := range e.table.Decibans(query, best) {
		if d -= against[i]; d <= o.decibans {
			continue
		}
		seen := query.Seen[i]
		f := &e.features[seen.Feature]
		o = objection{seen: Observation{Feature: f.ID}, label: label(f.Domain, seen.Outcomes), decibans: d}
		for _, g := range e.grounds(o.seen, seen, best) {
			if g.Holds && g.Seen {
				o.claims = append(o.claims, g.Claim)
			}
		}
	}
	return o
}

// misses lists the worst.
func (a *LeaveOneOut) misses(trials []Trial) []Miss {
	var list []Miss
	for _, t := range trials {
		if t.Best.Year != t.Year {
			list = append(list, Miss{t.Example, t.Year, t.Best, t.Chance, a.because(t)})
		}
	}
	slices.SortStableFunc(list, func(a, b Miss) int { return cmp.Compare(odds.Rank(a.Chance), odds.Rank(b.Chance)) })
	return list[:min(len(list), worstShown)]
}

// because says why a bow was dated to another year.
func (a *LeaveOneOut) because(t Trial) string {
	o := t.against
	switch {
	case o.outside:
		return "by the records no model that it can be was made in the papers' year"
	case !(o.decibans > .5):
		return "what was seen hardly tells the two years from each other"
	}
	name := o.seen.Feature
	if f, ok := a.ref.Features.Get(name); ok {
		name = f.Title()
	}
	text := fmt.Sprintf("%s, %s, speaks %s to 1 against the papers' year", name, o.label, times(math.Pow(10, o.decibans/10)))
	for i, c := range o.claims {
		if i == 2 {
			text += fmt.Sprintf(" and %d more", len(o.claims)-i)
			break
		}
		text += [...]string{" by the claim ", " and "}[i] + c.Key() + citedBy(a.ref, c)
	}
	return text
}

// citedBy gives a claim's first citation in brackets, or nothing.
func citedBy(ref *schema.Reference, c *schema.Claim) string {
	if cites := c.Citations(); len(cites) > 0 {
		return " (" + CitationWords(ref, cites[0]) + ")"
	}
	return ""
}
