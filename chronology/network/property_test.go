package network

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// edgeList draws a small network of any shape.
func edgeList(t *rapid.T) (points int, edges []Edge) {
	points = rapid.IntRange(2, 8).Draw(t, "points")
	point := rapid.Int32Range(0, int32(points)-1)
	edge := rapid.Custom(func(t *rapid.T) Edge {
		return Edge{
			From: Point(point.Draw(t, "from")), To: Point(point.Draw(t, "to")),
			Max: rapid.Int32Range(-6, 12).Draw(t, "max"), Tag: Tag(rapid.Int32Range(1, 9).Draw(t, "tag")),
		}
	})
	edges = rapid.SliceOfN(edge, 0, 24).Draw(t, "edges")
	return points, slices.DeleteFunc(edges, func(e Edge) bool { return e.From == Origin && e.To == Origin })
}

// TestAgainstAllPairs compares verdict, years and conflicts with the oracle.
func TestAgainstAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points, edges := edgeList(t)
		d, consistent := solveAllPairs(points, edges)
		s, conflict := network(points, edges).Solve()
		if consistent != (conflict == nil) {
			t.Fatalf("consistent: %v, want %v", conflict == nil, consistent)
		}
		if !consistent {
			checkConflict(t, points, edges, *conflict)
			return
		}
		checkYears(t, d, s)
		checkReasons(t, edges, s)
	})
}

// checkYears compares every bound with the oracle's.
func checkYears(t *rapid.T, d oracle, s *Solution) {
	for p := range d {
		latest, hasLatest := s.Latest(Point(p))
		if hasLatest != (d[0][p] < far) || hasLatest && int64(latest) != d[0][p] {
			t.Fatalf("point %d: latest %d, %v, want %d", p, latest, hasLatest, d[0][p])
		}
		earliest, hasEarliest := s.Earliest(Point(p))
		if hasEarliest != (d[p][0] < far) || hasEarliest && int64(earliest) != -d[p][0] {
			t.Fatalf("point %d: earliest %d, %v, want %d", p, earliest, hasEarliest, -d[p][0])
		}
	}
}

// checkReasons checks that the chain behind each bound is made of edges of
// the network, hangs together, and adds up to the bound.
func checkReasons(t *rapid.T, edges []Edge, s *Solution) {
	for p := range s.late {
		sum, at := int64(0), Origin
		for _, e := range s.WhyLatest(Point(p)) {
			if e.From != at || !slices.Contains(edges, e) {
				t.Fatalf("point %d: chain %v breaks at %v", p, s.WhyLatest(Point(p)), e)
			}
			sum, at = sum+int64(e.Max), e.To
		}
		if s.late[p].known() && (at != Point(p) || sum != s.late[p].dist) {
			t.Fatalf("point %d: chain ends at %d with %d, want %d", p, at, sum, s.late[p].dist)
		}
		sum, at = 0, Origin
		for _, e := range s.WhyEarliest(Point(p)) {
			if e.To != at || !slices.Contains(edges, e) {
				t.Fatalf("point %d: chain %v breaks at %v", p, s.WhyEarliest(Point(p)), e)
			}
			sum, at = sum+int64(e.Max), e.From
		}
		if s.early[p].known() && (at != Point(p) || sum != s.early[p].dist) {
			t.Fatalf("point %d: chain ends at %d with %d, want %d", p, at, sum, s.early[p].dist)
		}
	}
}

// failer is what rapid.T and testing.T share here.
type failer interface {
	Fatalf(format string, args ...any)
}

// checkConflict checks that the cycle is one, is negative, is made of the
// network's edges, and that its statements are a minimal set.
func checkConflict(t failer, points int, edges []Edge, c Conflict) {
	if len(c.Cycle) == 0 || c.Excess() <= 0 {
		t.Fatalf("cycle %v does not contradict itself", c.Cycle)
	}
	for i, e := range c.Cycle {
		if next := c.Cycle[(i+1)%len(c.Cycle)]; e.To != next.From || e.From < c.Cycle[0].From || !slices.Contains(edges, e) {
			t.Fatalf("cycle %v breaks at %v", c.Cycle, e)
		}
	}
	if !slices.Equal(c.Tags, tagsOf(c.Cycle)) {
		t.Fatalf("statements %v of cycle %v", c.Tags, c.Cycle)
	}
	of := only(edges, c.Tags)
	if _, ok := solveAllPairs(points, of); ok {
		t.Fatalf("statements %v can hold together", c.Tags)
	}
	for _, tag := range c.Tags {
		if _, ok := solveAllPairs(points, without(of, tag)); !ok {
			t.Fatalf("statements %v contradict each other without %d", c.Tags, tag)
		}
	}
}

// TestEarliestSatisfies checks that all earliest years together satisfy every
// constraint, and so do all latest years.
func TestEarliestSatisfies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points, edges := edgeList(t)
		n := network(points, edges)
		for p := Point(1); int(p) < points; p++ {
			n.Bound(p, -50, 50, 99)
		}
		s, conflict := n.Solve()
		if conflict != nil {
			return
		}
		for _, e := range n.Edges() {
			for name, year := range map[string]func(Point) (int, bool){"earliest": s.Earliest, "latest": s.Latest} {
				from, _ := year(e.From)
				to, _ := year(e.To)
				if to-from > int(e.Max) {
					t.Fatalf("%s years %d and %d break %v", name, from, to, e)
				}
			}
		}
	})
}

// TestAddingNeverLoosens checks that a further constraint leaves every bound where it was or tightens it.
func TestAddingNeverLoosens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points, edges := edgeList(t)
		before, conflict := network(points, edges).Solve()
		_, more := edgeList(t)
		for i := range more {
			more[i].From, more[i].To = more[i].From%Point(points), more[i].To%Point(points)
		}
		more = slices.DeleteFunc(more, func(e Edge) bool { return e.From == Origin && e.To == Origin })
		after, conflictAfter := network(points, append(slices.Clone(edges), more...)).Solve()
		if conflict != nil {
			if conflictAfter == nil {
				t.Fatalf("more constraints made a contradiction hold")
			}
			return
		}
		if conflictAfter != nil {
			return
		}
		for p := range before.late {
			b, a := before.late[p], after.late[p]
			if b.known() && (!a.known() || a.dist > b.dist) {
				t.Fatalf("point %d: latest went from %d to %d", p, b.dist, a.dist)
			}
			b, a = before.early[p], after.early[p]
			if b.known() && (!a.known() || a.dist > b.dist) {
				t.Fatalf("point %d: earliest went from %d to %d", p, -b.dist, -a.dist)
			}
		}
	})
}

// TestOrderIsNothing checks that years, reasons, conflicts and what is given
// up are the same for every order of the constraints.
func TestOrderIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points, edges := edgeList(t)
		shuffled := rapid.Permutation(edges).Draw(t, "shuffled")
		a := network(points, edges).Resolve(Policy{})
		b := network(points, shuffled).Resolve(Policy{})
		if diff := cmp.Diff(a, b, cmp.AllowUnexported(Solution{}, bound{})); diff != "" {
			t.Fatalf("(-in order +shuffled):\n%s", diff)
		}
	})
}

// TestResolve checks on networks such as records make that each conflict is
// minimal and told once, that what was given up is one statement of each, and
// that the rest is consistent and solved rightly.
func TestResolve(t *testing.T) {
	conflicts := 0
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 1))
		n := randomNetwork(r)
		weakness := func(tag Tag) int { return int(tag) % 3 }
		got := n.Resolve(Policy{Weakness: weakness})
		conflicts += len(got.Conflicts)
		seen := map[string]bool{}
		for _, c := range got.Conflicts {
			checkConflict(t, n.Points(), n.Edges(), c)
			key := slices.Clone(c.Tags)
			slices.Sort(key)
			if name := fmt.Sprint(key); seen[name] {
				t.Fatalf("seed %d: statements %v are told twice", seed, key)
			} else {
				seen[name] = true
			}
			if len(got.Conflicts) != len(got.Removed) {
				t.Fatalf("seed %d: %d conflicts for %d statements given up", seed, len(got.Conflicts), len(got.Removed))
			}
			if !slices.ContainsFunc(got.Removed, func(tag Tag) bool { return slices.Contains(c.Tags, tag) }) {
				t.Fatalf("seed %d: nothing of %v was given up, but %v", seed, c.Tags, got.Removed)
			}
		}
		rest := slices.DeleteFunc(n.Edges(), func(e Edge) bool { return slices.Contains(got.Removed, e.Tag) })
		d, ok := solveAllPairs(n.Points(), rest)
		if !ok {
			t.Fatalf("seed %d: what remains contradicts itself", seed)
		}
		for p := range d {
			latest, known := got.Solution.Latest(Point(p))
			if known != (d[0][p] < far) || known && int64(latest) != d[0][p] {
				t.Fatalf("seed %d: point %d: latest %d, %v, want %d", seed, p, latest, known, d[0][p])
			}
		}
		checkStrength(t, n, got.Removed, weakness)
	}
	if conflicts < 1000 {
		t.Errorf("only %d conflicts in 3000 networks: the test says little", conflicts)
	}
}

// checkStrength checks that no statement was given up for weaker ones: with
// the statements as strong as it, or stronger, that were kept, it conflicts.
func checkStrength(t *testing.T, n *Network, removed []Tag, weakness func(Tag) int) {
	t.Helper()
	for _, tag := range removed {
		strong := slices.DeleteFunc(n.Edges(), func(e Edge) bool {
			return e.Tag != Given && (weakness(e.Tag) > weakness(tag))
		})
		if _, ok := solveAllPairs(n.Points(), strong); ok {
			t.Errorf("statement %d was given up although only weaker ones contradict it", tag)
		}
	}
}
