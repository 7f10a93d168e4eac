package dating

import (
	"fmt"

	"yearmark/schema"
)

// OtherName is a name that people know something by besides its own.
type OtherName struct {
	Name  string
	Words string // whose it is, a sentence
}

// OtherNames lists the other names of makers, models, values and sources.
func OtherNames(ref *schema.Reference) []OtherName {
	list := []OtherName{}
	add := func(also []schema.OtherName, of string) {
		for _, n := range also {
			list = append(list, OtherName{n.Name.Value, fmt.Sprintf("%q is another name of %s%s.", n.Name.Value, of, calledSo(ref, n))})
		}
	}
	for _, m := range ref.Makers.All() {
		add(m.Also, m.Title())
	}
	for _, m := range ref.Models.All() {
		maker, _ := ref.Makers.Get(m.Maker.Value)
		of := "the " + m.Title()
		if maker != nil {
			of += " by " + maker.Title()
		}
		add(m.Also, of)
	}
	for _, f := range ref.Features.All() {
		for _, v := range f.Values {
			add(v.Also, schema.Lowered(f.Title())+" "+f.ValueName(v.ID.Value))
		}
	}
	for _, s := range ref.Sources.All() {
		add(s.Also, s.Title())
	}
	return list
}

// calledSo says in which years something was called so, and by whom: ": it was
// called so 1961 to 1963, in the docket book, p. 2".
func calledSo(ref *schema.Reference, n schema.OtherName) string {
	if n.Plain() {
		return ""
	}
	words := ": it was called so"
	if !n.Span.IsZero() {
		words += " " + n.Span.Words()
	}
	if len(n.Cites) > 0 {
		words += ", in " + sourceNames(ref, n.Cites)
	}
	return words
}
