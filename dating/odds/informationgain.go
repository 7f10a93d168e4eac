package odds

import (
	"cmp"
	"math"
	"slices"
)

// still is the gain in nats below which a look is taken to tell nothing.
const still = 1e-12

// mass is what the odds hold on the pairs of one row: their chance, and the sum of p ln p.
type mass struct{ p, plogp float64 }

// masses sums the odds by the feature's rows.
func (p *Posterior) masses(f *Feature) []mass {
	list := make([]mass, len(f.Rows))
	all := p.plogp()
	for _, s := range p.spans {
		chance, logs := p.Chance[s.at:s.at+s.end-s.start], all[s.at:s.at+s.end-s.start]
		var run mass // the pairs of one row mostly follow one another
		last := uint32(0)
		for i, r := range f.RowOf[s.start:s.end] {
			if r != last {
				list[last].p += run.p
				list[last].plogp += run.plogp
				run, last = mass{}, r
			}
			run.p += chance[i]
			run.plogp += logs[i]
		}
		list[last].p += run.p
		list[last].plogp += run.plogp
	}
	return list
}

// plogp gives p ln p of every admitted pair.
func (p *Posterior) plogp() []float64 {
	if p.logs != nil {
		return p.logs
	}
	list := make([]float64, len(p.Chance))
	for i, c := range p.Chance {
		if c > 0 {
			list[i] = float64(c * math.Log(c))
		}
	}
	return list
}

// reading is what one outcome of a look would do: its chance as the odds
// foresee it, and over the pairs the sums of z = p P^temper and of z ln z.
type reading struct{ chance, z, zlogz float64 }

func (a reading) plus(b reading) reading {
	return reading{a.chance + b.chance, a.z + b.z, a.zlogz + b.zlogz}
}

func (a reading) minus(b reading) reading {
	return reading{a.chance - b.chance, a.z - b.z, a.zlogz - b.zlogz}
}

// read gives a row's share of an outcome that has the chance under that row.
func read(m mass, chance, exponent float64) reading {
	if chance == 0 {
		return reading{}
	}
	w, log := chance, math.Log(chance)
	if exponent != 1 {
		w = math.Exp(exponent * log)
	}
	return reading{float64(m.p * chance), float64(m.p * w), float64(w * (m.plogp + float64(m.p*exponent*log)))}
}

// open is chance times the entropy, in nats, that the outcome would leave.
func (a reading) open() float64 {
	if !(a.z > 0) {
		return 0
	}
	return float64(a.chance * (math.Log(a.z) - a.zlogz/a.z))
}

// Gain is the expected fall, in bits, of the odds' entropy from a sure look at
// the feature. An outcome's chance is what the odds foresee; what it would
// make of the odds is tempered as every observation is. With a temper of 1 it
// is the mutual information and never negative.
func (p *Posterior) Gain(feature int) float64 {
	if p.Impossible {
		return 0
	}
	f := p.table.under(feature, p.seen)
	rest, readings := p.readings(f)
	after, untouched := 0.0, f.Outcomes
	for _, r := range readings {
		if r != (reading{}) {
			after += rest.plus(r).open()
			untouched--
		}
	}
	after += float64(float64(untouched) * rest.open())
	gain := p.entropy - after
	if math.Abs(gain) < still {
		return 0
	}
	return gain / math.Ln2
}

// readings gives what an outcome that no cell holds would do, and for each
// outcome how much more than that it would do.
func (p *Posterior) readings(f *Feature) (rest reading, extra []reading) {
	extra = make([]reading, f.Outcomes)
	exponent := p.table.Temper
	for i, m := range p.masses(f) {
		if m.p == 0 {
			continue
		}
		row := &f.Rows[i]
		base := read(m, row.Rest, exponent)
		rest = rest.plus(base)
		for _, c := range row.Cells {
			more := read(m, c.Chance, exponent).minus(base)
			for v := c.From; v <= c.To; v++ {
				extra[v] = extra[v].plus(more)
			}
		}
	}
	return rest, extra
}

// Outcome is a group of outcomes that would change the odds alike.
type Outcome struct {
	Outcomes []int // rising
	Chance   float64
	After    *Posterior
}

// Outcomes gives what a sure look at the feature may show and what each would
// make of the odds, likeliest first, at most limit of them. Outcomes that no
// statement tells apart are one group. Groups less likely than 1e-6 are left out.
func (p *Posterior) Outcomes(feature, limit int) []Outcome {
	if p.Impossible {
		return nil
	}
	f := p.table.under(feature, p.seen)
	rest, extra := p.readings(f)
	var list []Outcome
	for _, group := range p.groups(f) {
		chance := float64(len(group)) * rest.plus(extra[group[0]]).chance
		if chance >= 1e-6 {
			list = append(list, Outcome{Outcomes: group, Chance: chance})
		}
	}
	slices.SortStableFunc(list, func(a, b Outcome) int {
		return cmp.Or(cmp.Compare(Rank(b.Chance), Rank(a.Chance)), a.Outcomes[0]-b.Outcomes[0])
	})
	list = list[:min(len(list), limit)]
	for i := range list {
		r := rest.plus(extra[list[i].Outcomes[0]])
		list[i].After = p.after(f, list[i].Outcomes[0], r.open()/r.chance)
	}
	return list
}

// groups parts the outcomes where a cell of a likely row begins or ends. All
// that no cell holds are one group, wherever they stand.
func (p *Posterior) groups(f *Feature) [][]int {
	begins, held := make([]bool, f.Outcomes+1), make([]bool, f.Outcomes)
	for i, m := range p.masses(f) {
		if m.p == 0 {
			continue
		}
		for _, c := range f.Rows[i].Cells {
			begins[c.From], begins[c.To+1] = true, true
			for v := c.From; v <= c.To; v++ {
				held[v] = true
			}
		}
	}
	var list [][]int
	var loose []int
	for v := range f.Outcomes {
		switch {
		case !held[v]:
			loose = append(loose, v)
		case begins[v] || len(list) == 0:
			list = append(list, []int{v})
		default:
			list[len(list)-1] = append(list[len(list)-1], v)
		}
	}
	if loose != nil {
		list = append(list, loose)
	}
	return list
}

// after gives the odds once the outcome of f has been seen for sure; nats is their entropy.
func (p *Posterior) after(f *Feature, outcome int, nats float64) *Posterior {
	factor := make([]float64, len(f.Rows))
	for r := range f.Rows {
		factor[r] = math.Pow(f.Rows[r].chance([]int{outcome}), p.table.Temper)
	}
	next := &Posterior{table: p.table, spans: p.spans, Chance: make([]float64, len(p.Chance)), entropy: nats, Entropy: max(0, nats/math.Ln2)}
	sum := 0.0
	for _, s := range p.spans {
		to := next.Chance[s.at : s.at+s.end-s.start]
		from := p.Chance[s.at : s.at+s.end-s.start]
		for i, r := range f.RowOf[s.start:s.end] {
			to[i] = float64(from[i] * factor[r])
			sum += to[i]
		}
	}
	if sum == 0 {
		next.Impossible = true
		return next
	}
	for i := range next.Chance {
		next.Chance[i] /= sum
	}
	return next
}
