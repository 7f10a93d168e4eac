package schema

import "slices"

// assemble makes the reference of the records now kept, and ties anew those
// records whose names may have come to mean something else.
func (f *Folder) assemble(records map[string]*keptFile) (*Reference, Problems, error) {
	f.refresh(records)
	list := make([]Record, 0, len(records))
	problems := slices.Concat(f.settings.problems, f.listing.problems)
	for _, file := range f.listing.records {
		k := records[file.name]
		if k.record != nil {
			list = append(list, k.record)
		}
		problems = append(problems, k.problems...)
	}
	ref := shelve(f.path, f.of, list, f.listing.pictures)
	told := f.tie(ref, records)
	problems = append(problems, told...).sorted()
	f.ref, f.records, f.problems, f.linked = ref, records, problems, len(told) == 0
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

func sameIDs[R Record](a, b *Shelf[R]) bool {
	return slices.EqualFunc(a.list, b.list, func(x, y R) bool { return x.Header().ID == y.Header().ID })
}

// refresh reads again, from the bytes kept, those unchanged records that were
// tied to something that changed: linking must not touch records that an
// earlier reference shows.
func (f *Folder) refresh(records map[string]*keptFile) {
	if f.ref == nil {
		return
	}
	for again := true; again; {
		again = false
		now := current(records)
		for file, k := range records {
			if f.records[file] == k && now.looses(f.ref, k.record) {
				fresh := *k
				fresh.record, fresh.problems = ReadRecord(file, k.source)
				records[file] = &fresh
				again = true
			}
		}
	}
}

// present is the records that there are now, by name.
type present struct {
	models   map[string]*Model
	features map[string]*Feature
}

func current(records map[string]*keptFile) present {
	p := present{map[string]*Model{}, map[string]*Feature{}}
	for _, k := range records {
		switch r := k.record.(type) {
		case *Model:
			p.models[r.ID] = r
		case *Feature:
			p.features[r.ID] = r
		}
	}
	return p
}

// looses says that a record tied in the old reference would now be tied otherwise.
func (p present) looses(old *Reference, r Record) bool {
	switch r := r.(type) {
	case *Maker:
		return slices.ContainsFunc(r.Order, p.reorders)
	case *Model:
		return slices.ContainsFunc(r.Order, p.reorders) || slices.ContainsFunc(r.Specs, func(c *Claim) bool {
			was, _ := old.Features.Get(c.Spec.Value)
			return !sameFigure(was, p.features[c.Spec.Value])
		})
	}
	return false
}

// reorders says that an order statement names a claim of a model that changed.
func (p present) reorders(o *Order) bool {
	for _, named := range [...]struct {
		name  Text
		claim *Claim
	}{{o.First, o.FirstClaim}, {o.Second, o.SecondClaim}, {o.Of, o.OfClaim}} {
		switch {
		case named.name.Value == "":
		case named.claim == nil:
			return true // nobody answered to it; perhaps somebody does now
		case named.claim.Model != nil && p.models[named.claim.Model.ID] != named.claim.Model:
			return true
		}
	}
	return false
}

// sameFigure says that a range without a unit takes the same one from both.
func sameFigure(a, b *Feature) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a == b || a.Kind.Value == b.Kind.Value && a.Unit.Value == b.Unit.Value
}
