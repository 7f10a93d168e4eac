package made

import (
	"fmt"
	"slices"
	"strings"
)

// model is one bow of a house and what was true of it.
type model struct {
	*house
	id, name, number string
	first, last      int
	change           int      // the first year of the second pattern
	periods          []period // what each feature was, one after the other
	weight           int      // the lightest on offer
}

// period is a stretch of years in which a feature had one value.
type period struct {
	claim       string
	feature     string
	value       string
	first, last int
}

func newModel(h *house, n int) *model {
	r := h.rand
	m := &model{house: h, name: bow(r), number: fmt.Sprintf("%c%c-%d", 'A'+h.maker.number%26, 'A'+n, 10+r.IntN(80)), weight: 25 + 5*r.IntN(3)}
	m.id = fmt.Sprintf("%s-%d", slug(m.name), h.maker.number*modelsPerHouse+n)
	m.first = h.first + n*2 + r.IntN(2)
	m.last = m.first + 9 + r.IntN(8)
	m.change = m.first + 3 + r.IntN(4)
	m.follow(tracked[0], 2)
	m.follow(tracked[1], 2)
	more := slices.Clone(tracked[2:])
	r.Shuffle(len(more), func(i, k int) { more[i], more[k] = more[k], more[i] })
	for _, f := range more[:1+n%2] {
		m.follow(f, 1+r.IntN(2))
	}
	m.toggle(pick(r, switched))
	return m
}

// follow lets a feature go through a number of values, none twice.
func (m *model) follow(f feature, parts int) {
	at := m.rand.IntN(len(f.values) - parts + 1)
	for k, y := range m.parts(parts) {
		v := f.values[at+k]
		m.periods = append(m.periods, period{v + "-" + f.id, f.id, v, y[0], y[1]})
	}
}

// toggle makes a feature come in with some year.
func (m *model) toggle(f feature) {
	parts := m.parts(2)
	m.periods = append(m.periods, period{"no-" + f.id, f.id, "absent", parts[0][0], parts[0][1]},
		period{"with-" + f.id, f.id, "present", parts[1][0], parts[1][1]})
}

// parts cuts the life of the model in one part or two.
func (m *model) parts(n int) [][2]int {
	if n == 1 {
		return [][2]int{{m.first, m.last}}
	}
	cut := m.first + 3 + m.rand.IntN(m.last-m.first-5)
	return [][2]int{{m.first, cut}, {cut + 1, m.last}}
}

func years(first, last int) string {
	if first == last {
		return fmt.Sprint(first)
	}
	return fmt.Sprintf("%d/%d", first, last)
}

// span writes years and who says so.
func (m *model) span(first, last int) string {
	cites := []string{quote(m.at(first))}
	if m.rand.IntN(2) == 0 {
		cites = append(cites, quote(m.at(min(first+3, last))))
	}
	if m.rand.IntN(5) == 0 {
		cites = append(cites, quote(fmt.Sprintf("%s, sheet %d", m.source("letter"), m.rand.IntN(9)+1)))
	}
	return fmt.Sprintf("span: %s, cites: [%s]", years(first, last), strings.Join(slices.Compact(cites), ", "))
}

func quote(s string) string { return `"` + s + `"` }

// text writes the record of the n-th model of the house.
func (m *model) text(n int) string {
	var b strings.Builder
	b.WriteString(line("---\nrecord: model\nname: %s\nmaker: %s\nuse: [%s]", m.name, m.house.id, pick(m.rand, []string{"target", "field", "target, field", "hunting"})))
	b.WriteString(line("made: {%s}\neras:", m.span(m.first, m.last)))
	b.WriteString(line("  - {id: first, name: First pattern, %s}", m.span(m.first, m.change-1)))
	b.WriteString(line("  - {id: second, name: Second pattern, %s}", m.span(m.change, m.last)))
	b.WriteString("features:\n")
	for k, s := range m.periods {
		b.WriteString(m.claim(k, s))
	}
	b.WriteString(line("  - {id: number, feature: model-number, value: %s, %s}", m.number, m.span(m.first, m.last)))
	b.WriteString(line("specs:\n  - {id: weight-first, spec: draw-weight, range: %d..%d lb, era: first, cites: [%s]}", m.weight, m.weight+20, quote(m.at(m.first))))
	b.WriteString(line("  - {id: weight-second, spec: draw-weight, range: %d..%d lb, era: second, cites: [%s]}", m.weight+5, m.weight+25, quote(m.at(m.change))))
	b.WriteString(line("  - {id: brace, spec: brace-height, range: 7 1/4..8 in, %s}", m.span(m.first, m.last)))
	wood := m.periods[0]
	b.WriteString(line("order:\n  - {first: %s, how: meets, second: %s, cites: [\"%s, sheet 1\"]}", wood.claim, m.periods[1].claim, m.source("letter")))
	if n > 0 && m.models[n-1].first < m.first && m.models[n-1].last <= m.last {
		b.WriteString(line("related:\n  - {model: %s, how: successor-of, cites: [%s]}", m.models[n-1].id, quote(m.at(m.first))))
	}
	b.WriteString("---\n\n")
	b.WriteString(m.prose())
	return b.String()
}

// claim writes a period. Some are only attested, some disputed, most of those
// settled, some remembered by one man only, some out by a year or two.
func (m *model) claim(k int, s period) string {
	head := fmt.Sprintf("  - {id: %s, feature: %s, value: %s, ", s.claim, s.feature, s.value)
	switch {
	case k == 3 && m.rand.IntN(3) == 0:
		return head + line("attested: [{year: %d, cites: [%s]}, {year: %d, cites: [%s]}]}", s.first, quote(m.at(s.first)), s.last, quote(m.at(s.last)))
	case m.rand.IntN(12) == 0:
		return head + m.span(s.first, s.last) + line(", against: [\"%s, p. %d\"], settled: {because: \"%s gives another year, from memory; the list was in the shop\", by: editor, on: 2022-0%d-11}}", m.source("book"), m.rand.IntN(200)+1, person(m.rand), m.rand.IntN(9)+1)
	case m.rand.IntN(60) == 0:
		return head + m.span(s.first, s.last) + line(", against: [\"%s, side %d\"], disputed: true}", m.source("talk"), m.rand.IntN(2)+1)
	case m.rand.IntN(60) == 0:
		return head + line("span: %s, cites: [\"%s, side %d\"]}", years(s.first, s.last), m.source("talk"), m.rand.IntN(2)+1)
	case k > 3 && s.last-s.first > 3 && m.rand.IntN(20) == 0: // nobody knows of the last years
		return head + m.span(s.first, s.last-2) + "}\n"
	case m.rand.IntN(16) == 0 && s.last == m.last:
		return head + line("span: %d~/%d, cites: [%s]}", s.first, s.last, quote(m.at(s.first+1)))
	}
	return head + m.span(s.first, s.last) + "}\n"
}

// prose is the text of the record.
func (m *model) prose() string {
	var b strings.Builder
	b.WriteString(line("%s\n\nIt came out in [%d](claim:made), as the [list](source:%s) shows, and was made to [%d](claim:made).", prose(m.rand, 3), m.first, strings.Split(m.at(m.first), ",")[0], m.last))
	b.WriteString(line("%s The [%s](claim:%s) went and the [%s](claim:%s) came in its place.\n", prose(m.rand, 2),
		m.periods[0].value, m.periods[0].claim, m.periods[1].value, m.periods[1].claim))
	b.WriteString(line("%s Compare the [%s](model:%s).", prose(m.rand, 2), m.models[0].name, m.models[0].id))
	if m.rand.IntN(3) == 0 {
		b.WriteString(line("\n![The mark](pictures/maker-mark/%s.svg)", m.periods[2].value))
	}
	return b.String()
}
