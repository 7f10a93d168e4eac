package pages_test

import (
	"fmt"
	"html"
	"path"
	"strings"
	"testing"

	"github.com/yuin/goldmark"

	"yearmark/schema"
)

// BenchmarkRender renders every page of the demonstration. Beside it, in the
// same run, stands the bare floor: each record's prose through goldmark alone
// and as many bytes of page escaped and copied.
func BenchmarkRender(b *testing.B) {
	d := demonstrationFacts(b)
	var pages []string
	size := 0
	for _, p := range d.site.Paths() {
		if path.Ext(p) == ".pages" {
			data, err := d.site.Render(p)
			if err != nil {
				b.Fatal(err)
			}
			pages, size = append(pages, p), size+len(data)
		}
	}
	b.Run("pages", func(b *testing.B) {
		for b.Loop() {
			for _, p := range pages {
				if _, err := d.site.Render(p); err != nil {
					b.Fatal(err)
				}
			}
		}
		report(b, len(pages), size)
	})
	b.Run("bare", func(b *testing.B) {
		markdown := goldmark.New()
		plain := strings.Repeat("The list of 1964, p. 6, shows it so. ", size/37/len(pages))
		for b.Loop() {
			for _, r := range d.ref.Records() {
				var out strings.Builder
				if err := markdown.Convert([]byte(r.Header().Body.Text), &out); err != nil {
					b.Fatal(err)
				}
			}
			for range pages {
				_ = html.EscapeString(plain)
			}
		}
		report(b, len(pages), size)
	})
	for kind, p := range map[schema.Kind]string{schema.KindModel: "models/plover.pages", schema.KindSource: "sources/halvane-list-1964.pages", schema.KindExample: "examples/0007.pages"} {
		b.Run(fmt.Sprintf("one-%s", kind), func(b *testing.B) {
			for b.Loop() {
				if _, err := d.site.Render(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func report(b *testing.B, pages, bytes int) {
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*pages), "µs/page")
	b.ReportMetric(float64(bytes)/float64(pages), "bytes/page")
}
