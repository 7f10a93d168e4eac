package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"time"
)

// ChangedSince says why an entry cannot be taken back.
type ChangedSince struct {
	Entry Entry
	File  string
}

func (e *ChangedSince) Error() string {
	return fmt.Sprintf("%q cannot be taken back: %s was changed since", e.Entry.Command, e.File)
}

// Undo takes the last entry back that is not yet taken back, and gives it; nil
// where there is none. The error is a ChangedSince where a file is not as the
// entry left it.
func (j *Journal) Undo() (*Entry, error) {
	done, _, err := j.history()
	if err != nil || len(done) == 0 {
		return nil, err
	}
	last := done[len(done)-1]
	return j.takeBack(last, Entry{Command: "undo", Undoes: last.number})
}

// Redo does again what the last Undo took back, if nothing was written since,
// and gives the entry as it was first written; nil where there is none. The error is as Undo's.
func (j *Journal) Redo() (*Entry, error) {
	_, undone, err := j.history()
	if err != nil || len(undone) == 0 {
		return nil, err
	}
	last := undone[len(undone)-1]
	first, err := j.read(entryFile(last.entry.Undoes))
	if errors.Is(err, fs.ErrNotExist) { // so long ago that it is no longer kept
		first, err = Entry{Command: "a change", Files: reversed(last.entry.Files)}, nil
	}
	if err != nil {
		return nil, err
	}
	_, err = j.takeBack(last, Entry{Command: first.Command, Redoes: last.number})
	return &first, err
}

// Next names what Undo and Redo would take back or do again: the commands, empty
// where there is nothing.
func (j *Journal) Next() (undo, redo string, err error) {
	done, undone, err := j.history()
	if err != nil {
		return "", "", err
	}
	if len(done) > 0 {
		undo = done[len(done)-1].entry.Command
	}
	if len(undone) > 0 {
		if first, err := j.read(entryFile(undone[len(undone)-1].entry.Undoes)); err == nil {
			redo = first.Command
		}
	}
	return undo, redo, nil
}

// numbered is an entry and its number.
type numbered struct {
	number int
	entry  Entry
}

// history goes through the entries: those that stand, oldest first, and the
// undoing ones that can be taken back in turn. A new entry ends redoing.
func (j *Journal) history() (done, undone []numbered, err error) {
	numbers, err := j.numbers()
	if err != nil {
		return nil, nil, err
	}
	for _, n := range numbers {
		e, err := j.read(entryFile(n))
		if err != nil {
			return nil, nil, err
		}
		switch at := (numbered{n, e}); {
		case e.Undoes > 0:
			done = without(done, e.Undoes)
			undone = append(undone, at)
		case e.Redoes > 0:
			undone = without(undone, e.Redoes)
			done = append(done, at)
		default:
			done, undone = append(done, at), nil
		}
	}
	return done, undone, nil
}

// without drops the last of a list if it has that number; it may have been
// written by an entry that is no longer kept.
func without(list []numbered, number int) []numbered {
	if n := len(list); n > 0 && list[n-1].number == number {
		return list[:n-1]
	}
	return list
}

// takeBack writes the files of an entry as they were before it.
func (j *Journal) takeBack(last numbered, as Entry) (*Entry, error) {
	for _, c := range last.entry.Files {
		now, err := readFile(j.root, c.File)
		if err != nil {
			return nil, err
		}
		if !same(now, c.After) {
			return nil, &ChangedSince{last.entry, c.File}
		}
	}
	as.Version, as.Time, as.Files = version, time.Now().UTC().Truncate(time.Second), reversed(last.entry.Files)
	return &last.entry, j.write(as)
}
