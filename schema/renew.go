package schema

import (
	"slices"
	"strings"
)

// assemble makes the reference of the records now kept, and ties anew those
// records whose names may have come to mean something else.
func (f *Folder) assemble(records map[string]*keptFile) (*Reference, Problems, error) {
	f.refresh(records)
	list := make([]Record, 0, len(records))
	problems := slices.Concat(f.settings.problems, f.listing.problems)
	for _, file := range f.listing.records {
		k := records[file]
		if k.record != nil {
			list = append(list, k.record)
		}
		problems = append(problems, k.problems...)
	}
	ref := register(f.path, f.of, list, f.listing.media)
	reported := f.tie(ref, records)
	ref.adviseCitations(problems)
	problems = append(problems, reported...).sorted()
	f.ref, f.records, f.problems, f.linked = ref, records, problems, len(reported) == 0
	f.strays = f.listing.problems
	return ref, slices.Clone(problems), nil
}

// tie links the records that changed, or all of them where a name may have come or gone.
func (f *Folder) tie(ref *Reference, records map[string]*keptFile) Problems {
	if f.ref == nil || !f.linked || !sameNames(f.ref, ref) {
		return link(ref, ref.Records())
	}
	var changed []Record
	for _, r := range ref.Records() {
		if old := f.records[r.Header().File]; old == nil || old.record != r {
			changed = append(changed, r)
		}
	}
	return link(ref, changed)
}

// sameNames says that two states hold records of the same names, and the very
// same features: what a record's names mean then depends on it and on the
// claims that its order statements name.
func sameNames(a, b *Reference) bool {
	return slices.Equal(a.Features.All(), b.Features.All()) &&
		sameIDs(&a.Makers, &b.Makers) && sameIDs(&a.Models, &b.Models) && sameIDs(&a.Sources, &b.Sources) &&
		sameIDs(&a.Examples, &b.Examples)
}

func sameIDs[R Record](a, b *Collection[R]) bool {
	return slices.EqualFunc(a.list, b.list, func(x, y R) bool { return x.Header().ID == y.Header().ID })
}

// refresh reads again, from the bytes kept, those unchanged records that were
// tied to something that changed: linking must not touch records that an
// earlier reference shows.
func (f *Folder) refresh(records map[string]*keptFile) {
	if f.ref == nil {
		return
	}
	units := unitsChanged(f.ref, records)
	tied := f.ref.Models.appendTo(f.ref.Makers.appendTo(nil)) // no others are
	gone := map[Record]bool{}                                 // the tied records that are no longer kept
	for _, r := range tied {
		if k := records[r.Header().File]; k == nil || k.record != r {
			gone[r] = true
		}
	}
	ties := func(o *Order) bool { return reorders(o, gone) }
	for again := true; again; {
		again = false
		for _, r := range tied {
			if gone[r] || !loosened(r, ties, units) {
				continue
			}
			fresh := *records[r.Header().File]
			fresh.record, fresh.problems = ReadRecord(r.Header().File, fresh.source)
			records[r.Header().File] = &fresh
			gone[r], again = true, true
		}
	}
}

// loosened says that a record as it is tied would now be tied otherwise.
func loosened(r Record, ties func(*Order) bool, units map[string]bool) bool {
	switch r := r.(type) {
	case *Maker:
		return slices.ContainsFunc(r.Order, ties) || remeasured(r.Specs, units)
	case *Model:
		return slices.ContainsFunc(r.Order, ties) || remeasured(r.Specs, units)
	}
	return false
}

// remeasured says that one of the specs is of a feature that changed its unit.
func remeasured(specs []*Claim, units map[string]bool) bool {
	return len(units) > 0 && slices.ContainsFunc(specs, func(c *Claim) bool { return units[c.Spec.Value] })
}

// reorders says that an order statement names a claim of a model that changed.
func reorders(o *Order, gone map[Record]bool) bool {
	for _, named := range [...]struct {
		name  Text
		claim *Claim
	}{{o.First, o.FirstClaim}, {o.Second, o.SecondClaim}, {o.Of, o.OfClaim}} {
		switch {
		case named.name.Value == "":
		case named.claim == nil:
			return true // nobody answered to it; perhaps somebody does now
		case named.claim.Model != nil && gone[named.claim.Model], named.claim.Maker != nil && gone[named.claim.Maker]:
			return true
		}
	}
	return false
}

// featuresBelow begins the files of features.
var featuresBelow = KindFeature.Folder() + "/"

// unitsChanged names the features from which a range without a unit now takes another one.
func unitsChanged(old *Reference, records map[string]*keptFile) map[string]bool {
	changed := map[string]bool{}
	for _, was := range old.Features.All() {
		var now *Feature
		if k := records[was.File]; k != nil {
			now, _ = k.record.(*Feature)
		}
		if !sameFigure(was, now) {
			changed[was.ID] = true
		}
	}
	for file, k := range records {
		if !strings.HasPrefix(file, featuresBelow) {
			continue
		}
		if f, ok := k.record.(*Feature); ok {
			if _, known := old.Features.Get(f.ID); !known {
				changed[f.ID] = true
			}
		}
	}
	return changed
}

// sameFigure says that a range without a unit takes the same one from both.
func sameFigure(a, b *Feature) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a == b || a.Kind.Value == b.Kind.Value && a.Unit.Value == b.Unit.Value
}
