package builder

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"yearmark/site/pages"
	"yearmark/testdata/made"
)

// BenchmarkRenew measures what an edit of a record costs the preview without
// a browser: studying the folder again, preparing the site and rendering the
// record's page, each in milliseconds at the median. YEARMARK_PAGES is the
// size of the reference.
func BenchmarkRenew(b *testing.B) {
	size, _ := strconv.Atoi(os.Getenv("YEARMARK_PAGES"))
	if size == 0 {
		size = 10_000
	}
	folder := filepath.Join(b.TempDir(), "made")
	if err := made.Write(folder, made.Options{Pages: size, Seed: 1}); err != nil {
		b.Fatal(err)
	}
	f, err := Follow(folder)
	if err != nil {
		b.Fatal(err)
	}
	models, err := filepath.Glob(filepath.Join(folder, "models", "*.md"))
	if err != nil || len(models) == 0 {
		b.Fatal("no models", err)
	}
	file := models[len(models)/2]
	text, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	name := strings.TrimSuffix(filepath.Base(file), ".md")
	looked, spent, number := &pages.Looked{}, map[string][]time.Duration{}, 0
	for b.Loop() {
		number++
		if err := os.WriteFile(file, fmt.Appendf(slices.Clone(text), "\nEdited number %d.\n", number), 0o644); err != nil {
			b.Fatal(err)
		}
		began := time.Now()
		lap := func(part string) {
			now := time.Now()
			spent[part] = append(spent[part], now.Sub(began))
			began = now
		}
		if news, err := f.Renew([]string{"models/" + name + ".md"}, nil); err != nil || !news {
			b.Fatal(news, err)
		}
		lap("study")
		site, err := f.Study().Site(looked)
		if err != nil {
			b.Fatal(err)
		}
		lap("site")
		if page, err := site.Render("models/" + name + ".html"); err != nil || !strings.Contains(string(page), fmt.Sprintf("Edited number %d.", number)) {
			b.Fatal("the page is without the edit", err)
		}
		lap("page")
	}
	for part, list := range spent {
		slices.Sort(list)
		b.ReportMetric(float64(list[len(list)/2].Microseconds())/1000, part+"-ms")
	}
}
