package builder

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// TestThePreviewFollowsNoLinkOutside puts symbolic links to files and folders
// outside into a folder that is served: what they lead to is at no address and
// in no finding, and the preview goes on.
func TestThePreviewFollowsNoLinkOutside(t *testing.T) {
	const secret = "not-for-the-site"
	s := servePreview(t, false)
	outside := t.TempDir()
	for name, text := range map[string]string{
		"record.md":   strings.Replace(record("A list"), "A list", secret, 1),
		"picture.svg": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><title>` + secret + `</title></svg>`,
		"plain.txt":   secret,
	} {
		if err := os.WriteFile(filepath.Join(outside, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.MkdirAll(filepath.Join(s.folder, "pictures"), 0o755); err != nil {
		t.Fatal(err)
	}
	links := map[string]string{
		"sources/linked.md": "record.md", "pictures/linked.svg": "picture.svg", "pictures/linked-folder": "", "linked": "", "linked.txt": "plain.txt",
	}
	for link, to := range links {
		if err := os.Symlink(filepath.Join(outside, to), filepath.Join(s.folder, filepath.FromSlash(link))); err != nil {
			need.Missing(t, "no symbolic links here: "+err.Error())
		}
	}
	ask := func(after string) {
		t.Helper()
		for _, address := range []string{
			"sources/linked.html", "sources/linked.md", "sources/index.html", "pictures/linked.svg", "pictures/linked-folder/picture.svg", "linked/plain.txt", "linked/record.md", "linked/picture.svg", "linked.txt",
			"index.html", "search.html", "data.html", "-preview/findings",
		} {
			if _, body := s.get(t, address); strings.Contains(body, secret) {
				t.Errorf("after %s %s holds what a link leads to", after, address)
			}
		}
	}
	s.shows(t, "-preview/findings", "sources/linked.md")
	ask("the links")
	for link := range links {
		if err := os.Remove(filepath.Join(s.folder, filepath.FromSlash(link))); err != nil {
			t.Fatal(err)
		}
	}
	s.put(t, "sources/linked.md", record("An ordinary list"))
	s.shows(t, "sources/linked.html", "An ordinary list")
	ask("a record in the place of a link")
}
