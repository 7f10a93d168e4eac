package schema

import (
	"fmt"

	"yearmark/schema/english"
)

// Remedy is a way to end a problem that a program can carry out once a person
// wants it: plain edits of files.
type Remedy struct {
	Title string // what it does: begins with a capital verb, without a full stop
	Asks  string // a question to the person, whose answer an Edit writes; "" where nothing is asked
	Edits []Edit
}

// Edit is one change of a file. Places are those of the files as they were
// read; later edits of a remedy do not shift them.
type Edit struct {
	Pos  Pos      // in the value that is meant, or where a name or a word stands; without a line the record as a whole
	Keys []string // lead on from there, as in "settled", "over", "-": "-" is a further item of a list. What is not there yet is made
	Old  string   // a name or a word that alone is exchanged, the first at Pos or after it in its line
	New  string   // what is written; where it is empty what is there is taken away
	Said bool     // what the person answers is written in place of New
	To   string   // the file goes to this path; all else is empty
}

// Mended is a file before and after a remedy; nil stands for no file.
type Mended struct {
	File          string
	Before, After []byte
}

// instead writes a value in place of the one at a place.
func instead(at Pos, written, now string) Remedy {
	return Remedy{Title: replacing(written, now), Edits: []Edit{{Pos: at, New: now}}}
}

// Rename writes a name in place of another at a place.
func Rename(at Pos, written, now string) Remedy {
	return Remedy{Title: replacing(written, now), Edits: []Edit{{Pos: at, Old: written, New: now}}}
}

func replacing(written, now string) string {
	return fmt.Sprintf("Write %q instead of %q", now, english.Clip(written, 60))
}

// Erase takes away the value at a place.
func Erase(title string, at Pos, keys ...string) Remedy {
	return Remedy{Title: title, Edits: []Edit{{Pos: at, Keys: keys}}}
}

// offer adds remedies to the problem that was reported last.
func (d *decoder) offer(list ...Remedy) {
	if !d.full() && len(d.problems) > 0 {
		p := &d.problems[len(d.problems)-1]
		p.Remedies = append(p.Remedies, list...)
	}
}

// offer adds remedies to the problem that was reported last.
func (l *linker) offer(list ...Remedy) {
	p := &l.pending[len(l.pending)-1]
	p.Remedies = append(p.Remedies, list...)
}

// offerNearest offers the known name that is most like one that is not known.
func (d *decoder) offerNearest(at Pos, name string, known []string) {
	if near, ok := Nearest(name, known); ok {
		d.offer(Rename(at, name, near))
	}
}
