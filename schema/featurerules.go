package schema

import (
	"fmt"

	"yearmark/schema/english"
)

// feature holds a feature's keys against its kind.
func (d *decoder) feature(f *Feature) {
	d.picture(f.Picture)
	for _, v := range f.Values {
		d.picture(v.Picture)
	}
	d.valueNames(f)
	kind := FeatureKind(f.Kind.Value)
	if kind == "" {
		return
	}
	if len(f.Values) > 0 && kind != Choice {
		d.notFor(f, f.Values[0].Pos, "values")
	}
	if kind != Figure {
		d.figureKeysElsewhere(f)
	}
	switch kind {
	case Choice:
		if len(f.Values) == 0 && !d.unread(d.top, "values") {
			d.report(CheckMissingKey, f.Kind.Pos, "a feature of kind choice has no values", "Add values: with a list such as [{id: padauk, name: Padauk}].")
		}
	case Figure:
		d.figureKeys(f)
	}
	d.altered(f)
}

func (d *decoder) notFor(f *Feature, at Pos, name string) {
	d.report(CheckMisplacedKey, at, fmt.Sprintf("%q is not for a feature of kind %s", name, f.Kind.Value), "Delete it, or change the kind: values belong to choice; unit, plausible and step to number.", Place{f.Kind.Pos, "the kind is here"})
}

func (d *decoder) figureKeysElsewhere(f *Feature) {
	for _, k := range []struct {
		name string
		at   Pos
	}{{"unit", f.Unit.Pos}, {"plausible", f.Plausible.Pos}, {"step", f.Step.Pos}} {
		if !k.at.IsZero() {
			d.notFor(f, k.at, k.name)
		}
	}
}

// maxSteps bounds the table of a number's steps.
const maxSteps = 100_000

// figureKeys wants a number to have plausible figures, and a step that divides them usefully.
func (d *decoder) figureKeys(f *Feature) {
	if unit, known := knownUnit(f.Unit.Value); !known || string(unit) != f.Unit.Value {
		d.refused(f.Unit.Pos, unknownUnit(f.Unit.Value, f.Unit.Value, 0))
	}
	p := f.Plausible
	if p.IsZero() {
		if !d.unread(d.top, "plausible") {
			d.report(CheckMissingKey, f.Kind.Pos, "a feature of kind number has no plausible figures", "Add plausible: with the least and the greatest figure that make sense, as in 10..120.")
		}
		return
	}
	if p.Unit != "" && string(p.Unit) != f.Unit.Value {
		d.report(CheckWrongUnit, p.Pos, fmt.Sprintf("the plausible figures are in %s, not in the feature's unit", p.Unit), "Leave the unit out of plausible and write it once, as unit:.")
	}
	if p.Low == p.High {
		d.report(CheckOutOfBounds, p.Pos, fmt.Sprintf("%q is one figure, not a range", p.Written), "Write the least and the greatest figure that make sense, as in 10..120.")
	}
	if f.Step.Value == "" {
		return
	}
	step, err := ParseStep(f.Step.Value)
	if err != nil {
		d.refused(f.Step.Pos, err)
		return
	}
	if steps := (p.High - p.Low) / step; steps > maxSteps || steps < 1 {
		d.report(CheckOutOfBounds, f.Step.Pos, fmt.Sprintf("the step %q does not suit %q", f.Step.Value, p.Written), fmt.Sprintf("Choose a step that divides the plausible figures into 1 to %d steps.", maxSteps))
	}
}

// refused reports a Malformed where only the place of its text is known.
func (d *decoder) refused(at Pos, err error) {
	if m, ok := err.(*Malformed); ok {
		d.report(m.Check, at, m.Message, m.Help)
	}
}

// valueNames wants each value's id to be an identifier of its own.
func (d *decoder) valueNames(f *Feature) {
	first := map[string]Pos{}
	for _, v := range f.Values {
		id := v.ID
		if id.Pos.IsZero() {
			continue
		}
		if !isIdentifier(id.Value) {
			help := "Write small letters a to z, digits and hyphens; what people call it goes under name."
			if s := Slug(id.Value); isIdentifier(s) {
				help = fmt.Sprintf("Write id: %s, and what people call it under name.", s)
			}
			d.report(CheckBadIdentifier, id.Pos, fmt.Sprintf("the value %q is no identifier", english.Clip(id.Value, 60)), help)
		}
		if at, twice := first[id.Value]; twice {
			d.report(CheckDuplicate, id.Pos, fmt.Sprintf("the value %q is declared twice", id.Value), "Delete one of the two, or give it another id.", Place{at, "the first is here"})
			continue
		}
		first[id.Value] = id.Pos
	}
}

// altered wants the values that a feature is changed to be values of it.
func (d *decoder) altered(f *Feature) {
	if f.Altered == nil {
		return
	}
	d.ownIDs("altered", f.Altered.To)
	for _, t := range f.Altered.To {
		d.valueOf(f, t)
	}
}

// valueOf reports a value that a choice or presence feature does not have.
func (d *decoder) valueOf(f *Feature, t Text) {
	_, known := f.Value(t.Value)
	if known || t.Value == "" || len(f.Values) == 0 && FeatureKind(f.Kind.Value) != Presence {
		return
	}
	few := "Its values are " + orList(firstFew(f.valueIDs())) + "."
	d.report(CheckUnknownValue, t.Pos, fmt.Sprintf("%q is not a value of %q", english.Clip(t.Value, 60), f.ID), didYouMean(t.Value, f.valueIDs(), few))
	d.offerNearest(t.Pos, t.Value, f.valueIDs())
}

// valueIDs gives the values that a choice or presence feature can have.
func (f *Feature) valueIDs() []string {
	if FeatureKind(f.Kind.Value) == Presence {
		return []string{Present, Absent}
	}
	ids := make([]string, len(f.Values))
	for i, v := range f.Values {
		ids[i] = v.ID.Value
	}
	return ids
}

// firstFew keeps a list short enough for a sentence.
func firstFew(list []string) []string {
	const few = 12
	if len(list) <= few {
		return list
	}
	return append(append([]string(nil), list[:few]...), "…")
}
