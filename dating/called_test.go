package dating_test

import (
	"strings"
	"testing"

	"yearmark/dating"
)

// calledRecords: two models that share another name, and one whose name is the
// other's other name.
var calledRecords = map[string][]byte{
	"reference.yaml":      []byte("name: Names\nyears: 1950/1969\n"),
	"makers/works.md":     []byte("---\nrecord: maker\nname: The Works\nalso: [\"Works & Son\"]\n---\n"),
	"features/wood.md":    []byte("---\nrecord: feature\nname: Wood\nkind: choice\nvalues: [{id: sapele, name: Sapele, also: [sappy lee]}, {id: ash, name: Ash}]\n---\n"),
	"models/knot.md":      []byte("---\nrecord: model\nname: Knot\nalso: [Mark 2, The Robin, {name: Sparrow, span: 1961/1962, cites: [\"ledger-a, p. 2\"]}]\nmaker: works\nmade: {span: 1960/1963, cites: [ledger]}\n---\n"),
	"models/ruff.md":      []byte("---\nrecord: model\nname: Ruff\nalso: [mark 2, Knot]\nmaker: works\nmade: {span: 1962/1963, cites: [ledger]}\n---\n"),
	"sources/ledger-a.md": []byte("---\nrecord: source\nname: The day book\nalso: [\"The S/12 book\"]\nkind: factory-paper\n---\n"),
}

func TestOtherNames(t *testing.T) {
	e := engineOf(t, reference(t, calledRecords))
	for asked, want := range map[string]string{"the robin": "knot", "KNOT": "knot", "knot": "knot", "Ruff": "ruff", "sparrow": "knot"} {
		at, err := e.ModelNamed(asked)
		if known, _ := e.ModelAt(want); err != nil || at != known {
			t.Errorf("%q is model %d (%v), not %s", asked, at, err, want)
		}
	}
	if _, err := e.ModelNamed("Mark 2"); err == nil || !strings.Contains(err.Error(), `"knot" or "ruff"`) {
		t.Errorf("a name that two share is refused with %v", err)
	}
	if _, err := e.ModelNamed("the Robbin"); err == nil || !strings.Contains(err.Error(), `Did you mean "knot"?`) {
		t.Errorf("a misspelt other name is refused with %v", err)
	}
	a, err := e.Date(dating.Question{Models: []string{"The Robin"}, Observed: []dating.Observation{{Feature: "wood", Values: []string{"Sappy Lee"}}}})
	if err != nil || a.Observed[0].Values[0] != "sapele" {
		t.Errorf("%v, observed %v", err, a.Observed)
	}
	for asked, want := range map[string]string{
		"mark-2":       "\"Mark 2\" is another name of the Knot by The Works.\n\"mark 2\" is another name of the Ruff by The Works.",
		"s12 book":     "",
		"sparrow":      "\"Sparrow\" is another name of the Knot by The Works: it was called so 1961 to 1962, in The day book, p. 2.",
		"works & son":  `"Works & Son" is another name of The Works.`,
		"the s12 book": `"The S/12 book" is another name of The day book.`,
		"sappy-lee":    `"sappy lee" is another name of wood Sapele.`,
	} {
		if got := strings.Join(e.Number(asked).Names, "\n"); got != want {
			t.Errorf("%q: %q, not %q", asked, got, want)
		}
	}
}

// TestSpecialOrdersExplain wants a maker's special orders quoted where what was
// seen fits nothing else, of the feature that customers chose and of no other.
func TestSpecialOrdersExplain(t *testing.T) {
	a, err := wordsEngine(t).Date(dating.Question{Models: []string{"knot"}, Observed: []dating.Observation{
		{Feature: "wood", Values: []string{"sapele"}}, {Feature: "mark", Values: []string{"oval"}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	const quoted = "Garth Works took special orders for riser wood from 1962 (Letter of the foreman, sheet 2)."
	said := 0
	for _, words := range a.Sentences().Conflicts {
		if strings.Contains(words, quoted) {
			said++
		}
		if strings.Contains(words, "odd one out may be the mark") && strings.Contains(words, "special orders") {
			t.Errorf("quoted of the mark: %s", words)
		}
	}
	var b strings.Builder
	if err := dating.JSON(&b, a, ""); err != nil {
		t.Fatal(err)
	}
	if said != 1 || strings.Count(b.String(), quoted) != 1 {
		t.Errorf("said %d times, and in JSON %d", said, strings.Count(b.String(), quoted))
	}
}
