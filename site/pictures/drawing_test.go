package pictures

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"yearmark/checks"
	"yearmark/testdata/need"
)

func TestCleanDrawing(t *testing.T) {
	const open = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"`
	for name, c := range map[string]struct{ drawing, want string }{
		"nothing to take": {open + ` viewBox="0 0 9 9"><path d="M0 0h9"/><text>a &amp; b</text></svg>`, open + ` viewBox="0 0 9 9"><path d="M0 0h9"/><text>a &amp; b</text></svg>`},
		"comments":        {open + `><!-- by A. Person --><path d="M0 0"/></svg>`, open + `><path d="M0 0"/></svg>`},
		"metadata":        {open + `><metadata>x<a>y</a></metadata><path d="M0 0"/></svg>`, open + `><path d="M0 0"/></svg>`},
		"an editor's notes": {
			open + "\n xmlns:inkscape=\"http://www.inkscape.org/namespaces/inkscape\"\n inkscape:export-filename='/home/person/bow.png' width=\"9\"><inkscape:grid a=\"b\"><g/></inkscape:grid><g inkscape:label=\"L > 1\" id=\"g\"/></svg>",
			open + ` width="9"><g id="g"/></svg>`,
		},
		"instructions":  {`<?xml version="1.0"?><?person x?>` + open + `/>`, `<?xml version="1.0"?>` + open + `/>`},
		"not a drawing": {open + `><path></svg>`, ""},
	} {
		if got := string(CleanDrawing([]byte(c.drawing))); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, c.want)
		}
	}
}

// TestCleanedDrawingsPass takes the demonstration's drawings and those as
// drawing programs save them: cleaned they still pass, and cleaning again takes
// nothing.
func TestCleanedDrawingsPass(t *testing.T) {
	seen := 0
	for _, folder := range []string{"content/pictures", "testdata/drawings"} {
		err := filepath.WalkDir(filepath.Join(need.Root(t), folder), func(path string, e fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".svg" {
				return err
			}
			drawing, err := os.ReadFile(path)
			if err != nil || len(checks.InspectSVG(drawing)) > 0 {
				return err
			}
			seen++
			clean := CleanDrawing(drawing)
			if faults := checks.InspectSVG(clean); len(faults) > 0 {
				t.Errorf("%s: cleaned it %v", path, faults)
			}
			if string(CleanDrawing(clean)) != string(clean) {
				t.Errorf("%s: cleaned twice it is another", path)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen < 90 {
		t.Errorf("only %d drawings were cleaned", seen)
	}
}
