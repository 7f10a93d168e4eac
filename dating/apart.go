package dating

import (
	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// Apart dates examples, each without what rests on it: an example never helps
// to date itself. It is safe for concurrent use.
type Apart struct{ from *calibrator }

// NewApart prepares for the examples of the reference that whole was made from.
func NewApart(whole *Engine, t *chronology.Timeline, w *provenance.Weighing) *Apart {
	return &Apart{&calibrator{ref: whole.ref, times: t, whole: whole, cited: citedPlaces(whole.ref)}}
}

// Date dates the example from its features alone. Citations of it count for
// nothing, nor do citations of the place in a source that documents it.
func (a *Apart) Date(ex *schema.Example) (*Answer, error) {
	e, _ := a.from.engineFor(ex)
	return e.DateExample(ex)
}
