package sheets

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"

	"yearmark/schema/files"
)

// Write writes the records of a plan into the reference's folder. Either all
// of them are written or none: everything new is on the disk before the first
// record is exchanged, each is exchanged whole, and if one cannot be, those
// before it are put back. A record that was changed since it was read, or that
// is there by now though it is to be new, stops it all.
func (p *Plan) Write(folder string) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return fmt.Errorf("the folder %q cannot be opened: %w", folder, plain(err))
	}
	defer root.Close()
	w := &writing{root: root}
	defer w.clear()
	for _, c := range p.Changes {
		if err := w.stage(c); err != nil {
			return fmt.Errorf("nothing was written: %w", err)
		}
	}
	return w.exchange()
}

// writing is records on their way into the folder.
type writing struct {
	root   *os.Root
	staged []staged
}

type staged struct {
	change Change
	temp   string // beside the record; its name begins with a full stop, so that it is no record
	mode   fs.FileMode
}

// stage writes one record's new text beside it.
func (w *writing) stage(c Change) error {
	mode, err := w.unchanged(c)
	if err != nil {
		return err
	}
	if dir := path.Dir(c.File); c.Before == nil {
		if err := w.root.Mkdir(dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("the folder %q cannot be made: %w", dir, plain(err))
		}
	}
	temp := path.Join(path.Dir(c.File), ".yearmark-"+random())
	f, err := w.root.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return fmt.Errorf("nothing can be written beside %s: %w", c.File, plain(err))
	}
	w.staged = append(w.staged, staged{c, temp, mode})
	_, err = f.Write(c.After)
	err = errors.Join(err, f.Sync(), f.Close())
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", c.File, plain(err))
	}
	return nil
}

// unchanged wants the record on the disk to be as it was read.
func (w *writing) unchanged(c Change) (fs.FileMode, error) {
	info, err := w.root.Lstat(c.File)
	switch {
	case c.Before == nil && errors.Is(err, fs.ErrNotExist):
		return 0o644, nil
	case c.Before == nil && err == nil:
		return 0, fmt.Errorf("%s is there by now; try again", c.File)
	case err != nil:
		return 0, fmt.Errorf("%s cannot be opened: %w", c.File, plain(err))
	case !info.Mode().IsRegular():
		return 0, fmt.Errorf("%s is a link to another file; put the file itself in its place", c.File)
	}
	now, err := w.read(c.File)
	if err != nil {
		return 0, fmt.Errorf("%s cannot be read: %w", c.File, plain(err))
	}
	if !bytes.Equal(now, c.Before) {
		return 0, fmt.Errorf("%s was changed in the meantime; try again", c.File)
	}
	return info.Mode().Perm(), nil
}

func (w *writing) read(file string) ([]byte, error) {
	f, err := files.OpenIn(w.root, file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

// exchange puts every staged text in the place of its record.
func (w *writing) exchange() error {
	for i, s := range w.staged {
		if err := w.root.Rename(s.temp, s.change.File); err != nil {
			failed := fmt.Errorf("nothing was written: %s cannot be exchanged: %w", s.change.File, plain(err))
			return errors.Join(failed, w.undo(w.staged[:i]))
		}
		w.staged[i].temp = ""
	}
	return nil
}

// undo puts back the records that were exchanged already.
func (w *writing) undo(done []staged) error {
	var all error
	for _, s := range done {
		var err error
		if s.change.Before == nil {
			err = w.root.Remove(s.change.File)
		} else {
			err = w.put(s.change.File, s.change.Before, s.mode)
		}
		if err != nil {
			all = errors.Join(all, fmt.Errorf("%s could not be put back as it was: %w", s.change.File, plain(err)))
		}
	}
	return all
}

func (w *writing) put(file string, data []byte, mode fs.FileMode) error {
	temp := path.Join(path.Dir(file), ".yearmark-"+random())
	if err := w.root.WriteFile(temp, data, mode); err != nil {
		return err
	}
	return w.root.Rename(temp, file)
}

// clear removes what was staged and did not become a record.
func (w *writing) clear() {
	for _, s := range w.staged {
		if s.temp != "" {
			_ = w.root.Remove(s.temp)
		}
	}
}

func random() string {
	var b [8]byte
	_, _ = rand.Read(b[:])
	return hex.EncodeToString(b[:])
}

// plain takes the operation and the path off an error, since the sentence names the path.
func plain(err error) error {
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
