package pages_test

import (
	"strings"
	"testing"
)

// TestAModelOpensWithItsPlate: every model of the demonstration has a plate whose
// numbers are each on the drawing and in the key, and look-alikes beside it.
func TestAModelOpensWithItsPlate(t *testing.T) {
	d := demonstrationFacts(t)
	for _, m := range d.ref.Models.All() {
		data, err := d.site.Render(m.Address())
		if err != nil {
			t.Fatal(err)
		}
		page := string(data)
		if m.Plate == nil || len(m.Plate.Points) < 8 {
			t.Errorf("%s has no plate with eight pointers", m.ID)
			continue
		}
		n := len(m.Plate.Points)
		if dots, keys := strings.Count(page, `<use href="#Point"`), strings.Count(page, `<span class="disc">`); dots != n || keys != n {
			t.Errorf("%s: %d pointers, %d on the drawing, %d in the key", m.ID, n, dots, keys)
		}
		key := page[strings.Index(page, `class="plate-key"`):]
		key = key[:strings.Index(key, "</dl>")]
		for _, point := range m.Plate.Points {
			if !strings.Contains(key, `href="#`+point.Of.Anchor()+`"`) {
				t.Errorf("%s: the key does not lead to %s", m.ID, point.Claim.Value)
			}
		}
		if plate, alike, chart := strings.Index(page, `class="points"`), strings.Index(page, `id="Alike"`), strings.Index(page, `id="Chart"`); plate < 0 || alike < plate || chart < alike {
			t.Errorf("%s: plate, look-alikes and chart stand at %d, %d and %d", m.ID, plate, alike, chart)
		}
	}
}

// TestModelsThatLookAlikeStandSideBySide wants both models' pages to show both, with
// what tells them apart and who says so.
func TestModelsThatLookAlikeStandSideBySide(t *testing.T) {
	d := demonstrationFacts(t)
	for _, address := range []string{"models/gimmer.html", "models/whinchat.html"} {
		page, err := d.site.Render(address)
		if err != nil {
			t.Fatal(err)
		}
		_, section, _ := strings.Cut(string(page), `id="Alike"`)
		section, _, _ = strings.Cut(section, "</section>")
		for _, want := range []string{"<b>Gimmer</b>", "<b>Whinchat</b>", "wider at the fades", "sources/tea-brunt-2016.html#at-00:23"} {
			if !strings.Contains(section, want) {
				t.Errorf("%s does not say %q beside the look-alikes", address, want)
			}
		}
	}
}
