package pages_test

import (
	"strings"
	"testing"

	"yearmark/dating"
	"yearmark/schema"
)

// TestEveryPieceOfATalkHasItsAddress: the page of a talk has each piece of its
// transcript once under the address that citations and the search lead to,
// folded until one is led there; what was misheard is mended and told.
func TestEveryPieceOfATalkHasItsAddress(t *testing.T) {
	d := demonstrationFacts(t)
	s, _ := d.ref.Sources.Get("talk-brunt-2016")
	page, err := d.site.Render(s.Address())
	if err != nil {
		t.Fatal(err)
	}
	html := string(page)
	if n := len(s.ByTime()); n != 60 {
		t.Fatalf("%d pieces", n)
	}
	for _, place := range s.ByTime() {
		if n := strings.Count(html, `id="at-`+place.At.Value+`"`); n != 1 {
			t.Errorf("%s has %d addresses", place.At.Value, n)
		}
	}
	for _, want := range []string{"Always sapele, to the end.", "the transcript has: And after that sappy lee.", "Said as fairly sure.", "A slip, mended at 03:26"} {
		if !strings.Contains(html, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	b := openBrowser(t, d.site)
	b.visit(s.Address()+"#at-01:14", 390, "light")
	b.await(`document.querySelector(".transcript").open && document.getElementById("at-01:14").getBoundingClientRect().top < innerHeight`)
	b.picture("talk-390-light.png")
	b.hold(`["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa"]`)
}

// TestWordsStandWithWhoSaidThem: of a talk among several, the page of the source, the
// words that a citation opens and the search name who speaks.
func TestWordsStandWithWhoSaidThem(t *testing.T) {
	d := demonstrationFacts(t)
	for address, wants := range map[string][]string{
		"sources/tea-brunt-2016.html": {"<b>Edith Tyson</b>", "Said by Clem Mossop.", "Said by Ada Brunt."},
		"models/gimmer.html":          {"It went to sapele when it went to Skelmire. I moved the jigs.", "Said by Clem Mossop."},
	} {
		page, err := d.site.Render(address)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range wants {
			if !strings.Contains(string(page), want) {
				t.Errorf("%s does not say %q", address, want)
			}
		}
	}
	if by, words := dating.SaidAt(d.ref, schema.Citation{Source: "tea-brunt-2016", Place: "01:09"}); by != "Clem Mossop" || !strings.HasPrefix(words, "It went to sapele") {
		t.Errorf("%q by %q", words, by)
	}
}
