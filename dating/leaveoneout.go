package dating

import (
	"slices"
	"sync"
	"sync/atomic"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// LeaveOneOut dates examples, each without what depends on it: an example never helps
// to date itself. It is safe for concurrent use.
type LeaveOneOut struct {
	ref     *schema.Reference
	times   *chronology.Timeline
	weights *provenance.Weighing
	engine  func() *Engine         // of all models
	whole   atomic.Pointer[Engine] // the same, once it was asked for
	bows    func() []hypothesis
	domains func() []Domain
	teaches func() map[string][]teacher // as inputs.teachers
	cited   func() map[string][]string  // see citedPlaces
	relying func() map[string][]*schema.Source
	answers kept[*exampleAnswer] // of those on which something depends
	briefs  kept[*Brief]
	tried   kept[attempt]
	taught  sync.Map // *lessons by model
}

// NewLeaveOneOut prepares for the examples of the reference that whole was made from.
func NewLeaveOneOut(whole *Engine, t *chronology.Timeline, w *provenance.Weighing) *LeaveOneOut {
	a := LeaveOneOutOf(whole.ref, t, w, func() *Engine { return whole })
	a.All()
	return a
}

// LeaveOneOutOf prepares for the examples of a reference. The engine of all models is
// asked for only if an example is of no known model, or by All.
func LeaveOneOutOf(ref *schema.Reference, t *chronology.Timeline, w *provenance.Weighing, engine func() *Engine) *LeaveOneOut {
	a := &LeaveOneOut{ref: ref, times: t, weights: w, engine: engine}
	a.bows = sync.OnceValue(func() []hypothesis { return hypothesesOf(ref) })
	a.domains = sync.OnceValue(func() []Domain {
		if whole := a.whole.Load(); whole != nil {
			return whole.domains()
		}
		return domainsOf(inputs{ref: ref, bows: a.bows()})
	})
	a.teaches = sync.OnceValue(func() map[string][]teacher { return teachers(ref) })
	a.cited = sync.OnceValue(func() map[string][]string { return citedPlaces(ref) })
	a.relying = sync.OnceValue(func() map[string][]*schema.Source { return relying(ref) })
	return a
}

// All gives the engine of all models. Who dates many examples asks for it
// first: then each costs less.
func (a *LeaveOneOut) All() *Engine {
	e := a.engine()
	a.whole.Store(e)
	return e
}

// Account dates the example from its features alone. Citations of it count for
// nothing, nor do citations of a source that documents it, or of what relies on
// that; of a source whose places are separate those of the same place. The
// answer is that of an engine made of the whole reference without them. The
// caller must not change it.
func (a *LeaveOneOut) Account(ex *schema.Example) (*Account, error) {
	e, t := a.dated(ex)
	if t != nil {
		return t.account, t.err
	}
	return e.account(QuestionOf(a.ref, ex))
}

// Brief is Account without its reasons, worked out once for an example and
// kept. The caller must not change it.
func (a *LeaveOneOut) Brief(ex *schema.Example) (*Brief, error) {
	return a.briefs.of(ex, func() (*Brief, error) {
		switch e, t := a.dated(ex); {
		case t == nil:
			return e.brief(QuestionOf(a.ref, ex))
		case t.err != nil:
			return nil, t.err
		default:
			return &t.account.Brief, nil
		}
	})
}

// try dates one example whose papers give its years.
func (a *LeaveOneOut) try(ex *schema.Example) attempt {
	made, _ := a.tried.of(ex, func() (attempt, error) {
		e, t := a.dated(ex)
		if t != nil {
			return t.tried, nil
		}
		return e.try(ex, true), nil
	})
	return made
}

// exampleAnswer is all that is asked of an example on which something depends. It costs
// an engine of its own, which is not kept.
type exampleAnswer struct {
	account *Account
	err     error
	tried   attempt // if the example is documented
}

func (e *Engine) answer(ex *schema.Example, independent bool) *exampleAnswer {
	t := &exampleAnswer{}
	if t.account, t.err = e.account(QuestionOf(e.ref, ex)); ex.Documented != nil {
		t.tried = e.try(ex, independent)
	}
	return t
}

// dated gives the answer for an example on which something depends, or else the
// engine that dates it.
func (a *LeaveOneOut) dated(ex *schema.Example) (*Engine, *exampleAnswer) {
	out := a.dependsOn(ex)
	if out == nil && !a.teachesItself(ex) {
		return a.engineFor(ex, nil), nil
	}
	t, _ := a.answers.of(ex, func() (*exampleAnswer, error) { return a.engineFor(ex, out).answer(ex, out == nil), nil })
	return nil, t
}

// engineFor gives an engine that knows of the example's model what the whole
// reference says without what is left out, or of every model where the example
// has none.
func (a *LeaveOneOut) engineFor(ex *schema.Example, out *leftOut) *Engine {
	_, known := a.ref.Models.Get(ex.Model.Value)
	whole := a.whole.Load()
	if whole == nil && !known {
		whole = a.All()
	}
	switch {
	case out == nil && whole != nil && !a.teachesItself(ex):
		return whole
	case !known:
		in := a.without(out)
		in.dated = ex
		return build(in)
	}
	if !a.teachesItself(ex) {
		return a.engineWith(ex, out, nil, nil)
	}
	taught, _ := a.taught.LoadOrStore(ex.Model.Value, &lessons{})
	return a.engineWith(ex, out, nil, taught.(*lessons))
}

// engineWith gives an engine of an example's model, which must be known, with
// another teaching than the editor's where one is given. taught is the same for all
// documented examples of the model with the same teaching, or nil.
func (a *LeaveOneOut) engineWith(ex *schema.Example, out *leftOut, teach *Teaching, taught *lessons) *Engine {
	m, _ := a.ref.Models.Get(ex.Model.Value)
	in := a.without(out)
	in.bows, in.dated, in.teach = []hypothesis{{model: m}}, ex, teach
	if out == nil {
		in.lessons = taught
	}
	return build(in)
}

// teachesItself says that an example's own document would help to date it.
func (a *LeaveOneOut) teachesItself(ex *schema.Example) bool {
	return ex.Documented != nil && ex.Model.Value != "" && teaching(a.ref).Weight > 0
}

// without is what an engine is made from that does not know of what is left
// out, which may be nothing.
func (a *LeaveOneOut) without(out *leftOut) inputs {
	in := inputs{ref: a.ref, times: a.times, weights: a.weights, bows: a.bows(), domains: a.domains(), teachers: a.teaches()}
	if out == nil {
		return in
	}
	in.skip = out.skips
	in.domains = slices.Clone(in.domains)
	in.times = a.times.Without(in.skip, out.sources...)
	in.weights = a.weights.Without(in.skip, out.sources...)
	in.renewDomains(out.sources)
	return in
}
