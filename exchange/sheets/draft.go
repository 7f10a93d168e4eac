package sheets

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"unicode/utf8"

	"yearmark/schema"
)

// draft is one record as it is to become.
type draft struct {
	file   string
	record schema.Record   // as read; nil for a new record
	top    *schema.Located // of the record as read
	edit   *editor
	lists  map[string][]fragment // claims to be added, by list
	order  []string              // of the keys of its lists, as first added to
	rows   []draftRow
	after  []byte // once done
	line   int    // of the file that it comes from, where that is no table

	become    *schema.Located // of what it is to become
	unlocated bool
}

// draftRow is a row of the table and where in the record it speaks.
type draftRow struct {
	row   int
	key   string // a top key; "" for the whole record
	index int    // in the list below that key; -1 for the key itself
	// column names the column that fills a key of the row's mapping, given the
	// way there; "" where none does.
	column func(top *schema.Located, way []string) string
	check  func(now schema.Record) (column string) // what reads otherwise than the row wants, once done
}

// open makes the draft of a record that is there. The error says why it cannot be edited.
func openDraft(r schema.Record) (*draft, error) {
	head := r.Header()
	d := &draft{file: head.File, record: r, edit: newEditor(head.File, head.Source), lists: map[string][]fragment{}}
	if _, problems := schema.ReadRecord(head.File, head.Source); len(problems) > 0 {
		return nil, fmt.Errorf("the record %s has a mistake of its own, on line %d: %s", head.File, problems[0].Pos.Line(), problems[0].Message)
	}
	top, err := schema.Locate(head.File, head.Source)
	if err != nil || top.Kind != schema.LocatedKeys || top.Flow {
		return nil, fmt.Errorf("the keys of %s are not written one to a line", head.File)
	}
	d.top = top
	return d, nil
}

// newDraft makes the draft of a record that is not there yet.
func newDraft(file string, kind schema.Kind, keys *fragment, text string) *draft {
	var b strings.Builder
	fmt.Fprintf(&b, "---\nrecord: %s\n", kind)
	for _, k := range keys.keys {
		if k.value.kind == listFragment && len(k.value.items) > 0 && k.value.items[0].kind == keysFragment {
			fmt.Fprintf(&b, "%s:\n", k.name)
			for _, item := range k.value.items {
				fmt.Fprintf(&b, "  - %s\n", item.flow())
			}
			continue
		}
		fmt.Fprintf(&b, "%s: %s\n", k.name, k.value.block())
	}
	b.WriteString("---\n")
	if text = strings.TrimSpace(text); text != "" {
		b.WriteString("\n" + text + "\n")
	}
	return &draft{file: file, after: []byte(b.String())}
}

// node finds a claim's mapping in the record as read.
func (d *draft) node(key string, index int) *schema.Located { return nodeIn(d.top, key, index) }

func nodeIn(top *schema.Located, key string, index int) *schema.Located {
	if top == nil || key == "" {
		return top
	}
	list := top.Key(key)
	switch {
	case list == nil || index < 0:
		return list
	case index < len(list.Items):
		return list.Items[index]
	}
	return nil
}

// add puts a claim at the end of a list and gives its place there.
func (d *draft) add(list string, claim *fragment) int {
	if d.lists[list] == nil {
		d.order = append(d.order, list)
	}
	d.lists[list] = append(d.lists[list], *claim)
	before := 0
	if now := d.top.Key(list); now != nil {
		before = len(now.Items)
	}
	return before + len(d.lists[list]) - 1
}

// finish carries out all that was gathered.
func (d *draft) finish() error {
	if d.after != nil {
		return nil
	}
	keys := keyOrder(d.record)
	shape := d.topShape()
	for _, list := range d.order {
		items := d.lists[list]
		lines := make([]string, len(items))
		for i := range items {
			lines[i] = items[i].flow()
		}
		now := d.top.Key(list)
		switch {
		case now != nil && now.Kind == schema.LocatedList:
			members := d.edit.items(now)
			grown := reshaping{node: now, members: members, removed: make([]bool, len(members)), added: map[int][]string{len(members) - 1: lines}, depth: 1}
			if err := d.edit.reshape(grown); err != nil {
				return err
			}
		case now != nil:
			d.edit.splice(now.Start, now.End, d.asLines("", lines), 1)
		default:
			after := anchor(d.top, shape.removed, keys, list)
			shape.added[after] = append(shape.added[after], d.asLines(list+":", lines))
		}
	}
	if err := d.edit.reshape(shape); err != nil {
		return err
	}
	after, err := d.edit.apply()
	d.after = after
	return err
}

func (d *draft) topShape() reshaping {
	members := make([]member, len(d.top.Keys))
	for i, k := range d.top.Keys {
		members[i] = member{k.Start, max(k.End, k.Value.End)}
	}
	return reshaping{node: d.top, members: members, removed: make([]bool, len(members)), added: map[int][]string{}}
}

// asLines writes items one to a line below a key.
func (d *draft) asLines(key string, items []string) string {
	return key + d.edit.newline + "  - " + strings.Join(items, d.edit.newline+"  - ")
}

// rowAt finds the row, and the column where one is to blame, that speaks at a
// place of the record as it is to become.
func (d *draft) rowAt(at schema.Pos) (draftRow, string, bool) {
	if d.become == nil && !d.unlocated {
		var err error
		d.become, err = schema.Locate(d.file, d.after)
		d.unlocated = err != nil
	}
	if d.unlocated || at.Line() == 0 {
		return draftRow{}, "", false
	}
	offset := offsetOf(d.after, at)
	for _, r := range d.rows {
		node := nodeIn(d.become, r.key, r.index)
		if node == nil || offset < node.Start || offset >= max(node.End, node.Start+1) {
			continue
		}
		return r, r.column(d.become, wayTo(node, offset)), true
	}
	return draftRow{}, "", false
}

// wayTo lists the keys that lead from a mapping to a byte; items of lists go by
// their number in brackets.
func wayTo(l *schema.Located, offset int) []string {
	var way []string
	for l != nil {
		var next *schema.Located
		for i, item := range l.Items {
			if offset >= item.Start && offset < max(item.End, item.Start+1) {
				way, next = append(way, fmt.Sprintf("[%d]", i)), item
			}
		}
		for _, k := range l.Keys {
			if offset >= k.Start && offset < max(k.Value.End, k.End) {
				way, next = append(way, k.Name), k.Value
			}
		}
		l = next
	}
	return way
}

// offsetOf is the byte of a place in a file.
func offsetOf(source []byte, at schema.Pos) int {
	offset := 0
	for line := 1; line < at.Line(); line++ {
		next := bytes.IndexByte(source[offset:], '\n')
		if next < 0 {
			return len(source)
		}
		offset += next + 1
	}
	for column := 1; column < at.Column() && offset < len(source); column++ {
		_, size := utf8.DecodeRune(source[offset:])
		offset += size
	}
	return offset
}

// keyOrder lists a record's or claim's keys in the order of its type.
func keyOrder(of any) []string {
	t := reflect.TypeOf(of)
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	keys := []string{"record"}
	for i := range t.NumField() {
		if key := t.Field(i).Tag.Get("yaml"); key != "" && key != "-" {
			keys = append(keys, key)
		}
	}
	return keys
}
