package builder

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestTheDeskSaysWhatIsWrongWithItsFolder moves the folder away while it is
// open, and makes it one that cannot be written to: both are said plainly, and
// what can be read is still shown.
func TestTheDeskSaysWhatIsWrongWithItsFolder(t *testing.T) {
	s := serveDesk(t)
	away := s.folder + "-moved"
	if err := os.Rename(s.folder, away); err != nil {
		t.Fatal(err)
	}
	for _, way := range []string{"", "edit/model/plover", "publish"} {
		if resp, page := s.get(s.path + way); resp.StatusCode != 500 || !strings.Contains(page, "was moved, renamed or deleted") || !strings.Contains(page, "/start\"") {
			t.Errorf("%q of a folder that is gone is answered with %d: %.300s", way, resp.StatusCode, page)
		}
	}
	if err := os.Rename(away, s.folder); err != nil {
		t.Fatal(err)
	}
	journal := filepath.Join(s.folder, ".yearmark")
	if err := os.RemoveAll(journal); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(journal, nil, 0o644); err != nil { // in place of the folder for what undo needs
		t.Fatal(err)
	}
	before := s.file("models/plover.md")
	resp, page := s.get(s.path + "edit/model/plover")
	if resp.StatusCode != 200 || !strings.Contains(page, "Nothing can be saved here.") {
		t.Errorf("a folder that cannot be written to is answered with %d: %.900s", resp.StatusCode, page)
	}
	form := formOf(t, page)
	form.Set("name", "Grey plover")
	resp, page = s.post(s.path+"edit/model/plover", form, nil)
	if resp.StatusCode != 422 || !strings.Contains(page, `value="Grey plover"`) || s.file("models/plover.md") != before {
		t.Errorf("saving there is answered with %d", resp.StatusCode)
	}
}
