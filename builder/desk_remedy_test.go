package builder

import (
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// slip is a record of the demonstration with a slip in it.
func (s *servedDesk) slip(name, was, now string) (before string) {
	s.t.Helper()
	text := s.file(name)
	if !strings.Contains(text, was) {
		s.t.Fatalf("%s does not say %q", name, was)
	}
	text = strings.Replace(text, was, now, 1)
	if err := os.WriteFile(filepath.Join(s.folder, filepath.FromSlash(name)), []byte(text), 0o644); err != nil {
		s.t.Fatal(err)
	}
	return text
}

// In a form the button itself holds the key, in a list a field before it.
var remedyButtons = []*regexp.Regexp{
	regexp.MustCompile(`value="mend ([0-9a-f]{16})">([^<]*)<`),
	regexp.MustCompile(`name="key" value="([0-9a-f]{16})">(?s:.*?)<button[^>]*>([^<]*)<`),
}

// remedyOn finds the key of the remedy that a page offers with such words.
func remedyOn(t *testing.T, page, words string) string {
	t.Helper()
	for _, button := range remedyButtons {
		for _, m := range button.FindAllStringSubmatch(page, -1) {
			if strings.Contains(m[2], words) {
				return m[1]
			}
		}
	}
	t.Fatalf("no remedy %q is offered", words)
	return ""
}

// TestARemedyIsOneTap presses the remedy of a misspelt maker in a form in which
// something else was typed: both are saved as one change, and taken back as one.
func TestARemedyIsOneTap(t *testing.T) {
	s := serveDesk(t)
	before := s.slip("models/plover.md", "maker: halvane", "maker: halvanne")
	_, page := s.get(s.path + "edit/model/plover")
	key := remedyOn(t, page, "halvane")
	form := formOf(t, page)
	form.Set("name", "Grey plover")
	form.Set("-do", "mend "+remedyAfterTyping(t, s, key, page))
	resp, page := s.post(s.path+"edit/model/plover", form, nil)
	want := strings.Replace(strings.Replace(before, "maker: halvanne", "maker: halvane", 1), "name: Plover", "name: Grey plover", 1)
	if got := s.file("models/plover.md"); resp.StatusCode != http.StatusOK || got != want {
		t.Fatalf("%d, the record says %.300s", resp.StatusCode, got)
	}
	if strings.Contains(page, "halvanne") && !strings.Contains(page, "Take back: write") {
		t.Error("the remedy is still offered")
	}
	s.post(s.path+"undo", map[string][]string{"-token": {s.token}}, nil)
	if s.file("models/plover.md") != before {
		t.Error("taken back it is not what it was")
	}
}

// remedyAfterTyping is the key that the check while one types gives, which is
// the same: what was typed stands in another line.
func remedyAfterTyping(t *testing.T, s *servedDesk, key, page string) string {
	t.Helper()
	_, found := s.post(s.path+"check/model/plover", formOf(t, page), nil)
	if !strings.Contains(found, key) {
		t.Fatalf("while one types the remedy %s is not offered: %.400s", key, found)
	}
	return key
}

// TestARemedyFromTheListOfFindings mends a claim's value from the page of all
// that was found, and a stale press of the same button changes nothing.
func TestARemedyFromTheListOfFindings(t *testing.T) {
	s := serveDesk(t)
	whole := s.file("models/plover.md")
	value := regexp.MustCompile(`value: (padauk)\b`).FindStringIndex(whole)
	if value == nil {
		t.Fatal("the plover has no padauk")
	}
	s.slip("models/plover.md", "value: padauk", "value: paduak")
	_, page := s.get(s.path + "findings")
	form := map[string][]string{"-token": {s.token}, "key": {remedyOn(t, page, "padauk")}}
	if resp, page := s.post(s.path+"mend", form, nil); resp.StatusCode != http.StatusOK || s.file("models/plover.md") != whole {
		t.Fatalf("%d: %.300s", resp.StatusCode, page)
	}
	if _, page := s.post(s.path+"mend", form, nil); !strings.Contains(page, "not found any more") || s.file("models/plover.md") != whole {
		t.Errorf("pressed once more: %.300s", page)
	}
}

// TestARemedyThatAsks wants the reason before a dispute is decided, and writes it.
func TestARemedyThatAsks(t *testing.T) {
	s := serveDesk(t)
	before := s.slip("models/plover.md", `"article-mercury-1963, p. 1"]}`, `"article-mercury-1963, p. 1"], against: ["halvane-list-1971, p. 2"]}`)
	_, page := s.get(s.path + "edit/model/plover")
	key := remedyOn(t, page, "Decide for it")
	form := formOf(t, page)
	form.Set("-do", "mend "+key)
	if _, page := s.post(s.path+"edit/model/plover", form, nil); !strings.Contains(page, "A word is needed first") || s.file("models/plover.md") != before {
		t.Fatalf("without a reason: %.2000s", page)
	}
	form.Set("-why-"+key, "The list errs")
	s.post(s.path+"edit/model/plover", form, nil)
	if got := s.file("models/plover.md"); !strings.Contains(got, `settled: {because: The list errs}}`) {
		t.Errorf("with a reason the record says %.700s", got)
	}
}

// TestARemedyInANewRecord puts what it writes into the form; nothing is saved.
func TestARemedyInANewRecord(t *testing.T) {
	s := serveDesk(t)
	_, page := s.get(s.path + "new/model")
	form := formOf(t, page)
	form.Set("name", "Sandpiper")
	form.Set("maker", "halvanne")
	_, found := s.post(s.path+"check/model/", form, nil)
	keys := regexp.MustCompile(`"Key":"([0-9a-f]{16})","Words":"Write \\"halvane\\"`).FindStringSubmatch(found)
	if keys == nil {
		t.Fatalf("nothing is offered: %.600s", found)
	}
	form.Set("-do", "mend "+keys[1])
	resp, page := s.post(s.path+"new/model", form, nil)
	if got := formOf(t, page); resp.StatusCode != http.StatusOK || got.Get("maker") != "halvane" || got.Get("name") != "Sandpiper" {
		t.Errorf("%d: the form holds %v", resp.StatusCode, got)
	}
	if _, err := os.Stat(filepath.Join(s.folder, "models", "sandpiper.md")); err == nil {
		t.Error("the record is written")
	}
}
