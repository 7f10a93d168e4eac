package checks

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	yaml "go.yaml.in/yaml/v3"

	"yearmark/checks/testdata/made"
	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// BenchmarkCheck reads and checks a made reference of 10,000 pages and 120,000
// claims, and reports how much longer that takes than the bare reading of its
// files and parsing of their YAML in the same run, one file after the other,
// with the same library.
func BenchmarkCheck(b *testing.B) {
	for _, models := range []int{800, 8000} {
		b.Run(fmt.Sprintf("models=%d", models), func(b *testing.B) { benchmarkCheck(b, models) })
	}
}

func benchmarkCheck(b *testing.B, models int) {
	folder := b.TempDir()
	m := made.New(models, 1)
	for name, file := range m.FS() {
		path := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			b.Fatal(err)
		}
		if err := os.WriteFile(path, file.Data, 0o644); err != nil {
			b.Fatal(err)
		}
	}
	var bare, read, derived, checked time.Duration
	var peak uint64
	for b.Loop() {
		runtime.GC()
		start := time.Now()
		bareYAML(b, os.DirFS(folder))
		bare += time.Since(start)

		runtime.GC()
		start = time.Now()
		ref, problems, err := schema.Read(folder)
		if err != nil || len(problems) > 0 {
			b.Fatal(err, problems)
		}
		read += time.Since(start)
		start = time.Now()
		in := Input{Ref: ref, Problems: problems, Files: os.DirFS(folder), Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref)}
		derived += time.Since(start)
		start = time.Now()
		report := whole(b, in)
		checked += time.Since(start)
		if len(report.Findings) > 0 {
			b.Fatal(told(report.Findings[0]))
		}
		var memory runtime.MemStats
		runtime.ReadMemStats(&memory)
		peak = max(peak, memory.HeapInuse)
		runtime.KeepAlive(ref)
	}
	claims := 15 * models
	b.ReportMetric(float64(claims), "claims")
	b.ReportMetric(float64(len(m.Files)), "pages")
	b.ReportMetric(float64(read+derived+checked)/float64(bare), "x-bare-yaml")
	b.ReportMetric(float64(read)/float64(bare), "x-reading")
	b.ReportMetric(float64(derived)/float64(bare), "x-deriving")
	b.ReportMetric(float64(checked)/float64(bare), "x-checking")
	b.ReportMetric(float64(peak)/(1<<20), "MB-heap")
}

// bareYAML reads every file and parses the front matter of the records.
func bareYAML(b *testing.B, files fs.FS) {
	err := fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, path)
		if err != nil || filepath.Ext(path) != ".md" {
			return err
		}
		front, _, _ := bytes.Cut(bytes.TrimPrefix(data, []byte("---\n")), []byte("\n---"))
		var node yaml.Node
		return yaml.Unmarshal(front, &node)
	})
	if err != nil {
		b.Fatal(err)
	}
}
