package sheets

import (
	"iter"
	"strconv"

	"yearmark/schema"
)

// valueOf is one row of the table of features: a value, or a feature without declared values.
type valueOf struct {
	feature *schema.Feature
	value   *schema.FeatureValue // nil where the feature declares none
}

var featureColumns = []struct {
	column, about string
	get           func(valueOf) string
}{
	{"feature", "The name of the feature's record.", func(v valueOf) string { return v.feature.ID }},
	{"name", "What the feature is called.", func(v valueOf) string { return v.feature.Name.Value }},
	{"kind", "choice, presence, number or text.", func(v valueOf) string { return v.feature.Kind.Value }},
	{"value", "One of its values, by its short name.", func(v valueOf) string { return v.of(func(x *schema.FeatureValue) string { return x.ID.Value }) }},
	{"value-name", "The value as people say it.", func(v valueOf) string { return v.of(func(x *schema.FeatureValue) string { return x.Name.Value }) }},
	{"tell", "How to tell it from the others.", func(v valueOf) string { return v.of(func(x *schema.FeatureValue) string { return x.Tell.Value }) }},
	{"unit", "The unit of a number.", func(v valueOf) string { return v.feature.Unit.Value }},
	{"plausible", "The least and the greatest figure that make sense.", func(v valueOf) string { return v.feature.Plausible.Written }},
	{"step", "The step to which a number is read.", func(v valueOf) string { return v.feature.Step.Value }},
	{"exclusive", "yes if one bow has one value only.", func(v valueOf) string { return yesNo(v.feature.IsExclusive()) }},
	{"changeover", "Years that two values may overlap, where the feature has a figure of its own.", func(v valueOf) string { return wholeCell(v.feature.Changeover) }},
	{"held", "How strictly makers kept to it.", func(v valueOf) string { return v.feature.Held.Value }},
	{"effort", "What it costs to look.", func(v valueOf) string { return string(v.feature.LookEffort()) }},
	{"ask", "The question to ask of the bow in the hand.", func(v valueOf) string { return v.feature.Ask.Value }},
	{"look", "Where and how to look.", func(v valueOf) string { return v.feature.Look.Value }},
	{"not-a-fault", "What of it looks like a fault and is none.", func(v valueOf) string { return v.feature.NotAFault.Value }},
}

func (v valueOf) of(get func(*schema.FeatureValue) string) string {
	if v.value == nil {
		return ""
	}
	return get(v.value)
}

// Features is the table of features, one row a value, in the record's order.
// It is written for those who use the data and is not read in.
func Features(f Facts) Table {
	t := Table{Name: "features", About: "Every feature and every value that it can have, with how to look and how to tell."}
	for _, c := range featureColumns {
		t.Columns = append(t.Columns, Column{Name: c.column, About: c.about})
	}
	t.Columns = append(t.Columns, Column{Name: "address", About: "The feature's page on the site.", Derived: true})
	t.Rows = rowsOf(everyValue(f.Ref), func(cells []string, v valueOf) []string {
		for _, c := range featureColumns {
			cells = append(cells, c.get(v))
		}
		return append(cells, address(f, v.feature.Address()))
	})
	return t
}

// everyValue yields the values in the order of the table.
func everyValue(ref *schema.Reference) iter.Seq[valueOf] {
	return func(yield func(valueOf) bool) {
		for _, feature := range ref.Features.All() {
			for _, v := range valuesOf(feature) {
				if !yield(valueOf{feature, v}) {
					return
				}
			}
		}
	}
}

// valuesOf gives the declared values, the two of a presence feature, or one nil.
func valuesOf(f *schema.Feature) []*schema.FeatureValue {
	if schema.FeatureKind(f.Kind.Value) == schema.Presence {
		present, _ := f.Value(schema.Present)
		absent, _ := f.Value(schema.Absent)
		return []*schema.FeatureValue{present, absent}
	}
	if len(f.Values) == 0 {
		return []*schema.FeatureValue{nil}
	}
	return f.Values
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func wholeCell(w *schema.Whole) string {
	if w == nil {
		return ""
	}
	return strconv.Itoa(w.Value)
}
