package dating

import (
	"encoding/binary"
	"math"
	"slices"

	"yearmark/dating/odds"
	"yearmark/schema"
)

// maxWorlds bounds the worlds of one dependence; conditions that would make more
// are passed over, and the claims hold whatever the other features are.
const maxWorlds = 1024

// premise is a condition of a claim: the outcomes of a feature with which it holds.
type premise struct {
	feature int
	holds   []bool // by outcome
}

// component is what conditions tie together on one bow: the features that they are
// about, cut into classes that no condition divides, and the features that depend on these.
type component struct {
	bow        int
	given      []odds.Cut
	dependents []dependent
}

// dependent is a feature whose claims have conditions.
type dependent struct {
	feature  int
	on       []int // places in the component's given
	evidence []ClaimEvidence
	holds    [][]bool // by claim: in which worlds of on, the last of on changing fastest
	met      []*tally // by world of on: what dated bows and counts teach, nil for nothing
}

// components gives what conditions tie together, by the bow that the claims speak of.
func (e *Engine) components(in inputs) []*component {
	var all []*component
	for m, bow := range in.bows {
		if !slices.ContainsFunc(bow.claims(in.ref), func(c *schema.Claim) bool { return len(c.When) > 0 }) {
			continue
		}
		for _, c := range e.componentsOf(m) {
			worlds := 1
			for _, g := range c.given {
				worlds *= g.Classes
			}
			if worlds <= maxWorlds {
				e.teachWorlds(in, c)
				all = append(all, c)
			}
		}
	}
	return all
}

// tied is a feature with conditions and the premises of each of its claims.
type tied struct {
	feature  int
	premises [][]premise
}

func (e *Engine) componentsOf(m int) []*component {
	var list [][]tied // of each component
	for f := range e.features {
		evidence := e.gathered[f].of(m)
		one := tied{feature: f, premises: make([][]premise, len(evidence))}
		some := false
		for k, v := range evidence {
			one.premises[k] = e.premises(m, v.Claim)
			some = some || len(one.premises[k]) > 0
		}
		if !some {
			continue
		}
		joined := []tied{one}
		list = slices.DeleteFunc(list, func(other []tied) bool {
			if !share(other, one) {
				return false
			}
			joined = append(joined, other...)
			return true
		})
		list = append(list, joined)
	}
	var all []*component
	for _, of := range list {
		slices.SortFunc(of, func(a, b tied) int { return a.feature - b.feature })
		all = append(all, e.component(m, of))
	}
	return all
}

// share says whether two sets of tied features are about one feature.
func share(list []tied, one tied) bool {
	about := func(t tied) (features []int) {
		for _, p := range slices.Concat(t.premises...) {
			features = append(features, p.feature)
		}
		return features
	}
	own := about(one)
	return slices.ContainsFunc(list, func(t tied) bool {
		return slices.ContainsFunc(about(t), func(f int) bool { return slices.Contains(own, f) })
	})
}

// premises gives the conditions of a claim on a bow that can be used: those about
// a feature that has none itself.
func (e *Engine) premises(m int, c *schema.Claim) []premise {
	var list []premise
	for _, when := range c.When {
		f, known := e.FeatureAt(when.Feature.Value)
		if !known || slices.ContainsFunc(e.gathered[f].of(m), func(v ClaimEvidence) bool { return len(v.Claim.When) > 0 }) {
			continue
		}
		p := premise{f, make([]bool, e.features[f].Domain.Size())}
		for _, v := range when.Values {
			for _, o := range outcomesOf(e.features[f].Domain, v.Value) {
				p.holds[o] = true
			}
		}
		if slices.Contains(p.holds, true) && slices.Contains(p.holds, false) {
			list = append(list, p)
		}
	}
	return list
}

// outcomesOf gives the outcomes that a condition names: of a number the steps whose
// figures lie within its range.
func outcomesOf(d Domain, value string) []int {
	s, figures := d.(*Scale)
	if !figures {
		list, _ := d.Observed(value)
		return list
	}
	r, err := schema.ParseOpenRange(value)
	if err != nil {
		return nil
	}
	low, high := (s.in(r.Low, r.Unit)-s.Low)/s.Step, (s.in(r.High, r.Unit)-s.Low)/s.Step
	first, last := int(math.Ceil(max(low, 0)-1e-9)), int(math.Floor(min(high, float64(s.Steps-1))+1e-9))
	if last < first {
		return nil
	}
	return span(first, last)
}

// component cuts the features given into classes and says in which worlds each claim holds.
func (e *Engine) component(m int, of []tied) *component {
	c := &component{bow: m}
	var about [][]premise // by place in given
	for _, t := range of {
		for _, p := range slices.Concat(t.premises...) {
			at := slices.IndexFunc(c.given, func(g odds.Cut) bool { return g.Feature == p.feature })
			if at < 0 {
				at = len(c.given)
				c.given, about = append(c.given, odds.Cut{Feature: p.feature}), append(about, nil)
			}
			about[at] = append(about[at], p)
		}
	}
	for i := range c.given {
		cut(&c.given[i], about[i])
	}
	for _, t := range of {
		d := dependent{feature: t.feature, evidence: e.gathered[t.feature].of(m)}
		for i, g := range c.given {
			if slices.ContainsFunc(slices.Concat(t.premises...), func(p premise) bool { return p.feature == g.Feature }) {
				d.on = append(d.on, i)
			}
		}
		for _, premises := range t.premises {
			d.holds = append(d.holds, c.holdsIn(d.on, premises))
		}
		c.dependents = append(c.dependents, d)
	}
	return c
}

// cut divides the outcomes of a feature into classes that no premise divides.
func cut(g *odds.Cut, by []premise) {
	numbers := map[string]int32{}
	for o := range by[0].holds {
		key := make([]byte, len(by))
		for i, p := range by {
			if p.holds[o] {
				key[i] = 1
			}
		}
		class, known := numbers[string(key)]
		if !known {
			class = int32(len(numbers))
			numbers[string(key)] = class
		}
		if n := len(g.ClassOf); n > 0 && g.ClassOf[n-1].Class == class {
			g.ClassOf[n-1].To = int32(o)
		} else {
			g.ClassOf = append(g.ClassOf, odds.Class{To: int32(o), Class: class})
		}
	}
	g.Classes = len(numbers)
}

// holdsIn says of every world of some features given whether the premises hold.
func (c *component) holdsIn(on []int, premises []premise) []bool {
	var list []bool
	c.eachWorld(on, func(classes []int) {
		holds := true
		for _, p := range premises {
			for k, i := range on {
				if g := &c.given[i]; g.Feature == p.feature {
					holds = holds && p.holds[firstOf(g, classes[k])]
				}
			}
		}
		list = append(list, holds)
	})
	return list
}

// firstOf gives the first outcome of a class.
func firstOf(g *odds.Cut, class int) int {
	from := int32(0)
	for _, run := range g.ClassOf {
		if int(run.Class) == class {
			break
		}
		from = run.To + 1
	}
	return int(from)
}

// eachWorld goes through the worlds of some features given, the last changing fastest.
func (c *component) eachWorld(on []int, do func(classes []int)) {
	classes := make([]int, len(on))
	for {
		do(classes)
		i := len(on) - 1
		for ; i >= 0; i-- {
			if classes[i]++; classes[i] < c.given[on[i]].Classes {
				break
			}
			classes[i] = 0
		}
		if i < 0 {
			return
		}
	}
}

// dependentOn gives the bows and features of which the feature depends on others.
func dependentOn(components []*component) map[[2]int]bool {
	list := map[[2]int]bool{}
	for _, c := range components {
		for _, d := range c.dependents {
			list[[2]int{c.bow, d.feature}] = true
		}
	}
	return list
}

// depend writes the rows of features that depend on others, world by world and,
// where nothing else is seen, mixed by how likely the worlds are; and enters
// the dependences into the table, each once.
func (e *Engine) depend(components []*component, books []*rowBook) {
	at := map[string]int{}
	for _, c := range components {
		for pair := e.table.Models[c.bow].Start; pair < e.table.Models[c.bow].End; pair++ {
			d := e.dependence(c, books, pair)
			key := keyOf(&d)
			i, known := at[key]
			if !known {
				i = len(e.table.Dependences)
				at[key] = i
				e.table.Dependences = append(e.table.Dependences, d)
			}
			of := &e.table.Dependences[i]
			if n := len(of.Pairs); n > 0 && int(of.Pairs[n-1].End) == pair {
				of.Pairs[n-1].End++
			} else {
				of.Pairs = append(of.Pairs, odds.Stretch{Start: int32(pair), End: int32(pair) + 1})
			}
		}
	}
}

// dependence gives that of a component in the year of a pair, and writes its rows.
func (e *Engine) dependence(c *component, books []*rowBook, pair int) odds.Dependence {
	d := odds.Dependence{Given: slices.Clone(c.given)}
	shares := make([][]float64, len(d.Given))
	for i := range d.Given {
		g := &d.Given[i]
		book := books[g.Feature]
		g.Row = book.feature.RowOf[pair]
		shares[i] = g.Chances(&book.feature.Rows[g.Row], nil)
	}
	year := int(e.table.Years[pair])
	for k := range c.dependents {
		of := &c.dependents[k]
		book := books[of.feature]
		one := odds.Dependent{Feature: of.feature, On: of.on}
		var parts []odds.Part
		c.eachWorld(of.on, func(classes []int) {
			row := e.rowIn(c, of, len(one.Rows), year)
			one.Rows = append(one.Rows, book.number(row))
			part := odds.Part{Row: &row, Weight: 1, Possible: true}
			for j, i := range of.on {
				g := &d.Given[i]
				part.Weight = float64(part.Weight * shares[i][classes[j]])
				part.Possible = part.Possible && g.Possible(&books[g.Feature].feature.Rows[g.Row])[classes[j]]
			}
			parts = append(parts, part)
		})
		book.feature.RowOf[pair] = book.number(odds.Mix(parts, book.feature.Outcomes))
		d.Dependents = append(d.Dependents, one)
	}
	return d
}

// rowIn gives the chances of a dependent feature in a world and a year: those of
// the claims that hold there.
func (e *Engine) rowIn(c *component, of *dependent, world, year int) odds.Row {
	rates := e.rates(&e.features[of.feature])
	var supports []Support
	for k, v := range of.evidence {
		if of.holds[k][world] {
			supports = append(supports, v.Support)
		}
	}
	row := rates.loosened(e.wishesFor(c.bow, of.feature).Membership(year), looseness(e.ref, "loose")).Row(supports, year)
	if of.met != nil && of.met[world].byYear[year] != nil {
		row = taught(row, of.met[world].byYear[year], e.teach.Weight)
	}
	return row
}

// keyOf tells dependences apart, their pairs aside.
func keyOf(d *odds.Dependence) string {
	var key []byte
	add := func(list ...int) {
		for _, n := range list {
			key = binary.LittleEndian.AppendUint32(key, uint32(n))
		}
	}
	for _, g := range d.Given {
		add(-1, g.Feature, int(g.Row), g.Classes)
		for _, run := range g.ClassOf {
			add(int(run.To), int(run.Class))
		}
	}
	for _, of := range d.Dependents {
		add(-2, of.Feature, len(of.On))
		add(of.On...)
		for _, r := range of.Rows {
			add(int(r))
		}
	}
	return string(key)
}
