package dating_test

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"yearmark/dating"
)

// sentenceVector is a question to the reference of testdata/words, and its
// answer in words. The browser's half is held to the same file in dating/tables.
type sentenceVector struct {
	Models   []string             `json:"models"`
	Observed []dating.Observation `json:"observed"`
	Want     dating.Sentences     `json:"want"`
}

// TestSentences holds answers in words against testdata/sentences.json; -update rewrites what it wants.
func TestSentences(t *testing.T) {
	const file = "testdata/sentences.json"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var vectors []sentenceVector
	if err := json.Unmarshal(data, &vectors); err != nil {
		t.Fatal(err)
	}
	e := wordsEngine(t)
	contradictions := 0
	for i, v := range vectors {
		a, err := e.Date(dating.Question{Models: v.Models, Observed: v.Observed})
		if err != nil {
			t.Fatal(err)
		}
		got := a.Sentences()
		contradictions += len(got.Conflicts) / 2
		if diff := cmp.Diff(v.Want, got, cmpopts.IgnoreUnexported(dating.Expectation{})); diff != "" && !*update {
			t.Errorf("%v %v:\n%s", v.Models, v.Observed, diff)
		}
		vectors[i].Want = got
	}
	if len(vectors) < 30 || contradictions < 8 {
		t.Errorf("%d questions, %d of them contradict: too few", len(vectors), contradictions)
	}
	if !*update {
		return
	}
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetIndent("", " ")
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(vectors); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
