package dating

import (
	"slices"

	"yearmark/dating/odds"
)

// teachWorlds shares what dated bows and counts teach of a dependent feature among
// the worlds that they can be of: by what was seen of the features given and,
// where that was nothing, by what is claimed of them.
func (e *Engine) teachWorlds(in inputs, c *component) {
	if e.teach.Weight <= 0 {
		return
	}
	years := kernel(e.teach.Years)
	for k := range c.dependents {
		of := &c.dependents[k]
		worlds := len(of.holds[0])
		of.met = make([]*tally, worlds)
		in.metOn(in.bows[c.bow], of.feature, of.met, func(list []*tally, t teacher, times float64) {
			counted := e.newTally(of.feature)
			e.countExample(t, times, func(f int) *tally {
				if f == of.feature {
					return counted
				}
				return nil // counted elsewhere
			}, years)
			shares := e.worldShares(c, of, t.observed, t.years)
			for w := range worlds {
				if list[w] == nil {
					list[w] = e.newTally(of.feature)
				}
				list[w].addAll(counted, shares[w])
			}
		})
		for w, met := range of.met {
			if met == nil {
				of.met[w] = e.newTally(of.feature)
			}
		}
		unseen := map[int][]float64{} // by year: how likely each world is
		for w := range worlds {
			e.countClaims(of.feature, of.evidence, in, func(int) *tally { return of.met[w] }, years, func(claim, year int) float64 {
				if !of.holds[claim][w] {
					return 0
				}
				if unseen[year] == nil {
					unseen[year] = e.worldShares(c, of, nil, []int{year})
				}
				sum := 0.0
				for v, x := range unseen[year] {
					if of.holds[claim][v] {
						sum += x
					}
				}
				if sum == 0 {
					return 0
				}
				return unseen[year][w] / sum
			})
		}
	}
}

// worldShares gives how likely each world of a dependent feature is on a bow of
// these years of which something was observed.
func (e *Engine) worldShares(c *component, of *dependent, observed []Observation, years []int) []float64 {
	chances := make([][]float64, len(c.given))
	for _, i := range of.on {
		g := &c.given[i]
		f := &e.features[g.Feature]
		sums := make([]float64, g.Classes)
		at := slices.IndexFunc(observed, func(o Observation) bool { return o.Feature == f.ID })
		if at >= 0 {
			if seen, err := e.resolveSeen(observed[at]); err == nil {
				even := odds.Row{Rest: 1 / float64(len(seen.Outcomes))}
				chances[i] = g.Chances(&even, seen.Outcomes)
				continue
			}
		}
		var supports []Support
		for _, v := range e.gathered[g.Feature].of(c.bow) {
			supports = append(supports, v.Support)
		}
		rates := e.rates(f)
		for _, y := range years {
			row := rates.Row(supports, y)
			for v, x := range g.Chances(&row, nil) {
				sums[v] += x / float64(len(years))
			}
		}
		chances[i] = sums
	}
	var list []float64
	c.eachWorld(of.on, func(classes []int) {
		x := 1.0
		for k, i := range of.on {
			x = float64(x * chances[i][classes[k]])
		}
		list = append(list, x)
	})
	return list
}
