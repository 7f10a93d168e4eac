package pages_test

import (
	"bytes"
	"testing"
)

// TestPagesAreShort: at 1280 px the longest model, with
// more than sixty claims, and the open questions take at most 6,000 px, the
// search before a word is typed 2,000.
func TestPagesAreShort(t *testing.T) {
	d := demonstrationFacts(t)
	b := openBrowser(t, d.site)
	longest := d.ref.Models.All()[0]
	for _, m := range d.ref.Models.All() {
		if len(m.Claims()) > len(longest.Claims()) {
			longest = m
		}
	}
	if len(longest.Claims()) < 60 {
		t.Errorf("the longest model has %d claims: too few to measure", len(longest.Claims()))
	}
	for path, most := range map[string]int{longest.Address(): 6000, "open-questions.html": 6000, "search.html": 2000} {
		b.visit(path, 1280, "light")
		evaluate[any](b, `document.querySelectorAll("img").forEach(i => i.loading = "eager"); Promise.all([...document.images].map(i => i.decode().catch(() => null))).then(() => null)`)
		if tall := evaluate[int](b, `document.documentElement.scrollHeight`); tall > most {
			t.Errorf("%s is %d px high, more than %d", path, tall, most)
		}
	}
	b.visit(longest.Address(), 1280, "light")
	if bow := evaluate[int](b, `document.querySelector(".plate-bow img").clientHeight`); bow < 150 {
		t.Errorf("the drawing of the bow is %d px high", bow)
	}
	pdf := b.print()
	if n := bytes.Count(pdf, []byte("/Type /Page\n")) + bytes.Count(pdf, []byte("/Type /Page ")) + bytes.Count(pdf, []byte("/Type /Page/")); n < 2 || n > 4 {
		t.Errorf("the %s prints on %d pages", longest.Title(), n)
	}
	b.keep("print-model.pdf", pdf)
}
