package provenance

import "slices"

// side is which side of a statement an event is used for, where a source is
// right about one of them only.
type side uint8

const (
	eitherSide side = iota
	forSide
	againstSide
)

// builder makes the network of one statement.
type builder struct {
	*graph
	network
	sides map[int32]int // between how many sides a source is divided; see Weighing.sides
	at    map[sidedEntry]int32
	open  []sidedEntry // in the order of events; their causes are not all found
}

type sidedEntry struct {
	entry
	side side
}

// build makes the network of a statement for and against which these are cited,
// where sources are divided between so many sides: each is right about one of
// them only, all as likely.
func (g *graph) build(pro, contra []entry, sides map[int32]int) *network {
	b := &builder{graph: g, sides: sides, at: make(map[sidedEntry]int32, len(pro)+len(contra))}
	b.pro, b.contra = b.events(pro, forSide), b.events(contra, againstSide)
	for i := 0; i < len(b.open); i++ {
		e := b.open[i]
		var causes []int32
		for _, to := range b.passage(e.entry).relies {
			if b.nodes[to].whole.grounded {
				causes = append(causes, b.event(sidedEntry{entry{to, whole}, e.side}))
			}
		}
		slices.Sort(causes)
		b.network.events[i].causes = causes
	}
	return &b.network
}

func (b *builder) events(list []entry, s side) []int32 {
	var found []int32
	for _, e := range list {
		found = append(found, b.event(sidedEntry{e, s}))
	}
	slices.Sort(found)
	return found
}

// event gives the number of the event of an entry, and adds it where it is new.
func (b *builder) event(e sidedEntry) int32 {
	if len(b.sides) == 0 {
		e.side = eitherSide
	}
	if known, ok := b.at[e]; ok {
		return known
	}
	number := int32(len(b.network.events))
	b.at[e] = number
	p := b.passage(e.entry)
	ev := event{entry: e.entry, draw: e.node, high: p.credence, origin: p.isOrigin()}
	if n := float64(b.sides[e.node]); n > 1 {
		ev.high = p.credence / n
		if e.side == againstSide {
			ev.low, ev.high = 1/n, 1/n+ev.high
		}
	}
	b.network.events = append(b.network.events, ev)
	b.open = append(b.open, e)
	return number
}
