package edtf

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// writer makes expressions by the grammar of EDTF, most of them valid, and
// spoils some of them: the ground for comparisons and properties.
type writer struct{ *rand.Rand }

func (w writer) pick(list ...string) string { return list[w.IntN(len(list))] }

// often gives s in one of n cases, else nothing.
func (w writer) often(n int, s string) string {
	if w.IntN(n) == 0 {
		return s
	}
	return ""
}

func (w writer) mark() string { return w.often(5, w.pick("?", "~", "%")) }

func (w writer) year() string {
	y := fmt.Sprintf("%04d", w.IntN(400)+1700)
	switch w.IntN(12) {
	case 0:
		return y[:3] + "X"
	case 1:
		return y[:2] + "XX"
	case 2:
		return w.pick(y[:1]+"XXX", "XXXX", y[:2]+"X"+y[3:], "X"+y[1:])
	case 3:
		return w.pick("0000", "0085", "-0044", "-1985", "9999")
	}
	return y
}

func (w writer) twoDigits(most int) string {
	if w.IntN(12) == 0 {
		return w.pick("XX", "1X", "0X", "2X", "3X", "X1")
	}
	return fmt.Sprintf("%02d", w.IntN(most+1))
}

func (w writer) date() string {
	switch w.IntN(14) {
	case 0:
		return "Y" + w.often(3, "-") + w.pick("12345", "170000002", "17E7", "3388E2S3", "1985", "171010000S3") + w.mark()
	case 1:
		return w.year() + fmt.Sprintf("S%d", w.IntN(6))
	case 2:
		return w.year() + fmt.Sprintf("-%d", 20+w.IntN(23)) + w.mark()
	case 3:
		return fmt.Sprintf("%04d-%02d-%02dT%02d:%02d:%02d", 1900+w.IntN(99), 1+w.IntN(12), 2+w.IntN(26), w.IntN(25), w.IntN(61), w.IntN(60)) + w.pick("", "Z", "+01", "-05:30")
	}
	d := w.often(20, "~") + w.year()
	if w.IntN(3) == 0 {
		d += w.often(12, "?") + "-" + w.often(12, "%") + w.twoDigits(13)
		if w.IntN(2) == 0 {
			d += w.often(12, "~") + "-" + w.often(12, "?") + w.twoDigits(32)
		}
	}
	return d + w.mark()
}

func (w writer) set() string {
	var members []string
	for range 1 + w.IntN(4) {
		d := w.date()
		switch w.IntN(6) {
		case 0:
			d += ".." + w.date()
		case 1:
			d = w.pick("..", "") + d + w.pick("..", "")
		}
		members = append(members, d)
	}
	return w.pick("[", "{") + strings.Join(members, ",") + w.pick("]", "}", "]", "}", "")
}

func (w writer) expression() string {
	var s string
	switch w.IntN(6) {
	case 0, 1:
		ends := [][2]string{{w.date(), w.date()}, {w.date(), w.date()}, {w.date(), ".."}, {w.date(), ""}, {"..", w.date()}, {"", w.date()}}
		end := ends[w.IntN(len(ends))]
		s = end[0] + "/" + end[1]
	case 2:
		s = w.set()
	default:
		s = w.date()
	}
	if w.IntN(12) == 0 && s != "" {
		at := w.IntN(len(s))
		s = s[:at] + w.pick("", " ", "x", "0", "-", "/", "?", "[", "..", "1") + s[at+w.IntN(2):]
	}
	return s
}

// expressions gives n expressions, the same for the same seed.
func expressions(seed uint64, n int) []string {
	w := writer{rand.New(rand.NewPCG(seed, 0))}
	list := make([]string, n)
	for i := range list {
		list[i] = w.expression()
	}
	return list
}
