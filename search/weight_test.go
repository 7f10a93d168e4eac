package search

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"yearmark/testdata/need"
)

// What a visitor may have to download before the first answer, at the 95th
// percentile of the generated questions.
const (
	mostAtTenThousand     = 100_000
	mostAtHundredThousand = 150_000
)

// TestWeightOfAnAnswer weighs the files that a first answer loads, the root with them, from 10,000
// documents. They are packed already: what is counted is what travels.
func TestWeightOfAnAnswer(t *testing.T) {
	need.Node(t)
	folder, root := writeMadeShards(t)
	weights, _ := firstAnswers(t, page{folder: folder, root: root, cold: true}, madeDocs(), 400)
	t.Logf("%d bytes at the median, %d at the 95th percentile", at(weights, 50), at(weights, 95))
	if at(weights, 95) > mostAtTenThousand {
		t.Errorf("the 95th percentile is %d bytes, want at most %d", at(weights, 95), mostAtTenThousand)
	}
}

// firstAnswers asks n generated questions, each of a page that has loaded
// nothing, and gives the bytes loaded and the milliseconds of scripting, ascending.
func firstAnswers(t testing.TB, p page, docs []Document, n int) (weights []int, times []float64) {
	t.Helper()
	var list []pageQuestion
	for _, q := range questions(docs, n) {
		list = append(list, pageQuestion{Find: asPageQuery(q)})
	}
	for _, a := range ask[pageAnswer](t, p, list) {
		weights = append(weights, a.Answer.Bytes)
		times = append(times, a.Ms)
	}
	slices.Sort(weights)
	slices.Sort(times)
	return weights, times
}

// at is the value at a percentile of an ascending list.
func at[T any](list []T, percent int) T { return list[(len(list)-1)*percent/100] }

// BenchmarkWeight reports what a first answer loads and how long its scripting takes, and at
// 1,000 and 10,000 documents how many times as much libraries that load a whole index do.
// Their size grows with the documents; at 100,000 they take minutes and gigabytes to build.
func BenchmarkWeight(b *testing.B) {
	for _, size := range []struct {
		name  string
		docs  int
		most  int
		whole bool
	}{{"1000", 1000, mostAtTenThousand, true}, {"10000", 10_000, mostAtTenThousand, true}, {"100000", 100_000, mostAtHundredThousand, false}} {
		b.Run(size.name, func(b *testing.B) {
			docs := made(size.docs)
			ix := build(b, docs)
			folder, root := writeShards(b, ix)
			var weights []int
			var times []float64
			for b.Loop() {
				weights, times = firstAnswers(b, page{folder: folder, root: root, cold: true}, docs, 600)
			}
			if at(weights, 95) > size.most {
				b.Errorf("the 95th percentile is %d bytes, want at most %d", at(weights, 95), size.most)
			}
			b.ReportMetric(float64(at(weights, 50)), "bytes-p50")
			b.ReportMetric(float64(at(weights, 95)), "bytes-p95")
			b.ReportMetric(at(times, 50), "script-ms-p50")
			b.ReportMetric(at(times, 95), "script-ms-p95")
			if size.whole {
				for name, weight := range wholeIndexes(b, docs) {
					b.ReportMetric(float64(weight)/float64(at(weights, 95)), name+"-ratio")
				}
			}
		})
	}
}

// wholeIndexes gives the bytes after gzip -9 of the indexes of libraries that load them whole.
func wholeIndexes(t testing.TB, docs []Document) map[string]int {
	t.Helper()
	npm := need.Npm(t, "minisearch", "lunr", "flexsearch")
	type document struct {
		ID    int    `json:"id"`
		Title string `json:"title"`
		Text  string `json:"text"`
	}
	list := make([]document, len(docs))
	for i, d := range docs {
		list[i] = document{i, d.Title, d.Text}
	}
	task, err := json.Marshal(map[string]any{"npm": npm, "docs": list})
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(need.Node(t), "--max-old-space-size=8192", filepath.Join(need.Root(t), "search", "testdata", "whole.mjs"))
	run.Stdin = bytes.NewReader(task)
	var told bytes.Buffer
	run.Stderr = &told
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, told.Bytes())
	}
	var weights map[string]int
	if err := json.Unmarshal(out, &weights); err != nil {
		t.Fatal(err)
	}
	return weights
}
