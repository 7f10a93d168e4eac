package schema

import "yearmark/schema/edtf"

// Text is a scalar as written, with its place. YAML's guesses at numbers and
// dates are never used: 0123 and 1974-05-02 stay the characters on the page.
type Text struct {
	Value string
	Pos   Pos
}

// Texts gives the words of a list; nil of an empty one.
func Texts(list []Text) []string {
	var words []string
	for _, t := range list {
		words = append(words, t.Value)
	}
	return words
}

// Number is a decimal figure with its place.
type Number struct {
	Value float64
	Pos   Pos
}

// Whole is a whole number with its place.
type Whole struct {
	Value int
	Pos   Pos
}

// Flag is true or false with its place. An absent flag has a zero Pos.
type Flag struct {
	Value bool
	Pos   Pos
}

// Span is a stretch of time as written in EDTF. The zero Span says that none was written.
type Span struct {
	edtf.Expr
	Pos Pos
}

// Unit is a unit of measure as archers write it: in, lb, gr, mm, cm, kg, g, a
// currency by its code, or empty for a plain number.
type Unit string

// The units that records may use.
const (
	Inch       Unit = "in"
	Pound      Unit = "lb"
	Grain      Unit = "gr"
	Millimetre Unit = "mm"
	Centimetre Unit = "cm"
	Kilogram   Unit = "kg"
	Gram       Unit = "g"
)

// Units lists every unit of measure that a record may use.
var Units = []Unit{Inch, Pound, Grain, Millimetre, Centimetre, Kilogram, Gram}

// Range is two figures of one unit, Low <= High: "7 1/4..7 3/4 in". A single
// figure is a range whose ends are equal.
type Range struct {
	Low, High float64
	Unit      Unit
	Written   string
	Pos       Pos
}

// IsZero says that no range was written.
func (r Range) IsZero() bool { return r.Pos.IsZero() }

// Citation names a source, or an example as "example-ID", and a place in it,
// as in "halvane-list-1964, p. 6". Place is empty where none was given.
type Citation struct {
	Source string
	Place  string
	Pos    Pos
}

// ExampleID gives the identifier of the cited example and true, or false where
// a source is cited.
func (c Citation) ExampleID() (string, bool) {
	const prefix = "example-"
	if len(c.Source) > len(prefix) && c.Source[:len(prefix)] == prefix {
		return c.Source[len(prefix):], true
	}
	return "", false
}

// String gives the citation as it is written in a record.
func (c Citation) String() string {
	if c.Place == "" {
		return c.Source
	}
	return c.Source + ", " + c.Place
}
