package dating

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"yearmark/bench"
	"yearmark/schema"
	"yearmark/schema/english"
)

// SomethingElse is the value of a choice or text feature that none of the values known is.
const SomethingElse = schema.SomethingElse

// Feature is a feature as the engine sees it: its record, and its outcomes.
type Feature struct {
	ID     string
	Record *schema.Feature // nil where the engine was made from a table
	Domain Domain
}

// Domain is the set of outcomes that a look at a feature can have, numbered from 0.
type Domain interface {
	// Size is how many outcomes there are, |V|.
	Size() int
	// Claimed gives the first and the last of the outcomes that a claim holds,
	// or false where it holds none.
	Claimed(*schema.Claim) (first, last int, ok bool)
	// Observed gives the outcomes that an observed value may be, rising. The
	// error says what was wanted instead.
	Observed(value string) ([]int, error)
	// Label names outcomes for people: "Padauk", "30 to 40 lb".
	Label(outcomes []int) string
}

// Name is the feature's name for people.
func (f *Feature) Name() string {
	if f.Record != nil && f.Record.Name.Value != "" {
		return f.Record.Name.Value
	}
	return f.ID
}

// Kind is the feature's kind.
func (f *Feature) Kind() schema.FeatureKind {
	if f.Record == nil {
		return schema.Choice
	}
	return schema.FeatureKind(f.Record.Kind.Value)
}

// newDomain makes the outcomes of a feature; claims are all that speak of it.
func newDomain(f *schema.Feature, claims []*schema.Claim) Domain {
	switch schema.FeatureKind(f.Kind.Value) {
	case schema.Presence:
		return &Values{feature: f, IDs: []string{schema.Present, schema.Absent}}
	case schema.Figure:
		return newScale(f, claims)
	case schema.Wording:
		return newWordings(claims)
	}
	v := &Values{feature: f}
	for _, value := range f.Values {
		if !slices.Contains(v.IDs, value.ID.Value) {
			v.IDs = append(v.IDs, value.ID.Value)
		}
	}
	if !slices.Contains(v.IDs, SomethingElse) {
		v.IDs = append(v.IDs, SomethingElse)
	}
	return v
}

// Values are the outcomes of a choice or presence feature, by identifier.
type Values struct {
	IDs     []string
	feature *schema.Feature
}

// Size is the number of values, something-else among them.
func (v *Values) Size() int { return len(v.IDs) }

// Claimed finds the value that a claim is about.
func (v *Values) Claimed(c *schema.Claim) (first, last int, ok bool) {
	i := slices.Index(v.IDs, c.Value.Value)
	return i, i, i >= 0
}

// Observed finds a value by its identifier or, capitals aside, its name or
// another name that people know it by.
func (v *Values) Observed(value string) ([]int, error) {
	if i := slices.Index(v.IDs, value); i >= 0 {
		return []int{i}, nil
	}
	var names names
	for i, id := range v.IDs {
		var also []schema.OtherName
		if v.feature != nil {
			if declared, known := v.feature.Value(id); known {
				also = declared.Also
			}
		}
		names.add(i, id, v.name(id), also)
	}
	at, near := names.find(value)
	switch {
	case at >= 0:
		return []int{at}, nil
	case near != "":
		return nil, errors.New(schema.Lowered(strings.TrimRight(near, "?.")))
	}
	return nil, fmt.Errorf("its values are %s", strings.Join(v.IDs, ", "))
}

// Label joins the values' names.
func (v *Values) Label(outcomes []int) string {
	names := make([]string, len(outcomes))
	for i, o := range outcomes {
		names[i] = v.name(v.IDs[o])
	}
	return english.Or(names)
}

func (v *Values) name(id string) string {
	if v.feature != nil {
		if name := v.feature.ValueName(id); name != id {
			return name
		}
	}
	if id == SomethingElse {
		return "something else"
	}
	return id
}

// maxSteps bounds the outcomes of a number.
const maxSteps = 4096

// Scale is the grid of figures of a number feature.
type Scale struct {
	Low, Step float64
	Steps     int
	Unit      schema.Unit
}

func newScale(f *schema.Feature, claims []*schema.Claim) *Scale {
	s := &Scale{Step: 1, Unit: schema.Unit(f.Unit.Value)}
	if step, err := schema.ParseStep(f.Step.Value); err == nil {
		s.Step = step
	}
	low, high := s.in(f.Plausible.Low, f.Plausible.Unit), s.in(f.Plausible.High, f.Plausible.Unit)
	if f.Plausible.IsZero() {
		low, high = s.hull(claims)
	}
	s.Low = low
	if s.Step < (high-low)/(maxSteps-1) {
		s.Step = (high - low) / (maxSteps - 1)
	}
	s.Steps = 1 + int(math.Floor((high-low)/s.Step+1e-9))
	return s
}

// hull gives the least and the greatest figure claimed.
func (s *Scale) hull(claims []*schema.Claim) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range claims {
		if r, ok := claimRange(c); ok {
			low, high = min(low, s.in(r.Low, r.Unit)), max(high, s.in(r.High, r.Unit))
		}
	}
	if low > high {
		return 0, 0
	}
	return low, high
}

// claimRange gives the figures of a claim, whether written as a spec or as a feature's value.
func claimRange(c *schema.Claim) (schema.Range, bool) {
	if !c.Range.IsZero() {
		return c.Range, true
	}
	r, err := schema.ParseRange(c.Value.Value)
	return r, err == nil && c.Value.Value != ""
}

// inches and grains give units of length and of weight in one of their kind.
var (
	inches = map[schema.Unit]float64{schema.Inch: 1, schema.Millimetre: 1 / 25.4, schema.Centimetre: 1 / 2.54}
	grains = map[schema.Unit]float64{schema.Grain: 1, schema.Pound: 7000, schema.Gram: 1 / 0.06479891, schema.Kilogram: 1000 / 0.06479891}
)

// in turns a figure of a unit into the scale's; a unit that does not fit counts as the scale's own.
func (s *Scale) in(figure float64, unit schema.Unit) float64 {
	if unit == "" || unit == s.Unit {
		return figure
	}
	for _, kind := range []map[schema.Unit]float64{inches, grains} {
		if from, to := kind[unit], kind[s.Unit]; from > 0 && to > 0 {
			return figure * from / to
		}
	}
	return figure
}

// Size is the number of steps.
func (s *Scale) Size() int { return s.Steps }

// step is the nearest step to a figure; it may lie off the grid.
func (s *Scale) step(figure float64) int {
	x := math.Floor((figure-s.Low)/s.Step + 0.5 + 1e-9)
	return int(max(-1, min(x, float64(s.Steps))))
}

// Claimed gives the steps of the grid that the claim's range holds.
func (s *Scale) Claimed(c *schema.Claim) (first, last int, ok bool) {
	r, ok := claimRange(c)
	if !ok {
		return 0, 0, false
	}
	first, last = s.step(s.in(r.Low, r.Unit)), s.step(s.in(r.High, r.Unit))
	first, last = max(first, 0), min(last, s.Steps-1)
	return first, last, first <= last
}

// Observed reads a figure or a range of figures, with or without a unit, and of
// a weight in pounds also a stamp without signs, as in "45#" or "45¼ @ 28".
func (s *Scale) Observed(value string) ([]int, error) {
	r, err := schema.ParseRange(value)
	if w, unread := bench.ReadWeightMark(value, bench.Convention{}); err != nil && unread == nil && s.Unit == schema.Pound {
		r, err = schema.Range{Low: w.Pounds, High: w.Pounds}, nil
	}
	if err != nil {
		return nil, err
	}
	first, last := s.step(s.in(r.Low, r.Unit)), s.step(s.in(r.High, r.Unit))
	if first < 0 || last >= s.Steps {
		return nil, fmt.Errorf("figures from %s are plausible", s.Label([]int{0, s.Steps - 1}))
	}
	steps := make([]int, 0, last-first+1)
	for i := first; i <= last; i++ {
		steps = append(steps, i)
	}
	return steps, nil
}

// Label gives the figures from the first outcome to the last, with the unit.
func (s *Scale) Label(outcomes []int) string {
	if len(outcomes) == 0 {
		return ""
	}
	text := s.figure(outcomes[0])
	if last := outcomes[len(outcomes)-1]; last != outcomes[0] {
		text += " to " + s.figure(last)
	}
	if s.Unit != "" {
		text += " " + string(s.Unit)
	}
	return text
}

func (s *Scale) figure(step int) string {
	return plain(math.Round((s.Low+float64(float64(step)*s.Step))*1e6) / 1e6)
}
