package search

// standing is which documents there are in a state, by number, and what sets
// it apart from the state before.
type standing struct {
	round   uint32                  // of the state
	order   []*vector               // by number
	slots   []*vector               // where each document stays as long as it is there
	numbers []uint32                // of the documents by slot
	lengths [][len(headings)]uint32 // of the headings of the documents by slot: their tokens
	gone    []bool                  // of the documents by slot: it is not there any more
	free    []uint32                // slots

	came  []*vector // documents that were not there before, by number
	moved []*vector // those that had other numbers
	left  []*vector // those that are gone; their slots are free once settle is called
	grew  bool      // there are more or fewer than before
}

func newStanding() *standing { return &standing{round: 1} }

// advance goes on to another state: its documents, and their places by number.
func (s *standing) advance(docs []*vector, order []int) {
	s.round++
	before := s.order
	s.order = make([]*vector, len(order))
	s.came, s.moved, s.left, s.grew = nil, nil, nil, len(order) != len(before)
	for number, place := range order {
		d := docs[place]
		s.order[number] = d
		if d.round != s.round-1 {
			s.enter(d)
		} else if s.numbers[d.slot] != uint32(number) {
			s.moved = append(s.moved, d)
		}
		d.round, s.numbers[d.slot] = s.round, uint32(number)
	}
	for _, d := range before {
		if d.round != s.round {
			s.left, s.gone[d.slot] = append(s.left, d), true
		}
	}
}

func (s *standing) enter(d *vector) {
	s.came = append(s.came, d)
	if n := len(s.free); n > 0 {
		d.slot, s.free = s.free[n-1], s.free[:n-1]
	} else {
		d.slot = uint32(len(s.slots))
		s.slots, s.numbers, s.gone = append(s.slots, nil), append(s.numbers, 0), append(s.gone, false)
		s.lengths = append(s.lengths, [len(headings)]uint32{})
	}
	s.slots[d.slot] = d
	for h, n := range d.heads {
		s.lengths[d.slot][h] = uint32(n)
	}
}

// settle forgets what is gone, once nothing tells of it any more.
func (s *standing) settle() {
	for _, d := range s.left {
		s.slots[d.slot], s.gone[d.slot] = nil, false
		s.free = append(s.free, d.slot)
	}
	s.came, s.moved, s.left = nil, nil, nil
}

// staleness is what has changed since an entry was written.
type staleness uint8

// The kinds of staleness, each counting in those before.
const (
	fresh          staleness = iota
	otherNumbers             // other numbers for the same documents
	otherDocuments           // other documents
)
