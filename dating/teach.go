package dating

import (
	"math"
	"slices"
	"sync"

	"yearmark/dating/odds"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// Teaching says how bows with a dated document, and counts that a source gives,
// teach: what was met with stands beside what is claimed.
type Teaching struct {
	Weight float64 // how many dated bows the claims are worth, above 0; 0 for no teaching
	Years  int     // h: over how many years a bow is blurred, to either side
	Steps  int     // over how many steps a figure is blurred, to either side
}

// teaching is the editor's.
func teaching(ref *schema.Reference) Teaching {
	t := ref.Settings.Judgement.Teach
	return Teaching{Weight: t.Weight.Value, Years: t.Years.Value, Steps: t.Steps.Value}
}

// kernel gives the triangular weights K_h(d) = (h + 1 - |d|) / (h + 1)^2 for d
// from -h to h, which sum to 1.
func kernel(h int) []float64 {
	list := make([]float64, 2*h+1)
	for i := range list {
		d := max(i-h, h-i)
		list[i] = float64(h+1-d) / float64((h+1)*(h+1))
	}
	return list
}

// tally is how often each outcome of one feature was met with on bows of one
// model, by year: n_v(y).
type tally struct {
	outcomes int
	horizon  edtf.Range
	byYear   map[int][]float64 // by outcome
	whole    bool              // counts are multiples of grain
}

func (e *Engine) newTally(feature int) *tally {
	return &tally{e.features[feature].Domain.Size(), e.ref.Horizon(), map[int][]float64{}, e.leavesOut}
}

// add enters a count of outcomes in a year, blurred over years; what falls
// outside the horizon is lost.
func (t *tally) add(year int, counts []float64, over []float64) {
	h := len(over) / 2
	for i, k := range over {
		y := year + i - h
		if y < t.horizon.First || y > t.horizon.Last {
			continue
		}
		t.addShare(y, counts, k)
	}
}

// grain is what counts are multiples of where a bow is left out, so that their
// sum is the same in any order, and one taken off again leaves the others to the
// last bit, up to 8,192 bows in a year.
const grain = 1. / (1 << 40)

// addShare adds a share of some counts in a year.
func (t *tally) addShare(year int, counts []float64, share float64) {
	n := t.byYear[year]
	if n == nil {
		n = make([]float64, t.outcomes)
		t.byYear[year] = n
	}
	for v, c := range counts {
		add := float64(share * c)
		if t.whole {
			add = float64(math.Round(add/grain) * grain)
		}
		n[v] += add
	}
}

func (t *tally) clone() *tally {
	made := &tally{t.outcomes, t.horizon, make(map[int][]float64, len(t.byYear)), t.whole}
	for y, counts := range t.byYear {
		made.byYear[y] = slices.Clone(counts)
	}
	return made
}

// addAll adds a share of another tally.
func (t *tally) addAll(other *tally, share float64) {
	for y, counts := range other.byYear {
		t.addShare(y, counts, share)
	}
}

// spread gives a count shared evenly by the outcomes, each blurred over steps;
// what falls beyond the outcomes there are is lost.
func spread(count float64, outcomes []int, of int, over []float64) []float64 {
	list := make([]float64, of)
	b := len(over) / 2
	for _, v := range outcomes {
		for i, k := range over {
			if at := v + i - b; at >= 0 && at < of {
				list[at] += float64(count / float64(len(outcomes)) * k)
			}
		}
	}
	return list
}

// taught gives a row with what was met with in its year: (weight * P + n) /
// (weight + N). What is possible at its word stays as it is.
func taught(row odds.Row, n []float64, weight float64) odds.Row {
	total := 0.0
	for _, c := range n {
		total += c
	}
	if total == 0 {
		return row
	}
	of := func(chance, n float64) float64 { return (float64(weight*chance) + n) / (weight + total) }
	made := odds.Row{Rest: of(row.Rest, 0), Silent: row.Silent}
	cells := row.Cells
	for v, c := range n {
		for len(cells) > 0 && int(cells[0].To) < v {
			cells = cells[1:]
		}
		chance, possible := row.Rest, false
		if len(cells) > 0 && int(cells[0].From) <= v {
			chance, possible = cells[0].Chance, cells[0].Possible
		}
		cell := odds.Cell{From: int32(v), To: int32(v), Chance: of(chance, c), Possible: possible}
		made.Cells = appendCell(made.Cells, cell, made.Rest)
	}
	return made
}

// teacher is an example whose document dates it.
type teacher struct {
	*schema.Example
	document []documentPlace
	years    []int // within the horizon that the document leaves possible
	observed []Observation
}

// documentPlace is a place of a source that gives a year.
type documentPlace struct {
	source  string
	all     bool // no place is named
	locator schema.Locator
}

// teachers gives the examples of each model, by its identifier, whose
// documents date them; what is documented by hearsay teaches nothing.
func teachers(ref *schema.Reference) map[string][]teacher {
	list := map[string][]teacher{}
	for _, ex := range ref.Examples.All() {
		if ex.Documented != nil && ex.Model.Value != "" && !provenance.Hearsay(ref, ex.Documented.Cites) {
			list[ex.Model.Value] = append(list[ex.Model.Value], teacher{ex, documentOf(ex), documentYears(ex, ref), QuestionOf(ref, ex).Observed})
		}
	}
	return list
}

func documentOf(ex *schema.Example) []documentPlace {
	var list []documentPlace
	for _, c := range ex.Documented.Cites {
		list = append(list, documentPlace{c.Source, c.Place == "", schema.ParseLocator(c.Place)})
	}
	return list
}

// taughtBy gives the examples that teach what a bow of a model is like, and
// those of the model that do not: the one that is dated and those that the same
// place of the same source documents.
func (in inputs) taughtBy(bow hypothesis) (by, but []teacher) {
	if bow.model == nil {
		return nil, nil
	}
	all := in.teachers[bow.model.ID]
	if !in.leavesBowOut() {
		return all, nil
	}
	own := documentOf(in.dated)
	for _, t := range all {
		if t.Example == in.dated || slices.ContainsFunc(t.document, func(x documentPlace) bool {
			return slices.ContainsFunc(own, x.same)
		}) {
			but = append(but, t)
		} else if in.lessons == nil { // else they are counted already
			by = append(by, t)
		}
	}
	return by, but
}

// same says that two documents may be one place: one lies within the other, or
// one names none.
func (d documentPlace) same(e documentPlace) bool {
	return d.source == e.source && (d.all || e.all || d.locator.Within(e.locator) || e.locator.Within(d.locator))
}

// lessons is what all dated bows of one model teach, counted once: an engine that
// leaves one of them out takes off what must not teach.
type lessons struct {
	mu     sync.Mutex
	counts map[int][]*tally // by dependent feature: by world; by feature under noWorlds
}

const noWorlds = -1

func (l *lessons) of(feature int, count func() []*tally) []*tally {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.counts == nil {
		l.counts = map[int][]*tally{}
	}
	if l.counts[feature] == nil {
		l.counts[feature] = count()
	}
	return l.counts[feature]
}

// metOn counts into so many new tallies what was met with on the dated bows that
// teach of a bow of a model. count enters one of them so many times: once or, to
// take it off, minus once. feature is as in lessons.
func (in inputs) metOn(bow hypothesis, feature int, tallies []*tally, count func(list []*tally, t teacher, times float64)) {
	by, but := in.taughtBy(bow)
	if in.lessons == nil {
		for _, t := range by {
			count(tallies, t, 1)
		}
		return
	}
	all := in.lessons.of(feature, func() []*tally {
		list := make([]*tally, len(tallies))
		for _, t := range in.teachers[bow.model.ID] {
			count(list, t, 1)
		}
		return list
	})
	for i, t := range all {
		if t != nil {
			tallies[i] = t.clone()
		}
	}
	for _, t := range but {
		count(tallies, t, -1)
	}
}

// tallies counts what was met with, by model of in and feature; nil where
// nothing was. in.dated, which may be nil, is left out, and so is what its own
// document documents.
func (e *Engine) tallies(in inputs) [][]*tally {
	list := make([][]*tally, len(in.bows))
	if e.teach.Weight <= 0 {
		return list
	}
	years := kernel(e.teach.Years)
	for m, bow := range in.bows {
		list[m] = make([]*tally, len(e.features))
		at := func(of []*tally) func(int) *tally {
			return func(feature int) *tally {
				if of[feature] == nil {
					of[feature] = e.newTally(feature)
				}
				return of[feature]
			}
		}
		in.metOn(bow, noWorlds, list[m], func(of []*tally, t teacher, times float64) { e.countExample(t, times, at(of), years) })
		e.countSources(m, in, at(list[m]), years)
	}
	return list
}

// countExample enters what was observed on a dated bow, shared evenly by the
// years that its document leaves possible, so many times. A sure observation
// counts 1, any other the chance that it was read rightly. at gives a feature's
// tally, or nil where that is not asked for.
func (e *Engine) countExample(t teacher, times float64, at func(feature int) *tally, years []float64) {
	for _, o := range t.observed {
		seen, err := e.resolveSeen(o)
		if err != nil || len(t.years) == 0 {
			continue
		}
		met := at(seen.Feature)
		if met == nil {
			continue
		}
		count := 1.0
		if o.Sure != schema.Sure {
			count = seen.Sure
		}
		f := &e.features[seen.Feature]
		steps := kernel(0)
		if f.Kind() == schema.Figure {
			steps = kernel(e.teach.Steps)
		}
		counts := spread(times*count/float64(len(t.years)), seen.Outcomes, f.Domain.Size(), steps)
		for _, y := range t.years {
			met.add(y, counts, years)
		}
	}
}

// documentYears gives the years within the horizon that an example's document
// leaves possible.
func documentYears(ex *schema.Example, ref *schema.Reference) []int {
	span, horizon := ref.Years(ex.Documented.Span), ref.Horizon()
	var list []int
	for y := max(span.A, horizon.First); y <= min(span.D, horizon.Last); y++ {
		if span.Possible(y) {
			list = append(list, y)
		}
	}
	return list
}

// counting is what one place of a source counts for one year.
type counting struct {
	source, place string
	year          int
}

// countSources enters the counts that sources give of a model's values, each
// believed as far as its claim. What one place counts for one year is one
// count: the values that it does not name share its remainder evenly.
func (e *Engine) countSources(model int, in inputs, at func(feature int) *tally, years []float64) {
	for i := range e.features {
		if e.features[i].Kind() != schema.Figure {
			e.countClaims(i, e.gathered[i].of(model), in, at, years, func(claim, year int) float64 { return 1 })
		}
	}
}

// countClaims enters the counts of one feature's claims; part says how much of a
// claim's counts in a year is to be entered.
func (e *Engine) countClaims(feature int, claims []ClaimEvidence, in inputs, at func(feature int) *tally, years []float64, part func(claim, year int) float64) {
	var order []counting
	named, rest := map[counting]map[int]float64{}, map[counting]float64{}
	for k, s := range claims {
		for _, c := range s.Claim.Counted {
			by := s.Claim.Cites
			if len(c.Cites) > 0 {
				by = c.Cites
			}
			if len(by) == 0 || in.skip != nil && in.skip(by[0]) {
				continue
			}
			counts := float64(s.Credence * part(k, c.Year.Value))
			key := counting{by[0].Source, by[0].Place, c.Year.Value}
			if named[key] == nil {
				order, named[key], rest[key] = append(order, key), map[int]float64{}, counts*float64(c.Of.Value)
			}
			named[key][s.First] += float64(counts * float64(c.With.Value))
			rest[key] -= float64(counts * float64(c.With.Value))
		}
	}
	size := e.features[feature].Domain.Size()
	for _, key := range order {
		counts := make([]float64, size)
		for v := range counts {
			if n, counted := named[key][v]; counted {
				counts[v] = n
			} else if left := size - len(named[key]); left > 0 {
				counts[v] = math.Max(0, rest[key]) / float64(left)
			}
		}
		at(feature).add(key.year, counts, years)
	}
}
