package pages

import (
	"slices"
	"testing"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
)

func TestFigures(t *testing.T) {
	for x, want := range map[float64]string{7.25: "7¼", 7.125: "7⅛", .5: "½", 66: "66", 0: "0", 7.3: "7.3", -1: "-1", 30.875: "30⅞"} {
		if got := figure(x); got != want {
			t.Errorf("figure(%v) = %q, want %q", x, got, want)
		}
	}
	for _, c := range []struct {
		r    schema.Range
		want string
	}{
		{schema.Range{Low: 30, High: 55, Unit: "lb"}, "30–55 lb"}, {schema.Range{Low: 64, High: 64, Unit: "in"}, "64 in"},
		{schema.Range{Low: 7.25, High: 7.75, Unit: "in"}, "7¼–7¾ in"}, {schema.Range{Low: 2, High: 3}, "2–3"},
	} {
		if got := rangeWords(c.r); got != c.want {
			t.Errorf("rangeWords(%v) = %q, want %q", c.r, got, c.want)
		}
	}
}

// TestPlacesInReadingOrder sorts places as someone turns the pages.
func TestPlacesInReadingOrder(t *testing.T) {
	want := []string{"cover", "inside back cover", "p. 2", "p. 9", "p. 10", "p. 10, foot", "sheet 9", "sheet 12", ""}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, comparePlaces)
	if !slices.Equal(got, want) {
		t.Errorf("sorted %q, want %q", got, want)
	}
}

// TestPlacesGatherWhatIsSaidOfThem keeps apart places that look alike, and
// what is said of each in the order in which it was found.
func TestPlacesGatherWhatIsSaidOfThem(t *testing.T) {
	var found []citedUse
	for _, name := range []string{"p. 6", "p 6", "P. 6!", "", "p. 6", "?", "large", "東京"} {
		found = append(found, citedUse{name, use{Year: int32(len(found))}})
	}
	s := arranged(found)
	if len(s.Places) != 7 {
		t.Errorf("%d places, want 7", len(s.Places))
	}
	for _, p := range s.Places {
		if !s.has(p.Name) {
			t.Errorf("the place %q is not found by its name", p.Name)
		}
		if p.Name == "p. 6" && (len(p.Uses) != 2 || p.Uses[0].Year != 0 || p.Uses[1].Year != 4) {
			t.Errorf("what is said of p. 6: %+v", p)
		}
	}
	if s.has("p. 7") {
		t.Error("a place that nobody names is found")
	}
}

func TestListWords(t *testing.T) {
	for want, names := range map[string][]string{"": nil, "a": {"a"}, "a and b": {"a", "b"}, "a, b and c": {"a", "b", "c"}} {
		if got := english.And(names); got != want {
			t.Errorf("english.And(%v) = %q, want %q", names, got, want)
		}
	}
	if got := english.And(edtf.Stretches([]int{1964, 1965, 1967, 1970, 1971})); got != "1964–1965, 1967 and 1970–1971" {
		t.Errorf("years in words: %q", got)
	}
}

// TestSplits: a part of half the years tells one bit (Shannon's binary
// entropy); an eighth tells 0.5436 bits; the whole or nothing tells none.
func TestSplits(t *testing.T) {
	for _, c := range []struct{ part, all, want float64 }{{5, 10, 1}, {1, 8, .5435644431995964}, {10, 10, 0}, {0, 10, 0}, {3, 0, 0}} {
		if got := splits(c.part, c.all); got < c.want-1e-12 || got > c.want+1e-12 {
			t.Errorf("splits(%v, %v) = %v, want %v", c.part, c.all, got, c.want)
		}
	}
}

func TestDecibansThatRoundToNoughtHaveNoSign(t *testing.T) {
	for x, want := range map[float64]string{0: "0.0", 1e-17: "0.0", -1e-17: "0.0", .049: "0.0", -.051: "−0.1", .06: "+0.1", 12.34: "+12.3", -3: "−3.0"} {
		if got := decibans(x); got != want {
			t.Errorf("%v decibans are shown as %q, want %q", x, got, want)
		}
	}
}
