package sheets

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"

	"yearmark/exchange/journal"
	"yearmark/schema"
)

// Plan is what a table would change.
type Plan struct {
	Table   string           // "claims", "sources" …
	Changes []journal.Change // by file
	Edited  int              // rows that say something else than the records
	Added   int              // rows that the records do not have
	Same    int              // rows that say what the records say
	// Notes are remarks for whoever brought the table, lower case, no full stop.
	Notes []string
}

// Prepare works out what a table would change in a reference. name is what the
// table is called in messages. The error is a Problems where the table
// cannot be taken over; then nothing of it can. The reference must not be used
// afterwards: its records become part of another.
func Prepare(ref *schema.Reference, name string, data []byte) (*Plan, error) {
	s, err := readSheet(name, data)
	if err != nil {
		return nil, err
	}
	in := newIntake(ref, name)
	in.sheet = s
	if err := in.table(); err != nil {
		return nil, err
	}
	return in.plan()
}

// plan carries the drafts out in memory and looks at what comes of them.
func (in *intake) plan() (*Plan, error) {
	var broken []schema.Problem
	records := map[string]schema.Record{}
	files := slices.Sorted(maps.Keys(in.drafts))
	for _, file := range files {
		d := in.drafts[file]
		if err := d.finish(); err != nil {
			in.faults = append(in.faults, Problem{File: file, Message: err.Error(), Help: "Make this change in the record itself."})
			continue
		}
		now, problems := schema.ReadRecord(file, d.after)
		broken = append(broken, problems...)
		records[file] = now
	}
	broken = append(broken, in.linkProblems(records)...)
	in.blame(broken)
	if p := in.problems(); p != nil {
		return nil, p
	}
	for _, file := range files {
		in.verify(in.drafts[file], records[file])
	}
	if p := in.problems(); p != nil {
		return nil, p
	}
	in.changes(files)
	for _, column := range slices.Sorted(maps.Keys(in.shownOtherwise)) {
		s := in.shownOtherwise[column]
		in.note("column %q: a spreadsheet shows %s otherwise than the records, as %s for %s; the records stay as they are", column, rowsWords(s.rows), s.cell, s.now)
	}
	return &in.result, nil
}

func rowsWords(n int) string {
	if n == 1 {
		return "1 cell"
	}
	return fmt.Sprintf("%d cells", n)
}

// problems gives all that is wrong so far, or nil.
func (in *intake) problems() Problems {
	list := slices.Clone(in.faults)
	if in.sheet != nil {
		list = append(list, in.sheet.problems()...)
	}
	if len(list) == 0 {
		return nil
	}
	return list.sorted()
}

// changes lists the records that would not stay as they are.
func (in *intake) changes(files []string) {
	for _, file := range files {
		d := in.drafts[file]
		var before []byte
		if d.record != nil {
			before = d.record.Header().Source
		}
		if d.record == nil || !bytes.Equal(before, d.after) {
			in.result.Changes = append(in.result.Changes, journal.Change{File: file, Before: before, After: d.after})
		}
	}
	slices.SortFunc(in.result.Changes, func(a, b journal.Change) int { return cmp.Compare(a.File, b.File) })
}

// linkProblems assembles the reference as it would be, and gives the problems
// that it did not have before.
func (in *intake) linkProblems(changed map[string]schema.Record) []schema.Problem {
	if len(changed) == 0 {
		return nil
	}
	type one struct{ check, file, message string }
	key := func(p schema.Problem) one { return one{p.Check, p.Pos.File(), p.Message} }
	_, before := schema.Assemble(in.ref.Folder, in.ref.Settings, in.ref.Records(), in.ref.Media)
	known := map[one]int{}
	for _, p := range before {
		known[key(p)]++
	}
	var records []schema.Record
	rest := maps.Clone(changed)
	for _, r := range in.ref.Records() {
		if now, ok := rest[r.Header().File]; ok {
			delete(rest, r.Header().File)
			r = now
		}
		records = append(records, r)
	}
	for _, file := range slices.Sorted(maps.Keys(rest)) {
		records = append(records, rest[file])
	}
	_, after := schema.Assemble(in.ref.Folder, in.ref.Settings, records, in.ref.Media)
	var gained []schema.Problem
	for _, p := range after {
		if known[key(p)]--; known[key(p)] < 0 {
			gained = append(gained, p)
		}
	}
	return gained
}

// blame tells problems of the records as problems of the rows that cause them.
func (in *intake) blame(broken []schema.Problem) {
	for _, p := range broken {
		d := in.drafts[p.Pos.File()]
		if d != nil {
			if r, column, ok := d.rowAt(p.Pos); ok && in.sheet != nil {
				in.sheet.report(r.row, column, p.Message, p.Help)
				continue
			}
		}
		fault := Problem{File: p.Pos.File(), Line: p.Pos.Line(), Message: p.Message, Help: p.Help}
		if d != nil && in.sheet == nil {
			fault = Problem{File: in.name, Line: d.line, Message: fmt.Sprintf("in %s, made of the item: %s", d.file, p.Message), Help: p.Help}
		}
		in.faults = append(in.faults, fault)
	}
}

// verify holds the record as it would be against what the rows say and, for all
// else, against the record as it was.
func (in *intake) verify(d *draft, now schema.Record) {
	if now == nil {
		in.faults = append(in.faults, Problem{File: d.file, Message: "the record could not be read again", Help: "Make this change in the record itself."})
		return
	}
	for _, r := range d.rows {
		if column := r.check(now); column != "" {
			in.blameRow(d, r, column)
		}
	}
	if d.record == nil {
		return
	}
	if err := othersKept(d, now); err != nil {
		in.faults = append(in.faults, Problem{File: d.file, Message: err.Error(), Help: "Make this change in the record itself."})
	}
}

func (in *intake) blameRow(d *draft, r draftRow, column string) {
	message := fmt.Sprintf("%s would not say what the cell says", d.file)
	if in.sheet == nil {
		in.faults = append(in.faults, Problem{File: in.name, Message: message, Help: "Make this change in the record itself."})
		return
	}
	in.sheet.report(r.row, column, message, "Make this change in the record itself.")
}

// othersKept wants every claim that no row is about to be what it was.
func othersKept(d *draft, now schema.Record) error {
	if !bytes.Equal([]byte(d.record.Header().Body.Text), []byte(now.Header().Body.Text)) {
		return errors.New("the text below the keys would change")
	}
	touched := map[*schema.Claim]bool{}
	whole := slices.ContainsFunc(d.rows, func(r draftRow) bool { return r.key == "" })
	for _, r := range d.rows {
		if c := claimAt(d.record, r.key, r.index); c != nil {
			touched[c] = true
		}
	}
	for place, c := range claimsOf(d.record) {
		after := claimAt(now, place.key, place.index)
		itself := place.index < 0 && whole // made or trading, which are columns of the record's own table
		if !touched[c] && !itself && (after == nil || !slices.Equal(cellsOf(nil, claimFields, c), cellsOf(nil, claimFields, after))) {
			return fmt.Errorf("the claim %q, which no row is about, would change", c.Key())
		}
	}
	return nil
}
