package dating_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"yearmark/dating"
	"yearmark/schema"
)

// practiceRecords: a bow that is a Knot or a Ruff, by its papers of 1962, and what
// practitioners say of both.
var practiceRecords = map[string][]byte{
	"reference.yaml":    []byte("name: Practice\nyears: 1955/1969\n"),
	"makers/works.md":   []byte("---\nrecord: maker\nname: The Works\nlook-first: [{feature: wood, cites: [ledger]}, {feature: mark}]\nnamesakes: [{maker: works-2, tell: \"No oval.\", cites: [word]}, {name: Works of Far, tell: Mallets}]\n---\n"),
	"makers/works-2.md": []byte("---\nrecord: maker\nname: The Works of Near\n---\n"),
	"features/wood.md": []byte("---\nrecord: feature\nname: Wood\nkind: choice\nvalues: [{id: sapele, name: Sapele}, {id: ash, name: Ash}]\n" +
		"means: [{value: ash, says: A second., by: Ann, cites: [word]}, {value: ash, says: Left-handed, cites: [ledger]}, {says: Whatever lay about, cites: [ledger]}]\n---\n"),
	"features/mark.md": []byte("---\nrecord: feature\nname: Mark\nkind: presence\n---\n"),
	"models/knot.md":   []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1960/1963, cites: [ledger]}\nfeatures: [{feature: wood, value: ash, span: 1960/1963, cites: [ledger]}]\n---\n"),
	"models/ruff.md":   []byte("---\nrecord: model\nname: Ruff\nmaker: works\nmade: {span: 1962/1964, cites: [ledger]}\nlook-first: [{feature: mark}]\n---\n"),
	"models/stilt.md":  []byte("---\nrecord: model\nname: Stilt\nmaker: works-2\nmade: {span: 1960/1964, cites: [ledger]}\n---\n"),
	"models/teal.md": []byte("---\nrecord: model\nname: Teal\nmaker: works-3\nmade: {span: 1960/1964, cites: [ledger]}\nfeatures: [{feature: wood, value: ash, span: 1960/1964, cites: [ledger]}]\n" +
		"never-seen: [{feature: wood, value: sapele, of: 30, when: {mark: present}, span: 1961/1962, cites: [word], against: [ledger]}]\n---\n"),
	"makers/works-3.md": []byte("---\nrecord: maker\nname: The Third Works\nnever-seen: [{feature: mark, value: absent, cites: [word]}, {feature: wood, value: sapele, except: [teal], cites: [word]}]\n---\n"),
	"examples/0001.md":  []byte("---\nrecord: example\neither: [knot, ruff]\nobserved: [{feature: wood, value: sapele}]\ndocumented: {span: 1962, cites: [ledger]}\n---\n"),
}

// TestEitherIsDatedOverBothAndTeachesNeither also wants the bow left out of the trial.
func TestEitherIsDatedOverBothAndTeachesNeither(t *testing.T) {
	ref := reference(t, practiceRecords)
	ex, _ := ref.Examples.Get("0001")
	q := dating.QuestionOf(ref, ex)
	a, err := engineOf(t, ref).Date(q)
	if err != nil || !slices.Equal(q.Models, []string{"knot", "ruff"}) {
		t.Fatal(q.Models, err)
	}
	names := map[string]bool{}
	for _, o := range a.Odds {
		names[o.Model] = true
	}
	if len(names) != 2 || !names["knot"] || !names["ruff"] || a.Best.Model != "ruff" {
		t.Errorf("dated over %v, best %v", names, a.Best)
	}
	files := map[string][]byte{}
	for name, data := range practiceRecords {
		if !strings.HasPrefix(name, "examples/") {
			files[name] = data
		}
	}
	without, err := engineOf(t, reference(t, files)).Date(q)
	if err != nil || !slices.Equal(a.Odds, without.Odds) {
		t.Errorf("the bow teaches: %v with it, %v without (%v)", a.Odds, without.Odds, err)
	}
}

func TestAdviceNamesWhoGivesIt(t *testing.T) {
	ref := reference(t, practiceRecords)
	const namesakes = "The Works is not to be confused with The Works of Near: No oval (%word%).|The Works is not to be confused with Works of Far: Mallets."
	word, ledger := dating.CitationWords(ref, schema.Citation{Source: "word"}), dating.CitationWords(ref, schema.Citation{Source: "ledger"})
	for model, want := range map[string]string{
		"knot":  "On bows of The Works practitioners look first at the wood, then the mark (" + ledger + ").|" + namesakes,
		"ruff":  "On the Ruff practitioners look first at the mark.|" + namesakes,
		"stilt": "",
		"teal":  "Wood Sapele: never seen on bows of 1961 to 1962 where the mark is present, 30 bows looked at (" + word + "), which moves no odds; but see " + ledger + ".|Mark absent: never seen (" + word + "), which moves no odds.",
	} {
		m, _ := ref.Models.Get(model)
		if got := strings.Join(dating.Advice(ref, m), "|"); got != strings.ReplaceAll(want, "%word%", word) {
			t.Errorf("%s: %s", model, got)
		}
	}
	f, _ := ref.Features.Get("wood")
	want := "Wood Ash means “A second”, says Ann, in " + word + ".|Wood Ash means “Left-handed”, says " + ledger + ".|Wood means “Whatever lay about”, says " + ledger + "."
	if got := strings.Join(dating.MeaningWords(ref, f), "|"); got != want {
		t.Errorf("%s, not\n%s", got, want)
	}
	e := engineOf(t, ref)
	for model, advice := range map[string]bool{"knot": true, "": false} {
		q := dating.Question{}
		if model != "" {
			q.Models = []string{model}
		}
		a, err := e.Date(q)
		if err != nil {
			t.Fatal(err)
		}
		var text, data strings.Builder
		if err := dating.Text(&text, a, dating.TextOptions{Width: 400}); err != nil {
			t.Fatal(err)
		}
		if err := dating.JSON(&data, a, ""); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(text.String(), "practitioners look first") != advice || strings.Contains(data.String(), "practitioners look first") != advice {
			t.Errorf("%q: advice in\n%s", model, text.String())
		}
	}
}

// TestWhatWasNeverSeenMovesNoOdds dates a bow that shows just that.
func TestWhatWasNeverSeenMovesNoOdds(t *testing.T) {
	q := dating.Question{Models: []string{"teal"}, Observed: []dating.Observation{{Feature: "wood", Values: []string{"sapele"}, Sure: schema.Sure}, {Feature: "mark", Values: []string{"absent"}, Sure: schema.Sure}}}
	with, err := engineOf(t, reference(t, practiceRecords)).Date(q)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for name, data := range practiceRecords {
		files[name] = []byte(regexp.MustCompile("(?m)^never-seen: .*\n").ReplaceAllString(string(data), ""))
	}
	without, err := engineOf(t, reference(t, files)).Date(q)
	if err != nil || !slices.Equal(with.Odds, without.Odds) {
		t.Errorf("it moves odds: %v with it, %v without (%v)", with.Odds, without.Odds, err)
	}
}

// TestWhatIsSaidOfNoYearMovesNoOdds dates with and without what somebody never saw
// and on how many bows they found something.
func TestWhatIsSaidOfNoYearMovesNoOdds(t *testing.T) {
	files := map[string][]byte{}
	for name, data := range practiceRecords {
		text := regexp.MustCompile(`(?m)^never-seen: .*\n`).ReplaceAllString(string(data), "")
		if name == "models/knot.md" {
			text = strings.Replace(text, "features:", "counted: [{feature: wood, value: ash, with: 1, of: 6, cites: [ledger]}]\nfeatures:", 1)
		}
		files[name] = []byte(text)
	}
	with, without := reference(t, files), reference(t, practiceRecords)
	for _, model := range []string{"knot", "teal"} {
		for _, wood := range []string{"ash", "sapele"} {
			q := dating.Question{Models: []string{model}, Observed: []dating.Observation{{Feature: "wood", Values: []string{wood}}}}
			a, err := engineOf(t, with).Date(q)
			b, err2 := engineOf(t, without).Date(q)
			if err != nil || err2 != nil || !slices.Equal(a.Odds, b.Odds) {
				t.Errorf("%s of %s: %v (%v), %v (%v)", model, wood, a.Odds, err, b.Odds, err2)
			}
		}
	}
	m, _ := with.Models.Get("knot")
	if list := dating.Advice(with, m); !slices.Contains(list, "Wood Ash: found on 1 of 6 bows looked at (Ledger), of no year, which moves no odds.") {
		t.Errorf("it is not said: %q", list)
	}
}
