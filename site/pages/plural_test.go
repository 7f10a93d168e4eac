package pages_test

import (
	"bytes"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"yearmark/testdata/need"
)

// counted are the nouns that pages put numbers before, in the plural.
const counted = `(?:different |further |more |other |new )?(?:claims|citations|sources|witnesses|bows|bows examined|models|makers|features|values|records|examples|errors|warnings|notes|pieces|places|pages|pictures|photographs|questions|years|others|readings|voices|editions|findings|members|lines|bits|ways|decibans)`

// wrongNumber finds "1 sources", and a singular after any other whole number.
var wrongNumber = regexp.MustCompile(`(?:^|[\s(])1 ` + counted + `\b|(?:^|[\s(])(?:0|[2-9]|[1-9][0-9]{1,2}) (?:claim|citation|source|witness|bow|model|maker|feature|value|record|example|warning|piece|photograph|question|voice|finding)(?:[.,;:)]| (?:on|of|in|is|was|has|that|and|about|rests|cite)|$)`)

// TestNumbersAgreeWithTheirNouns reads every page as text, block by block.
func TestNumbersAgreeWithTheirNouns(t *testing.T) {
	for _, bad := range []string{"1 sources", "on 1 bows", "2 claim.", "(12 source)"} {
		if !wrongNumber.MatchString(bad) {
			t.Errorf("%q is not found", bad)
		}
	}
	blocks, list := 0, documents(t)
	small, err := siteOf(filepath.Join(need.Root(t), "builder", "starter", "files"), nil) // of most things it has one
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range small.site.Paths() {
		if path.Ext(p) != ".html" {
			continue
		}
		data, err := small.site.Render(p)
		if err != nil {
			t.Fatal(err)
		}
		tree, err := html.Parse(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, document{path: "starter/" + p, tree: tree})
	}
	for _, d := range list {
		for n := range d.tree.Descendants() {
			if n.Type != html.ElementNode || !strings.Contains(" p li dd dt td th h1 h2 h3 summary figcaption span a label ", " "+n.Data+" ") {
				continue
			}
			if underQuote(n) {
				continue // other people's words
			}
			blocks++
			text := strings.Join(strings.Fields(textOf(n)), " ")
			if m := wrongNumber.FindString(text); m != "" {
				t.Errorf("%s: %q in %.100q", d.path, m, text)
			}
		}
	}
	if blocks < 5000 {
		t.Errorf("only %d blocks read", blocks)
	}
}

func underQuote(n *html.Node) bool {
	for a := n; a != nil; a = a.Parent {
		if a.Data == "blockquote" || a.Data == "pre" || hasClass(a, "transcript") || hasClass(a, "chroma") {
			return true
		}
	}
	return false
}
