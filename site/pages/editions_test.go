package pages_test

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/exchange/compare"
	"yearmark/provenance"
	"yearmark/schema"
)

// earlier says how the demonstration differed before: in a file, what stands
// there now and what stood there then.
var earlier = []struct{ file, now, then string }{
	{"models/plover.md", "value: padauk\n    span: 1965\n    only: true", "value: padauk\n    span: 1965/1966"},
	{"models/plover.md", "  - {id: white-glass, feature: limb-glass, value: white, span: 196X, held: loose, cites: [\"recollection-tyson-2009, 0:08\"], note: \"“One in white, for a vicar.” Nobody else has seen it.\"}\n", ""},
	{"models/plover.md", "withdrawn:\n  - {id: padauk-second-year, because: \"Rested on bulletin 12 alone, which misread the list it quotes\", on: 2024-11-02}\n", ""},
	{"models/plover.md", "\nspecs:\n", "\n  - {id: padauk-second-year, feature: riser-wood, value: padauk, span: 1966, disputed: true, cites: [\"bulletin-12, p. 3\"], against: [\"halvane-list-1966, p. 2\"]}\nspecs:\n"},
	{"sources/bulletin-12.md", "by: Fellside Field Archers\n", "by: Nobody in particular\n"},
}

// sinceEarlier compares the demonstration as it was with a state.
func sinceEarlier(folder string, now compare.State) (*compare.Changes, error) {
	files := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS(folder), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(path, "pictures/") {
			return err
		}
		data, err := os.ReadFile(folder + "/" + path)
		files[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		return nil, err
	}
	for _, e := range earlier {
		was := strings.Replace(string(files[e.file].Data), e.now, e.then, 1)
		if was == string(files[e.file].Data) {
			return nil, fmt.Errorf("%s does not hold %q", e.file, e.now)
		}
		files[e.file] = &fstest.MapFile{Data: []byte(was)}
	}
	ref, problems, err := schema.ReadFS(files, "then")
	if err != nil {
		return nil, err
	}
	then := compare.State{Name: "then", Edition: "2024-10-01 abcdefabcdef", Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref)}
	then.Engine = dating.New(ref, then.Timeline, then.Weighing)
	ctx := context.Background()
	if then.Report, err = checks.Run(ctx, checks.Input{Ref: ref, Problems: problems, Timeline: then.Timeline, Weighing: then.Weighing}); err != nil {
		return nil, err
	}
	return compare.Between(ctx, then, now)
}

// TestEditionTellsWhatChanged: the page of editions names the earlier edition,
// each change with what it was before, and the dates that it moves.
func TestEditionTellsWhatChanged(t *testing.T) {
	for _, d := range documents(t) {
		if d.path != "editions.html" {
			continue
		}
		text := textOf(d.tree)
		for _, want := range []string{
			"Since the edition of 2024-10-01 abcdefabcdef", "Plover, Riser wood: Padauk1965, was 1965–1966", "Plover, Limb facing: White", "now claimed for no other year",
			"gone: Plover, Riser wood: Padauk", "withdrawn, was", "misread the list it quotes", "Bulletin no. 12", "by Fellside Field Archers, was Nobody in particular",
			"Dating keys that answer otherwise", "Examples that date otherwise", "Findings",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("it does not say %q", want)
			}
		}
		return
	}
	t.Error("there is no page of editions")
}

// TestEditionWithoutAnEarlierOne says plainly that nothing was compared.
func TestEditionWithoutAnEarlierOne(t *testing.T) {
	page, err := small(t, nil).Render("editions.html")
	if err != nil || !strings.Contains(string(page), "no earlier one was named to compare it with") {
		t.Errorf("%v: %s", err, page)
	}
}
