package schema

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"go.yaml.in/yaml/v3"
)

// madeReference writes a reference of n models with twelve claims each, of the
// size of those in the published measurements: 1.7 KB of keys, 2.1 KB of prose.
func madeReference(b *testing.B, n int) string {
	b.Helper()
	dir := b.TempDir()
	write := func(name, text string) {
		file := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			b.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			b.Fatal(err)
		}
	}
	write("reference.yaml", smallSettings)
	write("makers/m.md", "---\nrecord: maker\nname: M\n---\n")
	for i := range 40 {
		write(fmt.Sprintf("sources/list-%d.md", 1930+i), "---\nrecord: source\nname: List\nkind: price-list\nissued: 1960\n---\n")
	}
	for i := range 11 {
		write(fmt.Sprintf("features/feature-%d.md", i), "---\nrecord: feature\nname: F\nkind: choice\nvalues: [{id: padauk}, {id: walnut}, {id: maple}]\n---\n")
	}
	prose := strings.Repeat("The bow is of padauk, as the [list](source:list-1940) says on its sixth page.\n", 28)
	for i := range n {
		var text strings.Builder
		fmt.Fprintf(&text, "---\nrecord: model\nname: Model %d\nmaker: m\nuse: [target, field]\nmade: {span: 1950/1971, cites: [\"list-1958, p. 2\", \"list-1961, p. 9\"]}\nfeatures:\n", i)
		for f := range 11 {
			fmt.Fprintf(&text, "  - {feature: feature-%d, value: %s, span: %d/%d, cites: [\"list-%d, p. 6\", \"list-%d, p. %d\"]}\n", f,
				[]string{"padauk", "walnut", "maple"}[(i+f)%3], 1950+f, 1955+f, 1940+f, 1945+f, f)
		}
		write(fmt.Sprintf("models/model-%d.md", i), text.String()+"---\n\n"+prose)
	}
	return dir
}

// bareRead reads the same files and parses the same YAML, with as many
// workers, and does nothing else.
func bareRead(b *testing.B, dir string) {
	b.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*", "*.md"))
	if err != nil {
		b.Fatal(err)
	}
	work := make(chan string, len(files))
	for _, f := range files {
		work <- f
	}
	close(work)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for file := range work {
				text, err := os.ReadFile(file)
				if err != nil {
					b.Error(err)
					return
				}
				front, _, _ := bytes.Cut(text[4:], []byte("\n---\n"))
				var n yaml.Node
				if err := yaml.Unmarshal(front, &n); err != nil {
					b.Error(err)
				}
			}
		})
	}
	wait.Wait()
}

// BenchmarkRead reports how many times as long reading a reference takes as
// only reading its files and parsing their YAML.
func BenchmarkRead(b *testing.B) {
	dir := madeReference(b, 2000)
	bareRead(b, dir)
	var ours, bare time.Duration
	for b.Loop() {
		start := time.Now()
		_, problems, err := Read(dir)
		ours += time.Since(start)
		if err != nil || len(problems) > 0 {
			b.Fatal(err, list(problems))
		}
		start = time.Now()
		bareRead(b, dir)
		bare += time.Since(start)
	}
	b.ReportMetric(float64(ours)/float64(bare), "x-bare")
}

// BenchmarkReadRecord reads one record alone, as the preview does after an edit.
func BenchmarkReadRecord(b *testing.B) {
	source, err := os.ReadFile(filepath.Join(madeReference(b, 1), "models/model-0.md"))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, problems := ReadRecord("models/model-0.md", source); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

// BenchmarkAssemble ties ten thousand records, as the preview does after an edit.
func BenchmarkAssemble(b *testing.B) {
	ref, _, err := Read(madeReference(b, 10_000))
	if err != nil {
		b.Fatal(err)
	}
	records := ref.Records()
	for b.Loop() {
		Assemble("x", ref.Settings, records, Media{})
	}
}
