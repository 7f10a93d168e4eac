package exports

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// BenchmarkReference makes reference.json of the demonstration, its examples
// not dated, and reports how long that takes against marshalling the same document when it is all there.
func BenchmarkReference(b *testing.B) {
	var folder fs.FS = os.DirFS(filepath.Join(need.Root(b), "content"))
	ref, _, err := schema.ReadFS(folder, "content")
	if err != nil {
		b.Fatal(err)
	}
	f := Facts{Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref)}
	var text bytes.Buffer
	if err := f.reference(&text); err != nil {
		b.Fatal(err)
	}
	var doc Document
	if err := json.Unmarshal(text.Bytes(), &doc); err != nil {
		b.Fatal(err)
	}
	var bare, whole time.Duration
	for b.Loop() {
		start := time.Now()
		if _, err := json.Marshal(doc); err != nil {
			b.Fatal(err)
		}
		bare += time.Since(start)
		start = time.Now()
		text.Reset()
		if err := f.reference(&text); err != nil {
			b.Fatal(err)
		}
		whole += time.Since(start)
	}
	b.ReportMetric(whole.Seconds()/bare.Seconds(), "x-marshalling-alone")
	b.ReportMetric(float64(text.Len())/float64(len(doc.Claims)), "bytes/claim")
}
