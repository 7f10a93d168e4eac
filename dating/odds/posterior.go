package odds

import (
	"iter"
	"math"
	"slices"
)

// Seen is one observation: the feature's index, the outcomes that it may be
// (rising, without repeats, at least one), and the chance that the observer
// read it rightly.
type Seen struct {
	Feature  int
	Outcomes []int
	Sure     float64
}

// Query is what is asked: which models it can be (rising indices; nil means
// all), and what was seen, each feature once at most.
type Query struct {
	Models []int
	Seen   []Seen
}

// Posterior is the odds of the pairs that a query admits.
type Posterior struct {
	// Chance sums to 1 over the admitted pairs, in the table's order, unless
	// Impossible is set.
	Chance []float64
	// Impossible says that no pair is left: none was admitted, or every one
	// has likelihood 0.
	Impossible bool
	// Entropy is what the odds leave open, in bits.
	Entropy float64

	table   *Table
	seen    []Seen
	spans   []span
	entropy float64   // in nats
	logs    []float64 // p ln p of each admitted pair
}

// span is a stretch of the table's pairs, and where it stands among the admitted.
type span struct{ start, end, at int }

// chance of what was seen under a row: s * P + (1-s) * n/|V|.
func (s *Seen) chance(f *Feature, r *Row) float64 {
	return float64(s.Sure*r.chance(s.Outcomes)) + (1-s.Sure)*float64(len(s.Outcomes))/float64(f.Outcomes)
}

// spans gives the stretches of pairs that belong to the models, and how many pairs they hold.
func (t *Table) spans(models []int) ([]span, int) {
	if models == nil {
		return []span{{0, len(t.Years), 0}}, len(t.Years)
	}
	var list []span
	n := 0
	for _, m := range models {
		s := t.Models[m]
		if last := len(list) - 1; last >= 0 && list[last].end == s.Start {
			list[last].end = s.End
		} else {
			list = append(list, span{s.Start, s.End, n})
		}
		n += s.End - s.Start
	}
	return list, n
}

// prior gives the admitted pairs' chances before anything was seen, summing to 1
// unless all are 0.
func (t *Table) prior(spans []span, n int) []float64 {
	p, sum := make([]float64, n), 0.0
	for _, s := range spans {
		copy(p[s.at:], t.Prior[s.start:s.end])
	}
	for _, x := range p {
		sum += x
	}
	if sum > 0 {
		for i := range p {
			p[i] /= sum
		}
	}
	return p
}

// Posterior gives the odds after what was seen. The likelihoods are multiplied
// as logarithms and raised to the table's temper; their order changes nothing
// beyond rounding.
func (t *Table) Posterior(q Query) *Posterior {
	spans, n := t.spans(q.Models)
	p := &Posterior{table: t, seen: q.Seen, spans: spans}
	p.Chance = t.prior(spans, n)
	x := make([]float64, n)
	for i := range q.Seen {
		t.add(x, spans, &q.Seen[i], t.under(q.Seen[i].Feature, q.Seen[:i]))
	}
	p.normalise(x)
	return p
}

// Likelihoods gives the admitted pairs' prior and the logarithms of their
// likelihoods before any temper: what every temper's odds follow from.
func (t *Table) Likelihoods(q Query) (prior, logs []float64) {
	spans, n := t.spans(q.Models)
	logs = make([]float64, n)
	plain := *t
	plain.Temper = 1
	for i := range q.Seen {
		plain.add(logs, spans, &q.Seen[i], t.under(q.Seen[i].Feature, q.Seen[:i]))
	}
	return t.prior(spans, n), logs
}

// add adds the logarithm of one observation's chance to every admitted pair; f is
// its feature as it is under what was seen before.
func (t *Table) add(x []float64, spans []span, s *Seen, f *Feature) {
	if few(len(x), f) {
		t.addFew(x, spans, s, f)
		return
	}
	term := make([]float64, len(f.Rows))
	for r := range term {
		term[r] = math.NaN()
	}
	for _, sp := range spans {
		to := x[sp.at : sp.at+sp.end-sp.start]
		for i, r := range f.RowOf[sp.start:sp.end] {
			v := term[r]
			if v != v {
				v = float64(t.Temper * math.Log(s.chance(f, &f.Rows[r])))
				term[r] = v
			}
			to[i] += v
		}
	}
}

// few says that a query admits so few pairs that a place for each of the
// feature's rows would cost more than to go from pair to pair.
func few(pairs int, f *Feature) bool { return 8*pairs < len(f.Rows) }

// addFew is add for few pairs. Neighbouring pairs mostly share their row.
func (t *Table) addFew(x []float64, spans []span, s *Seen, f *Feature) {
	last, term := uint32(0), math.NaN()
	for _, sp := range spans {
		to := x[sp.at : sp.at+sp.end-sp.start]
		for i, r := range f.RowOf[sp.start:sp.end] {
			if r != last || term != term {
				last, term = r, float64(t.Temper*math.Log(s.chance(f, &f.Rows[r])))
			}
			to[i] += term
		}
	}
}

// normalise turns the prior in Chance and the log likelihoods x into odds, their
// logarithms and their entropy.
func (p *Posterior) normalise(x []float64) {
	top := math.Inf(-1)
	last, log := -1.0, 0.0 // years of one model mostly share their prior
	for i, prior := range p.Chance {
		if prior != last {
			last, log = prior, math.Log(prior)
		}
		x[i] += log
		if x[i] > top {
			top = x[i]
		}
	}
	p.logs = x
	if math.IsInf(top, -1) {
		p.Impossible = true
		clear(p.Chance)
		clear(x)
		return
	}
	sum := 0.0
	for i := range x {
		x[i] -= top
		p.Chance[i] = math.Exp(x[i])
		sum += p.Chance[i]
	}
	logSum := math.Log(sum)
	for i := range x {
		c := p.Chance[i] / sum
		p.Chance[i] = c
		if c > 0 {
			x[i] = float64(c * (x[i] - logSum))
			p.entropy -= x[i]
		} else {
			x[i] = 0
		}
	}
	p.Entropy = max(0, p.entropy/math.Ln2)
}

// Pair gives the table's index of an admitted pair.
func (p *Posterior) Pair(admitted int) int {
	for _, s := range p.spans {
		if n := s.end - s.start; admitted < s.at+n {
			return s.start + admitted - s.at
		}
	}
	return -1
}

// Models gives each model that has admitted pairs, by its place in the table,
// and its stretch of them.
func (p *Posterior) Models() iter.Seq2[int, Model] {
	return func(yield func(int, Model) bool) {
		for _, s := range p.spans {
			for m := p.table.ModelOf(s.start); s.start < s.end && m < len(p.table.Models); m++ {
				row := p.table.Models[m]
				if row.Start >= s.end {
					break
				}
				if row.Start < row.End && !yield(m, Model{row.ID, row.Maker, row.Start - s.start + s.at, row.End - s.start + s.at}) {
					return
				}
			}
		}
	}
}

// Best is the likeliest admitted pair, the first of several that are alike, or -1.
func (p *Posterior) Best() int {
	if p.Impossible {
		return -1
	}
	best := 0
	for i, c := range p.Chance {
		if Rank(c) > Rank(p.Chance[best]) {
			best = i
		}
	}
	return best
}

// Rank rounds a chance to 41 binary figures, about 12 decimal ones, by
// Veltkamp's splitting. Chances are ordered by rank, so that those that are
// alike but for the last rounding keep the table's order.
func Rank(chance float64) float64 {
	t := float64(chance * (1<<12 + 1))
	return t - (t - chance)
}

// Decibans gives each observation's weight of evidence for a pair of the
// table: 10 log10 of its chance under that pair over its chance under the
// query's prior. It is -Inf where the pair excludes what was seen.
func (t *Table) Decibans(q Query, pair int) []float64 {
	spans, n := t.spans(q.Models)
	prior := t.prior(spans, n)
	list := make([]float64, len(q.Seen))
	for k := range q.Seen {
		s := &q.Seen[k]
		f := &t.Features[s.Feature]
		all := 0.0
		for _, part := range f.shares(spans, prior) {
			all += float64(part.sum * s.chance(f, &f.Rows[part.row]))
		}
		list[k] = 10 * math.Log10(s.chance(f, &f.Rows[f.RowOf[pair]])/all)
	}
	return list
}

// share is what the admitted pairs of one row hold of a chance.
type share struct {
	row uint32
	sum float64
}

// shares gives the rows that hold anything of the admitted pairs' chances, in
// the order in which the pairs come to them: what is summed up from them hangs
// on no other pairs of the table.
func (f *Feature) shares(spans []span, chance []float64) []share {
	var list []share
	var places []int32 // in list, from 1, of every row; none for few pairs
	if !few(len(chance), f) {
		places = make([]int32, len(f.Rows))
	}
	find := func(r uint32) int {
		if places != nil {
			return int(places[r]) - 1
		}
		return slices.IndexFunc(list, func(known share) bool { return known.row == r })
	}
	at := -1
	for _, s := range spans {
		for i, r := range f.RowOf[s.start:s.end] {
			if at < 0 || list[at].row != r {
				if at = find(r); at < 0 {
					at = len(list)
					list = append(list, share{row: r})
					if places != nil {
						places[r] = int32(at) + 1
					}
				}
			}
			list[at].sum += chance[s.at+i]
		}
	}
	return slices.DeleteFunc(list, func(s share) bool { return !(s.sum > 0) })
}
