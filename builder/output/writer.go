package output

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// Writer writes the files of one site. It is safe for concurrent use.
type Writer struct {
	ctx    context.Context
	folder string
	old    *carrier // nil where there was no site
	mu     sync.Mutex
	made   map[string]bool // folders that exist, by path
	files  []string        // that were written
	sums   []File
}

// File is a file that was written: its path, its size in bytes and the SHA-256
// of its content.
type File struct {
	Path string
	Size int64
	Sum  [sha256.Size]byte
}

// Written gives the files written so far, by path.
func (w *Writer) Written() []File {
	w.mu.Lock()
	defer w.mu.Unlock()
	return slices.SortedFunc(slices.Values(w.sums), func(a, b File) int { return strings.Compare(a.Path, b.Path) })
}

// note remembers what was written at a path.
func (w *Writer) note(f File) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.sums = append(w.sums, f)
}

// Put writes one file. The path is relative, with forward slashes, and stays
// inside the site; a second file of the same path is refused. A file that is
// the same in the old site is linked, not written.
func (w *Writer) Put(path string, data []byte) error {
	to, local, err := w.place(path)
	if err != nil {
		return err
	}
	w.note(File{path, int64(len(data)), sha256.Sum256(data)})
	if w.old != nil {
		if old := filepath.Join(w.old.from, local); sameContent(old, data) && os.Link(old, to) == nil {
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
	sum := sha256.New()
	var size counter
	err = writeNew(to, func(f *os.File) error {
		b := buffers.Get().(*bufio.Writer)
		defer buffers.Put(b)
		b.Reset(io.MultiWriter(Until(w.ctx, f), sum, &size))
		return errors.Join(write(b), b.Flush())
	})
	w.note(File{path, int64(size), [sha256.Size]byte(sum.Sum(nil))})
	return err
}

// counter counts the bytes written to it.
type counter int64

func (c *counter) Write(data []byte) (int, error) {
	*c += counter(len(data))
	return len(data), nil
}

// place says where a file of the site goes, in a folder that is there. It fails
// once the context of the publish has ended.
func (w *Writer) place(name string) (to, local string, err error) {
	if err := w.ctx.Err(); err != nil {
		return "", "", err
	}
	if !isPlain(name) || name == "." {
		return "", "", fmt.Errorf("%q would lie outside the site", name)
	}
	if there, yes := w.old.conflicts(name); yes {
		return "", "", inTheWay(there)
	}
	local = filepath.FromSlash(name)
	return filepath.Join(w.folder, local), local, w.enter(name)
}

// enter notes a file of the site and makes the folders that it lies in.
func (w *Writer) enter(name string) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if name != MarkFile {
		w.files = append(w.files, name)
	}
	return w.makeFolder(path.Dir(name))
}

func (w *Writer) makeFolder(name string) error {
	if w.made[name] {
		return nil
	}
	if name != "." {
		if err := w.makeFolder(path.Dir(name)); err != nil {
			return err
		}
	}
	folder := filepath.Join(w.folder, filepath.FromSlash(name))
	if err := errors.Join(os.Mkdir(folder, 0o755), os.Chmod(folder, 0o755)); err != nil { // whatever the umask
		return fmt.Errorf("cannot write the site: %w", err)
	}
	w.made[name] = true
	return nil
}

const fileMode = 0o644

// writeNew never opens a file that exists: it may be linked into the old site.
func writeNew(file string, fill func(*os.File) error) error {
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
	if err != nil {
		return fmt.Errorf("cannot write the site: %w", err)
	}
	if err := errors.Join(fill(f), f.Chmod(fileMode), f.Close()); err != nil { // whatever the umask
		return fmt.Errorf("cannot write the site: %w", err)
	}
	return nil
}

// sameContent says whether a plain file that all may read holds exactly data.
func sameContent(file string, data []byte) bool {
	info, err := os.Lstat(file)
	if err != nil || info.Mode() != fileMode || info.Size() != int64(len(data)) {
		return false
	}
	have, err := os.ReadFile(file)
	return err == nil && bytes.Equal(have, data)
}
