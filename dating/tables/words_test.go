package tables_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// patterns are values of a text feature; some are plain words, some RE2.
var patterns = []string{
	"H-24", "No. 24", "Mk. II (target)", "^[AB][0-9]{4}$", `\d+`, `k\d{2,3}|\pL\pL`, "(?i)abc", "(?-i)Abc", `\bA\b.*`, `a\Bb.*`, "(a+)+", "x*", "",
	`[^a-z]+`, ".", "ſ", "ß", "Ü[a-ü]", "(?s).+", "[[:upper:]]+[0-9]?", `\x{1F3F9}+`, "a{0,3}b?c+?", "(?:ab|a)(?:c|bcd)", "(", "K", "^$|z", "^6[4-7]-[0-9]{3}$", `^HS ?\d{4}$`, "^A[- ]?[0-9]+/[A-Z]$", "^[-]$", "^[^a-z]-.$",
}

// texts are what may be seen.
var texts = []string{
	"", "h-24", " H-24 ", "no. 24", "nox 24", "mk. ii  (TARGET)", "A1234", "b0000", "A123", "12", "１２", "k12", "K1234", "éü", "É", "abc", "ABC", "Abc", "a b", "ab",
	"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaab", "aaaa", "S", "s", "ß", "SS", "ẞ", "üä", "ÜÄ", "a\nb", "K", "k", "🏹🏹", "İ", "i", "abcd", "z", "A9", "\u00a0H-24\t", "h 24", "H24", "H–24", "65172", "65 172", "65.172", "hs1234", "HS-1234", "A-12-b", "a12/b", "a 12 B", "-", "--", "Q-1",
}

// figures are ways to write figures and ranges, good and bad.
var figures = []string{
	"42", "7 1/4", "7-1/4", "7¼", "7.25", "1/8", "-1", "+1", "−2", "30..55 lb", "7 1/4..7 3/4 in", "7¼..7¾", "55..30", "1 lb..2 in", "1 in..2 in", "7,25", "",
	"..", "7 1/4/2", "1/0", "5/4", "1 5/4", "7⁄8", "7 7⁄8 in", "¼", "3 ½ in", "12 stones", "1e3", "0x10", "1.", ".5", "00012", "1234567890", "9999999999", "7 1/4 in ", "35#", "35 LB", "１２",
}

type reading struct {
	Ranges []*struct {
		Low, High float64
		Unit      string
	} `json:"ranges"`
	Matches [][]bool `json:"matches"`
	Folded  []int    `json:"folded"`
}

func TestNodeReadsAlike(t *testing.T) {
	got := readInNode(t)
	for i, text := range figures {
		want, err := schema.ParseRange(text)
		r := got.Ranges[i]
		if (err == nil) != (r != nil) {
			t.Errorf("%q: here %v, in the browser %v", text, err, r)
			continue
		}
		if r != nil && (r.Low != want.Low || r.High != want.High || r.Unit != string(want.Unit)) {
			t.Errorf("%q: here %v, in the browser %v", text, want, r)
		}
	}
	for i, p := range patterns {
		if p == "" {
			continue
		}
		domain := wordings(t, p)
		for k, text := range texts {
			outcomes, err := domain.Observed(text)
			if err != nil {
				t.Fatal(err)
			}
			if want := outcomes[0] == 0; got.Matches[i][k] != want {
				t.Errorf("pattern %q on %q: here %v, in the browser %v", p, text, want, got.Matches[i][k])
			}
		}
	}
	// The letters whose small form the two languages' Unicode tables disagree about.
	for _, r := range got.Folded {
		t.Errorf("%q (%U) has another small form in the browser", rune(r), r)
	}
}

// wordings gives the outcomes of a text feature of which one value is claimed.
func wordings(t *testing.T, pattern string) dating.Domain {
	t.Helper()
	e := wordsEngine(t, pattern)
	return e.Features()[0].Domain
}

func wordsEngine(t *testing.T, pattern string) *dating.Engine {
	t.Helper()
	value, err := json.Marshal(pattern)
	if err != nil {
		t.Fatal(err)
	}
	folder := fstest.MapFS{}
	for name, text := range map[string]string{
		"reference.yaml": "name: Words\nyears: 1930/1985\n", "makers/works.md": "---\nrecord: maker\nname: The Works\n---\n",
		"sources/list.md":   "---\nrecord: source\nname: List\nkind: letter\n---\n",
		"features/words.md": "---\nrecord: feature\nname: Words\nkind: text\n---\n",
		"models/m.md":       "---\nrecord: model\nname: M\nmaker: works\nmade: {span: 1950, cites: [list]}\nfeatures:\n  - {feature: words, value: " + string(value) + ", span: 1950, cites: [list]}\n---\n",
	} {
		folder[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	ref, _, err := schema.ReadFS(folder, "words") // patterns that do not compile are problems and are kept
	if err != nil {
		t.Fatal(err)
	}
	return dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))
}

// readInNode reads everything with the browser's half.
func readInNode(t *testing.T) reading {
	t.Helper()
	node := need.Node(t)
	type pattern = json.RawMessage
	input := struct {
		Ranges   []string  `json:"ranges"`
		Patterns []pattern `json:"patterns"`
		Texts    []string  `json:"texts"`
		Folds    [][2]any  `json:"folds"`
	}{Ranges: figures, Texts: texts}
	for _, p := range patterns {
		input.Patterns = append(input.Patterns, shipped(t, p))
	}
	for r := rune(1); r <= 0xffff; r++ {
		if unicode.IsLetter(r) {
			input.Folds = append(input.Folds, [2]any{r, dating.Fold(string(r))})
		}
	}
	data, err := json.Marshal(input)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "words.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, "testdata/words.mjs", engineScript(t), file)
	run.Stderr = os.Stderr
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got reading
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// shipped gives a pattern as the published table has it.
func shipped(t *testing.T, p string) json.RawMessage {
	t.Helper()
	if p == "" {
		return json.RawMessage(`{"text":"\u0000"}`)
	}
	files, _ := tables.Build(wordsEngine(t, p), nil)
	at := slices.IndexFunc(files, func(f tables.File) bool { return strings.HasPrefix(f.Name, "features-") })
	var shards []struct{ Patterns []json.RawMessage }
	if err := json.Unmarshal(files[at].Data, &shards); err != nil || len(shards) != 1 || len(shards[0].Patterns) != 1 {
		t.Fatalf("%q: %v, %s", p, err, files[at].Data)
	}
	return shards[0].Patterns[0]
}

// TestNodeLoads holds the loader and the refusals of the browser's half to testdata/load.mjs.
func TestNodeLoads(t *testing.T) {
	out, err := exec.Command(need.Node(t), "testdata/load.mjs", engineScript(t)).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
}
