package checks

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"yearmark/checks/testdata/made"
)

// A fault is one kind of slip. It spoils the made reference in one place, a
// different one each time, and says where the check must find it.
type fault struct {
	check string
	spoil func(*mutant) (file string, line int)
	// also are other checks that rightly speak of the same slip.
	also []string
}

// mutant is a made reference about to be spoilt.
type mutant struct {
	*made.Reference
	rng        *rand.Rand
	datedClaim made.Life // the model that is spoilt
}

// find gives the number (from 1) of the nth line of a file that holds a text.
func (m *mutant) find(file, text string, nth int) int {
	for i, line := range m.Files[file] {
		if strings.Contains(line, text) {
			if nth--; nth == 0 {
				return i + 1
			}
		}
	}
	panic(fmt.Sprintf("%s has no line with %q", file, text))
}

// swap exchanges a text on the nth line that holds it in the model's file.
func (m *mutant) swap(line, old, new string, nth int) (string, int) {
	return m.swapIn(m.datedClaim.File(), line, old, new, nth)
}

func (m *mutant) swapIn(file, line, old, new string, nth int) (string, int) {
	at := m.find(file, line, nth)
	was := m.Files[file][at-1]
	if !strings.Contains(was, old) {
		panic(fmt.Sprintf("%q is not in %q", old, was))
	}
	lines := slices.Clone(m.Files[file])
	lines[at-1] = strings.Replace(was, old, new, 1)
	m.Files[file] = lines
	return file, at
}

// add puts a line after the nth that holds a text in the model's file.
func (m *mutant) add(after string, nth int, line string) (string, int) {
	file := m.datedClaim.File()
	at := m.find(file, after, nth)
	m.Files[file] = slices.Insert(slices.Clone(m.Files[file]), at, line)
	return file, at + 1
}

// append puts a line at the end of the model's text.
func (m *mutant) append(line string) (string, int) {
	file := m.datedClaim.File()
	m.Files[file] = append(slices.Clone(m.Files[file]), "", line)
	return file, len(m.Files[file])
}

// cite gives the citations of the nth line that holds a text, as written.
func (m *mutant) cite(text string, nth int) string {
	line := m.Files[m.datedClaim.File()][m.find(m.datedClaim.File(), text, nth)-1]
	return line[strings.Index(line, ", cites:"):strings.LastIndex(line, "}")]
}

// part gives one of the equal parts of the model's life.
func (m *mutant) part(parts, i int) [2]int {
	return made.Cuts(m.datedClaim.First, m.datedClaim.Last, parts)[i]
}

func years2(p [2]int) string { return fmt.Sprintf("%d/%d", p[0], p[1]) }

var faults = []fault{
	{check: "uncited-claim", spoil: func(m *mutant) (string, int) { return m.swap("riser-wood", m.cite("riser-wood", 2), "", 2) }},
	{check: "uncited-statement", spoil: func(m *mutant) (string, int) { return m.swap("how: meets", ", cites: [letter]", "", 1) }},
	{check: "place-missing", spoil: func(m *mutant) (string, int) { return m.swap("riser-wood", ", p. 2", "", 1) }},
	{check: "source-too-early", spoil: func(m *mutant) (string, int) {
		return m.swap("made:", fmt.Sprintf("list-%d, p. 2", m.datedClaim.First), fmt.Sprintf("list-%d, p. 2", m.datedClaim.First-2), 1)
	}},
	{check: "source-too-early", spoil: func(m *mutant) (string, int) {
		at := m.part(3, 2)[0]
		return m.swap("riser-wood", m.cite("riser-wood", 3), fmt.Sprintf(`, cites: ["list-%d, p. 9"]`, at-4), 3)
	}},
	{check: "relies-on-later", spoil: func(m *mutant) (string, int) {
		return m.swapIn("sources/list-1950.md", "issued", "issued: 1950", "issued: 1950\nrelies-on: [list-1960]", 1)
	}, also: []string{"one line on"}},
	{check: "one-origin", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", m.cite("riser-wood", 2), `, cites: [letter, "bulletin, p. 3"]`, 2)
	}},
	{check: "source-ring", spoil: func(m *mutant) (string, int) {
		m.swapIn("sources/bulletin.md", "issued", "issued: 1983", "issued: 1981", 1)
		_, _ = m.swapIn("sources/letter.md", "kind: letter", "kind: letter", "kind: letter\nrelies-on: [bulletin]", 1)
		return "sources/bulletin.md", 6
	}},
	{check: "recollection-only", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", m.cite("riser-wood", 1), ", cites: [talk]", 1)
	}},
	{check: "unseen-source", spoil: func(m *mutant) (string, int) {
		m.swapIn("sources/talk.md", "kind", "kind: recollection", "kind: recollection\nconsulted: false", 1)
		return m.swap("riser-wood", ", cites: [", ", cites: [talk, ", 1)
	}},
	{check: "uncited-source", spoil: func(m *mutant) (string, int) {
		m.Put("sources/lost.md", "---", "record: source", "name: Lost", "kind: letter", "---")
		return "sources/lost.md", 3
	}},
	{check: "no-kept-copy", spoil: func(m *mutant) (string, int) {
		m.Put("sources/letter.md", "---", "record: source", "name: Letter from Aldous", "kind: letter", "issued: 1981", "link: https://example.org/x", "---")
		return "sources/letter.md", 6
	}},
	{check: "outside-horizon", spoil: func(m *mutant) (string, int) {
		return m.swapIn("makers/"+m.datedClaim.Maker+".md", "trading", "1940/1980", "1920/1980", 1)
	}},
	{check: "outside-made", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 2)
		return m.swap("riser-wood", years2(p), years2([2]int{p[0], p[1] + 3}), 3)
	}},
	{check: "outside-made", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 0)
		return m.swap("draw-weight", years2(p), years2([2]int{p[0] - 1, p[1]}), 1)
	}},
	{check: "era-overlap", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 0)
		m.swap("era-a", years2(p), years2([2]int{p[0], p[1] + 2}), 1)
		return m.datedClaim.File(), m.find(m.datedClaim.File(), "era-b", 1)
	}},
	{check: "era-gap", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 1)
		m.swap("era-b", years2(p), years2([2]int{p[0] + 1, p[1]}), 1)
		return m.datedClaim.File(), m.find(m.datedClaim.File(), "era-a", 1)
	}},
	{check: "unaccounted-years", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 1)
		m.swap("riser-wood", years2(p), years2([2]int{p[0], p[1] - 1}), 2)
		return m.datedClaim.File(), m.find(m.datedClaim.File(), "riser-wood", 1)
	}},
	{check: "two-values", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 0)
		m.swap("riser-wood", years2(p), years2([2]int{p[0], p[1] + 2}), 1)
		return m.datedClaim.File(), m.find(m.datedClaim.File(), "riser-wood", 2)
	}},
	{check: "two-values", spoil: func(m *mutant) (string, int) {
		at := m.part(2, 0)[1]
		return m.add("value: absent", 1, fmt.Sprintf("  - {feature: stabiliser-socket, value: present, attested: [{year: %d, cites: [talk]}, {year: %d, cites: [letter]}]}", at-2, at))
	}},
	{check: "two-ranges", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 0)
		m.swap("draw-weight", years2(p), years2([2]int{p[0], p[1] + 2}), 1)
		return m.datedClaim.File(), m.find(m.datedClaim.File(), "draw-weight", 2)
	}},
	{check: "spans-disagree", spoil: func(m *mutant) (string, int) {
		p := m.part(3, 1)
		wood := m.Files[m.datedClaim.File()][m.find(m.datedClaim.File(), "riser-wood", 2)-1]
		value := strings.Fields(wood)[4]
		return m.add("riser-wood", 2, fmt.Sprintf("  - {feature: riser-wood, value: %s span: %d, cites: [talk, letter]}", value, p[0]+1))
	}},
	{check: "only-broken", spoil: func(m *mutant) (string, int) {
		wood := m.Files[m.datedClaim.File()][m.find(m.datedClaim.File(), "riser-wood", 1)-1]
		value := strings.Fields(wood)[4]
		m.swap("riser-wood", "riser-wood, ", "riser-wood, only: true, ", 1)
		return m.add("riser-wood", 3, fmt.Sprintf("  - {feature: riser-wood, value: %s attested: [{year: %d, cites: [letter]}]}", value, m.datedClaim.Last))
	}},
	{check: "shared-number", spoil: func(m *mutant) (string, int) {
		one, other := m.neighbours()
		m.swapIn(other.File(), "model-number", ": "+numberOf(other)+",", ": "+numberOf(one)+",", 1)
		later := other
		if one.First > other.First {
			later = one
		}
		return later.File(), m.find(later.File(), "model-number", 1)
	}},
	{check: "impossible-years", spoil: func(m *mutant) (string, int) {
		m.swap("how: meets", "meets", "overlaps", 1)
		return m.datedClaim.File(), m.find(m.datedClaim.File(), "id: script", 1)
	}},
	{check: "impossible-years", spoil: func(m *mutant) (string, int) {
		return m.add("riser-wood", 3, fmt.Sprintf("  - {feature: model-number, value: X, attested: [{year: %d, cites: [letter]}]}", m.datedClaim.Last+2))
	}},
	{check: "unsettled-dispute", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", ", cites:", ", against: [talk], cites:", 2)
	}},
	{check: "open-dispute", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", ", cites:", ", disputed: true, against: [talk], cites:", 2)
	}},
	{check: "settled-and-disputed", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", ", cites:", `, disputed: true, settled: {because: "So"}, against: [talk], cites:`, 2)
	}},
	{check: "reasonless-settlement", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", ", cites:", `, settled: {by: editor}, against: [talk], cites:`, 2)
	}},
	{check: "idle-settlement", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", ", cites:", `, settled: {because: "So"}, cites:`, 2)
	}},
	{check: "idle-dispute", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", ", cites:", ", disputed: true, cites:", 2)
	}},
	{check: "implausible-figure", spoil: func(m *mutant) (string, int) { return m.swap("draw-weight", " lb", "0 lb", 2) }},
	{check: "bare-year", spoil: func(m *mutant) (string, int) { return m.append("It changed in 1983, they say.") }},
	{check: "dead-link", spoil: func(m *mutant) (string, int) { return m.append("See [it](model:model-99999).") }},
	{check: "unsafe-address", spoil: func(m *mutant) (string, int) { return m.append("See [it](javascript:x).") }},
	{check: "missing-picture", spoil: func(m *mutant) (string, int) { return m.append("![Mark](pictures/marks/ovel.svg)") }},
	{check: "outside-picture", spoil: func(m *mutant) (string, int) { return m.append("![Mark](https://example.org/x.svg)") }},
	{check: "wordless-picture", spoil: func(m *mutant) (string, int) { return m.append("![](pictures/marks/oval.svg)") }},
	{check: "unused-picture", spoil: func(m *mutant) (string, int) {
		m.Put("pictures/marks/other.svg", m.Files["pictures/marks/oval.svg"]...)
		return "pictures/marks/other.svg", 1
	}},
	{check: "twin-picture", spoil: func(m *mutant) (string, int) {
		m.Put("pictures/marks/ovaL.svg", m.Files["pictures/marks/oval.svg"]...)
		m.append("![Mark](pictures/marks/ovaL.svg)")
		return "pictures/marks/oval.svg", 1
	}},
	{check: "unsafe-picture", spoil: func(m *mutant) (string, int) {
		return m.swapIn("pictures/marks/oval.svg", "ellipse", "<ellipse ", `<ellipse onclick="x()" `, 1)
	}},
	{check: "unreadable-picture", spoil: func(m *mutant) (string, int) {
		m.Put("pictures/marks/photo.png", "no picture")
		m.append("![Mark](pictures/marks/photo.png)")
		return "pictures/marks/photo.png", 1
	}},
	{check: "impossible-example", spoil: func(m *mutant) (string, int) {
		file, line := m.example("maker-mark")
		return m.swapIn(file, "maker-mark", "oval", "script", line)
	}},
	{check: "documented-outside", spoil: func(m *mutant) (string, int) {
		file, _ := m.example("documented")
		return m.swapIn(file, "documented", fmt.Sprintf("span: %d", m.datedClaim.First), fmt.Sprintf("span: %d", m.datedClaim.Last), 1)
	}},
	{check: "dangling", spoil: func(m *mutant) (string, int) { return m.swap("riser-wood", `"list-`, `"lists-`, 2) }},
	{check: "unknown-key", spoil: func(m *mutant) (string, int) { return m.swap("riser-wood", "span:", "spam:", 2) }, also: []string{"no-years", "unaccounted-years", "dropped"}},
	{check: "unknown-value", spoil: func(m *mutant) (string, int) {
		return m.swap("value: oval", "value: oval", "value: ovel", 1)
	}, also: []string{"impossible-example"}},
	{check: "malformed-span", spoil: func(m *mutant) (string, int) { return m.swap("riser-wood", "/", "-", 2) }, also: []string{"unaccounted-years"}},
	{check: "reversed-range", spoil: func(m *mutant) (string, int) { return m.swap("draw-weight", "30..", "90..", 2) }},
	{check: "unknown-unit", spoil: func(m *mutant) (string, int) { return m.swap("draw-weight", " lb", " pfund", 2) }},
	{check: "wrong-unit", spoil: func(m *mutant) (string, int) { return m.swap("draw-weight", " lb", " kg", 2) }, also: []string{}},
	{check: "duplicate", spoil: func(m *mutant) (string, int) { return m.swap("id: script", "id: script", "id: oval", 1) }, also: []string{"dangling", "dead-link", "impossible-years"}},
	{check: "repeated-key", spoil: func(m *mutant) (string, int) { return m.add("name: Model", 1, "name: Again") }},
	{check: "no-years", spoil: func(m *mutant) (string, int) {
		return m.swap("riser-wood", "span: "+years2(m.part(3, 1))+", ", "", 2)
	}, also: []string{"unaccounted-years"}},
	{check: "two-spans", spoil: func(m *mutant) (string, int) { return m.swap("riser-wood", "span:", "era: era-b, span:", 2) }},
	{check: "odd-characters", spoil: func(m *mutant) (string, int) { return m.append("Plo\u202ever") }},
	{check: "not-utf8", spoil: func(m *mutant) (string, int) { return m.append("Pl\xf6ver") }, also: []string{"dangling"}},
	{check: "unreadable", spoil: func(m *mutant) (string, int) { return m.swap("how: meets", "}", "", 1) }, also: []string{"dangling"}},
	{check: "missing-key", spoil: func(m *mutant) (string, int) {
		return m.swapIn("features/riser-wood.md", "name: Riser wood", "name: Riser wood", "ask: Which?", 1)
	}, also: []string{"elsewhere"}},
}

// neighbours gives two models of one maker that share three years at least.
func (m *mutant) neighbours() (one, other made.Life) {
	start := m.rng.IntN(len(m.Lives))
	for k := range m.Lives {
		i := (start + k) % len(m.Lives)
		one, other = m.Lives[i], m.Lives[i^1]
		if one.Maker == other.Maker && min(one.Last, other.Last)-max(one.First, other.First) >= 2 && one.First != other.First {
			return one, other
		}
	}
	panic("no two models share three years")
}

func numberOf(l made.Life) string {
	return "N-" + strings.TrimLeft(strings.TrimPrefix(l.ID, "model-"), "0")
}

// example gives the file of an example of a model that has one, and makes
// that model the one in question.
func (m *mutant) example(holding string) (string, int) {
	i := slices.IndexFunc(m.Lives, func(l made.Life) bool { return l == m.datedClaim }) / 4 * 4
	m.datedClaim = m.Lives[i]
	file := fmt.Sprintf("examples/%05d.md", i)
	_ = m.find(file, holding, 1)
	return file, 1
}

func TestMutations(t *testing.T) {
	const models, rounds = 24, 3
	kinds := map[string]bool{}
	for i, f := range faults {
		kinds[f.check] = true
		t.Run(fmt.Sprintf("%s-%d", f.check, i), func(t *testing.T) {
			for round := range uint64(rounds) {
				m := &mutant{Reference: made.New(models, round), rng: rand.New(rand.NewPCG(round, uint64(i)))}
				m.datedClaim = m.Lives[m.rng.IntN(models)]
				file, line := f.spoil(m)
				report, _ := reportOn(t, m.FS())
				m.judge(t, f, report, file, line)
			}
		})
	}
	if len(kinds) < 50 {
		t.Errorf("only %d kinds of fault", len(kinds))
	}
}

// judge wants the fault found on its line, and nothing else but what the same
// slip brings about.
func (m *mutant) judge(t *testing.T, f fault, report Report, file string, line int) {
	t.Helper()
	found := false
	for _, got := range report.Findings {
		switch {
		case got.Check == f.check && got.Pos.File() == file && got.Pos.Line() == line:
			found = true
		case slices.Contains(f.also, got.Check):
		case got.Check == f.check && slices.Contains(f.also, "elsewhere"):
			found = true
		case got.Check == f.check && got.Pos.File() == file && got.Pos.Line() == line+1 && slices.Contains(f.also, "one line on"):
			found = true
		default:
			t.Errorf("spoilt %s:%d, and this was found too: %s", file, line, told(got))
		}
	}
	if !found {
		t.Errorf("not found: %s on %s:%d: %s", f.check, file, line, m.Files[file][min(line, len(m.Files[file]))-1])
		for _, got := range report.Findings {
			t.Logf("  found %s", told(got))
		}
	}
}
