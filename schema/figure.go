package schema

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Malformed is a scalar that cannot be read: which check it fails, where in
// the text, and what to do about it.
type Malformed struct {
	Check   string // one of ReadingChecks
	Text    string
	Offset  int    // in bytes from the start of Text
	Message string // lower case, no full stop
	Help    string // a sentence
	Instead string // what may be written in place of all of Text; "" where that is not known
}

// Error gives the message and the remedy.
func (m *Malformed) Error() string { return m.Message + ": " + m.Help }

// The largest figure that a record may hold; a bound, so that sums stay exact.
const maxFigure = 1e9

// ParseRange reads two figures and a unit as people write them: "30..55 lb",
// "7 1/4..7 3/4 in", "7¼..7¾ in", "2..3". A single figure is a range whose
// ends are equal. The unit may be absent and then is "". The error is a *Malformed.
func ParseRange(text string) (Range, error) {
	low, high, two := strings.Cut(text, "..")
	if !two {
		return parseSingle(text)
	}
	a, unitA, err := parseFigure(text, low, 0)
	if err != nil {
		return Range{}, err
	}
	b, unitB, err := parseFigure(text, high, len(low)+2)
	if err != nil {
		return Range{}, err
	}
	switch {
	case unitA != "" && unitB != "" && unitA != unitB:
		return Range{}, &Malformed{CheckWrongUnit, text, len(low) + 2, fmt.Sprintf("%q has two units, %s and %s", text, unitA, unitB), "Write both figures in one unit, and the unit once, at the end.", ""}
	case a > b:
		small, _ := splitUnit(strings.TrimSpace(high))
		great, _ := splitUnit(strings.TrimSpace(low))
		noun, now := "figure", fmt.Sprintf("%s..%s%s", small, great, spaced(max(unitA, unitB)))
		if max(unitA, unitB).IsCurrency() {
			noun, now = "amount", fmt.Sprintf("%s..%s", strings.TrimSpace(high), strings.TrimSpace(low))
		}
		return Range{}, &Malformed{CheckReversedRange, text, 0, fmt.Sprintf("the range %q runs downwards", text), fmt.Sprintf("Write the smaller %s first: %s.", noun, now), now}
	}
	return Range{Low: a, High: b, Unit: max(unitA, unitB), Written: text}, nil
}

func spaced(u Unit) string {
	if u == "" {
		return ""
	}
	return " " + string(u)
}

// parseSingle reads a range without "..", and knows a dash or "to" for what it is.
func parseSingle(text string) (Range, error) {
	v, unit, err := parseFigure(text, text, 0)
	if err == nil {
		return Range{Low: v, High: v, Unit: unit, Written: text}, nil
	}
	for _, sep := range []string{"…", "–", "—", " to ", " - ", "-"} {
		low, high, ok := strings.Cut(text, sep)
		if !ok {
			continue
		}
		low, high = withKnownUnit(low), withKnownUnit(high)
		r, e := ParseRange(low + ".." + high)
		help, now := fmt.Sprintf("Write %s.", r.Written), r.Written
		if m, bad := e.(*Malformed); bad && m.Check == CheckReversedRange {
			help, now, e = m.Help, m.Instead, nil
		}
		if e == nil && low != "" {
			return Range{}, &Malformed{CheckMalformedFigure, text, strings.Index(text, sep), fmt.Sprintf("the range %q is not written with two full stops", text), help, now}
		}
	}
	return Range{}, err
}

// withKnownUnit writes the unit of a figure as records do where people write it
// otherwise: "45 lb" of "45#".
func withKnownUnit(s string) string {
	figures, unit := splitUnit(strings.TrimSpace(s))
	known, ok := otherUnits[strings.ToLower(unit)]
	if !ok {
		known = Unit(strings.ToLower(unit))
	}
	return figures + spaced(known)
}

// ParseQuantity reads one figure and, where there is one, its unit: "42",
// "7 1/4 in", "-1 lb". The error is a *Malformed.
func ParseQuantity(text string) (value float64, unit Unit, err error) {
	return parseFigure(text, text, 0)
}

// ParseStep reads the step to which a number is read: "1", "1/8", "0.5". It is
// above zero and has no unit. The error is a *Malformed.
func ParseStep(text string) (float64, error) {
	v, unit, err := parseFigure(text, text, 0)
	switch {
	case err != nil:
		return 0, err
	case unit != "":
		return 0, &Malformed{CheckMalformedFigure, text, 0, fmt.Sprintf("the step %q has a unit", text), "Leave the unit out: a step is in the unit of its feature, as in 1 or 1/8.", ""}
	case v <= 0:
		return 0, &Malformed{CheckOutOfBounds, text, 0, fmt.Sprintf("the step %q is not above zero", text), "Write a step such as 1 or 1/8.", ""}
	}
	return v, nil
}

// parseFigure reads part, which begins at offset within text, for messages.
func parseFigure(text, part string, offset int) (float64, Unit, error) {
	trimmed := strings.TrimLeft(part, " \t")
	offset += len(part) - len(trimmed)
	part = strings.TrimRight(trimmed, " \t")
	if v, unit, ok := money(part); ok && math.Abs(v) <= maxFigure {
		return v, unit, nil
	}
	if err := unknownMoney(text, part, offset); err != nil {
		return 0, "", err
	}
	figures, unitText := splitUnit(part)
	v, ok := figure(figures)
	if !ok || math.Abs(v) > maxFigure {
		return 0, "", notAFigure(text, part, figures, offset)
	}
	unit, ok := knownUnit(unitText)
	if !ok {
		return 0, "", unknownUnit(text, unitText, offset+len(part)-len(unitText))
	}
	return v, unit, nil
}

// splitUnit parts "7 1/4 in" into its figure and its unit: the unit begins
// after the last digit or fraction sign.
func splitUnit(s string) (figures, unit string) {
	end := strings.LastIndexFunc(s, func(r rune) bool {
		_, vulgar := vulgarFractions[r]
		return r >= '0' && r <= '9' || vulgar
	})
	if end < 0 {
		return s, ""
	}
	_, size := utf8.DecodeRuneInString(s[end:])
	return s[:end+size], strings.TrimSpace(s[end+size:])
}

var vulgarFractions = map[rune]float64{
	'¼': 1. / 4, '½': 1. / 2, '¾': 3. / 4, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8, '⅓': 1. / 3, '⅔': 2. / 3, '⅕': 1. / 5, '⅖': 2. / 5, '⅗': 3. / 5, '⅘': 4. / 5, '⅙': 1. / 6, '⅚': 5. / 6,
}

// figure reads "7 1/4", "7-1/4", "7¼", "7.25", "1/8", "-1", "+1"; the minus
// may be a hyphen or the sign U+2212, the fraction's bar a slash or U+2044.
func figure(s string) (float64, bool) {
	sign := 1.0
	switch {
	case strings.HasPrefix(s, "+"):
		s = s[1:]
	case strings.HasPrefix(s, "-"):
		sign, s = -1, s[1:]
	case strings.HasPrefix(s, "−"):
		sign, s = -1, s[len("−"):]
	}
	s = strings.ReplaceAll(s, "⁄", "/")
	if r, size := utf8.DecodeLastRuneInString(s); size > 1 {
		part, vulgar := vulgarFractions[r]
		whole, ok := wholeFigure(strings.TrimRight(s[:len(s)-size], " "), true)
		return sign * (whole + part), vulgar && ok
	}
	if slash := strings.IndexByte(s, '/'); slash >= 0 {
		return mixedFigure(s, slash, sign)
	}
	if !plainDecimal(s) {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return sign * v, err == nil
}

// mixedFigure reads "7 1/4", "7-1/4" and "1/4".
func mixedFigure(s string, slash int, sign float64) (float64, bool) {
	gap := strings.LastIndexAny(s[:slash], " -")
	whole, okWhole := wholeFigure(strings.TrimRight(s[:max(gap, 0)], " "), true)
	above, okAbove := wholeFigure(s[gap+1:slash], false)
	below, okBelow := wholeFigure(s[slash+1:], false)
	if !okWhole || !okAbove || !okBelow || below == 0 || above >= below && gap >= 0 {
		return 0, false
	}
	return sign * (whole + above/below), true
}

func wholeFigure(s string, mayBeEmpty bool) (float64, bool) {
	if s == "" {
		return 0, mayBeEmpty
	}
	if len(s) > 9 || strings.Trim(s, "0123456789") != "" {
		return 0, false
	}
	v, err := strconv.Atoi(s)
	return float64(v), err == nil
}

// plainDecimal says that s is digits with at most one full stop between digits.
func plainDecimal(s string) bool {
	whole, rest, dotted := strings.Cut(s, ".")
	if len(s) > 20 || whole == "" || strings.Trim(whole, "0123456789") != "" {
		return false
	}
	return !dotted || rest != "" && strings.Trim(rest, "0123456789") == ""
}

func notAFigure(text, part, figures string, offset int) error {
	m := &Malformed{CheckMalformedFigure, text, offset, fmt.Sprintf("%q is not a figure", part), "Write a figure as in 42, 7.25 or 7 1/4, or a range as in 30..55 lb.", ""}
	switch comma := strings.IndexByte(part, ','); {
	case part == "":
		m.Message, m.Help = fmt.Sprintf("%q lacks a figure", text), "Write both figures, as in 30..55 lb."
	case comma >= 0 && plainDecimal(strings.Replace(figures, ",", ".", 1)):
		m.Offset += comma
		m.Message = fmt.Sprintf("%q has a decimal comma", part)
		m.Help = fmt.Sprintf("Write a full stop before the decimals: %s.", strings.Replace(part, ",", ".", 1))
		if strings.Count(text, ",") == 1 {
			m.Instead = strings.Replace(text, ",", ".", 1)
		}
	}
	return m
}

// otherUnits are the ways people write a unit that records write otherwise.
var otherUnits = map[string]Unit{
	"\"": Inch, "″": Inch, "”": Inch, "inch": Inch, "inches": Inch, "ins": Inch, "in.": Inch,
	"#": Pound, "lbs": Pound, "lb.": Pound, "lbs.": Pound, "pound": Pound, "pounds": Pound, "℔": Pound,
	"grain": Grain, "grains": Grain, "gn": Grain, "grs": Grain,
	"millimetre": Millimetre, "millimetres": Millimetre, "millimeters": Millimetre,
	"centimetre": Centimetre, "centimetres": Centimetre, "centimeters": Centimetre,
	"kilo": Kilogram, "kilos": Kilogram, "kilogram": Kilogram, "kilograms": Kilogram, "kgs": Kilogram,
	"gram": Gram, "grams": Gram, "gramme": Gram, "grammes": Gram,
}

func knownUnit(s string) (Unit, bool) {
	if s == "" {
		return "", true
	}
	for _, u := range Units {
		if string(u) == s {
			return u, true
		}
	}
	return Unit(s), Unit(s).IsCurrency()
}

func unknownUnit(text, unit string, offset int) error {
	help := didYouMean(unit, unitNames, "The units are "+strings.Join(unitNames, ", ")+", and currencies by their three capital letters.")
	lower := strings.ToLower(unit)
	now := ""
	u, ok := otherUnits[lower]
	if !ok {
		u, ok = knownUnit(lower)
	}
	if ok {
		help = fmt.Sprintf("Write %s.", u)
	}
	if bare, last := strings.CutSuffix(text, unit); ok && last && !strings.HasSuffix(bare, "..") {
		now = strings.TrimRight(bare, " ") + " " + string(u)
	}
	if lower == "year" || lower == "years" {
		help = "Leave the word out: years are meant already, as in 2..3."
	}
	return &Malformed{CheckUnknownUnit, text, offset, fmt.Sprintf("the unit %q is not known", unit), help, now}
}

var unitNames = func() []string {
	var names []string
	for _, u := range Units {
		names = append(names, string(u))
	}
	return names
}()
