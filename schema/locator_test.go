package schema

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestPlacesAsPeopleWriteThem: how pages, leaves and times are written is common
// practice, no source.
func TestPlacesAsPeopleWriteThem(t *testing.T) {
	for _, test := range []struct {
		listed string
		cited  []string
		not    []string
	}{
		{"p. 2", []string{"p. 2", "p2", "p.2", "page 2", "P. 2", "pp. 2-3", "pp. 1–4", "pages 1 to 3", "pp. 1, 2", "pp. 2 and 9", "p. 2, footnote"}, []string{"p. 20", "p. 12", "sheet 2", "2", "p. 3", "pp. 3-5", "p. 2a", "cover", ""}},
		{"pp. 2-3", []string{"p. 2", "p. 3", "pp. 3-4"}, []string{"p. 1", "p. 4", "pp. 4-5"}},
		{"p. 6, footnote", []string{"p. 6, footnote", "page 6, Footnote."}, []string{"p. 6", "p. 6, heading"}},
		{"p. 124", []string{"pp. 123-5", "pp. 120–24"}, []string{"pp. 123-4, heading 5", "pp. 125-8", "p. 24"}[1:]},
		{"p. xiv", []string{"p. XIV", "pp. xii-xvi"}, []string{"p. 14", "p. xv"}},
		{"card T14", []string{"cards T12 to T15", "card t14", "cards T12-15"}, []string{"card 14", "cards L12 to L15", "card T16"}},
		{"drawer 3, cards marked “T”", []string{`drawer 3, cards marked "T"`}, []string{"drawer 3", "drawers 3 and 4"}},
		{"drawer 3", []string{"drawers 2 and 3", "drawer 3, cards marked T", "Drawer 3"}, []string{"drawers 2 and 4"}},
		{"f. 12", []string{"fol. 12", "folio 12", "ff. 10 to 12"}, []string{"f. 12v", "p. 12"}},
		{"f. 12v", []string{"fol. 12v", "ff. 12r-13r"}, []string{"f. 12r", "f. 12"}},
		{"no. 9", []string{"No 9", "nos 8-9", "№ 9"}, []string{"9 May"}},
		{"inside the cover", []string{"Inside the cover"}, []string{"cover"}},
		{"sheet for May", []string{"sheet for may"}, []string{"sheet for March"}},
		{"12:34", []string{"0:12:34", "t=754", "t=npt:12:34", "12:34.5", "12:30-12:40", "t=750,755"}, []string{"12:35", "12:33", "12:30-12:34", "p. 12", "1:12:34", "t=755"}},
		{"12:34-12:50", []string{"12:34", "12:49", "12:40-13:00"}, []string{"12:50", "12:33"}},
		{"1:02:03", []string{"01:02:03", "62:03"}, []string{"1:02", "1:02:04"}},
		{"t=,20", []string{"0:00", "0:19"}, []string{"0:20"}},
	} {
		s := &Source{Places: []*SourcePlace{{At: Text{Value: test.listed}, locator: ParseLocator(test.listed)}}}
		for _, cited := range test.cited {
			if len(s.PlacesAt(cited)) != 1 {
				t.Errorf("%q is not found at %q: %+v", cited, test.listed, ParseLocator(cited))
			}
		}
		for _, cited := range test.not {
			if len(s.PlacesAt(cited)) != 0 {
				t.Errorf("%q is found at %q", cited, test.listed)
			}
		}
	}
}

func TestThePlaceThatIsMostExact(t *testing.T) {
	s := &Source{}
	for _, at := range []string{"p. 6", "p. 6, footnote", "p. 7", "p. 6"} {
		s.Places = append(s.Places, &SourcePlace{At: Text{Value: at}, locator: ParseLocator(at)})
	}
	for cited, want := range map[string][]int{
		"p. 6": {0, 3}, "p. 6, footnote": {1}, "p. 6, heading": {0, 3}, "pp. 6-7": {0, 2, 3}, "pp. 5-9, footnote": {1}, "p. 8": nil,
	} {
		found := s.PlacesAt(cited)
		if len(found) != len(want) {
			t.Errorf("%s: %d places", cited, len(found))
			continue
		}
		for i, at := range want {
			if found[i] != s.Places[at] {
				t.Errorf("%s: place %d is %q", cited, i, found[i].At.Value)
			}
		}
	}
}

// TestEveryPlaceIsFoundAtItself, whatever it is.
func TestEveryPlaceIsFoundAtItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.OneOf(rapid.String(), rapid.StringMatching(`(pp?|f|no|cards?|t=|)\.? ?[0-9ivxT:.]{1,6}((-| to |, | and )[0-9ivxT:]{1,6})?`)).Draw(t, "place")
		l := ParseLocator(place)
		if len(l.parts) > 0 && !l.Within(l) && !reversed(l) {
			t.Fatalf("%q is not found at itself: %+v", place, l)
		}
	})
}

// reversed says that a range counts down, which no place lies in.
func reversed(l Locator) bool {
	for _, p := range l.parts {
		for i := 0; i < len(p.spans); i += 2 {
			if p.spans[i+1].less(p.spans[i]) {
				return true
			}
		}
	}
	return false
}

// TestMediaFragments holds regions and times against the examples and the
// grammar of the W3C recommendation Media Fragments URI 1.0, sections 4.2.1 and
// 4.2.2.
func TestMediaFragments(t *testing.T) {
	for text, want := range map[string]Region{
		"xywh=160,120,320,240":       {X: 160, Y: 120, Width: 320, Height: 240},
		"xywh=pixel:160,120,320,240": {X: 160, Y: 120, Width: 320, Height: 240},
		"xywh=percent:25,25,50,50":   {Percent: true, X: 25, Y: 25, Width: 50, Height: 50},
	} {
		want.written = text
		if r, err := ParseRegion(text); err != nil || r != want {
			t.Errorf("%s: %+v, %v", text, r, err)
		}
	}
	for _, text := range []string{"xywh=160,120,320", "xywh=percent:25,25,50,80", "xywh=pixels:1,1,1,1", "xywh= 1,1,1,1", "XYWH=1,1,1,1", "xywh=1,1,0,1", "xywh=percent:25%,25,50,50", "xywh=1.5,1,1,1"} {
		if r, err := ParseRegion(text); err == nil {
			t.Errorf("%s is taken for %v", text, r)
		}
	}
	for text, want := range map[string]TimeSpan{
		"t=10": {10 * time.Second, 10 * time.Second}, "t=10,20": {10 * time.Second, 20 * time.Second}, "t=,20": {0, 20 * time.Second},
		"t=npt:10,20": {10 * time.Second, 20 * time.Second}, "t=0:02:00,121.5": {120 * time.Second, 121500 * time.Millisecond},
		"t=120,0:02:01.5": {120 * time.Second, 121500 * time.Millisecond}, "t=npt:,0:02:01.5": {0, 121500 * time.Millisecond},
	} {
		if span, ok := ParseLocator(text).Time(); !ok || span != want {
			t.Errorf("%s: %v, %v", text, span, ok)
		}
	}
	for _, text := range []string{"t=20,10", "t=10,", "t=a", "t=1:60", "t=0:60:00", "t=smpte:0:02:00", "t=clock:2009-07-26T11:19:01Z"} {
		if l := ParseLocator(text); l.fault == "" {
			t.Errorf("%s is taken for %+v", text, l)
		}
	}
}

// TestTimesInWords: how people say and write a time of a recording is common
// practice, no source.
func TestTimesInWords(t *testing.T) {
	for words, want := range map[string]string{
		"minute 3": "3:00", "Minute 3": "3:00", "min. 3": "3:00", "3 min": "3:00", "3 minutes in": "3:00", "3m20s": "3:20", "3 min 20 sec": "3:20",
		"3 minutes and 20 seconds": "3:20", "minute 3, second 20": "3:20", `3'20"`: "3:20", "3.20": "3:20", "at 3:20 min": "3:20", "about 90 min": "1:30:00",
		"1 h 2 min 3 s": "1:02:03", "1 hour": "1:00:00", "45 seconds": "0:45", "second 45": "0:45", "00h03m20s": "3:20",
		"3": "", "p. 3": "", "side B": "", "sheet 3": "", "3.5": "", "3 min 75 s": "", "minutes": "", "": "", "in": "", "and": "", "at": "", "the third minute": "", "3:20": "",
	} {
		clock, ok := TimeInWords(words)
		if clock != want || ok != (want != "") {
			t.Errorf("%q is %q, %v; want %q", words, clock, ok, want)
		}
		if _, timed := ParseLocator(clock).Time(); ok && !timed {
			t.Errorf("%q is no time", clock)
		}
	}
}

func TestOnePlaceHasOneKey(t *testing.T) {
	for _, same := range [][]string{
		{"p. 2", "page 2", "P.2", "pp. 2-2"}, {"pp. 2-3", "pages 2 to 3"}, {"12:34", "0:12:34", "t=754"}, {"Inside the cover", "inside the “cover”"},
	} {
		for _, other := range same[1:] {
			if ParseLocator(same[0]).Key() != ParseLocator(other).Key() {
				t.Errorf("%q and %q are two places", same[0], other)
			}
		}
	}
	for _, pair := range [][2]string{{"p. 2", "pp. 2-3"}, {"p. 2", "p. 2a"}, {"p. 2", "sheet 2"}, {"12:34", "12:34-12:50"}, {"p. 2", "p. 2, footnote"}, {"card T2", "card 2"}} {
		if ParseLocator(pair[0]).Key() == ParseLocator(pair[1]).Key() {
			t.Errorf("%q and %q are one place", pair[0], pair[1])
		}
	}
}
