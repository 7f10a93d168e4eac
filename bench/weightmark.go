package bench

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Convention is how one maker's stamps read: what a sign before or after the
// figure adds to it, in pounds.
type Convention struct {
	Before, After map[string]float64
}

// CommonConvention is the use that people report of several makers: an X before
// the figure takes a pound off, an X after it adds one. Common practice, no source.
var CommonConvention = Convention{Before: map[string]float64{"X": -1}, After: map[string]float64{"X": 1}}

// Weight is what a stamp says.
type Weight struct {
	Length  float64 // the bow's length, in inches; 0 where none is stamped
	Stamped float64 // the figure as stamped, in pounds
	Pounds  float64 // what it stands for by the maker's convention
	Draw    float64 // the draw it was measured at, in inches; 0 where none is stamped
	Sign    string  // the sign that was read, or empty
}

// ErrBothSides refuses a stamp with signs before and after the figure: nobody
// has said what that would mean.
var ErrBothSides = errors.New("a sign stands on both sides of the figure, and no meaning of that is known")

// markShape is: an optional length in inches, sign, figure, sign, an optional
// pound sign or unit, and an optional draw after "@" or "at".
var markShape = func() *regexp.Regexp {
	const fraction, inches = `(?:\.[0-9]+|\s?[¼½¾])?`, `(?:"|”|″|''|[iI][nN]\.?|[iI]nch(?:es)?)`
	return regexp.MustCompile(`^(?:([0-9]{2}` + fraction + `)\s*` + inches + `\s*)?` +
		`([^0-9.\s]*)\s*([0-9]{1,3}` + fraction + `)\s*([^0-9@#\s]*?)\s*(?:#|[lL][bB][sS]?\.?|pounds)?\s*` +
		`(?:(?:@|at)\s*([0-9]{1,2}` + fraction + `)\s*` + inches + `?)?$`)
}()

// maxMark bounds how long a stamp can be, in bytes.
const maxMark = 60

// ReadWeightMark reads a stamped draw weight such as "45", "X45", "45X#",
// "X35 @ 28" or `64" 45# @ 28` by a maker's convention. It refuses signs that the convention does
// not know and signs on both sides.
func ReadWeightMark(mark string, by Convention) (Weight, error) {
	if len(mark) > maxMark {
		return Weight{}, fmt.Errorf("a weight mark of %d letters is too long to be one", len(mark))
	}
	parts := markShape.FindStringSubmatch(strings.TrimSpace(mark))
	if parts == nil {
		return Weight{}, fmt.Errorf("%q does not read as a weight mark, which is like \"45\", \"X45\" or \"45 @ 28\"", mark)
	}
	before, after := parts[2], parts[4]
	if before != "" && after != "" {
		return Weight{}, fmt.Errorf("%q: %w", mark, ErrBothSides)
	}
	w := Weight{Length: figure(parts[1]), Stamped: figure(parts[3]), Draw: figure(parts[5]), Sign: before + after}
	adds, known := 0.0, w.Sign == ""
	if before != "" {
		adds, known = by.Before[before]
	} else if after != "" {
		adds, known = by.After[after]
	}
	if !known {
		return Weight{}, fmt.Errorf("the sign %q in %q is not one that this maker is recorded to have used", w.Sign, mark)
	}
	w.Pounds = w.Stamped + adds
	return w, nil
}

// IsWeightMark says that a text has the shape of a stamped weight, whatever its signs.
func IsWeightMark(mark string) bool {
	return len(mark) <= maxMark && markShape.MatchString(strings.TrimSpace(mark))
}

// fractions are those that stamps are written with.
var fractions = map[string]float64{"¼": .25, "½": .5, "¾": .75}

// figure reads a figure that markShape let through; the empty text is 0.
func figure(text string) float64 {
	part := 0.0
	for sign, value := range fractions {
		if whole, found := strings.CutSuffix(text, sign); found {
			text, part = whole, value
		}
	}
	n, _ := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return n + part
}
