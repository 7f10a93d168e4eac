package pages_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"yearmark/testdata/need"
)

// sentenceEnd is where one sentence ends and the next begins.
var sentenceEnd = regexp.MustCompile(`([.:]) (?:[A-Z]|$)`)

// oddsSentences are the sentences of the page of the odds, in order.
func oddsSentences(t *testing.T) []string {
	t.Helper()
	data, err := demonstration(t).Render("odds.html")
	if err != nil {
		t.Fatal(err)
	}
	root, err := html.Parse(strings.NewReader(string(data)))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for n := range root.Descendants() {
		class, _ := attribute(n, "class")
		if n.Type != html.ElementNode || n.Data != "p" && class != "under" || within(n, "header", "footer", "nav") {
			continue
		}
		text := strings.Join(strings.Fields(wordsOf(n)), " ")
		for text != "" {
			at := sentenceEnd.FindStringSubmatchIndex(text)
			if at == nil || text[at[2]] == ':' {
				all = append(all, text)
				break
			}
			all, text = append(all, text[:at[3]]), strings.TrimSpace(text[at[3]:])
		}
	}
	return all
}

func within(n *html.Node, names ...string) bool {
	for p := n.Parent; p != nil; p = p.Parent {
		for _, name := range names {
			if p.Data == name {
				return true
			}
		}
	}
	return false
}

func wordsOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

// TestEverySentenceOfTheOddsIsTried holds the page of the odds against
// testdata/odds-sentences.txt, where each sentence stands with the test that
// fails if it is untrue, or as judgement. Figures of the records are stars there.
func TestEverySentenceOfTheOddsIsTried(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "odds-sentences.txt"))
	if err != nil {
		t.Fatal(err)
	}
	type entry struct {
		form *regexp.Regexp
		text string
		used bool
	}
	var entries []*entry
	for line := range strings.Lines(string(data)) {
		text, by, ok := strings.Cut(strings.TrimSpace(line), " | ")
		if !ok {
			continue
		}
		pattern := strings.ReplaceAll(regexp.QuoteMeta(text), `\*`, `.+?`)
		entries = append(entries, &entry{form: regexp.MustCompile("^" + pattern + "$"), text: text})
		for name := range strings.SplitSeq(by, ", ") {
			if name != "judgement" && !testExists(t, name) {
				t.Errorf("%q is held by %s, which is no test", text, name)
			}
			if name == "judgement" && !regexp.MustCompile(`(?i)judgement|we take it|what this page|it asks|Sources:`).MatchString(text) {
				t.Errorf("%q is judgement and does not say so", text)
			}
		}
	}
	for _, s := range oddsSentences(t) {
		found := false
		for _, e := range entries {
			if e.form.MatchString(s) {
				e.used, found = true, true
			}
		}
		if !found {
			t.Errorf("no test is named for %q", s)
		}
	}
	for _, e := range entries {
		if !e.used {
			t.Errorf("the page does not say %q", e.text)
		}
	}
}

// testExists says whether "dating TestVectors/priors" is there.
func testExists(t *testing.T, name string) bool {
	t.Helper()
	folder, test, ok := strings.Cut(name, " ")
	if !ok {
		return false
	}
	test, part, _ := strings.Cut(test, "/")
	folder = filepath.Join(need.Root(t), filepath.FromSlash(folder))
	files, _ := filepath.Glob(filepath.Join(folder, "*_test.go"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil || !strings.Contains(string(data), "\nfunc "+test+"(") {
			continue
		}
		if part == "" || strings.Contains(string(data), strings.ReplaceAll(part, "_", " ")) {
			return true
		}
		if _, err := os.Stat(filepath.Join(folder, "testdata", "vectors", part+".txt")); err == nil {
			return true
		}
	}
	return false
}
