package sheets

import (
	"fmt"
	"strconv"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// draft is one record as it is to become.
type draft struct {
	file   string
	record schema.Record // as read; nil for a new record
	edit   *editing.File // nil for a new record
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

// openDraft makes the draft of a record that is there. The error says why it cannot be edited.
func openDraft(r schema.Record) (*draft, error) {
	head := r.Header()
	if _, problems := schema.ReadRecord(head.File, head.Source); len(problems) > 0 {
		return nil, fmt.Errorf("the record %s has a mistake of its own, on line %d: %s", head.File, problems[0].Pos.Line(), problems[0].Message)
	}
	file, err := editing.Open(head.File, head.Source)
	return &draft{file: head.File, record: r, edit: file}, err
}

// newDraft makes the draft of a record that is not there yet.
func newDraft(kind schema.Kind, id string, keys *editing.Value) *draft {
	return &draft{file: kind.FileOf(id), after: editing.NewRecord(kind, keys, "")}
}

// pathTo leads to a claim or to the list or mapping below a key; index is -1 for those.
func pathTo(key string, index int) []string {
	switch {
	case key == "":
		return nil
	case index < 0:
		return []string{key}
	}
	return []string{key, strconv.Itoa(index)}
}

// finish carries out all that was gathered.
func (d *draft) finish() error {
	if d.after != nil {
		return nil
	}
	after, err := d.edit.Bytes()
	d.after = after
	return err
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
	offset := editing.Offset(d.after, at)
	for _, r := range d.rows {
		node := editing.Node(d.become, pathTo(r.key, r.index)...)
		if node == nil || offset < node.Start || offset >= max(node.End, node.Start+1) {
			continue
		}
		return r, r.column(d.become, editing.PathAt(node, offset)), true
	}
	return draftRow{}, "", false
}
