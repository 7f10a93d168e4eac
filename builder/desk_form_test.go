package builder

import (
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// formOf gives what a browser would send of the first form of a page that has
// a check, pressed on its first button.
func formOf(t testing.TB, page string) url.Values {
	t.Helper()
	form, err := formIn(page)
	if err != nil {
		t.Fatal(err)
	}
	return form
}

func formIn(page string) (url.Values, error) {
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		return nil, err
	}
	form := url.Values{}
	var walk func(n *html.Node, within bool)
	walk = func(n *html.Node, within bool) {
		if n.Type == html.ElementNode {
			within = within || n.Data == "form" && attribute(n, "data-check") != ""
			if name := attribute(n, "name"); within && name != "" {
				switch n.Data {
				case "input":
					form.Add(name, attribute(n, "value"))
				case "textarea":
					text := ""
					if n.FirstChild != nil {
						text = n.FirstChild.Data
					}
					form.Add(name, text)
				case "select":
					form.Add(name, chosen(n))
				}
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, within)
		}
	}
	walk(root, false)
	form.Set("-do", "save")
	return form, nil
}

func chosen(n *html.Node) string {
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if c.Type == html.ElementNode && hasAttribute(c, "selected") {
			return attribute(c, "value")
		}
	}
	return ""
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func hasAttribute(n *html.Node, name string) bool {
	for _, a := range n.Attr {
		if a.Key == name {
			return true
		}
	}
	return false
}

// TestEveryFormSentBackChangesNothing fetches the form of every record of the
// demonstration and saves it as it is: no byte of any file changes.
func TestEveryFormSentBackChangesNothing(t *testing.T) {
	s := serveDesk(t)
	study, err := Open(t.Context(), s.folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range study.Ref.Records() {
		h := r.Header()
		form := s.form(string(h.Kind) + "/" + h.ID)
		if resp, page := s.post(s.path+"edit/"+string(h.Kind)+"/"+h.ID, form, nil); resp.StatusCode != 200 {
			t.Errorf("%s: %d: %.200s", h.File, resp.StatusCode, page)
		}
		if s.file(h.File) != string(h.Source) {
			t.Errorf("%s is no longer what it was", h.File)
		}
	}
}
