package builder_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/builder"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// viewed is what @iiif/parser reads in a IIIF Presentation 3 document.
type viewed struct {
	Warnings                           []string
	ID, Type, Label, Rights, Statement string
	SeeAlso, Items                     []string
	Texts                              int
	Canvases                           []viewedCanvas
}

type viewedCanvas struct {
	ID, Label      string
	Width, Height  int
	Duration       float64
	Painted, Notes []viewedNote
}

type viewedNote struct{ Motivation, Canvas, Fragment, Words, Link string }

// view publishes a reference and has the library read its IIIF documents. The
// one complaint left out is that the language of words in an annotation is no
// list: the Web Annotation model (3.2.4) wants exactly one, and IIIF's list is
// for what stands outside (Presentation 3.0, "language").
func view(t *testing.T, study *builder.Study) (documents map[string]viewed, files map[string][]byte) {
	t.Helper()
	npm := need.Npm(t, "@iiif/parser")
	site, err := study.Site(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	files, raw := map[string][]byte{}, map[string]json.RawMessage{}
	for _, path := range site.Paths() {
		if files[path], err = site.Render(path); err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(path, "data/iiif/") {
			raw[path] = files[path]
		}
	}
	in, err := json.Marshal(raw)
	if err != nil {
		t.Fatal(err)
	}
	var complaint bytes.Buffer
	node := exec.Command(need.Node(t), filepath.Join("testdata", "iiif.cjs"))
	node.Env = append(os.Environ(), "NODE_PATH="+filepath.Join(npm, "node_modules"))
	node.Stdin, node.Stderr = bytes.NewReader(in), &complaint
	out, err := node.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, complaint.Bytes())
	}
	if err := json.Unmarshal(out, &documents); err != nil {
		t.Fatal(err)
	}
	for path, d := range documents {
		others := slices.DeleteFunc(d.Warnings, func(w string) bool { return w == `"language" should be Array of values` })
		if len(others) > 0 || len(d.Warnings) != d.Texts {
			t.Errorf("%s: %d texts, %d complaints, of which %q", path, d.Texts, len(d.Warnings), others)
		}
	}
	return documents, files
}

// TestAViewerReadsTheSources holds every manifest of the demonstration, as the
// reference library reads it, against the records and the site: a canvas for
// each scan, as large as it is; the words on their regions; every claim that
// cites a place on the place's region, with its address, which is there.
func TestAViewerReadsTheSources(t *testing.T) {
	study, err := builder.Open(t.Context(), filepath.Join(need.Root(t), "content"))
	if err != nil {
		t.Fatal(err)
	}
	documents, files := view(t, study)
	base, ref := "https://bows.example.org/", study.Ref
	claims := map[string]*schema.Claim{}
	for c := range ref.Claims() {
		claims[base+c.Address()] = c
	}
	var listed []string
	regions, comments := 0, 0
	for _, s := range ref.Sources.All() {
		path := "data/iiif/sources/" + s.ID + ".json"
		d, there := documents[path]
		wanted := s.MayShow() == schema.ShowsAll && (s.Recording != nil || slices.ContainsFunc(s.Places, func(p *schema.SourcePlace) bool { return p.Scan.Value != "" }))
		if there != wanted {
			t.Errorf("%s has a manifest: %v, want %v", s.ID, there, wanted)
		}
		if linked := strings.Contains(string(files["sources/"+s.ID+".html"]), `href="../`+path+`"`); linked != there {
			t.Errorf("its page leads to the manifest of %s: %v, want %v", s.ID, linked, there)
		}
		if !there {
			continue
		}
		listed = append(listed, base+path)
		if d.ID != base+path || d.Type != "Manifest" || d.Label != s.Title() || d.Statement != s.Rights.Value || d.Rights == "" || !slices.Equal(d.SeeAlso, []string{base + "data/reference.json"}) {
			t.Errorf("%s: %+v", path, d)
		}
		var notes []viewedNote
		for _, c := range d.Canvases {
			notes = append(notes, c.Notes...)
			file, _ := strings.CutPrefix(c.Painted[0].Link, base)
			if len(c.Painted) != 1 || c.Painted[0].Canvas != c.ID || files[file] == nil || c.Duration == 0 && (c.Width == 0 || c.Height == 0) {
				t.Errorf("%s: %+v", path, c)
			}
		}
		for _, p := range s.Places {
			want := "en: " + p.Says.Value
			i := slices.IndexFunc(notes, func(n viewedNote) bool { return n.Motivation == "supplementing" && n.Words == want })
			if _, timed := p.Locator().Time(); i < 0 && (p.Scan.Value != "" || timed) && p.Says.Value != "" {
				t.Errorf("%s: the words of %s are not there", path, p.At.Value)
			} else if i >= 0 && p.Region.IsZero() != (notes[i].Fragment == "") && !timed {
				t.Errorf("%s: the words of %s stand on %q", path, p.At.Value, notes[i].Fragment)
			} else if i >= 0 && notes[i].Fragment != "" {
				regions++
			}
		}
		for _, n := range notes {
			if n.Motivation != "commenting" {
				continue
			}
			comments++
			c := claims[n.Link]
			if c == nil || !strings.Contains(n.Words, ref.Statement(c)) || !slices.ContainsFunc(slices.Concat(c.Citations(), c.Against), func(c schema.Citation) bool { return c.Source == s.ID }) {
				t.Errorf("%s: a comment %q leads to %s", path, n.Words, n.Link)
			}
		}
	}
	if d := documents["data/iiif/collection.json"]; d.Type != "Collection" || !cmp.Equal(d.Items, listed) {
		t.Errorf("the collection lists %q, want %q", d.Items, listed)
	}
	if len(listed) < 12 || regions < 40 || comments < 100 {
		t.Errorf("%d manifests, %d regions with words, %d comments", len(listed), regions, comments)
	}
	if page := string(files["data.html"]); !strings.Contains(page, "data/iiif/collection.json") || strings.Contains(page, "halvane-list-1965.json") {
		t.Error("the page of data leads to more or less than the collection")
	}
}

// TestWhatAViewerReads holds one source, canvas by canvas, against figures that
// are worked out by hand, and looks that nothing kept back is in any document.
func TestWhatAViewerReads(t *testing.T) {
	scan := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 800"><path d="M0 0h9"/></svg>`
	const places = "places:\n" +
		"  - {at: p. 2, says: \"Padauk, KEPT\", scan: s/two.svg, region: \"xywh=percent:10,20,50,10\"}\n" +
		"  - {at: p. 3, scan: s/three.svg}\n  - {at: \"0:00\", says: \"Walnut, KEPT\"}\n  - {at: p. 4, says: \"Ash, KEPT\"}\n"
	source := func(name, shown string) string {
		text := "---\nrecord: source\nname: KEPT\nkind: catalogue\nissued: 1960\nshown: " + shown + "\nrights: \"By leave of KEPT; CC-BY-SA-4.0\"\nrecording: {file: s.wav}\n" + places + "---\n"
		return strings.NewReplacer("KEPT", name, "s/", strings.ToLower(name)+"/", "s.wav", strings.ToLower(name)+".wav").Replace(text)
	}
	files := map[string]string{
		"reference.yaml":   "name: R\nyears: 1950/1970\naddress: https://r.example.org/x\nlanguage: de\n",
		"makers/m.md":      "---\nrecord: maker\nname: M\n---\n",
		"features/wood.md": "---\nrecord: feature\nname: Wood\nkind: choice\nvalues: [{id: padauk, name: Padauk}]\n---\n",
		"models/a.md": "---\nrecord: model\nname: A\nmaker: m\nmade: {span: 1960/1962, cites: [\"open, pp. 2-3\", \"back, p. 2\", \"words, p. 2\"]}\n" +
			"features: [{id: w, feature: wood, value: padauk, span: 1961, cites: [\"open, 0:00\"], against: [\"open, p. 2\"], settled: {because: x}}]\n---\n",
		"sources/open.md": source("Open", "all"), "sources/back.md": source("Back", "none"), "sources/words.md": source("Words", "words"),
	}
	for _, name := range []string{"open", "back", "words"} {
		files["pictures/"+name+"/two.svg"], files["pictures/"+name+"/three.svg"] = scan, scan
		files["recordings/"+name+".wav"] = "RIFF\x2e\x00\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x04\x00\x00\x00\x04\x00\x00\x00\x01\x00\x08\x00data\x0a\x00\x00\x00\x80\x80\x80\x80\x80\x80\x80\x80\x80\x80"
	}
	documents, site := view(t, opened(t, files))
	const base = "https://r.example.org/x/"
	canvas := base + "data/iiif/sources/open/"
	note := func(motivation, on, fragment, words, link string) viewedNote {
		return viewedNote{motivation, canvas + on, fragment, "de: " + words, link}
	}
	painted := func(on, file string) []viewedNote {
		return []viewedNote{{"painting", canvas + on, "", "", base + file}}
	}
	made, wood := base+"models/a.html#made", base+"models/a.html#w"
	want := []viewedCanvas{
		{canvas + "open/two.svg", "p. 2", 500, 800, 0, painted("open/two.svg", "pictures/open/two.svg"), []viewedNote{
			note("supplementing", "open/two.svg", "xywh=50,160,250,80", "Padauk, Open", ""),
			note("commenting", "open/two.svg", "xywh=50,160,250,80", "A, made, 1960–1962.", made),
			note("commenting", "open/two.svg", "xywh=50,160,250,80", "Speaks against: A, Wood: Padauk, 1961.", wood),
		}},
		{canvas + "open/three.svg", "p. 3", 500, 800, 0, painted("open/three.svg", "pictures/open/three.svg"), []viewedNote{
			note("commenting", "open/three.svg", "", "A, made, 1960–1962.", made),
		}},
		{canvas + "recording", "Recording", 0, 0, 2.5, painted("recording", "recordings/open.wav"), []viewedNote{
			note("supplementing", "recording", "t=0", "Walnut, Open", ""),
			note("commenting", "recording", "t=0", "A, Wood: Padauk, 1961.", wood),
		}},
	}
	got := documents["data/iiif/sources/open.json"]
	if d := cmp.Diff(want, got.Canvases); d != "" {
		t.Errorf("canvases:\n%s", d)
	}
	if got.Rights != "http://creativecommons.org/licenses/by-sa/4.0/" || got.Statement != "By leave of Open; CC-BY-SA-4.0" {
		t.Errorf("rights %q, %q", got.Rights, got.Statement)
	}
	if len(documents) != 2 {
		t.Errorf("%d documents", len(documents))
	}
	for path := range documents {
		for _, kept := range []string{"Back", "Words", "back", "words"} {
			if bytes.Contains(site[path], []byte(kept)) {
				t.Errorf("%s holds %q, which is kept back", path, kept)
			}
		}
	}
}
