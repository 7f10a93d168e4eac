// Package files opens files that are files: a named pipe, a device or a socket,
// which might never answer whoever opens it, is refused at once.
package files

import (
	"errors"
	"io"
	"io/fs"
	"os"
)

// ErrIrregular is the error, within a *fs.PathError, for what is no file.
var ErrIrregular = errors.New("this is a folder, a pipe, a socket or a device, not a file; put the file itself in its place, or name another")

// Open opens a file to read it. The error is a *fs.PathError.
func Open(name string) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_RDONLY|withoutWaiting, 0)
	return regular(f, name, err, os.Stat)
}

// Read reads a file of which no more than so many bytes are wanted, and one
// more, which shows that there are more.
func Read(name string, most int64) ([]byte, error) {
	f, err := Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}

// OpenIn opens a file below a folder to read it, as Open does.
func OpenIn(root *os.Root, name string) (*os.File, error) {
	f, err := root.OpenFile(name, os.O_RDONLY|withoutWaiting, 0)
	return regular(f, name, err, root.Stat)
}

// WithoutPath takes the operation and the paths off an error, for a sentence
// that names the file itself.
func WithoutPath(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// regular gives the file that was opened, or closes it where it is none. A
// socket cannot be opened at all, for a reason that differs between systems.
func regular(f *os.File, name string, err error, stat func(string) (fs.FileInfo, error)) (*os.File, error) {
	if err != nil {
		if info, e := stat(name); e == nil && !info.Mode().IsRegular() {
			err = &fs.PathError{Op: "open", Path: name, Err: ErrIrregular}
		}
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = &fs.PathError{Op: "open", Path: name, Err: ErrIrregular}
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// In is the file system below a folder. Its files are opened by OpenIn; links
// that lead out of the folder are refused.
func In(root *os.Root) fs.FS { return rooted{root.FS().(below), root} }

// Below is In for a folder that is looked up anew at each call, so that none is
// held open meanwhile.
func Below(folder string) fs.FS { return unrooted(folder) }

// below is what the file system of an os.Root offers.
type below interface {
	fs.StatFS
	fs.ReadDirFS
	fs.ReadFileFS
	fs.ReadLinkFS
}

type rooted struct {
	below
	root *os.Root
}

func (r rooted) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	f, err := OpenIn(r.root, name)
	if errors.Is(err, ErrIrregular) {
		if info, err := r.root.Stat(name); err == nil && info.IsDir() {
			return r.below.Open(name)
		}
	}
	if err != nil {
		return nil, err // and no *os.File that is nil
	}
	return f, nil
}

func (r rooted) ReadFile(name string) ([]byte, error) {
	f, err := r.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

type unrooted string

// do calls a function with the file system of the folder as it now is.
func do[T any](folder unrooted, call func(below) (T, error)) (T, error) {
	root, err := os.OpenRoot(string(folder))
	if err != nil {
		var none T
		return none, err
	}
	defer root.Close()
	return call(In(root).(below))
}

func (u unrooted) Open(name string) (fs.File, error) {
	return do(u, func(b below) (fs.File, error) { return b.Open(name) })
}

func (u unrooted) Stat(name string) (fs.FileInfo, error) {
	return do(u, func(b below) (fs.FileInfo, error) { return b.Stat(name) })
}

func (u unrooted) Lstat(name string) (fs.FileInfo, error) {
	return do(u, func(b below) (fs.FileInfo, error) { return b.Lstat(name) })
}

func (u unrooted) ReadDir(name string) ([]fs.DirEntry, error) {
	return do(u, func(b below) ([]fs.DirEntry, error) { return b.ReadDir(name) })
}

func (u unrooted) ReadFile(name string) ([]byte, error) {
	return do(u, func(b below) ([]byte, error) { return b.ReadFile(name) })
}

func (u unrooted) ReadLink(name string) (string, error) {
	return do(u, func(b below) (string, error) { return b.ReadLink(name) })
}
