package network

import (
	"math/rand/v2"
	"slices"
)

// oracle works a small network out anew by Floyd and Warshall's all-pairs
// method, with nothing of the package's own code.
type oracle [][]int64

const far = int64(1) << 50

func solveAllPairs(points int, edges []Edge) (d oracle, consistent bool) {
	d = make(oracle, points)
	for i := range d {
		d[i] = slices.Repeat([]int64{far}, points)
		d[i][i] = 0
	}
	for _, e := range edges {
		d[e.From][e.To] = min(d[e.From][e.To], int64(e.Max))
	}
	for k := range d {
		for i := range d {
			for j := range d {
				if d[i][k] < far && d[k][j] < far {
					d[i][j] = min(d[i][j], d[i][k]+d[k][j])
				}
			}
		}
	}
	for i := range d {
		if d[i][i] < 0 {
			return d, false
		}
	}
	return d, true
}

// without leaves out the edges of one statement.
func without(edges []Edge, t Tag) []Edge {
	return slices.DeleteFunc(slices.Clone(edges), func(e Edge) bool { return e.Tag == t })
}

// only keeps the edges of the statements given, and those given by definition.
func only(edges []Edge, tags []Tag) []Edge {
	return slices.DeleteFunc(slices.Clone(edges), func(e Edge) bool { return e.Tag != Given && !slices.Contains(tags, e.Tag) })
}

// network builds one anew from edges.
func network(points int, edges []Edge) *Network {
	n := New()
	for n.Points() < points {
		n.AddPoint()
	}
	for _, e := range edges {
		n.Constrain(e.From, e.To, int(e.Max), e.Tag)
	}
	return n
}

// randomNetwork is a network as records make them, small and often
// contradictory: spans with bounds, tied by relations and lengths.
func randomNetwork(r *rand.Rand) *Network {
	n := New()
	var spans []Interval
	tag := Tag(0)
	next := func() Tag { tag++; return tag }
	for range 2 + r.IntN(7) {
		i := n.AddInterval()
		spans = append(spans, i)
		lo, hi := 1930+r.IntN(50), 1930+r.IntN(50)
		if lo > hi {
			lo, hi = hi, lo
		}
		switch t := next(); r.IntN(4) {
		case 0:
			n.NotBefore(i.Start, lo, t)
		case 1:
			n.NotAfter(i.End, hi, t)
		case 2:
			n.Bound(i.Start, lo, hi, t)
		default:
			n.NotBefore(i.Start, lo, t)
			n.NotAfter(i.End, hi, t)
		}
	}
	pick := func() Interval { return spans[r.IntN(len(spans))] }
	for range r.IntN(9) {
		switch r.IntN(4) {
		case 0:
			years := 1 + r.IntN(9)
			n.Lasts(pick(), years, years+r.IntN(3), next())
		case 1:
			n.Within(pick(), pick(), next())
		default:
			n.Relate(Relations[r.IntN(len(Relations))], pick(), pick(), next())
		}
	}
	return n
}
