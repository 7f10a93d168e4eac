package provenance

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// bruteForce goes through every combination of levels of all draws and adds up
// how likely those are in which each side holds. It shares nothing with the
// solver but the definition: a side holds where some way of events that hold
// leads from what is cited to an origin.
func bruteForce(n *network) chances {
	bounds := map[int32][]float64{}
	var draws []int32
	for _, ev := range n.events {
		if bounds[ev.draw] == nil {
			bounds[ev.draw] = []float64{0, 1}
			draws = append(draws, ev.draw)
		}
		bounds[ev.draw] = append(bounds[ev.draw], ev.low, ev.high)
	}
	for _, list := range bounds {
		slices.Sort(list)
	}
	var c chances
	at := map[int32]float64{}
	var walk func(i int, p float64)
	walk = func(i int, p float64) {
		if i < len(draws) {
			list := bounds[draws[i]]
			for k := range list[1:] {
				if list[k+1] > list[k] {
					at[draws[i]] = (list[k] + list[k+1]) / 2
					walk(i+1, p*(list[k+1]-list[k]))
				}
			}
			return
		}
		pro, contra := anyLeads(n, n.pro, at), anyLeads(n, n.contra, at)
		switch {
		case pro && contra:
			c.both += p
		case pro:
			c.proOnly += p
		case contra:
			c.contra += p
		}
	}
	walk(0, 1)
	c.pro, c.contra = c.proOnly+c.both, c.contra+c.both
	return c
}

func anyLeads(n *network, cited []int32, at map[int32]float64) bool {
	seen := map[int32]bool{}
	var leads func(e int32) bool
	leads = func(e int32) bool {
		ev := n.events[e]
		if u := at[ev.draw]; seen[e] || u < ev.low || u >= ev.high {
			return false
		}
		seen[e] = true
		return ev.origin || slices.ContainsFunc(ev.causes, leads)
	}
	return slices.ContainsFunc(cited, leads)
}

func sameChances(got, want chances) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }
	return near(got.pro, want.pro) && near(got.contra, want.contra) && near(got.proOnly, want.proOnly) && near(got.both, want.both)
}

// drawNetwork draws up to twelve sources with up to two places each, that rely
// on one another in any way, rings included, and are cited on either side.
func drawNetwork(t *rapid.T) *network {
	n := &network{}
	sources := rapid.IntRange(1, 12).Draw(t, "sources")
	places := rapid.IntRange(1, min(2*sources, 14)).Draw(t, "places")
	chance := rapid.SampledFrom([]float64{.1, .25, .5, .6, .75, .85, .98, .999})
	any := rapid.SliceOfNDistinct(rapid.Int32Range(0, int32(places-1)), 0, 3, rapid.ID)
	for i := range places {
		ev := event{draw: int32(i % sources), high: chance.Draw(t, "chance"), origin: rapid.IntRange(0, 2).Draw(t, "origin") == 0}
		if rapid.IntRange(0, 3).Draw(t, "sided") == 0 {
			ev.low = ev.high / 2
		}
		if !ev.origin {
			ev.causes = any.Draw(t, "causes")
			slices.Sort(ev.causes)
		}
		n.events = append(n.events, ev)
	}
	n.pro, n.contra = any.Draw(t, "for"), any.Draw(t, "against")
	slices.Sort(n.pro)
	slices.Sort(n.contra)
	return n
}

func TestExactlyIsBruteForce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := drawNetwork(r)
		got, ok := n.exactly()
		if want := bruteForce(n); !ok || !sameChances(got, want) {
			r.Fatalf("%+v: %+v, brute force %+v", *n, got, want)
		}
	})
}

// Merging events that stand side by side changes nothing.
func TestMergedIsTheSame(t *testing.T) {
	fewer := 0
	rapid.Check(t, func(r *rapid.T) {
		n := drawNetwork(r)
		small := n.merged()
		if len(small.events) < len(n.events) {
			fewer++
		}
		got, ok := small.exactly()
		if want := bruteForce(n); !ok || !sameChances(got, want) {
			r.Fatalf("%+v merged to %+v: %+v, brute force %+v", *n, *small, got, want)
		}
	})
	if fewer == 0 {
		t.Error("nothing was ever merged")
	}
}

// An estimate by all ways is exact; by fewer it is never too high for a side.
func TestEstimateByTheLikeliestWays(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := drawNetwork(r)
		want, got := bruteForce(n), n.estimate()
		if got.pro > want.pro+1e-12 || got.contra > want.contra+1e-12 {
			r.Fatalf("%+v: estimated %+v, brute force %+v", *n, got, want)
		}
		if few := len(n.likeliestWays(n.pro, mostWays+1)) <= mostWays && len(n.likeliestWays(n.contra, mostWays+1)) <= mostWays; few && !sameChances(got, want) {
			r.Fatalf("%+v: by all ways %+v, brute force %+v", *n, got, want)
		}
		one := n.ofOneWay(n.likeliestWays(n.pro, 1), n.likeliestWays(n.contra, 1))
		if one.pro > want.pro+1e-12 || one.contra > want.contra+1e-12 || one.proOnly < -1e-12 {
			r.Fatalf("%+v: by one way %+v, brute force %+v", *n, one, want)
		}
	})
}

// every lists all ways from the cited events, likeliest first, by going through them.
func every(n *network, cited []int32) (ways [][]int32) {
	var walk func(way []int32)
	walk = func(way []int32) {
		ev := n.events[way[len(way)-1]]
		if ev.origin {
			ways = append(ways, slices.Clone(way))
			return
		}
		for _, c := range ev.causes {
			if !slices.Contains(way, c) {
				walk(append(slices.Clip(way), c))
			}
		}
	}
	for _, e := range cited {
		walk([]int32{e})
	}
	return ways
}

func product(n *network, way []int32) float64 {
	p := 1.0
	for _, e := range way {
		p *= n.events[e].high - n.events[e].low
	}
	return p
}

func TestTheLikeliestWaysAreTheLikeliest(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := drawNetwork(r)
		all := every(n, n.pro)
		slices.SortFunc(all, func(a, b []int32) int {
			if product(n, a) > product(n, b) {
				return -1
			}
			return 1
		})
		got := n.likeliestWays(n.pro, 5)
		if len(got) != min(5, len(all)) {
			r.Fatalf("%d ways of %d", len(got), len(all))
		}
		for i, way := range got {
			if math.Abs(product(n, way)-product(n, all[i])) > 1e-15 {
				r.Fatalf("way %d is worth %g, not %g", i, product(n, way), product(n, all[i]))
			}
		}
	})
}

// The most disjoint ways, found by trying every set of ways.
func TestWitnessesShareNoSource(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := drawNetwork(r)
		all := every(n, n.pro)
		ways := slices.DeleteFunc(slices.Clone(all), func(way []int32) bool {
			draws := map[int32]bool{}
			for _, e := range way {
				draws[n.events[e].draw] = true
			}
			return len(draws) < len(way)
		})
		if len(ways) > 40 {
			return // too many to try all sets of
		}
		var most func(i int, used map[int32]bool) int
		most = func(i int, used map[int32]bool) int {
			if i == len(ways) {
				return 0
			}
			best := most(i+1, used)
			with := map[int32]bool{}
			for d := range used {
				with[d] = true
			}
			for _, e := range ways[i] {
				if used[n.events[e].draw] {
					return best
				}
			}
			for _, e := range ways[i] {
				with[n.events[e].draw] = true
			}
			return max(best, 1+most(i+1, with))
		}
		want, got := most(0, map[int32]bool{}), n.countWitnesses(n.pro)
		if len(all) > 0 {
			want = max(want, 1)
		}
		if got != want {
			r.Fatalf("%+v: %d witnesses, trying all sets %d", *n, got, want)
		}
	})
}

// bridge is the bridge network of the textbooks on nodes that fail: cited are a
// and b; a leads to c and to d, b to d and, through the bridge e, to c.
//
//	a -> c     b -> d     a -> e -> d     b -> e -> c
//
// With all parts of reliability p the minimal path sets {1,4},{2,5},{1,3,5},{2,3,4}
// give 2p^2 + 2p^3 - 5p^4 + 2p^5 (Barlow and Proschan, Statistical Theory of
// Reliability and Life Testing, 1975, chapter 1, the bridge structure).
func bridge(p float64) *network {
	n := &network{pro: []int32{0, 1}}
	for i, causes := range [][]int32{{2, 4}, {3, 4}, nil, nil, {2, 3}} {
		n.events = append(n.events, event{draw: int32(i), high: p, origin: causes == nil, causes: causes})
	}
	return n
}

func TestTheBridgeOfTheTextbooks(t *testing.T) {
	for _, p := range []float64{.1, .5, .9, .999} {
		want := 2*p*p + 2*p*p*p - 5*p*p*p*p + 2*p*p*p*p*p
		got, ok := bridge(p).exactly()
		if !ok || math.Abs(got.pro-want) > 1e-12 {
			t.Errorf("at %g the bridge holds with %g, not %g", p, got.pro, want)
		}
		if w := bridge(p).countWitnesses([]int32{0, 1}); w != 2 {
			t.Errorf("%d ways of the bridge are disjoint, want 2", w)
		}
	}
}

// Series and parallel by the product rules (the same, chapter 1): of three
// parts in a row p^3; of three side by side 1 - (1-p)^3; of two rows of two
// 1 - (1-p^2)^2; of two pairs in a row (1 - (1-p)^2)^2, where the second pair
// is behind both of the first.
func TestSeriesAndParallel(t *testing.T) {
	const p = .8
	part := func(draw int32, causes ...int32) event {
		return event{draw: draw, high: p, origin: len(causes) == 0, causes: causes}
	}
	for i, row := range []struct {
		events []event
		cited  []int32
		want   float64
		apart  int
	}{
		{[]event{part(0, 1), part(1, 2), part(2)}, []int32{0}, p * p * p, 1},
		{[]event{part(0), part(1), part(2)}, []int32{0, 1, 2}, 1 - (1-p)*(1-p)*(1-p), 3},
		{[]event{part(0, 1), part(1), part(2, 3), part(3)}, []int32{0, 2}, 1 - (1-p*p)*(1-p*p), 2},
		{[]event{part(0, 2, 3), part(1, 2, 3), part(2), part(3)}, []int32{0, 1}, (1 - (1-p)*(1-p)) * (1 - (1-p)*(1-p)), 2},
	} {
		n := &network{events: row.events, pro: row.cited}
		got, ok := n.exactly()
		if !ok || math.Abs(got.pro-row.want) > 1e-12 || n.countWitnesses(n.pro) != row.apart {
			t.Errorf("%d: %g with %d disjoint ways, want %g with %d", i, got.pro, n.countWitnesses(n.pro), row.want, row.apart)
		}
	}
}

// ladder has so many rungs that all sets of sources would be too many; what
// has to be kept apart at a time is little.
func ladder(rungs int, p float64) *network {
	n := &network{pro: []int32{0, 1}}
	for i := range rungs {
		for k := range 2 {
			ev := event{draw: int32(2*i + k), high: p, origin: i == rungs-1}
			if !ev.origin {
				ev.causes = []int32{int32(2*i + 2), int32(2*i + 3)}
			}
			n.events = append(n.events, ev)
		}
	}
	return n
}

func TestALadderIsExact(t *testing.T) {
	got, ok := ladder(30, .9).exactly()
	want := math.Pow(1-.1*.1, 30) // pairs in a row
	if !ok || math.Abs(got.pro-want) > 1e-9 {
		t.Errorf("a ladder holds with %g (%v), want %g", got.pro, ok, want)
	}
}

// tangle has so many sources, each behind each of some others, that all must be
// kept apart at once.
func tangle(width int, p float64) *network {
	n := &network{}
	for layer := range 3 {
		for i := range width {
			ev := event{draw: int32(layer*width + i), high: p, origin: layer == 2}
			for k := range width {
				if layer < 2 {
					ev.causes = append(ev.causes, int32((layer+1)*width+k))
				}
			}
			n.events = append(n.events, ev)
			if layer == 0 {
				n.pro = append(n.pro, int32(i))
			}
		}
	}
	return n
}

// knot has books each of which relies on its own choice of as many letters, so
// that nothing can be merged.
func knot(books, letters int) *network {
	n := &network{}
	for i := range letters {
		n.events = append(n.events, event{draw: int32(i), high: .75, origin: true})
	}
	for b := range books {
		book := event{draw: int32(letters + b), high: .85}
		for i := range letters {
			if (7919*i+104729*b+31*i*b*(i+b))%97 < 50 {
				book.causes = append(book.causes, int32(i))
			}
		}
		n.events = append(n.events, book)
		n.pro = append(n.pro, int32(letters+b))
	}
	return n
}

func TestBeyondTheBoundItIsAnEstimate(t *testing.T) {
	if got := knot(40, 40).chances(); !got.estimated || got.pro <= .85 || got.pro > 1 {
		t.Errorf("a great knot holds with %+v, want an estimate", got)
	}
	if got := knot(5, 7).chances(); got.estimated || !sameChances(got, bruteForce(knot(5, 7))) {
		t.Errorf("a small knot holds with %+v", got)
	}
	if got := tangle(25, .5).chances(); got.estimated || math.Abs(got.pro-bruteForceLayers(25, .5)) > 1e-12 {
		t.Errorf("a tangle of which all can be merged holds with %+v, want %g", got, bruteForceLayers(25, .5))
	}
}

// Twenty sources that ways share are within the bound.
func TestTwentySharedAreExact(t *testing.T) {
	if got := knot(6, 20).chances(); got.estimated || got.pro <= .85 {
		t.Errorf("twenty shared sources are estimated as %+v", got)
	}
}

// bruteForceLayers is the chance that at least one of each of three layers holds.
func bruteForceLayers(width int, p float64) float64 {
	return math.Pow(1-math.Pow(1-p, float64(width)), 3)
}
