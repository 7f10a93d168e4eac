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

// featureFields are the columns that a feature's record fills. Those whose way
// begins with valuesKey are about the row's value, the others are the same in
// all rows of a feature.
var featureFields = []field[valueOf]{
	{column: "feature", about: "The name of the feature's record. For a new feature, a name of small letters, digits and hyphens.", get: func(v valueOf) string { return v.feature.ID }},
	{column: "name", about: "What the feature is called.", way: []string{"name"}, needed: true, get: func(v valueOf) string { return v.feature.Name.Value }},
	{column: "kind", about: "choice, presence, number or text.", way: []string{"kind"}, needed: true, get: func(v valueOf) string { return v.feature.Kind.Value }},
	{column: "value", about: "One of its values, by its short name.", way: []string{valuesKey, "id"}, get: ofValue(func(x *schema.FeatureValue) string { return x.ID.Value })},
	{column: "value-name", about: "The value as people say it.", way: []string{valuesKey, "name"}, get: ofValue(func(x *schema.FeatureValue) string { return x.Name.Value })},
	{column: "tell", about: "How to tell it from the others.", way: []string{valuesKey, "tell"}, get: ofValue(func(x *schema.FeatureValue) string { return x.Tell.Value })},
	{column: "unit", about: "The unit of a number.", way: []string{"unit"}, get: func(v valueOf) string { return v.feature.Unit.Value }},
	{column: "plausible", about: "The least and the greatest figure that make sense.", form: figures, way: []string{"plausible"}, get: func(v valueOf) string { return v.feature.Plausible.Written }},
	{column: "step", about: "The step to which a number is read.", form: figures, way: []string{"step"}, get: func(v valueOf) string { return v.feature.Step.Value }},
	{column: "exclusive", about: "yes if one bow has one value only.", form: yesOrNo, way: []string{"exclusive"}, get: func(v valueOf) string { return yesNo(v.feature.IsExclusive()) },
		own: func(v valueOf) string { return flagCell(v.feature.Exclusive) }},
	{column: "changeover", about: "Years that two values may overlap, where the feature has a figure of its own.", way: []string{"changeover"}, get: func(v valueOf) string { return wholeCell(v.feature.Changeover) }},
	{column: "held", about: "How strictly makers kept to it.", way: []string{"held"}, get: func(v valueOf) string { return v.feature.Held.Value }},
	{column: "effort", about: "What it costs to look.", way: []string{"effort"}, get: func(v valueOf) string { return string(v.feature.LookEffort()) },
		own: func(v valueOf) string { return v.feature.Effort.Value }},
	{column: "ask", about: "The question to ask of the bow in the hand.", way: []string{"ask"}, get: func(v valueOf) string { return v.feature.Ask.Value }},
	{column: "look", about: "Where and how to look.", way: []string{"look"}, get: func(v valueOf) string { return v.feature.Look.Value }},
	{column: "not-a-fault", about: "What of it looks like a fault and is none.", way: []string{"not-a-fault"}, get: func(v valueOf) string { return v.feature.NotAFault.Value }},
}

const valuesKey = "values"

var featureDerived = []derived[valueOf]{
	{"address", "The feature's page on the site.", func(f Facts, v valueOf) string { return address(f, v.feature.Address()) }},
}

// ofValue reads something of a row's value; nothing where the feature declares none.
func ofValue(get func(*schema.FeatureValue) string) func(valueOf) string {
	return func(v valueOf) string {
		if v.value == nil {
			return ""
		}
		return get(v.value)
	}
}

// Features is the table of features, one row a value, in the record's order.
func Features(f Facts) Table {
	return Table{
		Name: "features", About: "Every feature and every value that it can have, with how to look and how to tell.",
		Columns: withChecksum(columnsOf(featureFields, featureDerived)),
		Rows: rowsOf(everyValue(f.Ref), func(cells []string, v valueOf) []string {
			return rowOf(cells, f, featureFields, featureDerived, v)
		}),
	}
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
