package pages_test

import (
	"cmp"
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/exchange/compare"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/search"
	"yearmark/site/pages"
	"yearmark/testdata/need"
)

// demonstration makes the site of the demonstration, once for all tests.
func demonstration(t testing.TB) *pages.Site { return demonstrationFacts(t).site }

func demonstrationFacts(t testing.TB) demonstrated {
	t.Helper()
	d, err := theDemonstration(filepath.Join(need.Root(t), "content"))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// demonstrated is the demonstration and its site.
type demonstrated struct {
	ref    *schema.Reference
	engine *dating.Engine
	site   *pages.Site
}

var once struct {
	sync.Once
	made demonstrated
	err  error
}

func theDemonstration(folder string) (demonstrated, error) {
	once.Do(func() { once.made, once.err = demonstrate(folder) })
	return once.made, once.err
}

func demonstrate(folder string) (demonstrated, error) { return siteOf(folder, sinceEarlier) }

// siteOf makes the site of a folder; changes gives what changed since an
// earlier state, and may be nil.
func siteOf(folder string, changes func(string, compare.State) (*compare.Changes, error)) (demonstrated, error) {
	ref, problems, err := schema.Read(folder)
	if err != nil {
		return demonstrated{}, err
	}
	facts := pages.Facts{
		Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref),
		Edition: pages.Edition{Date: "2026-11-14", Hash: "0123456789ab"}, Files: os.DirFS(folder),
	}
	engine := dating.New(ref, facts.Timeline, facts.Weighing)
	report, err := checks.Run(context.Background(), checks.Input{Ref: ref, Problems: problems, Timeline: facts.Timeline, Weighing: facts.Weighing})
	if err != nil {
		return demonstrated{}, err
	}
	facts.Engine = func() *dating.Engine { return engine }
	facts.Report = func() checks.Report { return report }
	now := compare.State{Name: "now", Edition: "2026-11-14", Ref: ref, Timeline: facts.Timeline, Weighing: facts.Weighing, Engine: engine, Report: report}
	if changes != nil {
		if facts.Changes, err = changes(folder, now); err != nil {
			return demonstrated{}, err
		}
	}
	index, err := search.Build(context.Background(), search.Documents(ref, facts.Timeline.Years))
	if err != nil {
		return demonstrated{}, err
	}
	shards, err := index.Shards(context.Background())
	if err != nil {
		return demonstrated{}, err
	}
	facts.Search = func(context.Context) (files []pages.File, err error) {
		for _, f := range shards {
			files = append(files, pages.File{Name: f.Name, Data: f.Data})
		}
		return files, nil
	}
	facts.Dating = func(_ context.Context, quotes func(schema.Citation) []pages.Quote) (files []pages.File, err error) {
		list, _ := tables.Build(engine, func(c schema.Citation) (list []tables.Quote) {
			for _, q := range quotes(c) {
				list = append(list, tables.Quote(q))
			}
			return list
		})
		for _, f := range list {
			files = append(files, pages.File{Name: f.Name, Data: func() []byte { return f.Data }})
		}
		return files, nil
	}
	site, err := pages.New(facts)
	return demonstrated{ref, engine, site}, err
}

// TestEveryFileRenders renders every file of the demonstration twice, the
// second time in another order: the same bytes come out. With YEARMARK_LOOK
// set the site is also written to that folder, to be looked at.
func TestEveryFileRenders(t *testing.T) {
	site := demonstration(t)
	folder := os.Getenv("YEARMARK_LOOK")
	first := map[string]string{}
	for _, path := range site.Paths() {
		data, err := site.Render(path)
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		if len(data) == 0 {
			t.Errorf("%s is empty", path)
		}
		first[path] = string(data)
		if folder != "" {
			if err := write(filepath.Join(folder, filepath.FromSlash(path)), data); err != nil {
				t.Fatal(err)
			}
		}
	}
	for i := len(site.Paths()) - 1; i >= 0; i-- {
		path := site.Paths()[i]
		if again, err := site.Render(path); err != nil || string(again) != first[path] {
			t.Errorf("%s differs when rendered again (%v)", path, err)
		}
	}
}

func write(path string, data []byte) error {
	return cmp.Or(os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, data, 0o666))
}
