package schema

import (
	"math"
	"strconv"
	"strings"

	"yearmark/schema/english"
)

// Conditions puts conditions into words that follow what holds on them: " where
// the draw weight is up to 39 lb and the limb core Maple or Bamboo". It is empty
// where there are none. A nil Reference knows no names.
func (r *Reference) Conditions(list []Premise) string {
	var parts []string
	for i, when := range list {
		name := when.Feature.Value
		var f *Feature
		if r != nil {
			f, _ = r.Features.Get(name)
		}
		if f != nil && f.Title() != "" {
			name = Lowered(f.Title())
		}
		values := make([]string, len(when.Values))
		for k, v := range when.Values {
			values[k] = v.Value
			if f != nil {
				values[k] = f.ConditionWords(v.Value)
			}
		}
		is := " is "
		if i > 0 {
			is = " "
		}
		parts = append(parts, "the "+name+is+english.Or(values))
	}
	if parts == nil {
		return ""
	}
	return " where " + english.And(parts)
}

// ConditionWords says what the feature must be for a claim to hold: the name of a
// value, or "up to 39 lb" of the range "..39 lb".
func (f *Feature) ConditionWords(value string) string {
	if FeatureKind(f.Kind.Value) != Figure {
		return f.ClaimedName(value)
	}
	r, err := ParseOpenRange(value)
	if err != nil {
		return value
	}
	unit := ""
	if f.Unit.Value != "" {
		unit = " " + f.Unit.Value
	}
	figure := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	switch {
	case math.IsInf(r.Low, -1):
		return "up to " + figure(r.High) + unit
	case math.IsInf(r.High, 1):
		return figure(r.Low) + unit + " or more"
	case r.Low == r.High:
		return figure(r.Low) + unit
	}
	return figure(r.Low) + " to " + figure(r.High) + unit
}

// Lowered gives a name a small first letter, unless its second is a capital as well.
func Lowered(name string) string {
	runes := []rune(name)
	if len(runes) > 1 && strings.ToLower(string(runes[1])) == string(runes[1]) {
		return strings.ToLower(string(runes[:1])) + string(runes[1:])
	}
	return name
}
