package pages_test

import (
	"context"
	"path"
	"strings"
	"testing"

	"yearmark/schema"
)

// TestAReasonOpensItsCutOut presses the opener beside a citation in the reasons
// of the form: a native popover opens with the words in full and the part of the
// scan that holds them, of which nothing was loaded before.
func TestAReasonOpensItsCutOut(t *testing.T) {
	d := demonstrationFacts(t)
	b := openBrowser(t, d.site)
	b.visit("date.html#model=plover&riser-wood=padauk", 390, "light")
	const opener = `[...document.querySelectorAll(".js-result .grounds a")].find(a => a.textContent.includes("1965, p. 2")).nextElementSibling`
	b.await(`document.querySelector(".js-result .grounds button[popovertarget]")`)
	if n := evaluate[int](b, `performance.getEntriesByType("resource").filter(r => r.name.includes("/cuts/")).length`); n != 0 {
		t.Errorf("%d cut-outs are loaded before any is opened", n)
	}
	evaluate[any](b, opener+`.scrollIntoView({ block: "center" }); null`)
	evaluate[any](b, opener+`.focus(); null`)
	b.keys("\r")
	b.await(`document.querySelector("#Says:popover-open img")?.naturalWidth > 0`)
	if src := evaluate[string](b, `document.querySelector("#Says img").src`); !strings.Contains(src, "/cuts/scans/halvane-list-1965/p2-") {
		t.Errorf("it shows %s", src)
	}
	if got := evaluate[string](b, `document.querySelector("#Says").textContent`); !strings.Contains(got, "risers of African padauk, the colour of a robin. Each is from one plank and no two are quite alike.") {
		t.Errorf("the box says %q", got)
	}
	b.hold(`["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa"]`)
	b.picture("reason-390-light.png")
	evaluate[any](b, `document.querySelector("#Says button").click(); null`)
	b.await(`!document.querySelector("#Says").matches(":popover-open") && document.activeElement === ` + opener)

	// Without the picture the words remain.
	evaluate[any](b, `document.querySelector("#Says").addEventListener("beforetoggle", e => e.target.querySelectorAll("img").forEach(i => i.dispatchEvent(new Event("error")))); `+opener+`.click(); null`)
	b.await(`document.querySelector("#Says:popover-open") && !document.querySelector("#Says img") && document.querySelector("#Says").textContent.includes("Each is from one plank")`)
}

// TestTheFormsDataKeepsWhatMayNotBeShown: a source that shows words alone has no
// picture in the data of the form, and one that shows nothing has nothing there.
func TestTheFormsDataKeepsWhatMayNotBeShown(t *testing.T) {
	d := demonstrationFacts(t)
	if err := d.site.Make(context.Background()); err != nil {
		t.Fatal(err)
	}
	var data strings.Builder
	for _, name := range d.site.Paths() {
		if strings.HasPrefix(name, "data/dating/") {
			file, err := d.site.Render(name)
			if err != nil {
				t.Fatal(err)
			}
			data.Write(file)
		}
	}
	words, cuts := 0, 0
	for _, s := range d.ref.Sources.All() {
		for _, place := range s.Places {
			cut := strings.Contains(data.String(), "cuts/"+strings.TrimSuffix(place.Scan.Value, path.Ext(place.Scan.Value)))
			if place.Scan.Value != "" && cut {
				cuts++
				if s.MayShow() != schema.ShowsAll {
					t.Errorf("a picture of %s is in the data", s.ID)
				}
			}
			if said := strings.TrimSpace(place.Says.Value); len(said) > 20 && strings.Contains(data.String(), said) {
				words++
				if s.MayShow() == schema.ShowsNone {
					t.Errorf("words of %s are in the data", s.ID)
				}
			}
		}
	}
	if words < 30 || cuts < 10 {
		t.Errorf("%d words and %d pictures are in the data: too few to tell", words, cuts)
	}
}
