package pages_test

import (
	"fmt"
	"html"
	"regexp"
	"strings"
	"testing"
)

var tags = regexp.MustCompile(`<[^>]*>`)

// proofOf is the text behind a claim of the model in a reference of sources.
func proofOf(t *testing.T, claim string, sources map[string]string) string {
	t.Helper()
	files := map[string]string{
		"makers/works.md":    "---\nrecord: maker\nname: Works\n---\n",
		"features/socket.md": "---\nrecord: feature\nname: Socket\nkind: presence\n---\n",
		"models/m.md":        "---\nrecord: model\nname: M\nmaker: works\nmade: {span: 1955/1960, cites: [list]}\nfeatures:\n  - {id: c, feature: socket, value: present, span: 1956/1960, " + claim + "}\n---\n",
	}
	for id, keys := range sources {
		files["sources/"+id+".md"] = "---\nrecord: source\nname: The " + id + "\n" + keys + "\n---\n"
	}
	page, err := small(t, files).Render("models/m.html")
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := strings.Cut(string(page), `<li class="claim" id="c"`)
	if !found {
		t.Fatal("the claim is not on the page")
	}
	text, _, _ := strings.Cut(after, "</details>")
	return strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(text, " "))), " ")
}

// What a page says of copying is what a record states: of the place only where
// it stands there, and of nobody that they are an origin who are none.
func TestWhatIsSaidOfSources(t *testing.T) {
	sources := map[string]string{
		"list": "kind: price-list", "letter": "kind: letter",
		"book":     "kind: book\nrelies-on: [letter]\nplaces:\n  - {at: p. 2, own: true}\n  - {at: p. 3, relies-on: [list]}\n  - {at: p. 4, hedge: unsure}\n  - {at: p. 5, corrected-at: p. 6}",
		"bulletin": "kind: article\nrelies-on: [letter]", "page": "kind: web\nrelies-on: [echo]", "echo": "kind: web\nrelies-on: [page]",
	}
	for _, row := range []struct {
		claim       string
		say, notSay []string
	}{
		{`cites: ["book, p. 9"]`, []string{"as above (book, believed 0.64) , which relies on The letter", "Believed 0.64: 1 independent witness."}, []string{"took it"}},
		{`cites: ["book, page 3"]`, []string{"(book, believed 0.82) , p. 3 took it from The list"}, []string{"relies on"}},
		{`cites: ["book, pp. 2-3"]`, []string{"(book, p. 2 the writer’s own, believed 0.85) , p. 3 took it from The list"}, []string{"relies on"}},
		{`cites: ["book, p. 4"]`, []string{"unsure, in its own words", "believed 0.32"}, []string{"took it"}},
		{`cites: ["book, p. 5"]`, []string{"a slip, mended at p. 6, which counts for nothing", "Believed 0.00: no independent witness."}, nil},
		{`cites: [page, echo]`, []string{"relies only on sources that rely on each other, which counts for nothing", "Believed 0.00"}, []string{"took it", "origin"}},
		// what is cited twice is shown once, and what there is to say of a lone witness is said once
		{`cites: ["list, p. 1"]`, []string{"The list, p. 1 1 witness Believed 0.97: 1 independent witness, a price list."}, []string{"Who says so"}},
		{`cites: ["list, p. 1", letter], attested: [{year: 1957, cites: ["list, p. 1"]}, {year: 1958, cites: ["list, p. 1"]}]`, []string{"as above (price list, seen in 1957 and 1958, believed 0.97) The letter (letter, believed 0.75) Believed"}, nil},
		// three citations that go back to one letter
		{`cites: [list], against: [letter, bulletin, "book, p. 9"], settled: {because: x}`, []string{"1 for, 1 against", "Believed 0.97: 1 independent witness, 1 against"}, nil},
		{`cites: ["list, p. 1"], against: ["list, p. 2"], disputed: true`, []string{"a source that is cited for more than one side being right about one of them only"}, nil},
	} {
		text := proofOf(t, row.claim, sources)
		for _, want := range row.say {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not say %q: %s", row.claim, want, text)
			}
		}
		for _, not := range row.notSay {
			if strings.Contains(text, not) {
				t.Errorf("%s says %q: %s", row.claim, not, text)
			}
		}
	}
}

// Too many sources shared at once to reckon exactly: the page says so.
func TestAnEstimateIsSaidToBeOne(t *testing.T) {
	sources, cites := map[string]string{"list": "kind: price-list"}, []string{}
	for i := range 40 {
		sources[fmt.Sprintf("letter-%d", i)] = "kind: letter"
	}
	for b := range 40 {
		var below []string
		for i := range 40 {
			if (7919*i+104729*b+31*i*b*(i+b))%97 < 50 {
				below = append(below, fmt.Sprintf("letter-%d", i))
			}
		}
		id := fmt.Sprintf("book-%d", b)
		sources[id] = "kind: book\nrelies-on: [" + strings.Join(below, ", ") + "]"
		cites = append(cites, id)
	}
	if text := proofOf(t, "cites: ["+strings.Join(cites, ", ")+"]", sources); !strings.Contains(text, "This is an estimate by the likeliest ways back") {
		t.Errorf("it does not say so: %.600s", text)
	}
}
