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

// onePass goes once over the edges of the network: what any method must do at least.
func onePass(n *Network) {
	late := make([]int64, n.points)
	for _, e := range n.edges {
		late[e.To] = min(late[e.To], late[e.From]+int64(e.Max))
	}
}

// best is the shortest of several times.
type best time.Duration

func (b *best) time(do func()) {
	begin := time.Now()
	do()
	if took := best(time.Since(begin)); *b == 0 || took < *b {
		*b = took
	}
}

// BenchmarkGrowth reports how much longer ten times the constraints take, and
// the work as a multiple of one bare pass over the edges.
func BenchmarkGrowth(b *testing.B) {
	sizes := [...]int{12_000, 120_000, 1_200_000}
	var networks [len(sizes)]*Network
	for i, size := range sizes {
		networks[i] = madeReference(size)
	}
	var solving, bare [len(sizes)]best
	for b.Loop() {
		for i, n := range networks {
			solving[i].time(func() {
				if _, conflict := n.Solve(); conflict != nil {
					b.Fatal("the made reference contradicts itself")
				}
			})
			bare[i].time(func() { onePass(n) })
		}
	}
	b.ReportMetric(float64(solving[1])/float64(solving[0]), "x10_from_12k")
	b.ReportMetric(float64(solving[2])/float64(solving[1]), "x10_from_120k")
	b.ReportMetric(float64(solving[2])/float64(bare[2]), "bare_passes")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkExplain reports one contradiction explained, and the rest solved,
// as a multiple of solving the same network without it: where the components
// are small, and where one span that holds all the others joins them to one.
func BenchmarkExplain(b *testing.B) {
	for _, joined := range []bool{false, true} {
		name := map[bool]string{false: "apart", true: "joined"}[joined]
		b.Run(name, func(b *testing.B) {
			whole, broken := madeReference(120_000), madeReference(120_000)
			for _, n := range []*Network{whole, broken} {
				if joined {
					all := n.AddInterval()
					for p := Point(1); p < all.Start; p += 2 {
						n.Within(Interval{p, p + 1}, all, Given)
					}
				}
			}
			broken.Bound(2, 1900, 1901, broken.highest+1)
			var solving, explaining best
			for b.Loop() {
				solving.time(func() { whole.Resolve(Policy{}) })
				explaining.time(func() {
					if got := broken.Resolve(Policy{}); len(got.Conflicts) != 1 {
						b.Fatalf("%d conflicts, want 1", len(got.Conflicts))
					}
				})
			}
			b.ReportMetric(float64(explaining)/float64(solving), "times_without")
			b.ReportMetric(0, "ns/op")
		})
	}
}
