package journal

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"yearmark/schema/files"
)

// Folder is where the journal lies, below the reference's folder. A hidden
// folder is no part of a reference.
const Folder = ".yearmark"

// IgnoreFile, filled with IgnoreAll, makes git leave the whole folder out.
const (
	IgnoreFile = Folder + "/.gitignore"
	IgnoreAll  = "*\n"
)

const (
	entries  = Folder + "/journal"
	staging  = Folder + "/staged" // files on their way; what lies here without a writer is litter
	pending  = entries + "/pending.json"
	lockFile = Folder + "/lock"
	maxKept  = 100 // entries that can be undone
	version  = 1
	tryAgain = 50 * time.Millisecond // how often a held lock is asked for
)

// Entry is what one command wrote.
type Entry struct {
	Version int       `json:"version"`
	Command string    `json:"command"` // as typed, without the program: "import claims.csv"
	Time    time.Time `json:"time"`
	Undoes  int       `json:"undoes,omitempty"` // the number of the entry that it takes back
	Redoes  int       `json:"redoes,omitempty"` // the number of the undoing entry that it takes back in turn
	Files   []Change  `json:"files"`
}

// Journal is the right to write to a reference's folder. It is not safe for
// concurrent use.
type Journal struct {
	root *os.Root
	lock *flock.Flock
}

// Open waits until nobody else writes to the folder, and finishes or takes back
// what a writer that was stopped left half done; notes gets a line for both. It ends
// with the context.
func Open(ctx context.Context, folder string, notes io.Writer) (*Journal, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, fmt.Errorf("the folder %q cannot be opened: %w", folder, files.WithoutPath(err))
	}
	j := &Journal{root: root, lock: flock.New(filepath.Join(folder, filepath.FromSlash(lockFile)), flock.SetPermissions(0o666))}
	if err := j.take(ctx, folder, notes); err != nil {
		return nil, errors.Join(err, root.Close())
	}
	if err := j.recover(notes); err != nil {
		return nil, errors.Join(err, j.Close())
	}
	return j, nil
}

// take makes the journal's folders and takes the lock.
func (j *Journal) take(ctx context.Context, folder string, notes io.Writer) error {
	if err := j.folders(); err != nil {
		return fmt.Errorf("nothing can be written to the folder %q: %w", folder, files.WithoutPath(err))
	}
	free, err := j.lock.TryLock()
	if err == nil && !free {
		fmt.Fprintf(notes, "waiting: another command is writing to %s\n", folder)
		_, err = j.lock.TryLockContext(ctx, tryAgain)
	}
	if err != nil {
		return fmt.Errorf("the folder %q cannot be held for writing: %w", folder, files.WithoutPath(err))
	}
	return nil
}

func (j *Journal) folders() error {
	for _, name := range []string{Folder, entries, staging} {
		info, err := j.root.Lstat(name)
		switch {
		case err == nil && !info.IsDir():
			return fmt.Errorf("%s is not a folder; move it away", name)
		case errors.Is(err, fs.ErrNotExist):
			err = j.root.Mkdir(name, 0o755)
		}
		if err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	_, err := j.Furnish(map[string][]byte{IgnoreFile: []byte(IgnoreAll)})
	return err
}

// Furnish puts files that are no records where they are not there yet, by path
// below the reference's folder, and counts them.
func (j *Journal) Furnish(texts map[string][]byte) (int, error) {
	written := 0
	for name, data := range texts {
		switch err := writeWhole(j.root, name, data, 0o644); {
		case err == nil:
			written++
		case !errors.Is(err, fs.ErrExist):
			return written, errors.Join(fmt.Errorf("cannot write %s: %w", name, files.WithoutPath(err)), j.root.Remove(name))
		}
	}
	return written, nil
}

// Close lets the next writer in.
func (j *Journal) Close() error {
	return errors.Join(j.lock.Close(), j.root.Close())
}

// Exists says whether anything lies at a path of the folder.
func (j *Journal) Exists(file string) bool {
	_, err := j.root.Lstat(file)
	return err == nil
}

// Write makes all of the changes or none. command is what undo calls them;
// where it is empty they cannot be undone. The error says of which file
// somebody else was quicker, or what the disk refused.
func (j *Journal) Write(command string, changes []Change) error {
	return j.write(Entry{Version: version, Command: command, Time: time.Now().UTC().Truncate(time.Second), Files: changes})
}

func (j *Journal) write(e Entry) error {
	e.Files = slices.Clone(e.Files)
	x := &exchange{root: j.root}
	defer clearStaging(j.root)
	for i := range e.Files {
		if err := x.prepare(&e.Files[i]); err != nil {
			return errors.Join(fmt.Errorf("nothing was written: %w", err), x.back(0))
		}
	}
	if err := j.announce(e); err != nil {
		return errors.Join(fmt.Errorf("nothing was written: the journal cannot be written: %w", files.WithoutPath(err)), x.back(0))
	}
	for i := range e.Files {
		if err := x.exchange(i); err != nil {
			failed := fmt.Errorf("nothing was written: %w", err)
			if err := x.back(i); err != nil {
				return errors.Join(failed, err, errors.New("the next command that writes takes back what is left"))
			}
			return errors.Join(failed, j.root.Remove(pending))
		}
	}
	x.settle()
	return j.keep(e)
}

// announce puts what is about to be written on the disk.
func (j *Journal) announce(e Entry) error {
	data, err := json.Marshal(e)
	if err != nil {
		return err
	}
	mode := fs.FileMode(0o644)
	for _, c := range e.Files {
		mode &= c.Mode // an entry holds the bytes of its files
	}
	temp := staging + "/entry"
	if err := writeWhole(j.root, temp, data, mode|0o600); err != nil {
		return err
	}
	if err := j.root.Rename(temp, pending); err != nil {
		return err
	}
	settle(j.root, entries)
	return nil
}

// keep makes what was written an entry that can be undone.
func (j *Journal) keep(e Entry) error {
	if e.Command == "" {
		return j.root.Remove(pending)
	}
	numbers, err := j.numbers()
	if err != nil {
		return err
	}
	next := 1
	if len(numbers) > 0 {
		next = numbers[len(numbers)-1] + 1
	}
	if err := j.root.Rename(pending, entryFile(next)); err != nil {
		return err
	}
	settle(j.root, entries)
	for i := 0; i < len(numbers)+1-maxKept; i++ {
		_ = j.root.Remove(entryFile(numbers[i]))
	}
	return nil
}

// recover finishes an exchange that was stopped, or takes it back.
func (j *Journal) recover(notes io.Writer) error {
	clearStaging(j.root)
	e, err := j.read(pending)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	foreign, command := "", cmp.Or(e.Command, "a command")
	for _, c := range e.Files {
		now, err := readFile(j.root, c.File)
		if err != nil {
			return err
		}
		if !same(now, c.Before) && !same(now, c.After) {
			foreign = c.File
		}
	}
	defer clearStaging(j.root)
	if foreign == "" {
		fmt.Fprintf(notes, "%q was stopped half-way; it is finished now\n", command)
		if err := j.carryAll(e.Files); err != nil {
			return err
		}
		return j.keep(e)
	}
	fmt.Fprintf(notes, "%q was stopped half-way; it is taken back, since %s was changed afterwards (look that file over)\n", command, foreign)
	if err := j.carryAll(reversed(e.Files)); err != nil {
		return err
	}
	return j.root.Remove(pending)
}

// carryAll makes those changes whose file is still as it was before.
func (j *Journal) carryAll(changes []Change) error {
	for _, c := range changes {
		if now, err := readFile(j.root, c.File); err != nil || !same(now, c.Before) || same(c.Before, c.After) {
			continue
		}
		if err := carry(j.root, c); err != nil {
			return err
		}
	}
	return nil
}

// read reads an entry. The error is fs.ErrNotExist where there is none.
func (j *Journal) read(name string) (Entry, error) {
	var e Entry
	data, err := j.root.ReadFile(name)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return e, err
		}
		return e, fmt.Errorf("%s cannot be read: %w", name, files.WithoutPath(err))
	}
	err = json.Unmarshal(data, &e)
	for _, c := range e.Files {
		err = errors.Join(err, c.admitted())
	}
	if err != nil || e.Version != version {
		return e, fmt.Errorf("%s is no entry that this version of yearmark reads; look the records over, then delete the file", name)
	}
	return e, nil
}

// numbers lists the entries, oldest first.
func (j *Journal) numbers() ([]int, error) {
	list, err := fs.ReadDir(j.root.FS(), entries)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", entries, files.WithoutPath(err))
	}
	var numbers []int
	for _, e := range list {
		name, ok := strings.CutSuffix(e.Name(), ".json")
		if n, err := strconv.Atoi(name); ok && err == nil && n > 0 && entryFile(n) == entries+"/"+e.Name() {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	return numbers, nil
}

func entryFile(n int) string { return fmt.Sprintf("%s/%06d.json", entries, n) }

// same compares two files, nil being none.
func same(a, b []byte) bool { return (a == nil) == (b == nil) && bytes.Equal(a, b) }
