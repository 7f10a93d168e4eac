package provenance

import (
	"fmt"
	"slices"
)

// manyShared is from how many shared events on it is worth while to look for
// events that can be merged.
const manyShared = 8

// merged gives the network with events made one that stand side by side: those of
// sources of their own, with the same causes, and causes of the same events and
// sides. One of them holds where one of the sources is right and a cause holds, so
// that nothing else can tell them apart.
func (n *network) merged() *network {
	for {
		smaller := n.mergedOnce()
		if smaller == nil {
			return n
		}
		n = smaller
	}
}

// mergedOnce is nil where nothing can be merged.
func (n *network) mergedOnce() *network {
	users := map[int32]int{}
	dependents := make([][]int32, len(n.events))
	for i := range n.events {
		users[n.events[i].draw]++
		for _, cause := range n.events[i].causes {
			dependents[cause] = append(dependents[cause], int32(i))
		}
	}
	first := map[string]int32{}
	into := make([]int32, len(n.events)) // the event that stands for each
	found := false
	wrong := map[int32]float64{} // of those that others were merged into: that none is right
	for i := range n.events {
		e, ev := int32(i), &n.events[i]
		into[i] = e
		if users[ev.draw] > 1 || slices.Contains(ev.causes, e) {
			continue
		}
		_, pro := slices.BinarySearch(n.pro, e)
		_, contra := slices.BinarySearch(n.contra, e)
		alike := fmt.Sprint(ev.origin, ev.causes, dependents[i], pro, contra)
		if k, ok := first[alike]; ok {
			if _, merged := wrong[k]; !merged {
				wrong[k] = 1 - (n.events[k].high - n.events[k].low)
			}
			into[i], found = k, true
			wrong[k] = float64(wrong[k] * (1 - (ev.high - ev.low)))
		} else {
			first[alike] = e
		}
	}
	if !found {
		return nil
	}
	return n.renumbered(into, wrong)
}

// renumbered gives the network of those events that stand for themselves.
func (n *network) renumbered(into []int32, wrong map[int32]float64) *network {
	number := make([]int32, len(n.events))
	some := &network{}
	for i := range n.events {
		if into[i] != int32(i) {
			continue
		}
		number[i] = int32(len(some.events))
		ev := n.events[i]
		if w, merged := wrong[int32(i)]; merged {
			ev.low, ev.high = 0, 1-w
		}
		some.events = append(some.events, ev)
	}
	list := func(events []int32) []int32 {
		var kept []int32
		for _, e := range events {
			kept = append(kept, number[into[e]])
		}
		slices.Sort(kept)
		return slices.Compact(kept)
	}
	for i := range some.events {
		some.events[i].causes = list(some.events[i].causes)
	}
	some.pro, some.contra = list(n.pro), list(n.contra)
	return some
}
