package prose

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"
)

// known are the links of the cases in testdata.
type known struct{}

func (known) Resolve(kind, id string) (Target, bool) {
	switch kind + ":" + id {
	case "source:list-1964", "source:bulletin-12", "model:dunlin", "claim:padauk-riser", "page:cautions", "example:0007":
		return Target{Address: "to/" + kind + "/" + id, Title: id}, true
	}
	return Target{}, false
}

func (known) Picture(path string) (Picture, bool) {
	return Picture{Address: "to/picture/" + path, Width: 120, Height: 80}, path == "marks/oval.svg"
}

func TestCases(t *testing.T) {
	file, err := os.ReadFile("testdata/cases.txt")
	if err != nil {
		t.Fatal(err)
	}
	parts := strings.Split(string(file), "\n== ")[1:]
	if len(parts) < 30 {
		t.Fatalf("%d cases read, want 30 and more", len(parts))
	}
	for i, part := range parts {
		name, rest, _ := strings.Cut(part, "\n")
		if !strings.HasPrefix(name, fmt.Sprintf("%d: ", i+1)) {
			t.Errorf("case %q stands in place %d", name, i+1)
		}
		source, want, ok := strings.Cut(rest, "\n....\n")
		if !ok {
			t.Fatalf("case %s has no line of dots", name)
		}
		t.Run(name, func(t *testing.T) {
			d := Render(source, Options{Links: known{}})
			got := strings.TrimSpace(d.HTML)
			for _, n := range d.Notes {
				got += fmt.Sprintf("\nnote %d: %s, %q, marks %d", n.Number, n.Source.Address, n.Place, len(n.Marks))
			}
			if diff := cmp.Diff(strings.TrimSpace(want), got); diff != "" {
				t.Errorf("page differs (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPrefixAndTopLevel(t *testing.T) {
	d := Render("# One\n[l, p. 1](source:list-1964)", Options{Links: known{}, TopLevel: 3, Prefix: "tale"})
	want := []Heading{{Level: 3, ID: "tale-one", Text: "One"}}
	if diff := cmp.Diff(want, d.Headings); diff != "" {
		t.Error(diff)
	}
	if d.Notes[0].ID != "tale-note-1" || d.Notes[0].Marks[0] != "tale-cite-1-1" {
		t.Errorf("note %+v does not carry the prefix", d.Notes[0])
	}
}

// TestCostlyTexts gives texts whose parsing would grow with the square of
// their length (minutes for the worst): none is lost.
func TestCostlyTexts(t *testing.T) {
	for _, piece := range []string{">", "> ", "1. ", "- ", "[a](", "[](", "*a_", "![[", "# a\n", "[a]: b\n", "\"", "<!--"} {
		src := strings.Repeat(piece, 40_000)
		d := Render(src, Options{Links: known{}})
		if len(d.HTML) == 0 && piece != "[a]: b\n" {
			t.Errorf("%q repeated shows nothing", piece)
		}
	}
}

// FuzzRender: no text makes it panic, no element but the known ones appears,
// no address leads anywhere but to the site, http, https or mailto, and
// identifiers are unique.
func FuzzRender(f *testing.F) {
	file, err := os.ReadFile("testdata/cases.txt")
	if err != nil {
		f.Fatal(err)
	}
	for part := range strings.SplitSeq(string(file), "\n== ") {
		f.Add(part)
	}
	f.Fuzz(func(t *testing.T, source string) {
		if len(source) > 10_000 {
			return // long texts are tested elsewhere
		}
		d := Render(source, Options{Links: known{}})
		tree, err := html.Parse(strings.NewReader(d.HTML))
		if err != nil {
			t.Fatal(err)
		}
		ids := map[string]bool{}
		for n := range tree.Descendants() {
			if n.Type == html.ElementNode {
				inspect(t, n, ids)
			}
		}
	})
}

var elements = map[string]bool{}

func init() {
	for _, name := range strings.Fields("html head body p em strong code pre h2 h3 h4 h5 h6 ul ol li blockquote hr br a sup span img div table thead tbody tr th td") {
		elements[name] = true
	}
}

func inspect(t *testing.T, n *html.Node, ids map[string]bool) {
	t.Helper()
	if !elements[n.Data] {
		t.Fatalf("element %q in the page", n.Data)
	}
	for _, a := range n.Attr {
		switch a.Key {
		case "href", "src":
			if !strings.HasPrefix(a.Val, "to/") && !strings.HasPrefix(a.Val, "#text-") && !Outside(a.Val) {
				t.Fatalf("address %q in the page", a.Val)
			}
		case "id":
			if ids[a.Val] {
				t.Fatalf("identifier %q twice", a.Val)
			}
			ids[a.Val] = true
		case "class", "rel", "alt", "loading", "width", "height", "start", "aria-label", "role", "tabindex":
		default:
			t.Fatalf("attribute %q in the page", a.Key)
		}
	}
}
