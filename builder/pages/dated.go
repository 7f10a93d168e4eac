package pages

import (
	"sync"

	"yearmark/dating"
	"yearmark/schema"
)

// datings keeps what dating says of the examples asked for last, without what
// rests on each. An answer holds the engine that it came from: those of all
// examples of a large reference would need more room than its pages.
type datings struct {
	apart func() *dating.Apart
	mu    sync.Mutex
	known map[*schema.Example]func() *dating.Answer
}

// mostDatings is how many answers are kept at a time.
const mostDatings = 512

func newDatings(apart func() *dating.Apart) *datings {
	return &datings{apart: sync.OnceValue(apart), known: map[*schema.Example]func() *dating.Answer{}}
}

// of dates an example by its features; nil where the engine cannot, as when
// it has observations that no feature knows.
func (d *datings) of(e *schema.Example) *dating.Answer {
	d.mu.Lock()
	work, ok := d.known[e]
	if !ok {
		work = sync.OnceValue(func() *dating.Answer {
			answer, err := d.apart().Date(e)
			if err != nil {
				return nil
			}
			return answer
		})
		if len(d.known) >= mostDatings {
			clear(d.known)
		}
		d.known[e] = work
	}
	d.mu.Unlock()
	return work()
}

// reviewed counts the bows that were looked over: those that count.
func reviewed(list []*schema.Example) int {
	n := 0
	for _, e := range list {
		if !e.Unreviewed() {
			n++
		}
	}
	return n
}

// examplesByModel sorts examples by the model that they are known to be.
func examplesByModel(ref *schema.Reference) map[string][]*schema.Example {
	by := map[string][]*schema.Example{}
	for _, e := range ref.Examples.All() {
		if e.Model.Value != "" {
			by[e.Model.Value] = append(by[e.Model.Value], e)
		}
	}
	return by
}
