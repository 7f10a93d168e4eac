package network

import (
	"math/rand/v2"
	"testing"
	"time"
)

// madeReference builds a network as records make it: models of a maker, each
// with a made span, eras in a row and a dozen claims, about a hundred
// constraints a model; makers are apart from each other.
func madeReference(constraints int) *Network {
	r := rand.New(rand.NewPCG(1, 2))
	n, tag := New(), Tag(0)
	next := func() Tag { tag++; return tag }
	bound := func(i Interval, first, last int) {
		n.Bound(i.Start, first-r.IntN(3), first, next())
		n.Bound(i.End, last, last+r.IntN(3), tag)
	}
	for model := 0; len(n.edges) < constraints; model++ {
		first := 1945 + r.IntN(20)
		made := n.AddInterval()
		bound(made, first-2, first+12)
		era := made
		for k := range 3 {
			before := era
			era = n.AddInterval()
			n.Within(era, made, next())
			if k > 0 {
				n.Relate(Meets, before, era, next())
			}
		}
		for range 12 {
			claim := n.AddInterval()
			n.Within(claim, made, next())
			switch r.IntN(4) {
			case 0:
				n.Relate(Equals, claim, era, next())
			case 1:
				n.Lasts(claim, 1, 12, next())
			default:
				bound(claim, first+r.IntN(4), first+5+r.IntN(4))
			}
		}
	}
	return n
}

// passes is the time that one bare pass over the edges of the network takes:
// what any method must spend at least.
func passes(n *Network) time.Duration {
	late := make([]int64, n.points)
	begin := time.Now()
	for _, e := range n.edges {
		late[e.To] = min(late[e.To], late[e.From]+int64(e.Max))
	}
	return time.Since(begin)
}

// BenchmarkGrowth reports how much longer ten times the constraints take, and
// the work as a multiple of one bare pass over the edges.
func BenchmarkGrowth(b *testing.B) {
	sizes := [...]int{12_000, 120_000, 1_200_000}
	var networks [len(sizes)]*Network
	for i, size := range sizes {
		networks[i] = madeReference(size)
	}
	var solving, bare [len(sizes)]time.Duration
	for b.Loop() {
		for i, n := range networks {
			begin := time.Now()
			if _, conflict := n.Solve(); conflict != nil {
				b.Fatal("the made reference contradicts itself")
			}
			solving[i] += time.Since(begin)
			bare[i] += passes(n)
		}
	}
	b.ReportMetric(float64(solving[1])/float64(solving[0]), "x10_from_12k")
	b.ReportMetric(float64(solving[2])/float64(solving[1]), "x10_from_120k")
	b.ReportMetric(float64(solving[2])/float64(bare[2]), "bare_passes")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkExplain reports one contradiction explained, and the rest solved,
// as a multiple of solving the same network without it.
func BenchmarkExplain(b *testing.B) {
	whole := madeReference(120_000)
	broken := madeReference(120_000)
	broken.Bound(Point(broken.points-1), 1900, 1901, broken.highest+1)
	var solving, explaining time.Duration
	for b.Loop() {
		begin := time.Now()
		whole.Resolve(Policy{})
		solving += time.Since(begin)
		begin = time.Now()
		if got := broken.Resolve(Policy{}); len(got.Conflicts) != 1 {
			b.Fatalf("%d conflicts, want 1", len(got.Conflicts))
		}
		explaining += time.Since(begin)
	}
	b.ReportMetric(float64(explaining)/float64(solving), "times_without")
	b.ReportMetric(0, "ns/op")
}
