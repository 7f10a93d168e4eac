package charts

import (
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/a-h/templ"
	"pgregory.net/rapid"

	"yearmark/schema/edtf"
)

// shape is one element of a drawing.
type shape struct {
	name string
	at   map[string]string
}

// shapes reads a drawing, which must be well-formed.
func shapes(t interface{ Fatalf(string, ...any) }, drawing string) []shape {
	d := xml.NewDecoder(strings.NewReader(drawing))
	var list []shape
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return list
		}
		if err != nil {
			t.Fatalf("the drawing is not well-formed: %v\n%s", err, drawing)
		}
		if s, ok := token.(xml.StartElement); ok {
			at := map[string]string{}
			for _, a := range s.Attr {
				at[a.Name.Local] = a.Value
			}
			list = append(list, shape{s.Name.Local, at})
		}
	}
}

func percentOf(t interface{ Fatalf(string, ...any) }, s string) float64 {
	x, err := strconv.ParseFloat(strings.TrimSuffix(s, "%"), 64)
	if err != nil {
		t.Fatalf("%q is no percentage", s)
	}
	return x
}

func ofClass(list []shape, classes ...string) []shape {
	var found []shape
	for _, s := range list {
		if slices.Contains(classes, s.at["class"]) {
			found = append(found, s)
		}
	}
	return found
}

// drawn gives what a component draws.
func drawn(c templ.Component) string {
	var b strings.Builder
	if err := c.Render(context.Background(), &b); err != nil {
		panic(err) // a Builder takes everything
	}
	return b.String()
}

// lanes draws a row.
func lanes(a Axis, r Row) string { return drawn(a.Lanes(r)) }

// The axis has ten cells, 1960 to 1969; each is a tenth of the width.
var tenYears = Axis{1960, 1969}

func span(t *testing.T, text string) edtf.Years {
	t.Helper()
	e, err := edtf.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return e.Years(edtf.Frame{Horizon: edtf.Range{First: 1950, Last: 1980}, Circa: 1})
}

// TestBandFills draws spans by hand: where each fill begins, how wide it is
// and how strong, from DESIGN 5's membership of its years.
func TestBandFills(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"1962/1964", []string{"20% 30% full"}},
		{"1962", []string{"20% 10% full"}},
		{"1962~/1964", []string{"10% 10% 0.37", "20% 10% 0.61", "30% 20% full"}}, // start in 1961..1963: 1/3, 2/3, 1
		{"[1962,1965]", []string{"20% 10% 0.49", "50% 10% 0.49"}},                // one of two years: 1/2 each
		{"{1962,1965}", []string{"20% 10% full", "50% 10% full"}},
		{"1955/1961", []string{"0% 20% full"}}, // cut to the axis
	} {
		drawing := lanes(tenYears, Row{Bands: []Band{{Years: span(t, c.text), Href: "#x"}}})
		var got []string
		for _, s := range ofClass(shapes(t, drawing), "fill", "whole") {
			strength := "full"
			if o, ok := s.at["fill-opacity"]; ok {
				strength = o
			}
			got = append(got, s.at["x"]+" "+s.at["width"]+" "+strength)
		}
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s is filled %v, want %v", c.text, got, c.want)
		}
	}
}

func TestMarks(t *testing.T) {
	b := Band{Years: span(t, "1962/1964"), Href: "models/a.html#b", Title: "Riser wood: <Padauk>", Label: "Pad<auk", Disputed: true, Only: true, FromChain: true, Sightings: []int{1963, 1999}}
	drawing := lanes(tenYears, Row{Name: "Riser \"wood\"", Bands: []Band{b}, Gaps: []edtf.Range{{First: 1966, Last: 1967}}})
	list := shapes(t, drawing)
	for class, want := range map[string]int{"strife": 1, "chain": 1, "sighting": 1, "gap": 1, "only": 1} {
		if got := len(ofClass(list, class)); got != want {
			t.Errorf("%d marks of class %s, want %d", got, class, want)
		}
	}
	if g := ofClass(list, "gap")[0]; g.at["x"] != "60%" || g.at["width"] != "20%" {
		t.Errorf("the gap lies at %s, %s wide", g.at["x"], g.at["width"])
	}
	if s := ofClass(list, "sighting")[0]; s.at["cx"] != "35%" {
		t.Errorf("the sighting of 1963 stands at %s, want the middle of its cell", s.at["cx"])
	}
	if strings.Contains(drawing, "<Padauk>") || strings.Contains(drawing, "Pad<auk") {
		t.Error("words are not escaped")
	}
}

// TestLabelsFit: a label begins where the narrowest chart can hold it, and lies on no band.
func TestLabelsFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := rapid.IntRange(1900, 1990).Draw(t, "first")
		axis := Axis{first, first + rapid.IntRange(1, 80).Draw(t, "years")}
		a := rapid.IntRange(axis.First, axis.Last).Draw(t, "from")
		z := rapid.IntRange(a, axis.Last).Draw(t, "to")
		label := strings.Repeat("n", rapid.IntRange(0, 40).Draw(t, "letters"))
		band := Band{Years: edtf.OverRange(edtf.Range{First: a, Last: z}), Label: label}
		drawing := lanes(axis, Row{Bands: []Band{band, band}})
		width := 100 * (.56*float64(len(label)) + .5) / narrow
		list := shapes(t, drawing)
		for _, s := range list {
			if s.name != "text" {
				continue
			}
			x := percentOf(t, s.at["x"])
			from, to := x, x+width
			if strings.Contains(s.at["class"], "label-end") {
				from, to = x-width, x
			}
			if len(label) < 40 && (from < -.1 || to > 100.1) && width <= 100 {
				t.Fatalf("%d letters run from %.1f%% to %.1f%%", len(label), from, to)
			}
			foot := emOf(t, s.at["y"])
			for _, r := range ofClass(list, "whole") {
				left, top := percentOf(t, r.at["x"]), emOf(t, r.at["y"])
				if from < left+percentOf(t, r.at["width"])-.1 && to > left+.1 && foot-.75 < top+bandHeight && foot > top {
					t.Fatalf("%d letters, %.1f%% to %.1f%% above %.2fem, lie on a band from %.1f%% at %.2fem", len(label), from, to, foot, left, top)
				}
			}
		}
	})
}

// emOf reads a length in em.
func emOf(t interface{ Fatalf(string, ...any) }, s string) float64 {
	y, err := strconv.ParseFloat(strings.TrimSuffix(s, "em"), 64)
	if err != nil {
		t.Fatalf("%q is no length", s)
	}
	return y
}

// TestFillsCoverTheYears: the widths of the fills come to the years that are
// possible on the axis, whatever the span.
func TestFillsCoverTheYears(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		axis := Axis{1950, 1980}
		a := rapid.IntRange(1940, 1985).Draw(t, "a")
		b := a + rapid.IntRange(0, 10).Draw(t, "b")
		d := max(a, b) + rapid.IntRange(0, 20).Draw(t, "d")
		c := d - rapid.IntRange(0, d-a).Draw(t, "c")
		years := edtf.Years{A: a, B: b, C: c, D: d}
		want := 0
		for y := axis.First; y <= axis.Last; y++ {
			if years.Possible(y) {
				want++
			}
		}
		sum := 0.0
		for _, s := range ofClass(shapes(t, lanes(axis, Row{Bands: []Band{{Years: years}}})), "fill", "whole") {
			sum += percentOf(t, s.at["width"])
		}
		if math.Abs(sum/100*31-float64(want)) > .1 {
			t.Fatalf("fills cover %.2f years, want %d", sum/100*31, want)
		}
	})
}

func TestAxis(t *testing.T) {
	horizon := edtf.Range{First: 1930, Last: 1985}
	for _, c := range []struct {
		ranges []edtf.Range
		want   Axis
	}{
		{nil, Axis{1930, 1985}},
		{[]edtf.Range{{First: 1958, Last: 1971}}, Axis{1957, 1972}},
		{[]edtf.Range{{First: 1930, Last: 1940}, {First: 1984, Last: 1985}}, Axis{1930, 1985}},
	} {
		if got := AxisOver(horizon, c.ranges...); got != c.want {
			t.Errorf("AxisOver(%v) = %v, want %v", c.ranges, got, c.want)
		}
	}
	for _, c := range []struct {
		axis Axis
		want string
	}{
		{Axis{1957, 1972}, "[1958 1960 1962 1964 1966 1968 1970 1972]"},
		{Axis{1964, 1966}, "[1964 1965 1966]"},
		{Axis{1930, 1985}, "[1930 1940 1950 1960 1970 1980]"},
		{Axis{1000, 1985}, "[1000 1200 1400 1600 1800]"},
	} {
		if got := fmt.Sprint(c.axis.ticks()); got != c.want {
			t.Errorf("the ticks of %v are %s, want %s", c.axis, got, c.want)
		}
	}
}

func TestBars(t *testing.T) {
	drawing := drawn(tenYears.Bars([]Chance{{Year: 1963, Chance: .25}, {Year: 1964, Chance: .5, Held: true, Strict: true}, {Year: 1999, Chance: .25}}, `half "or so"`))
	list := shapes(t, drawing)
	bars := append(ofClass(list, "bar"), ofClass(list, "bar held")...)
	if len(bars) != 2 {
		t.Fatalf("%d bars, want those of the axis's two years", len(bars))
	}
	small, _ := strconv.ParseFloat(strings.TrimSuffix(bars[0].at["height"], "em"), 64)
	tall, _ := strconv.ParseFloat(strings.TrimSuffix(bars[1].at["height"], "em"), 64)
	if math.Abs(tall-2*small) > .02 {
		t.Errorf("half the chance stands %v em high beside %v", small, tall)
	}
	if len(ofClass(list, "strict")) != 1 || list[0].at["aria-label"] != `half "or so"` {
		t.Error("the strict line or the description is missing")
	}
	if shapes(t, drawn(tenYears.Bars(nil, ""))); strings.Contains(drawn(tenYears.Bars([]Chance{{Year: 1963}}, "")), "NaN") {
		t.Error("bars without any chance divide by it")
	}
}

func TestPercent(t *testing.T) {
	for chance, want := range map[float64]string{
		0: "0 %", .0004: "below 0.1 %", .0015: "0.1 %", .042: "4.2 %", .0996: "10 %", .5: "50 %", .9951: "99.5 %", .99951: "99.9 %", 1: "100 %",
	} {
		if got := Percent(chance); got != want {
			t.Errorf("Percent(%v) = %q, want %q", chance, got, want)
		}
	}
}

// TestSwatchesAndRuler are well-formed and refer only to patterns that the ruler holds.
func TestSwatchesAndRuler(t *testing.T) {
	ruler := drawn(tenYears.Ruler())
	ids := map[string]bool{}
	for _, s := range shapes(t, ruler) {
		if id := s.at["id"]; id != "" {
			ids[id] = true
		}
	}
	drawings := ruler + lanes(tenYears, Row{Bands: []Band{{Years: edtf.OverRange(edtf.Range{First: 1960, Last: 1961}), Disputed: true}}, Gaps: []edtf.Range{{First: 1962, Last: 1963}}})
	for _, sign := range []string{"faded", "derived", "sighted", "disputed", "gap"} {
		drawings += drawn(Swatch(sign))
	}
	for _, s := range shapes(t, "<all>"+drawings+"</all>") {
		if at, ok := strings.CutPrefix(s.at["fill"], "url(#"); ok && !ids[strings.TrimSuffix(at, ")")] {
			t.Errorf("no pattern for %s", s.at["fill"])
		}
	}
}
