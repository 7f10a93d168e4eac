package tables

import (
	"slices"

	"yearmark/dating"
	"yearmark/schema"
)

// keptModel is the room that a model's claims take in a file, and what they
// rest on besides the engine's voices.
type keptModel struct {
	size  int
	rests rests
}

// keptClaims is a file of claims.
type keptClaims struct {
	first, models int
	file          File
}

// rests is what is cited by name, each once, and the record that was meant:
// nil where nobody answered to the name.
type rests []restsOn

type restsOn struct {
	name string
	was  schema.Record
}

// on notes what is cited by a name; nobody need note it.
func (r *rests) on(name string, was schema.Record) {
	if r != nil && !slices.ContainsFunc(*r, func(one restsOn) bool { return one.name == name }) {
		*r = append(*r, restsOn{name, was})
	}
}

// hold says that all of it is still so.
func (r rests) hold(ref *schema.Reference) bool {
	return !slices.ContainsFunc(r, func(one restsOn) bool {
		now, _ := ref.Cited(one.name)
		return now != one.was
	})
}

// likeBefore says of every feature that it has the same outcomes as in the
// engine before; it gives nil where the features are not the same.
func (b *builder) likeBefore() []bool {
	if b.before == nil {
		return nil
	}
	id := func(a, b dating.Feature) bool { return a.ID == b.ID }
	now, was := b.engine.Features(), b.before.engine.Features()
	if !slices.EqualFunc(now, was, id) {
		return nil
	}
	alike := make([]bool, len(now))
	for i := range now {
		alike[i] = now[i].Domain == was[i].Domain
	}
	return alike
}

// keep gives the claims of a model, or nil where they are those from before,
// and what is kept of them. alike is as likeBefore says.
func (b *builder) keep(m int, alike []bool) (modelClaims, *keptModel) {
	if alike != nil {
		if was, known := b.before.engine.ModelAt(b.engine.Table().Models[m].ID); known && b.saysTheSame(m, was, alike) {
			return nil, b.before.models[was]
		}
	}
	kept := &keptModel{}
	rests := &kept.rests
	if b.once {
		rests = nil
	}
	claims := b.claimsOf(m, rests)
	kept.size = claims.size()
	return claims, kept
}

// saysTheSame says that the claims of a model, and all that is told of them,
// are those of one in the engine before.
func (b *builder) saysTheSame(m, was int, alike []bool) bool {
	e, old := b.engine, b.before.engine
	now, before := e.Table().Models[m], old.Table().Models[was]
	if !slices.Equal(e.Table().Years[now.Start:now.End], old.Table().Years[before.Start:before.End]) {
		return false
	}
	for i, same := range alike {
		voices := e.Voices(m, i)
		if len(voices) > 0 && !same || !slices.EqualFunc(voices, old.Voices(was, i), dating.Voice.Same) {
			return false
		}
	}
	return b.before.models[was].rests.hold(e.Reference())
}

// filedBefore gives the file from before that holds the same models with the same claims.
func (b *builder) filedBefore(of filing) (File, bool) {
	if b.before == nil {
		return File{}, false
	}
	first, known := b.before.engine.ModelAt(b.engine.Table().Models[of.first].ID)
	if !known {
		return File{}, false
	}
	at, known := slices.BinarySearchFunc(b.before.filed, first, func(f keptClaims, first int) int { return f.first - first })
	if !known || !slices.Equal(b.before.models[first:first+b.before.filed[at].models], of.kept) {
		return File{}, false
	}
	return b.before.filed[at].file, true
}
