package provenance

import (
	"sync"
	"sync/atomic"

	"yearmark/schema"
)

// Weighing holds what the claims of one reference depend on.
type Weighing struct {
	ref      *schema.Reference
	graph    func() *graph
	skip     func(schema.Citation) bool
	ofMaker  map[*schema.Maker]int32 // the number of the first claim of each
	ofModel  map[*schema.Model]int32
	assessed []atomic.Pointer[Assessment]
	reliance func() *reliance
	rivals   map[*schema.Claim][]*schema.Claim // the claims that contradict each

	// Set only by Without: the weighing with nothing left out, and the sources
	// some of whose ways back lead through what is left out.
	base    *Weighing
	touched map[string]bool
}

// Weigh links the sources of ref with those that they rely on. Of two claims
// between which a contradiction was found, a source that is cited for both is
// right about one only.
func Weigh(ref *schema.Reference, contradictions ...[2]*schema.Claim) *Weighing {
	return WeighWithout(ref, nil, contradictions...)
}

// WeighWithout is Weigh with some citations left out: those for which skip is
// true count for nothing, and a source that took all its facts from what is
// left out counts for nothing either. It is how an example is kept from
// helping to date itself. skip must be safe for concurrent use.
func WeighWithout(ref *schema.Reference, skip func(schema.Citation) bool, contradictions ...[2]*schema.Claim) *Weighing {
	made := newGraph(ref, skip)
	w := &Weighing{ref: ref, graph: func() *graph { return made }, skip: skip}
	w.assessed = make([]atomic.Pointer[Assessment], w.numberClaims())
	w.rivals = map[*schema.Claim][]*schema.Claim{}
	for _, pair := range contradictions {
		w.rivals[pair[0]] = append(w.rivals[pair[0]], pair[1])
		w.rivals[pair[1]] = append(w.rivals[pair[1]], pair[0])
	}
	w.reliance = sync.OnceValue(func() *reliance { return newReliance(ref) })
	return w
}

// numberClaims numbers the claims of the reference in the order of claims and
// gives how many there are.
func (w *Weighing) numberClaims() int {
	makers, models := w.ref.Makers.All(), w.ref.Models.All()
	w.ofMaker, w.ofModel = make(map[*schema.Maker]int32, len(makers)), make(map[*schema.Model]int32, len(models))
	n := 0
	for _, m := range models {
		w.ofModel[m] = int32(n)
		n += len(m.Claims())
	}
	for _, m := range makers {
		w.ofMaker[m] = int32(n)
		n += len(m.Claims())
	}
	return n
}

// numberOf gives the number of a claim; ok is false for one that is not of the reference.
func (w *Weighing) numberOf(c *schema.Claim) (n int32, ok bool) {
	place, own := c.Place()
	if c.Model != nil {
		n, ok = w.ofModel[c.Model]
	} else {
		n, ok = w.ofMaker[c.Maker]
	}
	return n + int32(place), ok && own
}
