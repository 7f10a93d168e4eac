package pages_test

import (
	"bytes"
	stdimage "image"
	"image/jpeg"
	"image/png"
	"io"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/site/pages"
)

// small makes the site of a reference given as files.
func small(t *testing.T, files map[string]string) *pages.Site {
	t.Helper()
	folder := fstest.MapFS{"reference.yaml": {Data: []byte("name: A small register\nyears: 1950/1970\n")}}
	for name, text := range files {
		folder[name] = &fstest.MapFile{Data: []byte(text)}
	}
	ref, _, err := schema.ReadFS(folder, "small")
	if err != nil {
		t.Fatal(err)
	}
	facts := pages.Facts{Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref), Files: folder}
	facts.Engine = sync.OnceValue(func() *dating.Engine { return dating.New(ref, facts.Timeline, facts.Weighing) })
	site, err := pages.New(facts)
	if err != nil {
		t.Fatal(err)
	}
	return site
}

// TestPhotographs: a photograph is shown in its versions and never as it was
// taken; a drawing that does more than draw, and a file that is no picture,
// are not on the site at all.
func TestPhotographs(t *testing.T) {
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, stdimage.NewGray(stdimage.Rect(0, 0, 1000, 500)), nil); err != nil {
		t.Fatal(err)
	}
	site := small(t, map[string]string{
		"pictures/mark.jpg":   photo.String(),
		"pictures/safe.svg":   `<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0"/></svg>`,
		"pictures/unsafe.svg": `<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`,
		"pictures/not.png":    "no picture",
		"examples/0001.md": "---\nrecord: example\npictures:\n  - {file: mark.jpg, shows: The mark}\n  - {file: safe.svg, shows: A drawing}\n" +
			"  - {file: unsafe.svg, shows: Not shown}\n  - {file: not.png, shows: Not shown}\n---\n\n![again](pictures/mark.jpg) ![gone](pictures/unsafe.svg)\n",
	})
	page, err := site.Render("examples/0001.html")
	if err != nil {
		t.Fatal(err)
	}
	html := string(page)
	for _, want := range []string{
		`srcset="../pictures/mark-400.jpg 400w, ../pictures/mark-800.jpg 800w, ../pictures/mark-1000.jpg 1000w"`, `width="800" height="400"`,
		`src="../pictures/safe.svg"`, `alt="The mark"`,
	} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	for _, path := range site.Paths() {
		if path == "pictures/mark.jpg" || strings.Contains(path, "unsafe") || strings.Contains(path, "not.png") {
			t.Errorf("%s is published", path)
		}
	}
	// beside the record itself, which names its pictures
	if matter, _, _ := strings.Cut(html, `id="Record"`); strings.Contains(matter, "unsafe.svg") || strings.Contains(matter, "Not shown") {
		t.Error("a refused picture is spoken of")
	}
	version, err := site.Render("pictures/mark-400.jpg")
	if err != nil {
		t.Fatal(err)
	}
	if config, _, err := stdimage.DecodeConfig(bytes.NewReader(version)); err != nil || config.Width != 400 || config.Height != 200 {
		t.Errorf("the least version is %v (%v)", config, err)
	}
}

// TestAnEmptyReference has no record at all: every page still renders.
func TestAnEmptyReference(t *testing.T) {
	site := small(t, nil)
	for _, path := range site.Paths() {
		if _, err := site.Render(path); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
}

// TestHostileRecords puts mark-up and scripts into every field that a page
// shows: they come out as text.
func TestHostileRecords(t *testing.T) {
	const bad = `"\"><script>alert(1)</script><img src=x onerror=alert(1)>"`
	site := small(t, map[string]string{
		"makers/m.md":   "---\nrecord: maker\nname: " + bad + "\nplace: " + bad + "\ntrading: {span: 1950/1960, cites: [\"s, \\\"><script>x</script>\"]}\nowners: [{name: " + bad + ", span: 1950}]\n---\n<script>alert(1)</script> <b onclick=x>\n",
		"models/a.md":   "---\nrecord: model\nname: " + bad + "\nmaker: m\nuse: [" + bad + "]\nmade: {span: 1950/1960, cites: [\"s, \\\"><script>x</script>\"], note: " + bad + "}\neras: [{id: e, name: " + bad + ", span: 1951}]\nfeatures:\n  - {feature: f, value: v, span: 1952, cites: [s], against: [s], settled: {because: " + bad + ", by: " + bad + "}}\n  - {feature: x, value: " + bad + ", span: 1953}\n---\n",
		"features/f.md": "---\nrecord: feature\nname: " + bad + "\nask: " + bad + "\nlook: " + bad + "\nkind: choice\nvalues: [{id: v, name: " + bad + ", tell: " + bad + "}]\n---\n",
		"features/x.md": "---\nrecord: feature\nname: " + bad + "\nkind: text\n---\n",
		"sources/s.md":  "---\nrecord: source\nname: " + bad + "\nkind: letter\nby: " + bad + "\nkept: " + bad + "\nlink: \"javascript:alert(1)\"\nissued: 1950\n---\n[x](javascript:alert(1))\n",
		"examples/1.md": "---\nrecord: example\nname: " + bad + "\nmodel: a\nby: " + bad + "\nweight-mark: " + bad + "\nobserved:\n  - {feature: f, value: v, note: " + bad + "}\n  - {feature: x, value: " + bad + "}\ncondition: [{part: " + bad + ", state: " + bad + "}]\nprivate: {owner: " + bad + "}\n---\n",
		"pages/p.md":    "---\nrecord: page\ntitle: " + bad + "\nabout: " + bad + "\n---\n# " + `"><script>alert(1)</script>` + "\n",
	})
	texts := 0
	for _, path := range site.Paths() {
		data, err := site.Render(path)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(path, ".html") {
			continue
		}
		for _, found := range elementsThatRun(t, data) {
			t.Errorf("%s: %s", path, found)
		}
		texts += strings.Count(string(data), "alert(1)")
	}
	if texts < 100 {
		t.Errorf("the records' mark-up is shown %d times as text: the records were not read", texts)
	}
}

// TestLookedAtOnce: a picture that did not change is not read again, and one
// that did is.
func TestLookedAtOnce(t *testing.T) {
	const safe, unsafe = `<svg xmlns="http://www.w3.org/2000/svg"/>`, `<svg xmlns="http://www.w3.org/2000/svg" onload="x"/>`
	images := &pages.ImageCache{}
	shows := func(drawing string) bool {
		folder := fstest.MapFS{
			"reference.yaml":   {Data: []byte("name: A small register\nyears: 1950/1970\n")},
			"pictures/one.svg": {Data: []byte(drawing)},
		}
		ref, _, err := schema.ReadFS(folder, "small")
		if err != nil {
			t.Fatal(err)
		}
		facts := pages.Facts{Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref), Files: folder, Images: images}
		facts.Engine = sync.OnceValue(func() *dating.Engine { return dating.New(ref, facts.Timeline, facts.Weighing) })
		site, err := pages.New(facts)
		if err != nil {
			t.Fatal(err)
		}
		return slices.Contains(site.Paths(), "pictures/one.svg")
	}
	if !shows(safe) {
		t.Error("a safe drawing is left out")
	}
	if shows(unsafe) {
		t.Error("the drawing changed and was not looked at again")
	}
}

// TestWhatTheChecksTakeIsShown: a drawing of the largest size that the checks
// take stands on the site, and one byte more is left out and told.
func TestWhatTheChecksTakeIsShown(t *testing.T) {
	sized := func(n int) string {
		const open, shut = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><desc>`, `</desc><path d="M0 0h9v9z"/></svg>`
		return open + strings.Repeat("x", n-len(open)-len(shut)) + shut
	}
	files := map[string]string{"pictures/large.svg": sized(checks.MaxDrawing), "pictures/larger.svg": sized(checks.MaxDrawing + 1)}
	site := small(t, files)
	if data, err := site.Render("pictures/large.svg"); err != nil || len(data) != checks.MaxDrawing {
		t.Errorf("%d bytes, %v", len(data), err)
	}
	if _, err := site.Render("pictures/larger.svg"); err == nil {
		t.Error("the larger drawing is shown")
	}
	folder := fstest.MapFS{"reference.yaml": {Data: []byte("name: R\nyears: 1950/1970\n")}}
	for name, text := range files {
		folder[name] = &fstest.MapFile{Data: []byte(text)}
	}
	ref, problems, err := schema.ReadFS(folder, "r")
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]string{}
	report, err := checks.Run(t.Context(), checks.Input{Ref: ref, Problems: problems, Files: folder})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range report.Findings {
		if strings.Contains(f.Message, "larger than") {
			told[f.Pos.File()] = f.Message
		}
	}
	if len(told) != 1 || !strings.Contains(told["pictures/larger.svg"], "is larger than 1 MB") {
		t.Errorf("told: %v", told)
	}
}

// countedPNG is a PNG under another signature, whose decoder counts how often it is
// asked for pixels.
const countedPNG = "counted\n"

var decoded atomic.Int32

func init() {
	whole := func(r io.Reader) io.Reader {
		_, _ = io.CopyN(io.Discard, r, int64(len(countedPNG)))
		return io.MultiReader(strings.NewReader("\x89PNG\r\n\x1a\n"), r)
	}
	stdimage.RegisterFormat("png", countedPNG,
		func(r io.Reader) (stdimage.Image, error) {
			decoded.Add(1)
			return png.Decode(whole(r))
		},
		func(r io.Reader) (stdimage.Config, error) { return png.DecodeConfig(whole(r)) })
}

// TestAScanIsDecodedOnce: all that a publication makes of one scan, the page at
// every width and each cut-out, is one batch and takes one decoding; and the
// batches are the files of the site, each once.
func TestAScanIsDecodedOnce(t *testing.T) {
	var scan bytes.Buffer
	if err := png.Encode(&scan, stdimage.NewGray(stdimage.Rect(0, 0, 900, 60))); err != nil {
		t.Fatal(err)
	}
	site := small(t, map[string]string{
		"pictures/list.png": countedPNG + scan.String()[len(countedPNG):],
		"pictures/safe.svg": `<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0"/></svg>`,
		"sources/list.md": "---\nrecord: source\nname: A list\nkind: list\nshown: all\nrights: Drawn for a test\nplaces:\n" +
			"  - {at: p. 1, scan: list.png, region: \"xywh=0,0,500,30\"}\n  - {at: p. 2, scan: list.png, region: \"xywh=0,30,20,20\"}\n" +
			"  - {at: p. 3, scan: list.png, region: \"xywh=0,30,20,20\"}\n---\n",
	})
	var all []string
	for _, batch := range site.Batches() {
		all = append(all, batch...)
		if !strings.HasSuffix(batch[0], ".png") {
			if len(batch) != 1 {
				t.Errorf("%q are made together", batch)
			}
			continue
		}
		want := []string{"cuts/list-0-0-500-30-400.png", "cuts/list-0-0-500-30-500.png", "cuts/list-0-30-20-20-20.png", "pictures/list-400.png", "pictures/list-800.png", "pictures/list-900.png"}
		if !slices.Equal(batch, want) {
			t.Errorf("made of the scan together: %q, want %q", batch, want)
		}
		decoded.Store(0)
		var written []string
		if err := site.Write(batch, func(path string, _ []byte) error {
			written = append(written, path)
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		if n := decoded.Load(); n != 1 || !slices.Equal(written, want) {
			t.Errorf("decoded %d times for %q", n, written)
		}
	}
	slices.Sort(all)
	if paths := site.Paths(); !slices.Equal(all, paths) {
		t.Errorf("the batches are %q, the files %q", all, paths)
	}
}
