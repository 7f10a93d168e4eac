package compare

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/checks"
	"yearmark/dating"
)

// told gives every change as the text has it, part and sign before it.
func told(c *Changes) []string {
	var lines []string
	for _, e := range c.Entries() {
		line := fmt.Sprintf("%s %s %s: %s", e.Part, e.Sign, e.Title, e.Words)
		if e.Help != "" {
			line += " | " + e.Help
		}
		lines = append(lines, line)
	}
	return lines
}

const wren = "models/wren.md"

// changes are edits of the starting reference with what is said of them,
// worked out by hand from its records. What the dating makes of them is held
// against the engine elsewhere, so lines that begin with … are a beginning.
var changes = []struct {
	name  string
	edits []edit
	want  []string
}{
	{"nothing", nil, nil},
	{"another layout", []edit{{wren, "  - id: round-mark\n    feature: makers-mark\n    value: round\n    span: 1952/1956\n    cites: [\"becksmith-list-1952, cover\"]",
		"  # the ring\n  - {cites: [\"becksmith-list-1952, cover\"], id: round-mark, span: \"1952/1956\", feature: makers-mark, value: 'round'}"}}, nil},
	{"what is private", []edit{{"examples/0001.md", "condition:", "private: {owner: \"zqsecret\"}\ncondition:"}}, nil},
	{"a note", []edit{{wren, "span: 1959~/1961\n", "span: 1959~/1961\n    note: Seen in the shop.\n"}}, []string{"Claims ~ Wren, Riser wood: Walnut: its note changed"}},
	{"a citation", []edit{{wren, `cites: ["becksmith-list-1952, p. 2", "letter-sorrel"]`, `cites: ["becksmith-list-1952, p. 2", "becksmith-list-1957, p. 1"]`}}, []string{
		"Claims ~ Wren, Riser wood: Ash: now cites becksmith-list-1957, p. 1; no longer cites letter-sorrel; credence 0.9991, was 0.9925",
	}},
	{"another span", []edit{{wren, "  - id: barred-mark\n    feature: makers-mark\n    value: barred\n    span: 1957/1961", "  - id: barred-mark\n    feature: makers-mark\n    value: barred\n    span: 1957/1960"}}, []string{
		"Claims ~ Wren, Maker's mark: Barred mark: 1957–1960, was 1957–1961; written 1957/1960, was 1957/1961",
		"Dating keys that answer otherwise ~ Wren, Maker's mark: Barred mark: 1957–1960, was 1957–1961…",
		"Dating keys that answer otherwise ~ Wren, Maker's mark: Round mark: …", "Findings + note unaccounted-years: models/wren.md: nobody accounts for maker's mark in 1961",
	}},
	{"in consequence", []edit{{wren, "value: round\n    span: 1952/1956", "value: round\n    attested: [1953, 1954]"}}, []string{
		"Claims ~ Wren, Maker's mark: Round mark: 1953–1956, possibly from 1952, was 1952–1956; written seen in 1953, 1954, was 1952/1956",
	}},
	{"the judgement", []edit{{"reference.yaml", "circa: 2", "circa: 0"}}, []string{
		"Claims ~ Wren, Riser wood: Ash: 1952–1958, was 1952–1956, possibly to 1960, in consequence of other statements",
		"Claims ~ Wren, Riser wood: Walnut: 1959–1961, was 1961, possibly from 1957, in consequence of other statements",
		"Other records ~ Our register of old bows: judgement circa 0, was 2",
	}},
	{"withdrawn with a reason", []edit{
		{wren, "  - id: walnut-riser\n    feature: riser-wood\n    value: walnut\n    span: 1959~/1961\n    cites: [\"becksmith-list-1961, p. 4\"]\n", ""},
		{wren, "order:", "withdrawn: [{id: walnut-riser, because: The list was misread, on: 2026-05-01}]\norder:"},
	}, []string{
		"Claims − Wren, Riser wood: Walnut: withdrawn, was 1961, possibly from 1957: The list was misread",
		"Other records ~ Wren: withdrawn now id: walnut-riser, because: The list was misread, on: 2026-05-01",
		"Dating keys that answer otherwise − Wren, Riser wood: Walnut: row gone, was 1961, possibly from 1957",
	}},
	{"gone without a reason", []edit{{wren, "  - {id: second, name: Second pattern, span: 1957/1961, cites: [\"becksmith-list-1957, p. 2\"]}\n", ""}}, []string{
		"Claims − Wren, era: Second pattern: gone, was 1957–1961",
		"Claims ~ Wren, Draw weight: 30..50 lb: some time in 1952–1961, was 1957–1961, in consequence of other statements",
		"Addresses that will break ! models/wren.html#era-second: the claim \"wren/era-second\" is gone, and its address will break | Add it to withdrawn in models/wren.md with the reason: {id: era-second, because: \"…\"}.",
	}},
	{"another identifier", []edit{{wren, "id: ash-riser", "id: pale-riser"}}, []string{
		"Claims + Wren, Riser wood: Ash: 1952–1956, possibly to 1960, by becksmith-list-1952, p. 2; letter-sorrel",
		"Claims − Wren, Riser wood: Ash: gone, was 1952–1956, possibly to 1960",
		"Addresses that will break ! models/wren.html#ash-riser: the claim \"wren/ash-riser\" is gone, and its address will break | What it said is now said by \"wren/pale-riser\": write id: ash-riser there.",
	}},
	{"a source", []edit{{"sources/letter-sorrel.md", "issued: 1994-03", "issued: 1995\nrelies-on: [becksmith-list-1961]"}}, []string{
		"Sources ~ Letter from A. Sorrel, once a bench hand at Becksmith's: issued 1995, was 1994-03; relies-on now becksmith-list-1961",
		// two ways, the letter's with .75 * .97: 1 - .03 * (1 - .7275)
		"Claims ~ Becksmith & Daughter, trading: credence 0.9918, was 0.9925",
		"Claims ~ Wren, Riser wood: Ash: credence 0.9918, was 0.9925",
	}},
	{"prose", []edit{{wren, "The Wren was first listed", "So far as we know the Wren was first listed"}}, []string{"Other records ~ Wren: text: 1 line new, 1 line gone"}},
	{"what was observed", []edit{{"examples/0001.md", "value: barred", "value: round"}}, []string{
		"Other records ~ Example 0001: observed feature: makers-mark, value: round, was feature: makers-mark, value: barred",
		"Examples that date otherwise ~ Example 0001: …",
	}},
	{"a dispute", []edit{{wren, "    span: 1957/1961\n    cites: [\"becksmith-list-1957, cover\"]", "    span: 1957/1961\n    disputed: true\n    cites: [\"becksmith-list-1957, cover\"]\n    against: [\"letter-sorrel\"]"}}, []string{
		"Claims ~ Wren, Maker's mark: Barred mark: now is spoken against by letter-sorrel; now disputed; credence 0.8899, was 0.97",
	}},
	{"a file renamed", []edit{{"sources/receipt-0001.md", "", ""}}, []string{
		"Sources − Receipt for the bow of example 0001: source gone",
		"Addresses that will break ! sources/receipt-0001.html: the page of the source \"Receipt for the bow of example 0001\" is gone | Keep sources/receipt-0001.md and say in it what became of it, since others link to its page.",
	}},
	{"a maker's claim withdrawn", []edit{
		{"makers/becksmith.md", `trading: {span: 1951/1969, cites: ["becksmith-list-1952, cover", "letter-sorrel"]}`, `withdrawn: [{id: trading, because: The letter was misread}]`},
	}, []string{
		"Claims − Becksmith & Daughter, trading: withdrawn, was 1951–1969: The letter was misread",
		"Other records ~ Becksmith & Daughter: withdrawn now id: trading, because: The letter was misread",
	}},
}

func TestSaysWhatChanged(t *testing.T) {
	before := starter(t)
	old := before.state(t, "old")
	for _, c := range changes {
		t.Run(c.name, func(t *testing.T) {
			got := told(between(t, old, before.with(t, c.edits...).state(t, "new")))
			for _, want := range c.want {
				at := slices.IndexFunc(got, func(line string) bool { return matches(line, want) })
				if at < 0 {
					t.Errorf("it does not say\n%s\nbut\n%s", want, strings.Join(got, "\n"))
					return
				}
				got = slices.Delete(got, at, at+1)
			}
			for _, line := range got {
				if c.want == nil || strings.HasPrefix(line, PartClaims) || strings.HasPrefix(line, PartSources) || strings.HasPrefix(line, PartBreaks) || strings.HasPrefix(line, PartRecords) {
					t.Errorf("it also says\n%s", line)
				}
			}
		})
	}
}

// matches compares a line with what is wanted, of which "…" at the end stands for any words.
func matches(line, want string) bool {
	if begins, open := strings.CutSuffix(want, "…"); open {
		return strings.HasPrefix(line, begins)
	}
	return line == want
}

// TestBothWays goes from one state to another and back: what was added is
// gone, and before and after change places.
func TestBothWays(t *testing.T) {
	before := starter(t)
	rapid.Check(t, func(r *rapid.T) {
		pick := func(label string) State {
			f := before
			for _, c := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(changes)-1), 0, 3, rapid.ID[int]).Draw(r, label) {
				if next, ok := f.tried(changes[c].edits); ok {
					f = next
				}
			}
			return f.state(t, label)
		}
		a, b := pick("a"), pick("b")
		there, back := between(t, a, b), between(t, b, a)
		for _, pair := range [][2]any{
			{keysOf(there.Claims.Added), keysOf(back.Claims.Withdrawn)}, {keysOf(there.Claims.Withdrawn), keysOf(back.Claims.Added)},
			{swapped(there.Claims.Moved), claimsPlain(back.Claims.Moved)}, {swapped(there.Claims.Changed), claimsPlain(back.Claims.Changed)},
			{there.Findings.Gained, back.Findings.Lost}, {there.Findings.Lost, back.Findings.Gained},
			{len(there.Sources), len(back.Sources)}, {len(there.Records), len(back.Records)}, {there.None(), back.None()},
		} {
			if x, y := plain(pair[0]), plain(pair[1]); x != y {
				r.Fatalf("there %s\nback %s", x, y)
			}
		}
		effects(r, there, back)
		if same := between(t, a, a); !same.None() {
			r.Fatalf("a state differs from itself: %v", told(same))
		}
	})
}

func effects(r *rapid.T, there, back *Changes) {
	if len(there.Effect.Keys) != len(back.Effect.Keys) || len(there.Effect.Examples) != len(back.Effect.Examples) {
		r.Fatalf("%d and %d effects there, %d and %d back", len(there.Effect.Keys), len(there.Effect.Examples), len(back.Effect.Keys), len(back.Effect.Examples))
	}
	for i, k := range there.Effect.Keys {
		if o := back.Effect.Keys[i]; plain(k.Before) != plain(o.After) || plain(k.After) != plain(o.Before) {
			r.Fatalf("%s: there %s, back %s", k.What, plain(k), plain(o))
		}
	}
	for i, e := range there.Effect.Examples {
		if o := back.Effect.Examples[i]; plain(e.Before) != plain(o.After) || plain(e.After) != plain(o.Before) {
			r.Fatalf("%s: there %s, back %s", e.Title, plain(e), plain(o))
		}
	}
}

// tried makes edits where they fit.
func (f folder) tried(edits []edit) (folder, bool) {
	for _, e := range edits {
		if file := f[e.file]; file == nil || e.old != "" && !strings.Contains(string(file.Data), e.old) {
			return f, false
		}
	}
	return f.with(nil, edits...), true
}

func plain(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(data)
}

func keysOf(list []ClaimChange) []string {
	keys := []string{}
	for _, c := range list {
		keys = append(keys, c.Claim)
	}
	return keys
}

func swapped(list []ClaimChange) [][2]*ClaimState {
	all := [][2]*ClaimState{}
	for _, c := range list {
		all = append(all, [2]*ClaimState{c.After, c.Before})
	}
	return all
}

func claimsPlain(list []ClaimChange) [][2]*ClaimState {
	all := [][2]*ClaimState{}
	for _, c := range list {
		all = append(all, [2]*ClaimState{c.Before, c.After})
	}
	return all
}

// TestKeysAnswerAsTheEngine asks the engine the way a visitor would, for every
// row of every key of the demonstration.
func TestKeysAnswerAsTheEngine(t *testing.T) {
	s := read(t, "content").state(t, "content")
	k := newKeys(s)
	asked := 0
	for _, m := range s.Ref.Models.All() {
		answers := k.model(m.ID)
		for _, r := range rows(s.Ref, m) {
			q := dating.Question{Models: []string{m.ID}}
			if r.feature != "" {
				q.Observed = []dating.Observation{{Feature: r.feature, Values: []string{r.value}}}
			}
			answer, err := s.Engine.Date(q)
			if err != nil {
				t.Fatalf("%s %s %s: %v", m.ID, r.feature, r.value, err)
			}
			got := answers[[2]string{r.feature, r.value}].answer
			if f, ok := s.Ref.Features.Get(r.feature); ok && f.Kind.Value == "text" && len(answer.Strict.Years) == 0 && len(got.Strict) > 0 {
				continue // the pattern as a text matches other patterns too
			}
			want := KeyAnswer{got.Years, answer.Best.Year, yearsOf(answer.Likely50), yearsOf(answer.Likely95), yearsOf(answer.Strict.Years)}
			if plain(got) != plain(want) {
				t.Errorf("%s %s %s: %s, by the engine %s", m.ID, r.feature, r.value, plain(got), plain(want))
			}
			asked++
		}
	}
	if asked < 300 {
		t.Errorf("only %d rows were asked about", asked)
	}
}

func yearsOf(list []dating.ModelYears) []int {
	years := []int{}
	for _, m := range list {
		years = append(years, m.Years...)
	}
	return years
}

// TestExamplesMoveAsTheEngineSays dates the demonstration's examples before
// and after an edit, each without what rests on it.
func TestExamplesMoveAsTheEngineSays(t *testing.T) {
	before := read(t, "content")
	old := before.state(t, "old")
	now := before.with(t, edit{"models/plover.md", "    span: 1965\n    only: true", "    span: 1965/1967"}).state(t, "new")
	moved := map[string]bool{}
	for _, e := range between(t, old, now).Effect.Examples {
		moved[e.Example] = true
	}
	a, b := dating.NewLeaveOneOut(old.Engine, old.Timeline, old.Weighing), dating.NewLeaveOneOut(now.Engine, now.Timeline, now.Weighing)
	count := 0
	for _, e := range old.Ref.Examples.All() {
		was, errA := a.Account(e)
		is, errB := b.Account(e)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		differs := was.Best.Year != is.Best.Year || was.Best.Model != is.Best.Model || plain(was.Likely50) != plain(is.Likely50) || plain(was.Likely95) != plain(is.Likely95) || plain(was.Strict.Years) != plain(is.Strict.Years)
		if differs != moved[e.ID] && len(was.Likely95) < 2 {
			t.Errorf("%s moved: %v, told: %v", e.ID, differs, moved[e.ID])
		}
		if differs {
			count++
		}
	}
	if count == 0 || !moved["0007"] {
		t.Errorf("%d examples moved; the robin: %v", count, moved["0007"])
	}
}

func TestWritesTheDocumentedJSON(t *testing.T) {
	before := starter(t)
	c := between(t, before.state(t, "old"), before.with(t, changes[9].edits...).with(t, edit{"examples/0001.md", "value: ash", "value: walnut"}).state(t, "new"))
	var b bytes.Buffer
	if err := c.JSON(&b); err != nil {
		t.Fatal(err)
	}
	if empty := regexp.MustCompile(`"(?:before|after|best)": null`).ReplaceAllString(b.String(), ""); strings.Contains(empty, "null") {
		t.Errorf("a list is null:\n%s", b.String())
	}
	for _, key := range regexp.MustCompile(`"(\w+)"`).FindAllStringSubmatch(documented(t), -1) {
		if !strings.Contains(b.String(), `"`+key[1]+`":`) {
			t.Errorf("the documented key %q is not in\n%s", key[1], b.String())
		}
	}
	decoder := json.NewDecoder(&b)
	decoder.DisallowUnknownFields()
	var again Changes
	if err := decoder.Decode(&again); err != nil || plain(again) != plain(c) {
		t.Errorf("read again: %v", err)
	}
}

// documented is the form of the JSON as the package comment has it.
func documented(t *testing.T) string {
	doc := string(read(t, "exchange", "compare")["doc.go"].Data)
	_, form, ok := strings.Cut(doc, `//	{"version"`)
	if !ok {
		t.Fatal("the package comment has no form")
	}
	form, _, _ = strings.Cut(form, "package compare")
	return `{"version"` + form
}

func TestTextIsShortUnlessAsked(t *testing.T) {
	before := starter(t)
	c := between(t, before.state(t, "old"), before.with(t, edit{"reference.yaml", "circa: 2", "circa: 0"}).state(t, "new"))
	for most, want := range map[int]string{1: "… and 1 more: add --all to see them", 0: "From old, edition of old to new, edition of new\n\nClaims (2)\n"} {
		var b strings.Builder
		if err := c.Text(&b, most); err != nil || !strings.Contains(b.String(), want) {
			t.Errorf("%v\n%s", err, b.String())
		}
	}
	var b strings.Builder
	if err := between(t, before.state(t, "a"), before.state(t, "b")).Text(&b, 0); err != nil || !strings.HasSuffix(b.String(), "\nNothing changed.\n") {
		t.Errorf("%v %q", err, b.String())
	}
}

// TestPublishedLeadsSomewhere wants every address that readers are given to be
// one of the new state's records or claims, or of a withdrawn claim's note.
func TestPublishedLeadsSomewhere(t *testing.T) {
	before := starter(t)
	for _, c := range changes {
		now := before.with(t, c.edits...).state(t, "new")
		known := map[string]bool{"index.html": true}
		for _, r := range now.Ref.Records() {
			known[r.Address()] = true
		}
		for _, claim := range claimsOf(now.Ref) {
			known[claim.Address()] = true
		}
		for _, m := range now.Ref.Models.All() {
			for _, w := range m.Withdrawn {
				known[m.Address()+"#"+w.ID.Value] = true
			}
		}
		for _, m := range now.Ref.Makers.All() {
			for _, w := range m.Withdrawn {
				known[m.Address()+"#"+w.ID.Value] = true
			}
		}
		for _, p := range between(t, before.state(t, "old"), now).Published() {
			if p.Name == PartBreaks {
				t.Errorf("%s: readers are told of %s", c.name, p.Name)
			}
			for _, e := range p.Entries {
				if p.Name == PartFindings {
					if _, _, ok := checks.Lookup(e.Check); !ok || e.Address != "" {
						t.Errorf("%s: the finding %q is of the check %q and leads to %q", c.name, e.Title, e.Check, e.Address)
					}
					continue
				}
				if e.Address != "" && !known[e.Address] || e.Address == "" && e.Sign != "−" {
					t.Errorf("%s: %s leads to %q", c.name, e.Title, e.Address)
				}
			}
		}
	}
}
