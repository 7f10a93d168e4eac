package made

import (
	"fmt"
	"strings"
)

// example writes a surviving bow of one of the house's models: made in some
// year, seen later, with what can be told of it.
func (h *house) example(n int) {
	r := h.rand
	m := h.models[n%len(h.models)]
	id := fmt.Sprintf("%05d", h.number*examplesPerHouse+n)
	year := m.first + r.IntN(m.last-m.first+1)
	var b strings.Builder
	b.WriteString(line("---\nrecord: example\nmodel: %s\nseen: %d-%02d-%02d\nby: %s\nobserved:", m.id, 2008+r.IntN(18), r.IntN(12)+1, r.IntN(28)+1, person(r)))
	for k, s := range m.periods {
		if s.first <= year && year <= s.last && (k < 2 || r.IntN(4) > 0) {
			b.WriteString(m.seen(k, s))
		}
	}
	if r.IntN(4) == 0 {
		b.WriteString(line("  - {feature: model-number, value: %s}", m.number))
	}
	b.WriteString(line("weight-mark: \"%d @ 28\"", m.weight+6+r.IntN(12)))
	if n%4 == 1 {
		b.WriteString(line("documented: {span: %d, cites: [\"%s, sheet %d\"]}", year, h.source("letter"), r.IntN(9)+1))
	}
	b.WriteString(line("condition:\n  - {part: %s, state: \"%s\"}", pick(r, []string{"upper limb", "lower limb", "upper tip", "riser"}), pick(r, []string{"slight twist", "crazed at the fades", "sound", "overlay gone", "old repair, well done"})))
	if n%6 == 0 {
		file := "examples/" + id + ".svg"
		h.file("pictures/"+file, drawing("Example "+id, r.IntN(50)))
		b.WriteString(line("pictures:\n  - {file: %s, shows: The mark as it is now}", file))
	}
	b.WriteString(line("private: {owner: \"%s\", paid: \"%d\"}\n---\n\n%s", person(r), 20+r.IntN(200), prose(r, 1+r.IntN(2))))
	h.record("examples/"+id+".md", b.String())
}

// seen writes one observation: mostly sure, at times one of two values.
func (m *model) seen(k int, s period) string {
	switch m.rand.IntN(12) {
	case 0:
		return line("  - {feature: %s, value: %s, sure: unsure, note: \"Worn\"}", s.feature, s.value)
	case 1:
		return line("  - {feature: %s, value: %s, sure: fairly}", s.feature, s.value)
	case 2:
		for i, o := range m.periods {
			if i != k && o.feature == s.feature {
				return line("  - {feature: %s, value: [%s, %s]}", s.feature, s.value, o.value)
			}
		}
	}
	return line("  - {feature: %s, value: %s}", s.feature, s.value)
}
