package desk

import "yearmark/schema"

// listsOf are the lists from which fields are completed: records by kind, the
// values of every choice, the claims that orders name.
func listsOf(ref *schema.Reference) []listView {
	var all []listView
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
			l.Options = []optionView{{Value: schema.Present}, {Value: schema.Absent}}
		}
		if len(l.Options) > 0 {
			all = append(all, l)
		}
	}
	return all
}
