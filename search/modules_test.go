package search

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"yearmark/schema/edits"
	"yearmark/search/bits"
	"yearmark/search/words"
	"yearmark/testdata/need"
)

// split asks the page's modules by search/testdata/split.mjs.
func split[T any](t *testing.T, task map[string]any) []T {
	t.Helper()
	node := need.Node(t)
	task["module"] = filepath.Join(need.Root(t), "site", "assets", "js", "search")
	data, err := json.Marshal(task)
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, filepath.Join(need.Root(t), "search", "testdata", "split.mjs"))
	run.Stdin = bytes.NewReader(data)
	var told bytes.Buffer
	run.Stderr = &told
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, told.Bytes())
	}
	var list []T
	if err := json.Unmarshal(out, &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// pageToken is a token as the page's module gives it.
type pageToken struct {
	Term, Word, Said string
	Pos              int
	Kind             words.Kind
}

// TestPageSplitsAlike holds the page's module to Go's package on the shared vectors, on texts of
// the made reference, and on texts made of signs that mean something to either.
func TestPageSplitsAlike(t *testing.T) {
	var texts []string
	data, err := os.ReadFile("testdata/split.json")
	if err != nil {
		t.Fatal(err)
	}
	var vectors []struct{ Text string }
	if err := json.Unmarshal(data, &vectors); err != nil {
		t.Fatal(err)
	}
	for _, v := range vectors {
		texts = append(texts, v.Text)
	}
	for _, d := range made(40) {
		texts = append(texts, d.Title, d.Text)
	}
	rng := rand.New(rand.NewPCG(3, 4))
	pieces := strings.Fields("a h H km plover's o'neil take the 7 24 1965 1/4 ¼ 7¼ . .. - – / , ' '' \" ″ # in lb to inches 0.50 1,200 ﬁ ß É Ⅳ ² ١ 東京 é 𝔸 x35 s B")
	for range 4000 {
		var b strings.Builder
		for range 1 + rng.IntN(9) {
			b.WriteString(pieces[rng.IntN(len(pieces))])
			if rng.IntN(3) == 0 {
				b.WriteString(strings.Repeat(" ", 1+rng.IntN(2)))
			}
			if rng.IntN(12) == 0 {
				b.WriteByte('\n')
			}
		}
		texts = append(texts, b.String())
	}
	answers := split[[]pageToken](t, map[string]any{"texts": texts})
	for i, text := range texts {
		var want []pageToken
		for _, w := range words.Split(text) {
			want = append(want, pageToken{w.Term, w.Word, text[w.Start:w.End], w.Pos, w.Kind})
		}
		if !slices.Equal(answers[i], want) {
			t.Errorf("%q:\npage %+v\n  go %+v", text, answers[i], want)
		}
	}
}

// TestPageFoldsAlike compares every character of the first two planes. Go and Node know
// different editions of Unicode: characters that Go's does not have are let pass.
func TestPageFoldsAlike(t *testing.T) {
	answers := split[string](t, map[string]any{"fold": true})
	i, compared := 0, 0
	for r := rune(0x80); r <= 0x1ffff; r++ {
		if r >= 0xd800 && r <= 0xdfff {
			continue
		}
		want := words.Folded(r)
		for _, f := range words.Folded(r) {
			if words.IsLetter(f) {
				want += "L"
			} else {
				want += "."
			}
		}
		got := answers[i]
		i++
		if !unicode.In(r, unicode.L, unicode.M, unicode.N, unicode.P, unicode.S, unicode.Z, unicode.Cc, unicode.Cf, unicode.Co) {
			continue
		}
		compared++
		if got != want {
			t.Errorf("%U: page %q, go %q", r, got, want)
		}
	}
	if compared < 80_000 {
		t.Errorf("only %d characters were compared", compared)
	}
}

// TestPageStemsAlike holds the page's stemmer to Bleve's over the words of the made
// reference, the words of the demonstration, and words put together from the endings of the rules.
func TestPageStemsAlike(t *testing.T) {
	list := append(slices.Clone(vocabulary().words), words.IrregularForms()...)
	for _, d := range demonstration(t) {
		for _, token := range words.Split(d.Title + "\n" + d.Text) {
			if token.Word != "" {
				list = append(list, token.Word)
			}
		}
	}
	endings := strings.Fields("ational tional enci anci izer bli alli entli eli ousli ization ation ator alism iveness fulness ousness aliti iviti biliti logi icate ative alize iciti ical ful ness al ance ence er ic able ible ant ement ment ent sion tion ion ou ism ate iti ous ive ize e s es ies ed ing eed y ll lls at bl iz")
	for _, start := range strings.Fields("a b ab y by tr ba bab babab yay cay tax bow snow hop fall tro éc σοφ 𝔸 ox") {
		for _, one := range endings {
			list = append(list, start+one)
			for _, two := range endings {
				list = append(list, start+one+two)
			}
		}
	}
	for i, got := range split[string](t, map[string]any{"stem": list}) {
		if want := words.Stem(list[i]); got != want {
			t.Errorf("%s: page %s, go %s", list[i], got, want)
		}
	}
}

func TestPageHasTheSameWordsOfGrammar(t *testing.T) {
	list := split[string](t, map[string]any{"stops": true})
	for _, w := range list {
		if !words.IsStop(w) {
			t.Errorf("%s is a word of grammar on the page only", w)
		}
	}
	if len(list) != words.StopCount() {
		t.Errorf("the page has %d words of grammar, Go %d", len(list), words.StopCount())
	}
}

func TestPageMeasuresDistanceAlike(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	letters := func() string {
		b := make([]byte, rng.IntN(7))
		for i := range b {
			b[i] = byte('a' + rng.IntN(3))
		}
		return string(b)
	}
	var cases [][3]any
	for range 3000 {
		cases = append(cases, [3]any{letters(), letters(), 1 + rng.IntN(3)})
	}
	for i, got := range split[int](t, map[string]any{"distances": cases}) {
		a, b, limit := cases[i][0].(string), cases[i][1].(string), cases[i][2].(int)
		if want := edits.Distance([]rune(a), []rune(b), limit); got != want {
			t.Errorf("%s, %s within %d: page %d, go %d", a, b, limit, got, want)
		}
	}
}

// TestPageUnpacks has the page unpack what Go packs: texts, noise, runs, all lengths.
func TestPageUnpacks(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	var files, packed [][]byte
	for i := range 300 {
		data := make([]byte, rng.IntN(1+i*40))
		for j := range data {
			data[j] = byte(rng.IntN(1 + i))
		}
		files = append(files, data, bytes.Repeat(data, 3), []byte(strings.Repeat("oval mark ", i)))
	}
	for _, d := range made(30) {
		files = append(files, []byte(d.Text), []byte(strings.Repeat(d.Text, 40)))
	}
	for _, f := range files {
		packed = append(packed, bits.Pack(f))
	}
	for i, got := range split[[]byte](t, map[string]any{"packed": packed}) {
		if !bytes.Equal(got, files[i]) {
			t.Errorf("file %d of %d bytes comes back as %d", i, len(files[i]), len(got))
		}
	}
}
