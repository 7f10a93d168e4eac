package tables_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/rogpeppe/go-internal/txtar"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// TestNodeSaysTheSame holds the browser's sentences to dating/testdata/sentences.json,
// to which package dating is held as well.
func TestNodeSaysTheSame(t *testing.T) {
	node := need.Node(t)
	var vectors []struct {
		questionJSON
		Want dating.Sentences `json:"want"`
	}
	data, err := os.ReadFile(filepath.Join("..", "testdata", "sentences.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &vectors); err != nil {
		t.Fatal(err)
	}
	input := struct {
		Files     map[string]string `json:"files"`
		Questions []questionJSON    `json:"questions"`
	}{Files: map[string]string{}}
	built, _ := tables.Build(sentencesEngine(t), nil)
	for _, f := range built {
		input.Files[f.Name] = string(f.Data)
	}
	for _, v := range vectors {
		input.Questions = append(input.Questions, v.questionJSON)
	}
	if data, err = json.Marshal(input); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "sentences.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, "testdata/sentences.mjs", engineScript(t), file)
	run.Stderr = os.Stderr
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got []dating.Sentences
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	for i, v := range vectors {
		if diff := cmp.Diff(v.Want, got[i], cmpopts.IgnoreUnexported(dating.Expectation{})); diff != "" {
			t.Errorf("%v %v, in the browser:\n%s", v.Models, v.Observed, diff)
		}
	}
}

// sentencesEngine is the reference that the vectors ask.
func sentencesEngine(t *testing.T) *dating.Engine {
	t.Helper()
	archive, err := txtar.ParseFile(filepath.Join("..", "testdata", "words", "reference.txt"))
	if err != nil {
		t.Fatal(err)
	}
	folder := fstest.MapFS{}
	for _, f := range archive.Files {
		folder[f.Name] = &fstest.MapFile{Data: f.Data, Mode: 0o644}
	}
	ref, problems, err := schema.ReadFS(folder, "words")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))
}
