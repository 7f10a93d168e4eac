package provenance

import (
	"fmt"
	"testing"
)

// talk is a source of several kinds of knowledge.
func talk() map[string]string {
	sources := shelf()
	sources["speech"] = `kind: recording
relies-on: [letter]
places:
  - {at: "1:00", says: "Aldous wrote to me that it was walnut"}
  - {at: "2:00", own: true, says: "I fitted it myself"}
  - {at: "3:00", kind: examined-example, own: true, says: "Here is one"}
  - {at: "4:00", own: true, hedge: fairly}
  - {at: "5:00", own: true, hedge: unsure}
  - {at: "6:00", own: true, corrected-at: "6:10"}
  - {at: "7:00", relies-on: [tome]}
  - {at: "8:00", kind: factory-paper, hedge: unsure, own: true}`
	sources["ledger"] = "kind: factory-paper\ncredence: 1\nplaces:\n  - {at: f. 2, kind: recollection}"
	sources["glossy"] = "kind: book\ncredence: 0.4\nrelies-on: [list]\nplaces:\n  - {at: p. 2, own: true}\n  - {at: p. 3, relies-on: [cat]}"
	return sources
}

// Worked by hand: a recording is believed .75, a letter .75, the tome .85 with
// the bulletin's word (.80 * .75) or the list's (.97).
func TestPlacesByHand(t *testing.T) {
	for _, row := range []struct {
		name, claim string
		credence    float64
		witnesses   int
	}{
		{"what the whole relies on", `cites: ["speech, 1:00"]`, .75 * .75, 1},
		{"a place that is not listed", `cites: ["speech, 9:00"]`, .75 * .75, 1},
		{"the speaker's own", `cites: ["speech, 2:00"]`, .75, 1},
		{"a kind of its own", `cites: ["speech, 3:00"]`, .90, 1},
		{"fairly sure", `cites: ["speech, 4:00"]`, .75 * .8, 1},
		{"unsure", `cites: ["speech, 5:00"]`, .75 * .5, 1},
		{"a slip that was mended", `cites: ["speech, 6:00"]`, 0, 0},
		{"taken from elsewhere", `cites: ["speech, 7:00"]`, .75 * .85 * (1 - .40*.03), 1},
		{"a kind and a hedge", `cites: ["speech, 8:00"]`, .99 * .5, 1},
		// one draw: where 4:00 holds (u < .6) so does 2:00 (u < .75)
		{"two places fail together", `cites: ["speech, 2:00", "speech, 4:00"]`, .75, 1},
		// own where u < .9, on the letter where u < .75
		{"two kinds fail together", `cites: ["speech, 1:00", "speech, 3:00"]`, .90, 1},
		// the letter is right with .75; with it speech fails at .75, without it too
		{"a place and what another relies on", `cites: ["speech, 1:00", letter]`, .75, 1},
		{"a place of one's own beside the letter", `cites: ["speech, 2:00", letter]`, 1 - .25*.25, 2},
		{"its own credence, at most .999", `cites: [ledger]`, .999, 1},
		{"a place's kind goes before the source's own credence", `cites: ["ledger, f. 2"]`, .60, 1},
		{"a page of it", `cites: ["glossy, page 2"]`, .40, 1},
		{"by either of two pages", `cites: ["glossy, pp. 2-3"]`, .40, 1},
		{"what the whole book relies on", `cites: ["glossy, p. 9"]`, .40 * .97, 1},
		// one place for it, one against: .75/2 of each, which exclude each other
		{"both sides by one source", `cites: ["speech, 2:00"], against: ["speech, 4:00"]`, .375, 1},
		{"a mended slip is on no side", `cites: ["speech, 2:00"], against: ["speech, 6:00"]`, .75, 1},
		{"settled for one side of one source", `cites: ["speech, 2:00"], against: ["speech, 4:00"], settled: {because: x}`, .75, 1},
	} {
		ref := book{sources: talk(), claims: []string{"span: 1965, " + row.claim}}.reference(t)
		a := Weigh(ref).Of(claim(t, ref, "c0"))
		near(t, row.name, a.Credence, row.credence)
		if a.For.Witnesses != row.witnesses {
			t.Errorf("%s: %d witnesses, want %d", row.name, a.For.Witnesses, row.witnesses)
		}
	}
}

// What stands for a place only is said of that place only.
func TestSupportsOfPlaces(t *testing.T) {
	ref := book{sources: talk(), claims: []string{`span: 1965, cites: ["speech, 1:00", "speech, 2:00", "speech, 7:00", "speech, 6:00", "glossy, pp. 2-3"]`}}.reference(t)
	w := Weigh(ref)
	var got []string
	for _, s := range w.Supports(claim(t, ref, "c0").Cites) {
		for _, way := range s.Ways {
			at := ""
			if way.Place != nil {
				at = way.Place.At.Value
			}
			got = append(got, fmt.Sprint(way.Sources, at))
		}
	}
	want := "[[speech letter] [speech]2:00 [speech tome list]7:00 [speech tome bulletin letter]7:00 [glossy]p. 2 [glossy cat]p. 3]"
	if fmt.Sprint(got) != want {
		t.Errorf("the ways are %v, want %s", got, want)
	}
	if ids := w.ReliedOnBy("tome")[1].ID + " " + w.ReliedOnBy("cat")[0].ID; ids != "speech glossy" {
		t.Errorf("the tome and the catalogue are relied on by %s", ids)
	}
}
