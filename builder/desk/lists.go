package desk

import (
	"strings"

	"yearmark/schema"
)

// listsOf are the lists from which fields are completed: records by kind, the
// values of every choice, and the claims that orders and settlements name, those
// of the record itself.
func listsOf(ref *schema.Reference, of schema.Record) []listView {
	all := []listView{claimsOf(ref, of), ownList(of)}
	if m, ok := of.(*schema.Model); ok {
		all = append(all, erasOf(m))
	}
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
			l.Options = presenceOptions
		}
		if len(l.Options) > 0 {
			all = append(all, l)
		}
	}
	return all
}

// ownValues is the list of the values of the feature that a form is of.
const ownValues = "list-own-values"

func ownList(of schema.Record) listView {
	l := listView{ID: ownValues}
	if f, ok := of.(*schema.Feature); ok {
		for _, v := range f.Values {
			l.Options = append(l.Options, optionView{Value: v.ID.Value, Label: f.ValueName(v.ID.Value)})
		}
		if schema.FeatureKind(f.Kind.Value) == schema.Presence {
			l.Options = presenceOptions
		}
	}
	return l
}

var presenceOptions = []optionView{{Value: schema.Present, Label: "it is there"}, {Value: schema.Absent, Label: "it is not"}}

func erasOf(m *schema.Model) listView {
	l := listView{ID: "list-era"}
	for _, e := range m.Eras {
		l.Options = append(l.Options, optionView{Value: e.ID.Value, Label: strings.TrimSpace(e.Name.Value + " " + e.Span.Words())})
	}
	return l
}

// mostClaims is how many claims are offered in one list: what is not offered can be typed.
const mostClaims = 2000

// claimsOf lists the claims that statements of a record name: its own, then
// those of a model's maker, or of a maker's models, by the names that they have there.
func claimsOf(ref *schema.Reference, of schema.Record) listView {
	l := listView{ID: "list-claim"}
	offer := func(claims []*schema.Claim, name func(*schema.Claim) string) {
		for _, c := range claims {
			if c.Anchor() != "" && len(l.Options) < mostClaims {
				l.Options = append(l.Options, optionView{Value: name(c), Label: strings.TrimSpace(ref.Statement(c) + " " + c.Span.Words())})
			}
		}
	}
	offer(schema.ClaimsOf(of), (*schema.Claim).Anchor)
	switch r := of.(type) {
	case *schema.Model:
		if maker, known := ref.Makers.Get(r.Maker.Value); known {
			offer(maker.Claims(), (*schema.Claim).Key)
		}
	case *schema.Maker:
		for _, m := range ref.Models.All() {
			if m.Maker.Value == r.ID {
				offer(m.Claims(), (*schema.Claim).Key)
			}
		}
	}
	return l
}
