package builder

import (
	"net/http"
	"net/http/httptest"
	"regexp"
	"testing"

	"yearmark/builder/preview"
)

// TestThePreviewIsAsStrictAsThePages holds the policy that the preview sends
// against the one that every page states; beside it stands only what a page
// cannot state of itself.
func TestThePreviewIsAsStrictAsThePages(t *testing.T) {
	study, err := Open(t.Context(), "starter/files")
	if err != nil {
		t.Fatal(err)
	}
	site, err := study.Site(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	page, err := site.Render("index.html")
	if err != nil {
		t.Fatal(err)
	}
	stated := regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]+)"`).FindSubmatch(page)
	if stated == nil {
		t.Fatal("the page states no policy")
	}
	server := preview.NewServer(80)
	server.Show(site)
	answer := httptest.NewRecorder()
	server.ServeHTTP(answer, httptest.NewRequest(http.MethodGet, "http://localhost:80/", nil))
	want := regexp.MustCompile(`&#39;`).ReplaceAllString(string(stated[1]), "'") + "; frame-ancestors 'none'"
	if got := answer.Header().Get("Content-Security-Policy"); got != want {
		t.Errorf("the preview sends %q, want %q", got, want)
	}
}
