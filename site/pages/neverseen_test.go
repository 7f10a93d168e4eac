package pages_test

import (
	"strings"
	"testing"
)

// TestAPageSaysHowOftenItWasFound: counts of no year stand on the model's page, with
// who counted, and are said to move no odds.
func TestAPageSaysHowOftenItWasFound(t *testing.T) {
	d := demonstrationFacts(t)
	for address, wants := range map[string][]string{
		"models/gimmer.html": {"Riser wood: Cherry", "Found on 4 of 6 bows looked at. On her bench", "so it moves no odds", "tea-brunt-2016.html#at-01:01"},
		"odds.html":          {"says no years", "moves no odds"},
	} {
		data, err := d.site.Render(address)
		if err != nil {
			t.Fatal(err)
		}
		_, section, _ := strings.Cut(string(data), map[string]string{"models/gimmer.html": `id="Counted"`, "odds.html": `id="Shared"`}[address])
		section, _, _ = strings.Cut(section, "</section>")
		for _, want := range wants {
			if !strings.Contains(section, want) {
				t.Errorf("%s does not say %q", address, want)
			}
		}
	}
}

// TestAPageSaysWhatWasNeverSeen: a model's page says what was never seen on it, of
// how many and by whom, with who has seen one, and what its maker's record says of
// all its models; the maker's page says that too.
func TestAPageSaysWhatWasNeverSeen(t *testing.T) {
	d := demonstrationFacts(t)
	for address, wants := range map[string][]string{
		"models/plover.html": {
			"Limb facing: Grey-green glass", "Never seen on bows of 1963, 9 bows looked at. All nine were mustard; she allows that they may be odd ones.",
			"Seen after all, or said to have been:", "../examples/0016.html", "Riser wood: Walnut", "Never seen on bows of 1964. After the fire",
		},
		"models/dotterel.html": {"Serial number: ####"},
		"makers/halvane.html":  {"Riser wood: Walnut", "Never seen on bows of 1964. After the fire"},
	} {
		data, err := d.site.Render(address)
		if err != nil {
			t.Fatal(err)
		}
		_, section, there := strings.Cut(string(data), `id="Never-seen"`)
		section, _, _ = strings.Cut(section, "</section>")
		if !there {
			t.Errorf("%s has no such section", address)
		}
		for _, want := range wants {
			if !strings.Contains(section, want) {
				t.Errorf("%s does not say %q", address, want)
			}
		}
	}
}
