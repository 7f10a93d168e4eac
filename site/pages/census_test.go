package pages_test

import (
	"fmt"
	"html"
	"strings"
	"testing"

	"yearmark/schema"
)

// TestCensusCountsWhatIsOnRecord adds the bows up by hand.
func TestCensusCountsWhatIsOnRecord(t *testing.T) {
	d := demonstrationFacts(t)
	models, values, papers := map[string]int{}, map[string]int{}, map[string]int{}
	for _, e := range d.ref.Examples.All() {
		models[e.Model.Value]++
		if e.Documented != nil {
			papers[e.Model.Value]++
		}
		for _, o := range e.Observed {
			if len(o.Value) == 1 && !o.OwnersWork() {
				values[o.Feature.Value+"="+o.Value[0].Value]++
			}
		}
	}
	page, err := d.site.Render("census.html")
	if err != nil {
		t.Fatal(err)
	}
	text := string(page)
	for id, n := range models {
		want := fmt.Sprintf(`<td class="figure">%d</td><td class="figure">%d</td>`, n, papers[id])
		if m, ok := d.ref.Models.Get(id); ok {
			want = fmt.Sprintf(`<a href="%s#Examples">%s</a></th>`, m.Address(), m.Title()) + want
		}
		if !strings.Contains(text, want) {
			t.Errorf("the census does not say %s", want)
		}
	}
	counted := 0
	for _, f := range d.ref.Features.All() {
		if kind := schema.FeatureKind(f.Kind.Value); kind != schema.Choice {
			continue
		}
		feature, err := d.site.Render(f.Address())
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range f.Values {
			n := values[f.ID+"="+v.ID.Value]
			if n == 0 {
				continue
			}
			counted++
			line := fmt.Sprintf(`#value-%s">%s</a></span> <span class="figure">%d</span>`, v.ID.Value, html.EscapeString(capital(f.ValueName(v.ID.Value))), n)
			if !strings.Contains(text, line) {
				t.Errorf("the census does not say %s", line)
			}
			if words := fmt.Sprintf(">%d %s on record<", n, map[bool]string{true: "bow", false: "bows"}[n == 1]); !strings.Contains(string(feature), words) {
				t.Errorf("the page of %s does not say %s", f.ID, words)
			}
		}
	}
	if counted < 20 {
		t.Errorf("only %d values looked for", counted)
	}
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// TestUnreviewedBowsAreMarked: a bow that a visitor sent is shown, says that
// nobody looked it over, shows the visitor's words as text and counts nowhere;
// once looked over it counts.
func TestUnreviewedBowsAreMarked(t *testing.T) {
	const feature = "---\nrecord: feature\nname: Riser wood\nkind: choice\nvalues: [{id: ash, name: Ash}]\n---\n"
	const bow = "---\nrecord: example\nmodel: wren\nobserved:\n  - {feature: riser-wood, value: ash}\nsubmitted:\n  on: 2026-05-01\n%s  note: \"One line.\\n<b>Another</b>\"\n---\n"
	const model = "---\nrecord: model\nname: Wren\nmaker: m\nmade: {span: 1952/1961}\nfeatures:\n  - {feature: riser-wood, value: ash, span: 1952}\n---\n"
	for reviewed, counts := range map[string]string{"": "0 bows are on record", "  reviewed: 2026-05-02\n": "1 bow is on record"} {
		site := small(t, map[string]string{"features/riser-wood.md": feature, "models/wren.md": model, "makers/m.md": "---\nrecord: maker\nname: M\n---\n", "examples/0001.md": fmt.Sprintf(bow, reviewed)})
		has := func(path, words string, want bool) {
			t.Helper()
			page, err := site.Render(path)
			if err != nil || strings.Contains(string(page), words) != want {
				t.Errorf("reviewed %q: %s has %q: %v, want %v; %v", reviewed, path, words, !want, want, err)
			}
		}
		open := reviewed == ""
		has("examples/0001.html", "Not looked over yet", open)
		has("examples/0001.html", "One line.\n&lt;b&gt;Another&lt;/b&gt;", true)
		has("examples/index.html", "not looked over yet", open)
		has("models/wren.html", "not looked over yet", open)
		has("models/wren.html", "<b>0</b> bows examined", open)
		has("features/riser-wood.html", "1 bow on record", !open)
		has("census.html", counts, true)
		has("census.html", "1 more was sent in and not looked over yet, and is not counted", open)
	}
}
