package network

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The worked example of R. Dechter, I. Meiri and J. Pearl (1991). Story and
// figures as quoted in a public test of the meta-csp framework; the tables
// were worked out anew with an independent all-pairs program.
//
// Minutes after 7:00: 1 John leaves, 2 John arrives, 3 Fred leaves, 4 Fred arrives.
type story struct{ i, j, lo, hi int }

func trip(john, fred [2]int) []story {
	return []story{{0, 1, 10, 20}, {1, 2, john[0], john[1]}, {3, 2, 10, 20}, {3, 4, fred[0], fred[1]}, {0, 4, 60, 70}}
}

var (
	byCar, byBus        = [2]int{30, 40}, [2]int{60, Limit + 1}
	fredByCar, fredPool = [2]int{20, 30}, [2]int{40, 50}
)

// from builds the network with another point of the story as its origin.
func from(root int, constraints []story) *Network {
	n := New()
	for range 4 {
		n.AddPoint()
	}
	at := func(i int) Point {
		switch i {
		case root:
			return Origin
		case 0:
			return Point(root)
		}
		return Point(i)
	}
	for k, c := range constraints {
		n.Constrain(at(c.i), at(c.j), c.hi, Tag(k+1))
		n.Constrain(at(c.j), at(c.i), -c.lo, Tag(k+1))
	}
	return n
}

func TestDechterDistances(t *testing.T) {
	want := [5][5]int{
		{0, 20, 50, 30, 70},
		{-10, 0, 40, 20, 60},
		{-40, -30, 0, -10, 30},
		{-20, -10, 20, 0, 50},
		{-60, -50, -20, -40, 0},
	}
	var got [5][5]int
	for i := range 5 {
		s, conflict := from(i, trip(byCar, fredPool)).Solve()
		if conflict != nil {
			t.Fatalf("from %d: %v", i, conflict)
		}
		for j := range 5 {
			p := Point(j)
			switch j {
			case i:
				p = Origin
			case 0:
				p = Point(i)
			}
			latest, _ := s.Latest(p)
			earliest, _ := s.Earliest(p)
			got[i][j] = latest
			// The minimal network's entry is [-d(j,i), d(i,j)].
			if earliest != -want[j][i] {
				t.Errorf("x%d - x%d is at least %d, want %d", j, i, earliest, -want[j][i])
			}
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("d-graph (-want +got):\n%s", diff)
	}
}

func TestDechterTransport(t *testing.T) {
	for _, c := range []struct {
		name       string
		john, fred [2]int
		want       [][2]int // years of points 1 to 4
	}{
		{"car and car", byCar, fredByCar, [][2]int{{10, 20}, {40, 60}, {30, 50}, {60, 70}}},
		{"car and pool", byCar, fredPool, [][2]int{{10, 20}, {40, 50}, {20, 30}, {60, 70}}},
		{"bus and car", byBus, fredByCar, [][2]int{{10, 10}, {70, 70}, {50, 50}, {70, 70}}},
	} {
		s, conflict := from(0, trip(c.john, c.fred)).Solve()
		if conflict != nil {
			t.Errorf("%s: %v", c.name, conflict)
			continue
		}
		if diff := cmp.Diff(c.want, years(s, 1, 2, 3, 4)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// years lists the earliest and latest year of each point.
func years(s *Solution, points ...Point) [][2]int {
	var all [][2]int
	for _, p := range points {
		earliest, _ := s.Earliest(p)
		latest, _ := s.Latest(p)
		all = append(all, [2]int{earliest, latest})
	}
	return all
}

// places gives the points along a cycle and the weights between them.
func places(c *Conflict) (points []Point, weights []int) {
	for _, e := range c.Cycle {
		points, weights = append(points, e.From), append(weights, int(e.Max))
	}
	return points, weights
}

func TestDechterConflicts(t *testing.T) {
	carAndPool := trip(byCar, fredPool)
	reversed := func(john, fred [2]int) []story {
		all := trip(john, fred)
		all[2].i, all[2].j = all[2].j, all[2].i
		return all
	}
	for _, c := range []struct {
		name    string
		network []story
		excess  int
		points  []Point // of the cycle, from its lowest
		weights []int
	}{
		{"bus and pool", trip(byBus, fredPool), 20, []Point{0, 4, 3, 2, 1}, []int{70, -40, 20, -60, -10}},
		{"John at least 25 after Fred left", append(slices.Clone(carAndPool), story{3, 2, 25, Limit + 1}), 5, []Point{2, 3}, []int{-25, 20}},
		{"Fred by 7:55", append(slices.Clone(carAndPool), story{0, 4, -Limit - 1, 55}), 5, []Point{0, 4}, []int{55, -60}},
		{"the pool takes 61 to 70 as well", append(slices.Clone(carAndPool), story{3, 4, 61, 70}), 11, []Point{3, 4}, []int{50, -61}},
		{"sign trap, car and pool", reversed(byCar, fredPool), 20, nil, nil},
		{"sign trap, bus and car", reversed(byBus, fredByCar), 30, nil, nil},
		{"sign trap, bus and pool", reversed(byBus, fredPool), 50, nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, conflict := from(0, c.network).Solve()
			if conflict == nil {
				t.Fatal("no conflict")
			}
			if got := conflict.Excess(); got != c.excess {
				t.Errorf("excess %d, want %d", got, c.excess)
			}
			points, weights := places(conflict)
			if c.points != nil && (!slices.Equal(points, c.points) || !slices.Equal(weights, c.weights)) {
				t.Errorf("cycle %v with %v, want %v with %v", points, weights, c.points, c.weights)
			}
		})
	}
	s, conflict := from(0, reversed(byCar, fredByCar)).Solve()
	if conflict != nil {
		t.Fatalf("sign trap, car and car: %v", conflict)
	}
	if diff := cmp.Diff([][2]int{{10, 10}, {40, 40}, {50, 50}, {70, 70}}, years(s, 1, 2, 3, 4)); diff != "" {
		t.Errorf("sign trap, car and car (-want +got):\n%s", diff)
	}
}

// TestDechterSolutions compares the minimal network with the 15 solutions on a
// grid of five minutes and the 1001 in whole minutes, found by trying them all.
func TestDechterSolutions(t *testing.T) {
	constraints := trip(byCar, fredPool)
	for _, c := range []struct{ step, want int }{{5, 15}, {1, 1001}} {
		found, span := solutions(constraints, c.step)
		if found != c.want {
			t.Errorf("%d solutions in steps of %d, want %d", found, c.step, c.want)
		}
		s, _ := from(0, constraints).Solve()
		if diff := cmp.Diff(span, years(s, 1, 2, 3, 4)); diff != "" {
			t.Errorf("steps of %d (-tried +solved):\n%s", c.step, diff)
		}
	}
}

// solutions counts the solutions on a grid, and gives the least and greatest
// figure of each point among them.
func solutions(c []story, step int) (found int, span [][2]int) {
	span = slices.Repeat([][2]int{{1000, -1000}}, 4)
	for x1 := c[0].lo; x1 <= c[0].hi; x1 += step {
		for x2 := x1 + c[1].lo; x2 <= x1+c[1].hi; x2 += step {
			for x3 := x2 - c[2].hi; x3 <= x2-c[2].lo; x3 += step {
				for x4 := max(c[4].lo, x3+c[3].lo); x4 <= min(c[4].hi, x3+c[3].hi); x4 += step {
					found++
					for k, v := range [4]int{x1, x2, x3, x4} {
						span[k] = [2]int{min(span[k][0], v), max(span[k][1], v)}
					}
				}
			}
		}
	}
	return found, span
}

// TestMarkYears is a network in years, worked out by hand: a mark in use from
// 1946-1949 for 4-9 years until 1953-1955, an object made while it was in use,
// which a catalogue of 1951 precedes by at most 2 years or follows by at most 1.
func TestMarkYears(t *testing.T) {
	build := func() (*Network, Point, Point, Point) {
		n := New()
		began, ended, made, catalogue := n.AddPoint(), n.AddPoint(), n.AddPoint(), n.AddPoint()
		n.Bound(began, 1946, 1949, 1)
		n.Bound(ended, 1953, 1955, 2)
		n.Constrain(began, ended, 9, 3)
		n.Constrain(ended, began, -4, 3)
		n.Constrain(made, began, 0, 4)
		n.Constrain(ended, made, 0, 4)
		n.Bound(catalogue, 1951, 1951, 5)
		n.Constrain(catalogue, made, 2, 6)
		n.Constrain(made, catalogue, 1, 6)
		return n, began, ended, made
	}
	n, began, ended, made := build()
	s, conflict := n.Solve()
	if conflict != nil {
		t.Fatal(conflict)
	}
	want := [][2]int{{1946, 1949}, {1953, 1955}, {1950, 1953}}
	if diff := cmp.Diff(want, years(s, began, ended, made)); diff != "" {
		t.Errorf("years (-want +got):\n%s", diff)
	}
	if got := tagsOf(s.WhyLatest(made)); !slices.Equal(got, []Tag{5, 6}) {
		t.Errorf("made by 1953 because of statements %v, want the catalogue 5 and the nearness 6", got)
	}
	n, _, _, made = build()
	n.Bound(made, 1957, 1957, 7)
	_, conflict = n.Solve()
	if conflict == nil {
		t.Fatal("made 1957 contradicts nothing")
	}
	// The mark's end, 1955 - 1957 = -2, is as short a cycle; of two the worse one is told.
	if conflict.Excess() != 4 || !slices.Equal(conflict.Tags, []Tag{5, 6, 7}) {
		t.Errorf("conflict %v of excess %d, want statements 5 6 7 and 4", conflict.Tags, conflict.Excess())
	}
}
