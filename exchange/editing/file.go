package editing

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"yearmark/schema"
)

// File gathers changes to one record's file. Every change touches the bytes of
// one value or one member alone.
type File struct {
	name    string
	source  []byte
	order   []string        // of the record's own keys
	top     *schema.Located // the front matter
	newline string          // as the file ends its lines
	splices []splice
	added   []addition
}

// splice exchanges bytes of the source for other text.
type splice struct {
	start, end int
	text       string
	depth      int // of what is inserted at one place, the deeper comes first
}

// addition is what goes to the end of a list.
type addition struct {
	path  []string
	items []*Value
}

// Open reads a record's file for changes; the record may still lack what it
// must have. The error says why it cannot be edited.
func Open(name string, source []byte) (*File, error) {
	top, err := schema.Locate(name, source)
	if err != nil || top.Kind != schema.LocatedKeys || top.Flow {
		return nil, fmt.Errorf("the keys of %s are not written one to a line", name)
	}
	f := &File{name: name, source: source, top: top, newline: "\n"}
	if record, _ := schema.ReadRecord(name, source); record != nil {
		f.order = KeyOrder(record)
	}
	if i := bytes.IndexByte(source, '\n'); i > 0 && source[i-1] == '\r' {
		f.newline = "\r\n"
	}
	return f, nil
}

// Node finds a value of the file as it was read, or answers nil.
func (f *File) Node(path ...string) *schema.Located { return Node(f.top, path...) }

// Node finds the value at a path below another, or answers nil.
func Node(top *schema.Located, path ...string) *schema.Located {
	for _, step := range path {
		switch {
		case top == nil:
			return nil
		case top.Kind == schema.LocatedList:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(top.Items) {
				return nil
			}
			top = top.Items[i]
		default:
			top = top.Key(step)
		}
	}
	return top
}

// Edit is a change of one value of a mapping: the keys that lead to it, what
// the record says now and what it is to say. A nil New takes the key away. Old
// may be nil; where it is a list as long as the record's, only the items
// that differ are touched.
type Edit struct {
	Keys     []string
	Old, New *Value
}

// Change makes edits of the mapping at a path. order lists its keys as records
// have them: a key that is new goes after those that come before it. The order
// of a record's own keys is known and need not be given.
func (f *File) Change(path, order []string, edits []Edit) error {
	m := f.Node(path...)
	if m == nil || m.Kind != schema.LocatedKeys {
		return fmt.Errorf("no keys and values are to be found at one place of %s", f.name)
	}
	if len(path) == 0 {
		order = f.order
	}
	return f.mapping(m, order, len(path), edits)
}

// Add puts items at the end of the list at a path and gives the number that
// the first of them gets. A record's own key that is not there yet is made.
func (f *File) Add(path []string, items ...*Value) int {
	i := slices.IndexFunc(f.added, func(a addition) bool { return slices.Equal(a.path, path) })
	if i < 0 {
		i = len(f.added)
		f.added = append(f.added, addition{path: path})
	}
	at := len(f.added[i].items)
	if now := f.Node(path...); now != nil {
		at += len(now.Items)
	}
	f.added[i].items = append(f.added[i].items, items...)
	return at
}

// ListChange is what becomes of a list of mappings, by the number of each.
type ListChange struct {
	Edits  map[int][]Edit
	Remove []int
	Add    []*Value
	Order  []string // of an item's keys
}

// ChangeList changes, removes and adds members of the list at a path. One must be left.
func (f *File) ChangeList(path []string, change ListChange) error {
	list := f.Node(path...)
	if list == nil || list.Kind != schema.LocatedList {
		return fmt.Errorf("no list is to be found at one place of %s", f.name)
	}
	shape := newReshaping(list, f.items(list), len(path))
	for _, i := range change.Remove {
		shape.removed[i] = true
	}
	for i, edits := range change.Edits {
		if list.Items[i].Kind != schema.LocatedKeys {
			return fmt.Errorf("an item of a list in %s is not written as keys and values", f.name)
		}
		if err := f.mapping(list.Items[i], change.Order, len(path)+1, edits); err != nil {
			return err
		}
	}
	_, last := shape.kept()
	for _, item := range change.Add {
		shape.added[last] = append(shape.added[last], item.flow())
	}
	return f.reshape(shape)
}

// Bytes carries the changes out and gives the file as it becomes.
func (f *File) Bytes() ([]byte, error) {
	if err := f.add(); err != nil {
		return nil, err
	}
	slices.SortStableFunc(f.splices, func(a, b splice) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(min(a.end-a.start, 1), min(b.end-b.start, 1)), cmp.Compare(b.depth, a.depth))
	})
	var out []byte
	at := 0
	for _, s := range f.splices {
		if s.start < at {
			return nil, fmt.Errorf("two changes of %s meet in one place", f.name)
		}
		out = append(append(out, f.source[at:s.start]...), s.text...)
		at = s.end
	}
	return append(out, f.source[at:]...), nil
}

// add carries out what was to be added to lists.
func (f *File) add() error {
	top := newReshaping(f.top, keyMembers(f.top), 0)
	for _, a := range f.added {
		lines := make([]string, len(a.items))
		for i, item := range a.items {
			lines[i] = item.flow()
		}
		now := f.Node(a.path...)
		switch {
		case now != nil && now.Kind == schema.LocatedList:
			list := newReshaping(now, f.items(now), len(a.path))
			list.added[len(list.members)-1] = lines
			if err := f.reshape(list); err != nil {
				return err
			}
		case len(a.path) != 1:
			return fmt.Errorf("there is no list to add to in %s", f.name)
		case now != nil:
			f.splice(now.Start, now.End, f.asLines("", lines), 1)
		default:
			after := anchor(f.top, top.removed, f.order, a.path[0])
			top.added[after] = append(top.added[after], f.asLines(a.path[0]+":", lines))
		}
	}
	f.added = nil
	return f.reshape(top)
}

// asLines writes items one to a line below a key.
func (f *File) asLines(key string, items []string) string {
	for _, item := range items {
		key += f.newline + "  - " + item
	}
	return key
}

func (f *File) splice(start, end int, text string, depth int) {
	f.splices = append(f.splices, splice{start, end, text, depth})
}
