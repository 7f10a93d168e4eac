package builder

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	yaml "go.yaml.in/yaml/v3"

	"yearmark/checks/testdata/made"
)

// BenchmarkCheck measures what the command check does on a reference of 8,000
// models, 120,000 claims and 2,000 examples: reading, deriving, dating every
// example, all checks. It reports that against the bare reading of the files
// and parsing of their YAML in the same run, one file after the other, with
// the same library: by the clock, and by processor time, which a busy machine
// spoils less. Of the examples so many are cited by claims.
func BenchmarkCheck(b *testing.B) {
	for _, cited := range []int{0, 300, 2000} {
		b.Run(fmt.Sprintf("cited=%d", cited), func(b *testing.B) { benchmarkCheck(b, cited) })
	}
}

func benchmarkCheck(b *testing.B, cited int) {
	folder := b.TempDir()
	m := made.New(8000, 1)
	m.CiteExamples(cited)
	if err := os.CopyFS(folder, m.FS()); err != nil {
		b.Fatal(err)
	}
	var bare, checked meter
	var peak uint64
	findings := 0
	for b.Loop() {
		runtime.GC()
		bare.run(func() { parseBare(b, os.DirFS(folder)) })
		runtime.GC()
		checked.run(func() {
			s, err := Open(context.Background(), folder)
			if err != nil {
				b.Fatal(err)
			}
			findings = len(reportOf(b, s).Findings)
			var memory runtime.MemStats
			runtime.ReadMemStats(&memory)
			peak = max(peak, memory.HeapSys-memory.HeapReleased)
			runtime.KeepAlive(s)
		})
	}
	b.ReportMetric(float64(checked.clock)/float64(bare.clock), "x-bare-yaml")
	b.ReportMetric(float64(checked.processor)/float64(bare.processor), "x-bare-yaml-cpu")
	b.ReportMetric(float64(findings), "findings")
	b.ReportMetric(float64(peak)/(1<<20), "MB-held")
	b.ReportMetric(0, "ns/op")
}

// meter keeps the shortest of several runs, by the clock and by processor time.
type meter struct{ clock, processor time.Duration }

func (m *meter) run(do func()) {
	clock, processor := time.Now(), processorTime()
	do()
	now := meter{time.Since(clock), processorTime() - processor}
	if m.clock == 0 || now.clock < m.clock {
		m.clock = now.clock
	}
	if m.processor == 0 || now.processor < m.processor {
		m.processor = now.processor
	}
}

// processorTime is what this process has had of all processors.
func processorTime() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		panic(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

// parseBare reads every file and parses the front matter of the records.
func parseBare(b *testing.B, files fs.FS) {
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
