package schema

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"yearmark/schema/english"
)

// Premise is one feature that must have one of some values for a claim to
// hold. In YAML the features are the keys of a mapping:
// {draw-weight: ..39 lb, limb-core: [maple, bamboo]}.
type Premise struct {
	Feature Text
	Values  []Text // for a number one range, which may be open at one end
}

// String gives the condition as a record writes it: "draw-weight: ..39 lb".
func (c Premise) String() string {
	values := make([]string, len(c.Values))
	for i, v := range c.Values {
		values[i] = v.Value
	}
	if len(values) == 1 {
		return c.Feature.Value + ": " + values[0]
	}
	return c.Feature.Value + ": [" + strings.Join(values, ", ") + "]"
}

// Premises gives all of a claim's conditions as one text, or "".
func Premises(list []Premise) string {
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = c.String()
	}
	return strings.Join(words, "; ")
}

// ParseOpenRange reads a range of figures that may be open at one end: "..39
// lb", "40.. lb", "30..39 lb". An open end is infinite. The error is a *Malformed.
func ParseOpenRange(text string) (Range, error) {
	low, high, two := strings.Cut(text, "..")
	figures, unit := splitUnit(high)
	switch {
	case two && strings.TrimSpace(low) == "":
		v, unit, err := parseFigure(text, high, 2)
		return Range{Low: math.Inf(-1), High: v, Unit: unit, Written: text}, err
	case two && strings.TrimSpace(figures) == strings.TrimSpace(high) && unit == "" && !strings.ContainsAny(high, "0123456789"):
		v, unit, err := parseFigure(text, low+" "+strings.TrimSpace(high), 0)
		return Range{Low: v, High: math.Inf(1), Unit: unit, Written: text}, err
	}
	return ParseRange(text)
}

// readPremises reads what must hold for a claim to.
func readPremises(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	var list []Premise
	ok := d.entries(n, k, func(name, value *yaml.Node) {
		c := Premise{Feature: Text{Value: name.Value, Pos: d.pos(name)}}
		if !listReader(reflect.TypeFor[Text]())(d, value, k, reflect.ValueOf(&c.Values).Elem()) || len(c.Values) == 0 {
			d.report(CheckWrongType, d.pos(name), fmt.Sprintf("the condition %q names no value", english.Clip(name.Value, 60)), "Write a value, several in brackets, or a range: {limb-core: maple, draw-weight: ..39 lb}.")
			return
		}
		list = append(list, c)
	})
	*to.Addr().Interface().(*[]Premise) = list
	return ok
}

// premise ties a condition to the feature that it is about.
func (l *linker) premise(when Premise) {
	f := l.featureOf(when.Feature)
	if f == nil {
		return
	}
	for _, v := range when.Values {
		l.condition(f, v)
	}
}

// condition wants a value, or a range of figures, that the feature can have.
func (l *linker) condition(f *Feature, v Text) {
	switch FeatureKind(f.Kind.Value) {
	case Figure:
		l.figures(f, v, ParseOpenRange)
	case Wording:
		l.pattern(v)
	case Choice:
		if v.Value != SomethingElse {
			l.value(f, v)
		}
	default:
		l.value(f, v)
	}
}

// CanHoldTogether says whether two lists of conditions can hold on one bow.
// Values of a feature that is not exclusive can.
func (r *Reference) CanHoldTogether(a, b []Premise) bool {
	for _, x := range a {
		for _, y := range b {
			if x.Feature.Value == y.Feature.Value && !r.overlap(x, y) {
				return false
			}
		}
	}
	return true
}

// overlap says whether one bow can satisfy two conditions of one feature.
func (r *Reference) overlap(x, y Premise) bool {
	f, known := r.Features.Get(x.Feature.Value)
	if !known {
		return true
	}
	figure := FeatureKind(f.Kind.Value) == Figure
	if figure && !f.Exclusive.Pos.IsZero() && !f.Exclusive.Value || !figure && !f.IsExclusive() {
		return true
	}
	return slices.ContainsFunc(x.Values, func(v Text) bool {
		return slices.ContainsFunc(y.Values, func(w Text) bool {
			if !figure {
				return v.Value == w.Value
			}
			p, wrong := ParseOpenRange(v.Value)
			q, wrong2 := ParseOpenRange(w.Value)
			return wrong != nil || wrong2 != nil || p.Low <= q.High && q.Low <= p.High
		})
	})
}
