//go:build unix

package builder_test

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/blevesearch/bleve/v2"
	_ "github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	_ "github.com/blevesearch/bleve/v2/analysis/lang/en"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/yuin/goldmark"
	"go.yaml.in/yaml/v3"
	"golang.org/x/sys/unix"

	"yearmark/builder"
	"yearmark/search"
	"yearmark/testdata/made"
)

// BenchmarkPublish publishes made references, and does beside it, in the same
// run, what no publisher of the same records could leave out: read the files,
// YAML to nodes, Markdown to HTML, the same pages written, the same documents
// indexed by Bleve in memory. Both use every processor. It reports
//
//	ratio      publish to the bare sum, by the clock
//	cpu-ratio  the same by processor time, which a busy machine disturbs less
//
// and the seconds of either and of each bare part.
func BenchmarkPublish(b *testing.B) {
	for _, pages := range []int{1000, 10_000} {
		b.Run(fmt.Sprint(pages), func(b *testing.B) {
			folder := filepath.Join(b.TempDir(), "reference")
			dir := memoryDir(b, 1<<30)
			if err := made.Write(folder, made.Options{Pages: pages, Seed: 1}); err != nil {
				b.Fatal(err)
			}
			var bare, ours clock
			for b.Loop() {
				scratch, err := os.MkdirTemp(dir, "round-")
				if err != nil {
					b.Fatal(err)
				}
				site := filepath.Join(scratch, "site")
				ours.run(b, "publish", func() { publish(b, folder, site) })
				bareWorkOf(b, &bare, folder, site, filepath.Join(scratch, "bare"))
				if err := os.RemoveAll(scratch); err != nil {
					b.Fatal(err)
				}
			}
			for _, part := range bare.parts {
				b.ReportMetric(part.wall.Seconds()/float64(b.N), part.name+"-s")
			}
			b.ReportMetric(bare.wall().Seconds()/float64(b.N), "bare-s")
			b.ReportMetric(ours.wall().Seconds()/float64(b.N), "publish-s")
			b.ReportMetric(ours.wall().Seconds()/bare.wall().Seconds(), "ratio")
			b.ReportMetric(ours.cpu().Seconds()/bare.cpu().Seconds(), "cpu-ratio")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// memoryDir is a folder in memory where the system has one with so much room,
// else any. A disk still clearing away what earlier rounds deleted writes many
// times slower, now in one half of the measurement and now in the other.
func memoryDir(b *testing.B, room uint64) string {
	b.Helper()
	const memory = "/dev/shm"
	var has unix.Statfs_t
	if err := unix.Statfs(memory, &has); err != nil || uint64(has.Bavail)*uint64(has.Bsize) < room {
		return b.TempDir()
	}
	dir, err := os.MkdirTemp(memory, "yearmark-bench-")
	if err != nil {
		return b.TempDir()
	}
	b.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

// publish does what the command does.
func publish(b testing.TB, folder, to string) {
	study, err := builder.Open(context.Background(), folder)
	if err != nil {
		b.Fatal(err)
	}
	if n := reportOf(b, study).Counts.Error; n > 0 {
		b.Fatalf("the made reference has %d errors: %s", n, reportOf(b, study).Findings[0].Message)
	}
	if _, err := study.Publish(context.Background(), to, func(int) {}); err != nil {
		b.Fatal(err)
	}
}

// clock adds up what is measured, part by part.
type clock struct{ parts []part }

type part struct {
	name      string
	wall, cpu time.Duration
}

func (c *clock) run(b *testing.B, name string, do func()) {
	b.Helper()
	runtime.GC()
	debug.FreeOSMemory()
	start, used := time.Now(), cpuTime(b)
	do()
	took := part{name, time.Since(start), cpuTime(b) - used}
	fmt.Fprintf(os.Stderr, "  %-10s %7.2f s, %7.2f s of processor\n", name, took.wall.Seconds(), took.cpu.Seconds())
	for i := range c.parts {
		if c.parts[i].name == name {
			c.parts[i].wall += took.wall
			c.parts[i].cpu += took.cpu
			return
		}
	}
	c.parts = append(c.parts, took)
}

func (c *clock) wall() (sum time.Duration) {
	for _, p := range c.parts {
		sum += p.wall
	}
	return sum
}

func (c *clock) cpu() (sum time.Duration) {
	for _, p := range c.parts {
		sum += p.cpu
	}
	return sum
}

// cpuTime is the processor time that this process has used.
func cpuTime(b *testing.B) time.Duration {
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		b.Fatal(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// bareWorkOf does the bare parts for a reference and its site, and writes the
// site's pages once more, to a new folder.
func bareWorkOf(b *testing.B, took *clock, folder, site, to string) {
	todo := takeApart(b, folder, site)
	took.run(b, "read", func() { todo.read(b, folder) })
	took.run(b, "yaml", func() { todo.yaml(b) })
	took.run(b, "goldmark", func() { todo.markdown(b) })
	took.run(b, "write", func() { todo.write(b, to) })
	took.run(b, "bleve", func() { todo.index(b) })
}

// bareWork is what the bare parts work on.
type bareWork struct {
	files  []string
	front  [][]byte
	bodies [][]byte
	pages  map[string][]byte
	docs   []search.Document
}

// takeApart prepares the bare parts' work, unmeasured.
func takeApart(b *testing.B, folder, site string) *bareWork {
	w := &bareWork{pages: map[string][]byte{}}
	study, err := builder.Open(context.Background(), folder)
	if err != nil {
		b.Fatal(err)
	}
	w.docs = search.Documents(study.Ref, study.Timeline.Years)
	for _, r := range study.Ref.Records() {
		w.files = append(w.files, r.Header().File)
	}
	err = filepath.WalkDir(site, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(path, ".html") {
			return err
		}
		name, err := filepath.Rel(site, path)
		if err != nil {
			return err
		}
		w.pages[name], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	return w
}

func (w *bareWork) read(b *testing.B, folder string) {
	w.front, w.bodies = make([][]byte, len(w.files)), make([][]byte, len(w.files))
	together(len(w.files), func(i int) {
		data, err := os.ReadFile(filepath.Join(folder, w.files[i]))
		if err != nil {
			b.Error(err)
			return
		}
		front, body, _ := bytes.Cut(bytes.TrimPrefix(data, []byte("---\n")), []byte("\n---\n"))
		w.front[i], w.bodies[i] = front, body
	})
}

func (w *bareWork) yaml(b *testing.B) {
	together(len(w.front), func(i int) {
		var node yaml.Node
		if err := yaml.Unmarshal(w.front[i], &node); err != nil {
			b.Error(err)
		}
	})
}

func (w *bareWork) markdown(b *testing.B) {
	md := goldmark.New()
	together(len(w.bodies), func(i int) {
		var out bytes.Buffer
		if err := md.Convert(w.bodies[i], &out); err != nil {
			b.Error(err)
		}
	})
}

func (w *bareWork) write(b *testing.B, to string) {
	var names []string
	for name := range w.pages {
		names = append(names, name)
		if err := os.MkdirAll(filepath.Join(to, filepath.Dir(name)), 0o755); err != nil {
			b.Fatal(err)
		}
	}
	together(len(names), func(i int) {
		if err := os.WriteFile(filepath.Join(to, names[i]), w.pages[names[i]], 0o644); err != nil {
			b.Error(err)
		}
	})
}

// bareDocument is a document of the search as Bleve's own mapping reads it.
type bareDocument struct {
	Title, Gist, Text, Kind, Maker, Model string
	Features                              []string
	First, Last                           float64
}

// bareMapping maps the fields that the search has, with Bleve's own means.
func bareMapping() *mapping.IndexMappingImpl {
	m := bleve.NewIndexMapping()
	m.ScoringModel = "bm25"
	doc := bleve.NewDocumentStaticMapping()
	field := func(name, analyzer string, places bool) {
		f := bleve.NewTextFieldMapping()
		f.Analyzer, f.Store, f.IncludeTermVectors, f.IncludeInAll, f.DocValues = analyzer, false, places, false, false
		doc.AddFieldMappingsAt(name, f)
	}
	field("Title", "en", false)
	field("Gist", "en", false)
	field("Text", "en", true)
	for _, name := range []string{"Kind", "Maker", "Model", "Features"} {
		field(name, "keyword", false)
	}
	for _, name := range []string{"First", "Last"} {
		f := bleve.NewNumericFieldMapping()
		f.Store, f.IncludeInAll, f.DocValues = false, false, false
		doc.AddFieldMappingsAt(name, f)
	}
	m.DefaultMapping = doc
	return m
}

// index uses batches of 2,500, the fastest of 100, 500, 1,000, 2,500 and 10,000.
func (w *bareWork) index(b *testing.B) {
	engine, err := bleve.NewUsing("", bareMapping(), scorch.Name, scorch.Name, nil)
	if err != nil {
		b.Fatal(err)
	}
	defer engine.Close()
	const size = 2500
	for from := 0; from < len(w.docs); from += size {
		batch := engine.NewBatch()
		for i := from; i < min(from+size, len(w.docs)); i++ {
			d := &w.docs[i]
			doc := bareDocument{Title: d.Title, Gist: d.Summary, Text: d.Title + "\n" + d.Summary + "\n" + d.Text, Kind: d.Kind, Maker: d.Maker, Model: d.Model, First: float64(d.First), Last: float64(d.Last)}
			for _, h := range d.Holds {
				doc.Features = append(doc.Features, h.Key())
			}
			if err := batch.Index(d.Address, doc); err != nil {
				b.Fatal(err)
			}
		}
		if err := engine.Batch(batch); err != nil {
			b.Fatal(err)
		}
	}
}

// together calls do for every number below n on all processors.
func together(n int, do func(i int)) {
	var next atomic.Int64
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	workers.Wait()
}
