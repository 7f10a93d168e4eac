package sheets

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"yearmark/schema"
)

// editor gathers changes to one record's file. Every change touches the bytes
// of one value or one member alone, so that all else stays as it is.
type editor struct {
	file    string
	source  []byte
	newline string // as the file ends its lines
	splices []splice
}

// splice exchanges bytes of the source for other text.
type splice struct {
	start, end int
	text       string
	depth      int // of what is inserted at one place, the deeper comes first
}

func newEditor(file string, source []byte) *editor {
	e := &editor{file: file, source: source, newline: "\n"}
	if i := bytes.IndexByte(source, '\n'); i > 0 && source[i-1] == '\r' {
		e.newline = "\r\n"
	}
	return e
}

func (e *editor) splice(start, end int, text string, depth int) {
	e.splices = append(e.splices, splice{start, end, text, depth})
}

// apply carries the changes out.
func (e *editor) apply() ([]byte, error) {
	slices.SortStableFunc(e.splices, func(a, b splice) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(min(a.end-a.start, 1), min(b.end-b.start, 1)), cmp.Compare(b.depth, a.depth))
	})
	var out []byte
	at := 0
	for _, s := range e.splices {
		if s.start < at {
			return nil, fmt.Errorf("two changes of %s meet in one place", e.file)
		}
		out = append(append(out, e.source[at:s.start]...), s.text...)
		at = s.end
	}
	return append(out, e.source[at:]...), nil
}

// edit is a change of one value: where it is, what the record says now and
// what it is to say. A nil fragment takes the key away.
type edit struct {
	way      []string
	old, new *fragment
}

// mapping changes keys of a mapping. order lists its keys as records have
// them; a key that is new goes after those that come before it.
func (e *editor) mapping(m *schema.Located, order []string, depth int, edits []edit) error {
	members := make([]member, len(m.Keys))
	for i, k := range m.Keys {
		members[i] = member{start: k.Start, end: max(k.End, k.Value.End)}
	}
	shape := reshaping{node: m, members: members, removed: make([]bool, len(members)), added: map[int][]string{}, depth: depth}
	for _, group := range grouped(edits, order) {
		name := group[0].way[0]
		at := slices.IndexFunc(m.Keys, func(k schema.LocatedKey) bool { return k.Name == name })
		if at >= 0 && len(group[0].way) > 1 && m.Keys[at].Value.Kind == schema.LocatedKeys && !removesAll(m.Keys[at].Value, group) {
			if err := e.mapping(m.Keys[at].Value, nil, depth+1, inner(group)); err != nil {
				return err
			}
			continue
		}
		value := whole(group)
		switch {
		case at >= 0 && value == nil:
			shape.removed[at] = true
		case at >= 0:
			e.value(m, at, edit{old: group[0].old, new: value}, depth)
		case value != nil:
			after := anchor(m, shape.removed, order, name)
			text := name + ": " + value.block()
			if m.Flow {
				text = name + ": " + value.flow()
			}
			shape.added[after] = append(shape.added[after], text)
		}
	}
	return e.reshape(shape)
}

// grouped puts edits below one key together, in the order of the keys.
func grouped(edits []edit, order []string) [][]edit {
	var groups [][]edit
	for _, ed := range edits {
		i := slices.IndexFunc(groups, func(g []edit) bool { return g[0].way[0] == ed.way[0] })
		if i < 0 {
			groups = append(groups, []edit{ed})
			continue
		}
		groups[i] = append(groups[i], ed)
	}
	slices.SortStableFunc(groups, func(a, b []edit) int {
		return cmp.Compare(slices.Index(order, a[0].way[0]), slices.Index(order, b[0].way[0]))
	})
	return groups
}

func inner(group []edit) []edit {
	list := make([]edit, len(group))
	for i, ed := range group {
		list[i] = edit{ed.way[1:], ed.old, ed.new}
	}
	return list
}

// removesAll says that nothing would be left of a mapping.
func removesAll(m *schema.Located, group []edit) bool {
	for _, k := range m.Keys {
		i := slices.IndexFunc(group, func(ed edit) bool { return ed.way[1] == k.Name })
		if i < 0 || group[i].new != nil {
			return false
		}
	}
	return !slices.ContainsFunc(group, func(ed edit) bool { return ed.new != nil })
}

// whole is the value that a group of edits makes of a key that is not there.
func whole(group []edit) *fragment {
	if len(group[0].way) == 1 {
		return group[0].new
	}
	m := mappingOf()
	for _, ed := range group {
		m.with(ed.way[1], ed.new)
	}
	if len(m.keys) == 0 {
		return nil
	}
	return m
}

// anchor finds the member that a new key is to follow, or -1 for none.
func anchor(m *schema.Located, removed []bool, order []string, name string) int {
	place := slices.Index(order, name)
	after := -1
	for i, k := range m.Keys {
		if !removed[i] && (place < 0 || slices.Index(order, k.Name) < place) {
			after = i
		}
	}
	return after
}

// value exchanges one value of a mapping.
func (e *editor) value(m *schema.Located, at int, change edit, depth int) {
	key, old, value := m.Keys[at], change.old, change.new
	now := key.Value
	switch {
	case now.Kind == schema.LocatedList && value.kind == listFragment && old != nil && len(old.items) == len(now.Items) && len(now.Items) > 0 && len(value.items) > 0:
		e.list(now, old.items, value.items, depth+1)
	case now.Kind != schema.LocatedText && !now.Flow:
		start := now.Start
		if gap := e.source[key.End:now.Start]; len(bytes.Trim(gap, ": \t\r\n")) == 0 {
			start = key.End
		}
		text := value.flow()
		if start == key.End {
			text = ": " + text
		}
		e.splice(start, now.End, text, depth)
	case now.Kind == schema.LocatedText && now.Start == now.End:
		e.splice(now.Start, now.End, " "+written(value, 0, m.Flow), depth)
	default:
		e.splice(now.Start, now.End, written(value, now.Style, m.Flow), depth)
	}
}

// written writes a value in the quotes that stood there before, if they will do.
func written(f *fragment, style byte, flow bool) string {
	if f.kind == wordFragment || f.kind == quotedFragment {
		switch style {
		case '"':
			return doubleQuoted(f.text)
		case '\'':
			if s, ok := singleQuoted(f.text); ok {
				return s
			}
		}
	}
	if flow {
		return f.flow()
	}
	return f.block()
}

// list changes the items of a list that are not what they were: those at its
// beginning and end that are the same stay untouched.
func (e *editor) list(n *schema.Located, old, items []fragment, depth int) {
	head := 0
	for head < len(old) && head < len(items) && old[head].flow() == items[head].flow() {
		head++
	}
	tail := 0
	for tail < len(old)-head && tail < len(items)-head && old[len(old)-1-tail].flow() == items[len(items)-1-tail].flow() {
		tail++
	}
	oldEnd, newEnd := len(old)-tail, len(items)-tail
	shape := reshaping{node: n, members: e.items(n), removed: make([]bool, len(old)), added: map[int][]string{}, depth: depth}
	for head < oldEnd && head < newEnd {
		now := n.Items[head]
		e.splice(now.Start, now.End, written(&items[head], now.Style, n.Flow), depth)
		head++
	}
	for i := head; i < oldEnd; i++ {
		shape.removed[i] = true
	}
	for i := head; i < newEnd; i++ {
		shape.added[head-1] = append(shape.added[head-1], items[i].flow())
	}
	// what is removed cannot leave the list empty: items is not empty
	_ = e.reshape(shape)
}

// items gives the members of a list; in a list with hyphens a member begins
// with its own.
func (e *editor) items(n *schema.Located) []member {
	members := make([]member, len(n.Items))
	for i, item := range n.Items {
		members[i] = member{item.Start, item.End}
		if n.Flow {
			continue
		}
		if i == 0 {
			members[i].start = n.Start
			continue
		}
		from := n.Items[i-1].End
		if dash := e.hyphen(n, from, item.Start); dash >= 0 {
			members[i].start = dash
		}
	}
	return members
}

// hyphen finds the hyphen of a list's item between two places: the one that
// stands below the list's first.
func (e *editor) hyphen(n *schema.Located, from, to int) int {
	column := n.Start - e.lineStart(n.Start)
	for at := from; at < to; at++ {
		if e.source[at] == '-' && at-e.lineStart(at) == column {
			return at
		}
	}
	return -1
}
