package charts

import (
	"unicode/utf8"

	"yearmark/schema/edtf"
)

// Band is one claim on a chart.
type Band struct {
	Years edtf.Years
	Label string // the words beside it
	Title string // what is claimed and when, for a pointer that rests on it and for those who cannot see it
	Href  string // where a tap leads

	Disputed  bool
	Only      bool  // claimed to be found in no other year
	FromChain bool  // its first years are derived, not stated
	ToChain   bool  // its last years are derived, not stated
	Sightings []int // attested years
}

// Row is the bands of one thing, each in a lane of its own, and the stretches
// of years that nobody accounts for.
type Row struct {
	Name  string
	Class string // the kind of its bands: "era", "value", "spec" …
	Bands []Band
	Gaps  []edtf.Range
}

// Measures of a lane, in em. The style sheet gives the height of a band.
const (
	laneHeight = 1.5
	bandTop    = .15
	bandHeight = 1.25
	baseline   = 1.12
	lineHeight = 1.3 // of words that stand above their band
)

// tops gives where each band's lane begins, in em, then where that for gaps
// does, and the height of them all.
func (a Axis) tops(r Row) (tops []float64, height float64) {
	for _, b := range r.Bands {
		tops = append(tops, height)
		height += laneHeight + a.label(b).line
	}
	tops = append(tops, height)
	if len(r.Gaps) > 0 || len(r.Bands) == 0 {
		height += laneHeight
	}
	return tops, height
}

// gap is where unknown years are drawn in the lane that begins at top.
func (a Axis) gap(g edtf.Range, top float64) box {
	return bandBox(a.left(g.First), a.left(g.Last+1), top)
}

// drawing is a band where it is drawn.
type drawing struct {
	fills           []fill
	frame           *box // around all of its years, where no fill is the frame as well
	strife          bool // the frame is hatched
	chains          []string
	chainTop        string
	chainEnd        string
	sightings       []string
	sightingsHeight string
	label           label
	labelY          string
}

// fill is neighbouring years of one membership.
type fill struct {
	class string
	box
	opacity string // empty for years that surely belong
}

// label is the words beside a band, or in a line of its own above it.
type label struct {
	class, x string
	line     float64 // the height of that line, or 0
}

// draw places a band in the lane that begins at top.
func (a Axis) draw(b Band, top float64) drawing {
	d := drawing{label: a.label(b), labelY: em(top + baseline), strife: b.Disputed}
	if b.Years.Empty() {
		return d
	}
	top += d.label.line
	x0, x1 := a.left(b.Years.A), a.left(b.Years.D+1)
	d.fills, d.frame = a.fills(b, top, x0, x1)
	d.chainTop, d.chainEnd = em(top+.08), em(top+laneHeight-.08)
	if b.FromChain {
		d.chains = append(d.chains, percent(x0))
	}
	if b.ToChain {
		d.chains = append(d.chains, percent(x1))
	}
	half := .5 / float64(a.years())
	d.sightingsHeight = em(top + bandTop + bandHeight - .28)
	for _, y := range b.Sightings {
		if y >= a.First && y <= a.Last {
			d.sightings = append(d.sightings, percent(a.left(y)+half))
		}
	}
	return d
}

// fills gives the years of a band and the frame around them, in one where the
// years are all alike.
func (a Axis) fills(b Band, top, x0, x1 float64) ([]fill, *box) {
	frame := bandBox(x0, x1, top)
	runs := a.runs(b.Years)
	if len(runs) == 1 && runs[0].share == 1 && !b.Disputed {
		return []fill{{"whole", frame, ""}}, nil
	}
	list := make([]fill, len(runs))
	for i, run := range runs {
		list[i] = fill{"fill", bandBox(a.left(run.first), a.left(run.last+1), top), ""}
		if run.share < 1 {
			list[i].opacity = measure(strength(run.share))
		}
	}
	return list, &frame
}

// strength is how strongly a year's cell is filled; the least share can still be seen.
func strength(share float64) float64 { return .14 + float64(.7*share) }

// run is neighbouring years of one membership.
type run struct {
	first, last int
	share       float64
}

// runs gives the years of the axis that are possible, joined where their
// membership is the same.
func (a Axis) runs(y edtf.Years) []run {
	var list []run
	for year := max(y.A, a.First); year <= min(y.D, a.Last); year++ {
		m := y.Membership(year)
		switch last := len(list) - 1; {
		case m <= 0:
		case last >= 0 && list[last].last == year-1 && list[last].share == m:
			list[last].last = year
		default:
			list = append(list, run{year, year, m})
		}
	}
	return list
}

// label places the words where they fit the narrowest chart: after the band,
// before it, or above it, never on it.
func (a Axis) label(b Band) label {
	words, x0, x1 := b.Label, 0.0, 0.0
	if !b.Years.Empty() {
		x0, x1 = a.left(b.Years.A), a.left(b.Years.D+1)
	}
	if b.Only {
		words += " only"
	}
	const perLetter, gap = .56 / narrow, .5 / narrow
	need := float64(perLetter*float64(utf8.RuneCountInString(words))) + gap
	switch {
	case words == "", x1+need <= 1:
		return label{"", percent(x1), 0}
	case x0-need >= 0:
		return label{"label-end", percent(x0), 0}
	}
	return label{"label-above", percent(max(min(x0, 1-need), 0)), lineHeight}
}
