package network

import (
	"bufio"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
)

// letters are those of T. A. Alspaugh's page on the algebra, in the order of Relations.
const letters = "pmoFDseSdfOMP"

// table reads a file of fields parted by tabs; lines with # are its sources.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var rows [][]string
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if !strings.HasPrefix(lines.Text(), "#") {
			rows = append(rows, strings.Split(lines.Text(), "\t"))
		}
	}
	return rows
}

// compose gives, as letters, the relations u for which a network holds in
// which A stands in r to B, B in t to C, and A in u to C.
func compose(r, t Relation) string {
	var found strings.Builder
	for _, u := range Relations {
		n := New()
		a, b, c := n.AddInterval(), n.AddInterval(), n.AddInterval()
		n.Relate(r, a, b, 1)
		n.Relate(t, b, c, 2)
		n.Relate(u, a, c, 3)
		if _, conflict := n.Solve(); conflict == nil {
			found.WriteByte(letters[u])
		}
	}
	return found.String()
}

func sorted(s string) string {
	b := []byte(s)
	slices.Sort(b)
	return string(b)
}

// TestComposition holds all 169 entries of Allen's table against what the network derives.
func TestComposition(t *testing.T) {
	rows := table(t, "composition.txt")
	if len(rows) != 14 {
		t.Fatalf("the table has %d rows, want 14", len(rows))
	}
	sum, results := 0, map[string]bool{}
	for i, r := range Relations {
		for j, u := range Relations {
			if row, column := rows[i+1][0], rows[0][j+1]; row != letters[i:i+1] || column != letters[j:j+1] {
				t.Fatalf("the table's entry %d, %d is headed %s, %s", i, j, row, column)
			}
			want := rows[i+1][j+1]
			if want == "full" {
				want = letters
			}
			got := compose(r, u)
			if sorted(got) != sorted(want) {
				t.Errorf("%s;%s = %s, want %s", r, u, got, want)
			}
			sum += len(got)
			results[sorted(got)] = true
		}
	}
	// Totals derived with the table, see its source.
	if sum != 409 || len(results) != 27 {
		t.Errorf("entries hold %d relations in %d distinct results, want 409 in 27", sum, len(results))
	}
}

// TestCompositionConverse checks (r;t) converse = t converse ; r converse, and that e is in r ; r converse.
func TestCompositionConverse(t *testing.T) {
	turned := func(s string) string {
		var b strings.Builder
		for _, c := range s {
			b.WriteByte(letters[Relation(strings.IndexRune(letters, c)).Converse()])
		}
		return b.String()
	}
	for _, r := range Relations {
		if !strings.Contains(compose(r, r.Converse()), "e") {
			t.Errorf("%s and back cannot end where it began", r)
		}
		for _, u := range Relations {
			if got, want := compose(u.Converse(), r.Converse()), turned(compose(r, u)); sorted(got) != sorted(want) {
				t.Errorf("%s;%s = %s, want %s", u.Converse(), r.Converse(), got, want)
			}
		}
	}
}

// relation gives the relations that the network allows between two spans of known years.
func relation(a, b [2]int) (allowed []Relation) {
	for _, r := range Relations {
		n := New()
		i, j := n.AddInterval(), n.AddInterval()
		n.Bound(i.Start, a[0], a[0], 1)
		n.Bound(i.End, a[1], a[1], 2)
		n.Bound(j.Start, b[0], b[0], 3)
		n.Bound(j.End, b[1], b[1], 4)
		n.Relate(r, i, j, 5)
		if _, conflict := n.Solve(); conflict == nil {
			allowed = append(allowed, r)
		}
	}
	return allowed
}

func TestWholeYears(t *testing.T) {
	rows := table(t, "whole-years.txt")
	if len(rows) != 14 {
		t.Fatalf("%d rows, want 14", len(rows))
	}
	for _, row := range rows {
		var a, b [2]int
		if _, err := fmt.Sscanf(row[0]+" "+row[1], "%d-%d %d-%d", &a[0], &a[1], &b[0], &b[1]); err != nil {
			t.Fatal(err)
		}
		want, ok := RelationNamed(row[3])
		if !ok || letters[want] != row[2][0] {
			t.Fatalf("%q is not the relation of letter %s", row[3], row[2])
		}
		if got := relation(a, b); !slices.Equal(got, []Relation{want}) {
			t.Errorf("%s to %s: %v, want %v", row[0], row[1], got, want)
		}
		if got := relation(b, a); !slices.Equal(got, []Relation{want.Converse()}) {
			t.Errorf("%s to %s: %v, want %v", row[1], row[0], got, want.Converse())
		}
	}
}

// TestRelationCounts checks that over all pairs of spans with ends among nine
// points exactly one relation holds, each as often as combinations say:
// C(9,4) = 126 where four ends differ, C(9,3) = 84 where three do, C(9,2) = 36.
func TestRelationCounts(t *testing.T) {
	counts := map[Relation]int{}
	for a := range 9 {
		for aEnd := a + 1; aEnd < 9; aEnd++ {
			for b := range 9 {
				for bEnd := b + 1; bEnd < 9; bEnd++ {
					holds := relation([2]int{a, aEnd - 1}, [2]int{b, bEnd - 1})
					if len(holds) != 1 {
						t.Fatalf("[%d,%d) to [%d,%d): %v, want one relation", a, aEnd, b, bEnd, holds)
					}
					counts[holds[0]]++
				}
			}
		}
	}
	want := map[Relation]int{
		Before: 126, Overlaps: 126, Contains: 126, During: 126, OverlappedBy: 126, After: 126,
		Meets: 84, Starts: 84, FinishedBy: 84, StartedBy: 84, MetBy: 84, Finishes: 84, Equals: 36,
	}
	if !maps.Equal(counts, want) {
		t.Errorf("counts %v, want %v", counts, want)
	}
}

func TestRelationNamed(t *testing.T) {
	for _, r := range Relations {
		if got, ok := RelationNamed(r.String()); !ok || got != r {
			t.Errorf("RelationNamed(%q) = %v, %v", r, got, ok)
		}
	}
	if r, ok := RelationNamed("before-or-after"); ok {
		t.Errorf("a relation that is not convex was admitted as %v", r)
	}
}
