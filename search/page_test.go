package search

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"yearmark/schema/edtf"
	"yearmark/testdata/need"
)

// The page's engine, asked from Go.

// pageQuery is a query as the page's engine takes it.
type pageQuery struct {
	Words    string   `json:"words"`
	Typing   bool     `json:"typing"`
	Kinds    []string `json:"kinds,omitempty"`
	Maker    string   `json:"maker,omitempty"`
	Model    string   `json:"model,omitempty"`
	Features []string `json:"features,omitempty"`
	Years    []int    `json:"years,omitempty"`
	Limit    int      `json:"limit,omitempty"`
	Offset   int      `json:"offset,omitempty"`
}

func asPageQuery(q Query) *pageQuery {
	p := &pageQuery{q.Words, q.Typing, q.Kinds, q.Maker, q.Model, q.Features, nil, q.Limit, q.Offset}
	if q.Years != (edtf.Range{}) {
		p.Years = []int{q.Years.First, q.Years.Last}
	}
	return p
}

// pageQuestion is one thing asked of the page's engine.
type pageQuestion struct {
	Find    *pageQuery `json:"find,omitempty"`
	Suggest *string    `json:"suggest,omitempty"`
	Limit   int        `json:"limit,omitempty"`
	Facets  *pageQuery `json:"facets,omitempty"`
	Names   []string   `json:"names,omitempty"`
}

// pageAnswer is what it answered.
type pageAnswer struct {
	Total     int
	Hits      []pageHit
	Corrected []Corrected
	Near      []string
	Ignored   []string
	Bytes     int
}

type pageHit struct {
	Kind, ID, Title, About, Address string
	Score                           float64
	Claims                          []HitClaim
	Marks                           struct{ Title, About [][2]int }
}

// writeShards writes an index's files and gives the folder and the name of the root.
func writeShards(t testing.TB, ix *Index) (folder, root string) {
	t.Helper()
	files, err := ix.Shards(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return writeFiles(t, files)
}

// writeMadeShards writes the files of the made reference.
func writeMadeShards(t testing.TB) (folder, root string) {
	t.Helper()
	files, err := madeFiles()
	if err != nil {
		t.Fatal(err)
	}
	return writeFiles(t, files)
}

func writeFiles(t testing.TB, files []File) (folder, root string) {
	t.Helper()
	folder = t.TempDir()
	for _, f := range files {
		path := filepath.Join(folder, f.Name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, f.Data(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder, files[0].Name
}

// page answers questions with the page's engine in Node, and unmarshals the answers into T.
// cold loads everything anew for each question.
type page struct {
	folder, root string
	cold         bool
}

// timed is an answer and how long it took, in milliseconds.
type timed[T any] struct {
	Ms     float64
	Answer T
}

func ask[T any](t testing.TB, p page, questions []pageQuestion) []timed[T] {
	t.Helper()
	node := need.Node(t)
	here := filepath.Join(need.Root(t), "search", "testdata", "answer.mjs")
	task, err := json.Marshal(map[string]any{
		"engine": filepath.Join(need.Root(t), "site", "assets", "js", "search", "engine.js"),
		"folder": p.folder, "root": p.root, "questions": questions, "cold": p.cold,
	})
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, here)
	run.Stdin = bytes.NewReader(task)
	var told bytes.Buffer
	run.Stderr = &told
	out, err := run.Output()
	if err != nil {
		t.Fatalf("the page's engine failed: %v\n%s", err, told.Bytes())
	}
	var answers []timed[T]
	if err := json.Unmarshal(out, &answers); err != nil {
		t.Fatal(err)
	}
	if len(answers) != len(questions) {
		t.Fatalf("got %d answers to %d questions", len(answers), len(questions))
	}
	return answers
}

// disagreement tells how the page's answer differs from Bleve's, or nothing, and
// the greatest relative difference of scores.
func disagreement(want Result, got pageAnswer) (string, float64) {
	worst := 0.0
	if got.Total != want.Total {
		return "the totals differ", worst
	}
	if len(got.Hits) != len(want.Hits) {
		return "the numbers of hits differ", worst
	}
	for i, h := range want.Hits {
		g := got.Hits[i]
		if g.Address != h.Address {
			return "the hits differ", worst
		}
		worst = max(worst, math.Abs(g.Score-h.Score)/h.Score)
		if g.Kind != h.Kind || g.ID != h.ID || g.Title != h.Title || g.About != h.About {
			return "what is shown of a hit differs", worst
		}
		if !slices.Equal(g.Claims, h.Claims) {
			return "the claims differ", worst
		}
	}
	if !slices.EqualFunc(got.Corrected, want.Corrected, func(a, b Corrected) bool { return a.Word == b.Word && slices.Equal(a.Used, b.Used) }) {
		return "the corrections differ", worst
	}
	if !slices.Equal(got.Near, want.Near) {
		return "the near words differ", worst
	}
	if !slices.Equal(got.Ignored, want.Ignored) {
		return "the words left out differ", worst
	}
	return "", worst
}
