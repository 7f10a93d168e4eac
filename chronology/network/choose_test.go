package network

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestChoicesByHand: the values are worked out by hand (DESIGN 8).
func TestChoicesByHand(t *testing.T) {
	two := func(a, b []int, how Relation) (Resolution, Interval, Interval) {
		n := New()
		x, y := n.AddInterval(), n.AddInterval()
		for i, in := range [...]Interval{x, y} {
			n.Among(in.Start, [][]int{a, b}[i], Tag(i+1))
			n.Constrain(in.Start, in.End, 0, Tag(i+1))
		}
		n.Relate(how, x, y, 3)
		return n.Resolve(Policy{}), x, y
	}
	got, _, _ := two([]int{1960, 1964}, []int{1962, 1966}, Meets)
	if want := [][]Tag{{1, 2, 3}}; !equalSets(tags(got.Conflicts), want) || !slices.Equal(got.Removed, []Tag{3}) {
		t.Errorf("1960 or 1964 meets 1962 or 1966: conflicts %v, given up %v; want %v and the last", tags(got.Conflicts), got.Removed, want)
	}
	got, x, y := two([]int{1960, 1964}, []int{1958, 1961, 1963, 1964}, Equals)
	for _, in := range [...]Interval{x, y} {
		if years := got.Solution.Years(in.Start); len(got.Conflicts) > 0 || !slices.Equal(years, []int{1964}) {
			t.Errorf("1960 or 1964 equals 1958, 1961, 1963 or 1964: %v, conflicts %v; want 1964 alone", years, got.Conflicts)
		}
	}
	// Only the middle year of three has a year before it two years away and one after it.
	got, x, y = two([]int{1950, 1961, 1990}, []int{1948, 1959, 1963, 1992}, Before)
	if years := got.Solution.Years(x.Start); !slices.Equal(years, []int{1950, 1961, 1990}) {
		t.Errorf("before: %v", years)
	}
	if years := got.Solution.Years(y.Start); !slices.Equal(years, []int{1959, 1963, 1992}) {
		t.Errorf("after 1950, 1961 or 1990: %v", years)
	}
}

// TestChoicesBeyondTheSteps: where the steps run out a choice counts by its
// first and last year, and is named.
func TestChoicesBeyondTheSteps(t *testing.T) {
	n := New()
	first := n.AddInterval()
	n.Among(first.Start, []int{1900, 1904, 1990}, 1)
	for tag, last := Tag(2), first; tag < 40; tag += 2 {
		next := n.AddInterval()
		n.Among(next.Start, []int{1900, 1905, 1910, 1990}, tag)
		n.Relate(Equals, last, next, tag+1)
		last = next
	}
	n.NotBefore(first.Start, 1899, 41)
	got := n.Resolve(Policy{Steps: 30})
	if len(got.Unsearched) != 20 || len(got.Conflicts) > 0 || got.Solution.Years(first.Start) != nil {
		t.Errorf("%v left at their bounds, conflicts %v; want all 20 choices left, and none", got.Unsearched, got.Conflicts)
	}
	got = n.Resolve(Policy{})
	if years := got.Solution.Years(first.Start); !slices.Equal(years, []int{1900, 1990}) || len(got.Unsearched) > 0 {
		t.Errorf("%v, unsearched %v; want 1900 and 1990", years, got.Unsearched)
	}
}

// small is a network in which every year can be tried.
type small struct {
	points  int
	edges   []Edge
	choices []choice
}

const smallYears = 7

// drawSmall draws points that each have a year from 1 to smallYears.
func drawSmall(t *rapid.T) small {
	s := small{points: rapid.IntRange(3, 5).Draw(t, "points")}
	point := rapid.Int32Range(1, int32(s.points)-1)
	tag := rapid.Int32Range(1, 12)
	for p := 1; p < s.points; p++ {
		s.edges = append(s.edges, Edge{To: Point(p), Max: smallYears}, Edge{From: Point(p), Max: -1})
	}
	for range rapid.IntRange(1, 7).Draw(t, "edges") {
		e := Edge{From: Point(point.Draw(t, "from")), To: Point(point.Draw(t, "to")), Max: rapid.Int32Range(-3, 3).Draw(t, "max"), Tag: Tag(tag.Draw(t, "tag"))}
		if e.From != e.To {
			s.edges = append(s.edges, e)
		}
	}
	for range rapid.IntRange(1, 4).Draw(t, "choices") {
		years := rapid.SliceOfNDistinct(rapid.IntRange(1, smallYears), 1, 4, rapid.ID[int]).Draw(t, "years")
		slices.Sort(years)
		s.choices = append(s.choices, choice{Point(point.Draw(t, "point")), Tag(tag.Draw(t, "of")), years})
	}
	return s
}

func (s small) network() *Network {
	n := network(s.points, s.edges)
	for _, c := range s.choices {
		n.Among(c.point, c.years, c.tag)
	}
	return n
}

// ways lists every way in which the statements accepted hold, by trying every year of every point.
func (s small) ways(accept func(Tag) bool) [][]int {
	var found [][]int
	at := make([]int, s.points)
	var try func(p int)
	try = func(p int) {
		if p < s.points {
			for at[p] = 1; at[p] <= smallYears; at[p]++ {
				try(p + 1)
			}
			return
		}
		for _, e := range s.edges {
			if (e.Tag == Given || accept(e.Tag)) && at[e.To]-at[e.From] > int(e.Max) {
				return
			}
		}
		for _, c := range s.choices {
			if accept(c.tag) && !slices.Contains(c.years, at[c.point]) {
				return
			}
		}
		found = append(found, slices.Clone(at))
	}
	try(1)
	return found
}

// yearsOf lists the years that a point has in any of the ways.
func yearsOf(ways [][]int, p int) []int {
	var years []int
	for _, w := range ways {
		years = append(years, w[p])
	}
	slices.Sort(years)
	return slices.Compact(years)
}

// TestChoicesAgainstEveryYear compares the years of small networks with
// choices, the reasons for them, and the conflicts, with trying every year.
func TestChoicesAgainstEveryYear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSmall(t)
		got := s.network().Resolve(Policy{})
		stands := func(tag Tag) bool { return !slices.Contains(got.Removed, tag) }
		if all := s.ways(func(Tag) bool { return true }); (len(all) > 0) != (len(got.Conflicts) == 0) {
			t.Fatalf("%d ways, but %d conflicts", len(all), len(got.Conflicts))
		}
		if len(got.Conflicts) != len(got.Removed) || len(got.Unsearched) > 0 {
			t.Fatalf("%d conflicts, given up %v, unsearched %v", len(got.Conflicts), got.Removed, got.Unsearched)
		}
		for _, c := range got.Conflicts {
			if ways := s.ways(func(tag Tag) bool { return slices.Contains(c.Tags, tag) }); len(ways) > 0 {
				t.Fatalf("%v can hold together: %v", c.Tags, ways[0])
			}
			for _, left := range c.Tags {
				if len(s.ways(func(tag Tag) bool { return tag != left && slices.Contains(c.Tags, tag) })) == 0 {
					t.Fatalf("%v cannot hold together without %d either", c.Tags, left)
				}
			}
		}
		s.checkYears(t, got.Solution, stands)
	})
}

func (s small) checkYears(t *rapid.T, sol *Solution, stands func(Tag) bool) {
	ways := s.ways(stands)
	for p := 1; p < s.points; p++ {
		want := yearsOf(ways, p)
		first, _ := sol.Earliest(Point(p))
		last, _ := sol.Latest(Point(p))
		if len(want) == 0 || first != want[0] || last != want[len(want)-1] {
			t.Fatalf("point %d: from %d to %d, want %v", p, first, last, want)
		}
		chosen := slices.ContainsFunc(s.choices, func(c choice) bool {
			return c.point == Point(p) && stands(c.tag) && c.years[len(c.years)-1]-c.years[0] >= len(c.years)
		})
		if years := sol.Years(Point(p)); chosen != (years != nil) || chosen && !slices.Equal(years, want) {
			t.Fatalf("point %d: %v, want %v", p, years, want)
		}
		for side, chain := range [][]Edge{sol.WhyEarliest(Point(p)), sol.WhyLatest(Point(p))} {
			of := tagsOf(chain)
			by := yearsOf(s.ways(func(tag Tag) bool { return slices.Contains(of, tag) }), p)
			if bound := [2]int{by[0], by[len(by)-1]}[side]; bound != [2]int{first, last}[side] {
				t.Fatalf("point %d: %v give %d, want %d to %d", p, of, bound, first, last)
			}
		}
	}
}

// TestChoicesAgainstZ3 asks the npm library z3-solver about networks as records
// make them, of up to a dozen spans, with choices of up to six years: whether
// they hold, whether each year that stays is one of a solution, and each that
// went is not.
func TestChoicesAgainstZ3(t *testing.T) {
	var scripts, want []string
	gone, stayed, broken := 0, 0, 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 9))
		n := randomNetwork(r)
		var either strings.Builder
		for range 1 + r.IntN(4) {
			p := Point(1 + r.IntN(n.Points()-1))
			var years []int
			for len(years) < 2+r.IntN(5) {
				years = append(years, 1930+r.IntN(50))
			}
			slices.Sort(years)
			n.Among(p, slices.Compact(years), n.highest+1)
		}
		for _, c := range n.choices {
			fmt.Fprintf(&either, "(assert (or %s))", disjunction(c))
		}
		put := func(answer string, further ...string) {
			all := script(n.Points(), n.Edges(), further...)
			scripts = append(scripts, strings.Replace(all, "(check-sat)", either.String()+"(check-sat)", 1))
			want = append(want, answer)
		}
		got := n.Resolve(Policy{})
		if len(got.Conflicts) > 0 {
			broken++
			put("unsat")
			continue
		}
		var claims []string
		answers := "sat"
		for _, c := range n.choices {
			years := got.Solution.Years(c.point)
			for _, y := range c.years {
				claims = append(claims, fmt.Sprintf("(= (- x%d x0) %d)", c.point, y))
				if slices.Contains(years, y) {
					stayed++
					answers += " sat"
				} else {
					gone++
					answers += " unsat"
				}
			}
		}
		put(answers, claims...)
	}
	if gone < 50 || stayed < 50 || broken < 50 {
		t.Errorf("%d years went, %d stayed, %d networks were broken: the test says little", gone, stayed, broken)
	}
	for i, answer := range ask(t, scripts) {
		if answer != want[i] {
			t.Errorf("z3 says %q, want %q: %s", answer, want[i], scripts[i])
		}
	}
}

func disjunction(c choice) string {
	var b strings.Builder
	for _, y := range c.years {
		fmt.Fprintf(&b, "(= (- x%d x0) %d)", c.point, y)
	}
	return b.String()
}
