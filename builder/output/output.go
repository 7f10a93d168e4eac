// Package output puts a finished site in place of the one before it: all or
// nothing. A site is written into a scratch folder beside its target and
// swapped in by one rename. Whatever stops the writing (a kill, a full disk, a
// refusal) leaves the old site whole, and the next run clears the scratch.
//
// Only a folder that is absent, empty, or marked as written by Yearmark is
// ever replaced.
package output

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// MarkFile is the file by which Yearmark knows a site that it wrote.
const MarkFile = "yearmark-site.json"

// Mark is what MarkFile says.
type Mark struct {
	WrittenBy string `json:"writtenBy"` // always "yearmark"
	Name      string `json:"name"`      // the reference
	Edition   string `json:"edition"`   // its date
	Hash      string `json:"hash"`      // its content hash
}

// ErrBusy says that another publish to the same target is under way.
var ErrBusy = errors.New("another publish to this folder is under way; wait for it to end, then try again")

// Replace calls fill with a writer for a fresh site and swaps the result in
// at target. If fill or any step fails, target is as it was.
func Replace(target string, mark Mark, fill func(*Writer) error) error {
	target, err := filepath.Abs(target)
	if err != nil {
		return fmt.Errorf("cannot tell where %q is: %w", target, err)
	}
	unlock, err := lock(target)
	if err != nil {
		return err
	}
	defer unlock()
	scratch := filepath.Join(filepath.Dir(target), scratchName(target))
	release, err := claim(target, scratch)
	if err != nil {
		return err
	}
	defer release()
	if err := replaceFrom(scratch, target, mark, fill); err != nil {
		os.RemoveAll(scratch)
		return err
	}
	return nil
}

func replaceFrom(scratch, target string, mark Mark, fill func(*Writer) error) error {
	if err := recoverTarget(scratch, target); err != nil {
		return err
	}
	if err := mayReplace(target); err != nil {
		return err
	}
	return fillAndSwap(scratch, target, mark, fill)
}

func fillAndSwap(scratch, target string, mark Mark, fill func(*Writer) error) error {
	w := &Writer{folder: scratch, made: map[string]bool{}}
	if _, err := os.Lstat(target); err == nil {
		w.old = target
	}
	if err := fill(w); err != nil {
		return err
	}
	mark.WrittenBy = "yearmark"
	data, err := json.MarshalIndent(mark, "", "  ")
	if err != nil {
		return err
	}
	if err := w.Put(MarkFile, append(data, '\n')); err != nil {
		return err
	}
	if err := settle(scratch); err != nil {
		return fmt.Errorf("cannot bring the site to the disk: %w", err)
	}
	return swap(scratch, target)
}

func scratchName(target string) string { return "." + filepath.Base(target) + ".yearmark-scratch" }
func asideName(target string) string   { return "." + filepath.Base(target) + ".yearmark-aside" }

// recoverTarget clears what an interrupted run left, but for the scratch folder
// itself. Where systems cannot swap in one step and the run stopped between two
// renames, the old site is put back.
func recoverTarget(scratch, target string) error {
	aside := filepath.Join(filepath.Dir(target), asideName(target))
	if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(aside); err == nil {
			if err := os.Rename(aside, target); err != nil {
				return fmt.Errorf("cannot put the old site back: %w", err)
			}
		}
	}
	left := []string{aside}
	entries, err := os.ReadDir(scratch)
	for _, e := range entries {
		left = append(left, filepath.Join(scratch, e.Name()))
	}
	for _, path := range left {
		err = errors.Join(err, os.RemoveAll(path))
	}
	if err != nil {
		return fmt.Errorf("cannot clear what an interrupted publish left: %w", err)
	}
	return nil
}

// mayReplace refuses every target that is not absent, empty or marked as ours.
func mayReplace(target string) error {
	info, err := os.Lstat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("cannot look at %s: %w", target, err)
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is not a folder; name a new folder for the site", target)
	}
	entries, err := os.ReadDir(target)
	if err != nil {
		return fmt.Errorf("cannot look into %s: %w", target, err)
	}
	if len(entries) == 0 || marked(target) {
		return nil
	}
	return fmt.Errorf("%s holds files that Yearmark did not write; name an empty or a new folder", target)
}

func marked(target string) bool {
	data, err := os.ReadFile(filepath.Join(target, MarkFile))
	var m Mark
	return err == nil && json.Unmarshal(data, &m) == nil && m.WrittenBy == "yearmark"
}

// swap puts scratch in the place of target and removes what stood there. The
// old site is moved aside first, out of the way of the next run's scratch.
func swap(scratch, target string) error {
	if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(scratch, target)
	}
	aside := filepath.Join(filepath.Dir(target), asideName(target))
	if err := exchange(scratch, target); err == nil {
		return errors.Join(os.Rename(scratch, aside), os.RemoveAll(aside))
	}
	if err := os.Rename(target, aside); err != nil {
		return fmt.Errorf("cannot move the old site aside: %w", err)
	}
	if err := os.Rename(scratch, target); err != nil {
		return errors.Join(fmt.Errorf("cannot put the new site in place: %w", err), os.Rename(aside, target))
	}
	return os.RemoveAll(aside)
}

// Writer writes the files of one site. It is safe for concurrent use.
type Writer struct {
	folder, old string // old is empty where there was no site
	mu          sync.Mutex
	made        map[string]bool // folders that exist
}

// Put writes one file. The path is relative, with forward slashes, and stays
// inside the site; a second file of the same path is refused. A file that is
// the same in the old site is linked, not written.
func (w *Writer) Put(path string, data []byte) error {
	to, local, err := w.place(path)
	if err != nil {
		return err
	}
	if w.old != "" {
		if old := filepath.Join(w.old, local); sameContent(old, data) && os.Link(old, to) == nil {
			return nil
		}
	}
	return writeNew(to, func(f *os.File) error {
		_, err := f.Write(data)
		return err
	})
}

// buffers are used again from file to file.
var buffers = sync.Pool{New: func() any { return bufio.NewWriterSize(nil, 64<<10) }}

// PutFrom is Put for a file that is too large to be held: write gives its
// content piece by piece.
func (w *Writer) PutFrom(path string, write func(io.Writer) error) error {
	to, _, err := w.place(path)
	if err != nil {
		return err
	}
	return writeNew(to, func(f *os.File) error {
		b := buffers.Get().(*bufio.Writer)
		defer buffers.Put(b)
		b.Reset(f)
		return errors.Join(write(b), b.Flush())
	})
}

// place says where a file of the site goes, in a folder that is there.
func (w *Writer) place(path string) (to, local string, err error) {
	local = filepath.FromSlash(path)
	if !filepath.IsLocal(local) || strings.Contains(path, `\`) {
		return "", "", fmt.Errorf("%q would lie outside the site", path)
	}
	return filepath.Join(w.folder, local), local, w.makeFolder(filepath.Dir(local))
}

// writeNew never opens a file that exists: it may be linked into the old site.
func writeNew(file string, fill func(*os.File) error) error {
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("cannot write the site: %w", err)
	}
	if err := errors.Join(fill(f), f.Close()); err != nil {
		return fmt.Errorf("cannot write the site: %w", err)
	}
	return nil
}

func (w *Writer) makeFolder(local string) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.made[local] {
		return nil
	}
	if err := os.MkdirAll(filepath.Join(w.folder, local), 0o755); err != nil {
		return fmt.Errorf("cannot write the site: %w", err)
	}
	w.made[local] = true
	return nil
}

// sameContent says whether a plain file holds exactly data.
func sameContent(file string, data []byte) bool {
	info, err := os.Lstat(file)
	if err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(data)) {
		return false
	}
	have, err := os.ReadFile(file)
	return err == nil && bytes.Equal(have, data)
}
