package pages_test

import (
	"encoding/json"
	"os/exec"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// TestValid gives every page of the demonstration, pages as their scripts make
// them, and the style sheet to the Nu HTML checker (npm vnu-jar): no error.
func TestValid(t *testing.T) {
	java, npm := need.Java(t), need.Npm(t, "vnu-jar")
	site, folder := demonstration(t), t.TempDir()
	args := []string{"-jar", filepath.Join(npm, "node_modules", "vnu-jar", "build", "dist", "vnu.jar"), "--exit-zero-always", "--format", "json", "--also-check-css"}
	for _, p := range site.Paths() {
		if ending := path.Ext(p); ending != ".html" && ending != ".css" {
			continue
		}
		data, err := site.Render(p)
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(folder, filepath.FromSlash(p))
		if err := write(file, data); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	for file, page := range asScriptsMakeThem(t, folder) {
		if err := write(file, page); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	out, err := exec.Command(java, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %.2000s", err, out)
	}
	var report struct {
		Messages []struct{ Type, URL, Message, Extract string }
	}
	if err := json.Unmarshal(out, &report); err != nil {
		t.Fatalf("%v: %.2000s", err, out)
	}
	unknown := map[string]bool{}
	for _, m := range report.Messages {
		if m.Type == "error" && newerThanTheChecker[m.Message] {
			unknown[m.Message] = true
		} else if m.Type == "error" {
			t.Errorf("%s: %s: %.200s", strings.TrimPrefix(m.URL, "file:"+folder+"/"), m.Message, m.Extract)
		}
	}
	for message := range newerThanTheChecker {
		if !unknown[message] {
			t.Errorf("the checker no longer says %q: take it off the list", message)
		}
	}
}

// asScriptsMakeThem gives pages as they stand once their scripts have run, by the file to keep them in.
func asScriptsMakeThem(t *testing.T, folder string) map[string][]byte {
	t.Helper()
	b := openBrowser(t, demonstration(t))
	made := map[string][]byte{}
	for i, address := range []string{
		"date.html", "date.html#model=plover&riser-wood=padauk&limb-glass=black", "date.html#ask=draw-weight",
		"search.html#words=plover&has=riser-wood%3Dpadauk", "examples/index.html",
	} {
		b.visit(address, 1280, "light")
		page := evaluate[string](b, `"<!doctype html>" + document.documentElement.outerHTML`)
		made[filepath.Join(folder, "made-"+number(i)+".html")] = []byte(page)
	}
	return made
}

// newerThanTheChecker are errors that are the checker's: its CSS part does not
// know the property (Scalable Vector Graphics 2, section 13.8, W3C).
var newerThanTheChecker = map[string]bool{"CSS: “paint-order”: Property “paint-order” doesn't exist.": true}
