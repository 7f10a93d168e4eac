package network

import (
	"slices"
	"testing"
)

// tags lists the statements of each conflict, sorted.
func tags(conflicts []Conflict) [][]Tag {
	var all [][]Tag
	for _, c := range conflicts {
		t := slices.Clone(c.Tags)
		slices.Sort(t)
		all = append(all, t)
	}
	return all
}

func equalSets(a, b [][]Tag) bool {
	return slices.EqualFunc(a, b, func(a, b []Tag) bool { return slices.Equal(a, b) })
}

// TestResolveOneCulprit: one wrong statement that contradicts three others is
// found once, and it is what is given up although all are equally strong,
// whether it is heard before them, between them or after them.
func TestResolveOneCulprit(t *testing.T) {
	for _, wrong := range []Tag{1, 3, 4} {
		n, tag := New(), Tag(0)
		right := func() Tag {
			if tag++; tag == wrong {
				tag++
			}
			return tag
		}
		mark := n.AddInterval()
		n.NotAfter(mark.End, 1950, wrong)
		n.NotBefore(mark.Start, 1960, right())
		n.NotBefore(mark.Start, 1961, right())
		n.NotBefore(mark.End, 1963, right())
		got := n.Resolve(Policy{})
		if len(got.Conflicts) != 1 || !slices.Equal(got.Removed, []Tag{wrong}) {
			t.Errorf("conflicts %v, given up %v; want one conflict, and %d", tags(got.Conflicts), got.Removed, wrong)
		}
		if year, ok := got.Solution.Earliest(mark.Start); !ok || year != 1961 {
			t.Errorf("starts %d, %v; want 1961", year, ok)
		}
	}
}

// TestResolveSeveral: contradictions in one component and in others are each told once.
func TestResolveSeveral(t *testing.T) {
	n := New()
	oval, script, third := n.AddInterval(), n.AddInterval(), n.AddInterval()
	n.NotBefore(oval.End, 1968, 1)
	n.Relate(Meets, oval, script, 2)
	n.NotAfter(script.Start, 1967, 3)
	n.Within(third, script, 4) // the same component, another contradiction
	n.Lasts(third, 5, 6, 5)
	n.Lasts(third, 8, 9, 6)
	other := n.AddInterval() // a component of its own
	n.Bound(other.Start, 1960, 1961, 7)
	n.Bound(other.Start, 1963, 1964, 8)
	got := n.Resolve(Policy{})
	want := [][]Tag{{1, 2, 3}, {5, 6}, {7, 8}}
	if !equalSets(tags(got.Conflicts), want) {
		t.Errorf("conflicts %v, want %v", tags(got.Conflicts), want)
	}
	if got.Conflicts[0].Excess() != 2 {
		t.Errorf("excess %d, want 2: the script mark starts in 1969, not by 1967", got.Conflicts[0].Excess())
	}
	if !slices.Equal(got.Removed, []Tag{3, 6, 8}) {
		t.Errorf("given up %v, want the later of each, 3 6 8", got.Removed)
	}
}

// TestResolveWeakest: disputed statements give way, and hide nothing that the others say.
func TestResolveWeakest(t *testing.T) {
	n := New()
	p := n.AddPoint()
	n.NotBefore(p, 1970, 1) // disputed
	n.NotAfter(p, 1960, 2)
	n.NotAfter(p, 1961, 3)
	n.NotBefore(p, 1965, 4)
	disputed := func(t Tag) int {
		if t == 1 {
			return 1
		}
		return 0
	}
	got := n.Resolve(Policy{Weakness: disputed})
	if len(got.Removed) != 2 || !slices.Contains(got.Removed, 1) || !slices.Contains(got.Removed, 4) {
		t.Errorf("given up %v, want 1 4", got.Removed)
	}
	if !slices.Equal(got.Conflicts[0].Tags, []Tag{2, 4}) {
		t.Errorf("first conflict %v, want 2 4, in which nothing is disputed", got.Conflicts[0].Tags)
	}
	if latest, _ := got.Solution.Latest(p); latest != 1960 {
		t.Errorf("latest %d, want 1960", latest)
	}
}

// TestResolveLimit: past the limit what contradicts is given up unexplained,
// and the rest is solved all the same.
func TestResolveLimit(t *testing.T) {
	n := New()
	crowded := n.AddPoint()
	for tag := Tag(1); tag <= 10; tag++ {
		n.Bound(crowded, 1900+int(tag), 1900+int(tag), tag)
	}
	got := n.Resolve(Policy{Limit: 2})
	if !got.Truncated || len(got.Conflicts) != 2 || len(got.Removed) != 9 {
		t.Errorf("truncated %v with %d conflicts and %d given up, want true, 2 and 9", got.Truncated, len(got.Conflicts), len(got.Removed))
	}
	if year, ok := got.Solution.Latest(crowded); !ok || year != 1901 {
		t.Errorf("until %d, %v, want 1901, the first heard", year, ok)
	}
}

// TestResolveGiven: what holds by definition cannot be given up.
func TestResolveGiven(t *testing.T) {
	n := New()
	p := n.AddPoint()
	n.Bound(p, 1970, 1960, Given)
	q := n.AddPoint()
	n.Bound(q, 1950, 1951, 1)
	got := n.Resolve(Policy{})
	if len(got.Conflicts) != 1 || len(got.Conflicts[0].Tags) != 0 || len(got.Removed) != 0 {
		t.Errorf("conflicts %v, given up %v; want one conflict of no statement", got.Conflicts, got.Removed)
	}
	if _, ok := got.Solution.Latest(p); ok {
		t.Error("a contradiction by definition was solved")
	}
	if year, ok := got.Solution.Earliest(q); !ok || year != 1950 {
		t.Errorf("earliest %d, %v, want 1950", year, ok)
	}
}

// TestResolveAcrossComponents: a statement about two components is given up in both.
func TestResolveAcrossComponents(t *testing.T) {
	n := New()
	p, q := n.AddPoint(), n.AddPoint()
	n.NotAfter(p, 1960, 2)
	n.NotAfter(q, 1960, 2)
	n.NotBefore(q, 1970, 1)
	got := n.Resolve(Policy{})
	if !slices.Equal(got.Removed, []Tag{2}) {
		t.Fatalf("given up %v, want 2", got.Removed)
	}
	if year, ok := got.Solution.Latest(p); ok {
		t.Errorf("p is still bound by %d", year)
	}
}

// TestSelf: a point that is to come before itself is a conflict of one statement.
func TestSelf(t *testing.T) {
	n := New()
	p := n.AddPoint()
	n.Constrain(p, p, -1, 4)
	n.Constrain(p, p, 0, 6)
	got := n.Resolve(Policy{})
	if want := [][]Tag{{4}}; !equalSets(tags(got.Conflicts), want) {
		t.Errorf("conflicts %v, want %v", tags(got.Conflicts), want)
	}
}

// TestLongRing: a ring of many spans is told whole, and stays minimal.
func TestLongRing(t *testing.T) {
	const spans = 300
	n := New()
	first := n.AddInterval()
	last := first
	for tag := Tag(1); tag < spans; tag++ {
		next := n.AddInterval()
		n.Relate(Meets, last, next, tag)
		last = next
	}
	n.Relate(Meets, last, first, spans)
	_, conflict := n.Solve()
	if conflict == nil || len(conflict.Tags) != spans {
		t.Fatalf("conflict %v, want all %d statements", conflict, spans)
	}
	for i := range spans {
		m := network(n.Points(), without(n.Edges(), Tag(i+1)))
		if _, again := m.Solve(); again != nil {
			t.Fatalf("still a contradiction without statement %d", i+1)
		}
	}
}

// TestFarYears: distances past the limit say nothing or are held at it, and sums do not overflow.
func TestFarYears(t *testing.T) {
	n := New()
	a, b, c := n.AddPoint(), n.AddPoint(), n.AddPoint()
	n.NotAfter(a, Limit+1, 1)
	n.NotAfter(b, Limit, 2)
	n.Constrain(b, c, Limit, 3)
	n.NotBefore(a, 2*Limit, 4)
	s, conflict := n.Solve()
	if conflict != nil {
		t.Fatal(conflict)
	}
	if year, ok := s.Latest(a); ok {
		t.Errorf("a is bound by %d", year)
	}
	if year, _ := s.Earliest(a); year != Limit {
		t.Errorf("a from %d, want the limit", year)
	}
	if year, _ := s.Latest(c); year != 2*Limit {
		t.Errorf("c until %d, want %d", year, 2*Limit)
	}
}
