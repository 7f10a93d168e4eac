package builder

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"yearmark/checks"
)

// TestWhatIsBegunIsNoMistake adds a claim to a saved record: one goes on in its
// first box, and while one types nothing says that the rest of it is missing.
// Once saved, each missing part is told at its own field, in the form's words.
func TestWhatIsBegunIsNoMistake(t *testing.T) {
	s := serveDesk(t)
	_, page := s.get(s.path + "edit/maker/halvane")
	form := formOf(t, page)
	form.Set("-do", "add features")
	_, page = s.post(s.path+"edit/maker/halvane", form, nil)
	if got := focused(t, page); !slices.Equal(got, []string{"features/0/feature"}) {
		t.Errorf("one goes on typing in %v", got)
	}
	form = formOf(t, page)
	form.Set("features/0/feature", "riser-wood")
	form.Set("features/0/value", "wallnut")
	_, answer := s.post(s.path+"check/maker/halvane", form, nil)
	var found struct {
		Notes map[string][]struct{ Text string }
	}
	if err := json.Unmarshal([]byte(answer), &found); err != nil {
		t.Fatal(err, answer)
	}
	for path, notes := range found.Notes {
		for _, n := range notes {
			if strings.HasPrefix(path, "features/0") && path != "features/0/value" {
				t.Errorf("while one types, %s says %q", path, n.Text)
			}
		}
	}
	if len(found.Notes["features/0/value"]) == 0 {
		t.Errorf("a value that is none is not told: %s", answer)
	}
	form.Del("features/0/value")
	_, page = s.post(s.path+"edit/maker/halvane", form, nil)
	for _, want := range []string{"This is still needed.", "The claim does not say in which years it holds.", "Nobody is cited for"} {
		if !strings.Contains(page, want) {
			t.Errorf("once saved, the form does not say %q", want)
		}
	}
	if strings.Contains(page, "has no key") {
		t.Error("the form speaks of keys")
	}
	form = formOf(t, page)
	form.Set("-do", "remove features/0")
	_, page = s.post(s.path+"edit/maker/halvane", form, nil)
	if got := focused(t, page); !slices.Equal(got, []string{"-do"}) {
		t.Errorf("after a removal one goes on at %v", got)
	}
	for _, name := range []string{"missing-key", "no-years", "uncited-claim", "uncited-statement"} {
		if _, _, known := checks.Lookup(name); !known {
			t.Errorf("there is no check %s", name)
		}
	}
}

// focused gives the names of what has the focus when a page is opened.
func focused(t *testing.T, page string) (all []string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && hasAttribute(n, "autofocus") {
			all = append(all, attribute(n, "name"))
		}
	}
	return all
}

// TestNamesAreTakenForWhatTheyStandFor types features, values and eras by their
// names and by their identifiers: the record gets identifiers, the form shows
// names, and years with two meanings ask at once.
func TestNamesAreTakenForWhatTheyStandFor(t *testing.T) {
	s := serveDesk(t)
	_, page := s.get(s.path + "edit/model/turnstone")
	form := formOf(t, page)
	form.Set("features/0/feature", "Limb facing")
	form.Set("features/0/value", "black GLASS")
	form.Set("features/1/feature", "limb-fixing")
	form.Set("features/1/value", "bolt-and-pin")
	form.Set("features/1/era", "pinned pattern")
	form.Set("features/1/span", "before 1977")
	_, answer := s.post(s.path+"check/model/turnstone", form, nil)
	var found struct {
		Notes map[string][]struct{ Choices, Whens []string }
		Words map[string]string
	}
	if err := json.Unmarshal([]byte(answer), &found); err != nil {
		t.Fatal(err, answer)
	}
	for path, want := range map[string]string{"features/0/feature": "", "features/0/value": "", "features/1/feature": "= Limb fixing", "features/1/value": "= Bolt and pin", "maker": "= Halvane Archery"} {
		if got := found.Words[path]; got != want {
			t.Errorf("beside %s stands %q, want %q", path, got, want)
		}
	}
	if n := found.Notes["features/1/span"]; len(n) != 1 || !slices.Equal(n[0].Choices, []string{"../1976", "[..1976]"}) || len(n[0].Whens) != 2 {
		t.Errorf("of years before 1977 the form says %v", n)
	}
	form.Del("features/1/span")
	s.post(s.path+"edit/model/turnstone", form, nil)
	saved := s.file("models/turnstone.md")
	for _, want := range []string{"feature: limb-glass, value: black,", "feature: limb-fixing, value: bolt-and-pin, era: pin,"} {
		if !strings.Contains(saved, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
}
