package dating

import (
	"cmp"
	"math"
	"slices"

	"yearmark/dating/odds"
)

// Change is what the answer would be without one of its observations.
type Change struct {
	Feature string `json:"feature"`
	// Moved is how much of the odds would move, from 0 to 1: half the sum of
	// what the chances differ by (the total variation distance).
	Moved    float64      `json:"moved"`
	Best     Odds         `json:"best"`
	Likely95 []ModelYears `json:"likely95"`
}

// Changes gives for each observation what the answer would be without it,
// those that would move most of the odds first.
func (a *Answer) Changes() []Change {
	e := a.engine
	query, asked, err := e.resolve(a.question)
	if err != nil || a.Impossible {
		return nil
	}
	whole := e.table.Posterior(query)
	var list []Change
	for i := range query.Seen {
		rest := odds.Query{Models: query.Models, Seen: slices.Delete(slices.Clone(query.Seen), i, i+1)}
		p := e.table.Posterior(rest)
		if p.Impossible {
			continue
		}
		shifted := 0.0
		for h := range p.Chance {
			shifted += float64(math.Abs(p.Chance[h]-whole.Chance[h]) / 2)
		}
		list = append(list, Change{a.Observed[asked[i]].Feature, shifted, e.pair(p, p.Best()), e.group(p, p.Smallest(.95))})
	}
	slices.SortStableFunc(list, func(a, b Change) int { return cmp.Compare(b.Moved, a.Moved) })
	return list
}
