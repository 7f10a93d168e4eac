package chronology

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"yearmark/schema"
)

// The sketches' horizon and made span: few years, so that all can be tried.
const firstYear, lastYear = 1960, 1966

// sketch is a small record of one model that a test can write with and
// without any of its statements, and work out by trying every year.
type sketch struct {
	claims []sketchClaim // the first is the made span
	orders []sketchOrder
}

type sketchClaim struct {
	span     string // "" for none
	lo, hi   [2]int // what the span says of start and end
	oneYear  bool
	years    []int // of a oneYear with gaps
	attested []int
}

type sketchOrder struct {
	how    schema.Relation // "" for a length
	i, j   int
	lo, hi int
}

// randomSketch makes up a model of a few claims and orders. Most of its
// statements are true of years made up first.
func randomSketch(r *rand.Rand) sketch {
	made := span(r, firstYear, lastYear)
	truth := years2{made}
	s := sketch{claims: []sketchClaim{spanOf(r, made)}}
	for range 2 + r.IntN(2) {
		real := span(r, made[0], made[1])
		truth = append(truth, real)
		c := sketchClaim{}
		if r.IntN(3) > 0 {
			c = spanOf(r, real)
		}
		for len(c.attested) < r.IntN(3) || c.span == "" && len(c.attested) == 0 {
			seen := real
			if r.IntN(8) == 0 {
				seen = [2]int{firstYear, lastYear}
			}
			c.attested = append(c.attested, seen[0]+r.IntN(seen[1]-seen[0]+1))
		}
		s.claims = append(s.claims, c)
	}
	for range 1 + r.IntN(3) {
		o := sketchOrder{i: r.IntN(len(s.claims)), j: r.IntN(len(s.claims))}
		o.how = relationOf(truth[o.i], truth[o.j])
		if r.IntN(6) == 0 {
			o.how = schema.Relations[r.IntN(13)]
		}
		if r.IntN(4) == 0 {
			o.how, o.lo = "", 1+r.IntN(truth[o.i][1]-truth[o.i][0]+1)
			o.hi = o.lo + r.IntN(4)
		}
		s.orders = append(s.orders, o)
	}
	return s
}

// span makes up years within years.
func span(r *rand.Rand, first, last int) [2]int {
	a := first + r.IntN(last-first+1)
	return [2]int{a, a + r.IntN(last-a+1)}
}

// spanOf writes years in one of several ways. What it says of start and end
// is taken from the table of spans in package edtf's comment, with circa 1.
func spanOf(r *rand.Rand, years [2]int) sketchClaim {
	a, b := years[0], years[1]
	switch r.IntN(5) {
	case 0:
		return sketchClaim{span: fmt.Sprintf("%d~/%d", a, b), lo: [2]int{a - 1, a + 1}, hi: [2]int{b, b}}
	case 1:
		return sketchClaim{span: fmt.Sprintf("%d/", a), lo: [2]int{a, a}, hi: [2]int{firstYear, lastYear}}
	case 2:
		b = a
		if last := years[1]; last > a && r.IntN(2) == 0 {
			if gapped := without(r, a, last); len(gapped) > 0 {
				list := strings.Trim(strings.ReplaceAll(fmt.Sprint(gapped), " ", ","), "[]")
				lo := [2]int{gapped[0], gapped[len(gapped)-1]}
				return sketchClaim{span: "[" + list + "]", lo: lo, hi: lo, oneYear: true, years: gapped}
			}
			return sketchClaim{span: fmt.Sprintf("[%d..%d]", a, last), lo: [2]int{a, last}, hi: [2]int{a, last}, oneYear: true}
		}
		return sketchClaim{span: fmt.Sprint(a), lo: [2]int{a, a}, hi: [2]int{a, a}}
	}
	return sketchClaim{span: fmt.Sprintf("%d/%d", a, b), lo: [2]int{a, a}, hi: [2]int{b, b}}
}

// without draws about half of the years from first to last, or none at all.
func without(r *rand.Rand, first, last int) (years []int) {
	for year := first; year <= last && r.IntN(8) > 0; year++ {
		if r.IntN(2) == 0 {
			years = append(years, year)
		}
	}
	return years
}

// free is a span that says nothing within the horizon.
const free = "196X/196X"

// record writes the model. Statements are left out if drop names them.
func (s sketch) record(drop func(key string) bool) file {
	var b strings.Builder
	for i, c := range s.claims {
		var keys []string
		if c.span != "" && !drop(fmt.Sprintf("span %d", i)) {
			keys = append(keys, fmt.Sprintf("span: %q", c.span))
		}
		var seen []string
		for k, year := range c.attested {
			if !drop(fmt.Sprintf("attested %d %d", i, k)) {
				seen = append(seen, fmt.Sprintf("{year: %d, cites: [letter]}", year))
			}
		}
		if len(seen) > 0 {
			keys = append(keys, "attested: ["+strings.Join(seen, ", ")+"]")
		}
		if len(keys) == 0 {
			keys = append(keys, fmt.Sprintf("span: %q", free))
		}
		switch i {
		case 0:
			fmt.Fprintf(&b, "made: {%s}\nfeatures:\n", keys[0])
		default:
			fmt.Fprintf(&b, "  - {id: c%d, feature: mark, value: oval, %s}\n", i, strings.Join(keys, ", "))
		}
	}
	b.WriteString("order:\n")
	for n, o := range s.orders {
		switch {
		case drop(fmt.Sprintf("order %d", n)):
			b.WriteString("  - {of: c1, lasts: 1..9}\n")
		case o.how == "":
			fmt.Fprintf(&b, "  - {of: %s, lasts: %d..%d}\n", claimName(o.i), o.lo, o.hi)
		default:
			fmt.Fprintf(&b, "  - {first: %s, how: %s, second: %s}\n", claimName(o.i), o.how, claimName(o.j))
		}
	}
	return model("plover", b.String())
}

func claimName(i int) string {
	if i == 0 {
		return "made"
	}
	return fmt.Sprintf("c%d", i)
}

var horizonOfSketches = file{"reference.yaml", "name: Sketches\nyears: 1960/1966\njudgement: {circa: 1}\n"}
var idleMaker = file{"makers/halvane.md", "---\nrecord: maker\nname: Halvane Archery\n---\n"}

// build reads the record and works it out.
func (s sketch) build(t testing.TB, drop func(string) bool) (*schema.Model, *Timeline) {
	t.Helper()
	ref := records(t, horizonOfSketches, idleMaker, s.record(drop))
	m, _ := ref.Models.Get("plover")
	return m, Build(ref)
}

func nothing(string) bool { return false }

// years2 is one way that all claims can lie: the start and end of each.
type years2 [][2]int

// possible lists every way in which all statements hold, by trying them all.
func (s sketch) possible() []years2 {
	var found []years2
	claims := s.within()
	at := make(years2, len(s.claims))
	var try func(i int)
	try = func(i int) {
		if i == len(s.claims) {
			if s.ordersHold(at) {
				found = append(found, slices.Clone(at))
			}
			return
		}
		for start := firstYear; start <= lastYear; start++ {
			for end := start; end <= lastYear; end++ {
				if at[i] = [2]int{start, end}; claims[i].holds(start, end) && start >= at[0][0] && end <= at[0][1] {
					try(i + 1)
				}
			}
		}
	}
	try(0)
	return found
}

// within drops the bounds of claims that lie outside the made span as
// written: that is another check's business.
func (s sketch) within() []sketchClaim {
	made := [2]int{max(s.claims[0].lo[0], firstYear), min(s.claims[0].hi[1], lastYear)}
	if s.claims[0].span == "" {
		made = [2]int{firstYear, lastYear}
	}
	outside := func(year int) bool { return year < made[0] || year > made[1] }
	all := slices.Clone(s.claims)
	for i := range all[1:] {
		c := &all[i+1]
		if c.lo[0] > made[1] || c.hi[1] < made[0] {
			c.span = ""
		}
		if c.oneYear {
			if c.years != nil && !slices.ContainsFunc(c.years, func(y int) bool { return !outside(y) }) {
				c.span = ""
			}
			continue
		}
		for _, bound := range [...]struct {
			year *int
			none int
		}{{&c.lo[0], 0}, {&c.lo[1], 9999}, {&c.hi[0], 0}, {&c.hi[1], 9999}} {
			if outside(*bound.year) {
				*bound.year = bound.none
			}
		}
	}
	return all
}

func (c sketchClaim) holds(start, end int) bool {
	if c.span != "" && (start < c.lo[0] || start > c.lo[1] || end < c.hi[0] || end > c.hi[1] || c.oneYear && start != end) {
		return false
	}
	if c.span != "" && c.years != nil && !slices.Contains(c.years, start) {
		return false
	}
	for _, year := range c.attested {
		if year < start || year > end {
			return false
		}
	}
	return true
}

func (s sketch) ordersHold(at years2) bool {
	for _, o := range s.orders {
		a, b := at[o.i], at[o.j]
		if length := a[1] - a[0] + 1; o.how == "" && (length < o.lo || length > o.hi) {
			return false
		}
		if o.how != "" && relationOf(a, b) != o.how {
			return false
		}
	}
	return true
}

// relationOf gives the one relation between two spans of years, read as
// [start, end+1), from Allen's definitions.
func relationOf(a, b [2]int) schema.Relation {
	a1, a2, b1, b2 := a[0], a[1]+1, b[0], b[1]+1
	switch {
	case a2 < b1:
		return schema.Before
	case a2 == b1:
		return schema.Meets
	case b2 < a1:
		return schema.After
	case b2 == a1:
		return schema.MetBy
	case a1 == b1 && a2 == b2:
		return schema.Equals
	case a1 == b1 && a2 < b2:
		return schema.Starts
	case a1 == b1:
		return schema.StartedBy
	case a2 == b2 && a1 > b1:
		return schema.Finishes
	case a2 == b2:
		return schema.FinishedBy
	case a1 < b1 && a2 > b2:
		return schema.Contains
	case a1 > b1 && a2 < b2:
		return schema.During
	case a1 < b1:
		return schema.Overlaps
	}
	return schema.OverlappedBy
}
