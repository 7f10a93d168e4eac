package desk

import (
	"strings"

	"yearmark/schema"
)

// listsOf are the lists from which fields are completed: records by kind, the
// values of every choice, and the claims that orders and settlements name, those
// of the record itself.
func listsOf(ref *schema.Reference, of schema.Record) []listView {
	all := []listView{claimsOf(of)}
	for _, kind := range linkKinds {
		l := listView{ID: "list-" + string(kind)}
		for _, r := range recordsOf(ref, kind) {
			l.Options = append(l.Options, optionView{Value: r.Header().ID, Label: r.Title()})
		}
		if kind == schema.KindSource {
			for _, e := range ref.Examples.All() {
				l.Options = append(l.Options, optionView{Value: "example-" + e.ID, Label: e.Title()})
			}
		}
		all = append(all, l)
	}
	for _, f := range ref.Features.All() {
		l := listView{ID: "values-" + f.ID}
		for _, v := range f.Values {
			l.Options = append(l.Options, optionView{Value: v.ID.Value, Label: f.ValueName(v.ID.Value)})
		}
		if schema.FeatureKind(f.Kind.Value) == schema.Presence {
			l.Options = []optionView{{Value: schema.Present, Label: "it is there"}, {Value: schema.Absent, Label: "it is not"}}
		}
		if len(l.Options) > 0 {
			all = append(all, l)
		}
	}
	return all
}

// claimsOf lists the claims of a record by the names that other statements of it
// have for them.
func claimsOf(of schema.Record) listView {
	l := listView{ID: "list-claim"}
	home, ok := of.(interface{ Claims() []*schema.Claim })
	if !ok {
		return l
	}
	for _, c := range home.Claims() {
		if c.Anchor() != "" {
			l.Options = append(l.Options, optionView{Value: c.Anchor(), Label: strings.TrimSpace(c.FeatureID() + " " + c.Name.Value + c.Value.Value + c.Range.Written + " " + c.Span.Words())})
		}
	}
	return l
}
