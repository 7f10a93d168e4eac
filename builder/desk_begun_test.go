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
