package intake

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"yearmark/schema"
)

// File writes the receipt's record into the reference's folder, under the next
// number that is free, and keeps it in mind. Nothing is ever written over. A
// receipt that was filed before is left alone.
func (d *Desk) File(root *os.Root, r *Receipt) error {
	if r.Before() {
		return nil
	}
	folder := schema.KindExample.Folder()
	if err := root.MkdirAll(folder, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %w", folder, plainError(err))
	}
	for {
		err := place(root, r.File(), r.Record)
		if err == nil {
			d.Keep(r)
			return nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("cannot write %s: %w", r.File(), plainError(err))
		}
		d.next++ // a file that is no readable record has the number, or another receive was quicker
		if err := d.number(r); err != nil {
			return err
		}
	}
}

// place writes a file that must not exist yet, whole or not at all.
func place(root *os.Root, name string, data []byte) error {
	if _, err := root.Lstat(name); err == nil {
		return fs.ErrExist
	}
	scratch := schema.KindExample.Folder() + "/.received-" + rand.Text()
	if err := create(root, scratch, data); err != nil {
		return err
	}
	defer func() { _ = root.Remove(scratch) }()
	if err := root.Link(scratch, name); err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return create(root, name, data) // a disk without hard links
}

// create writes a file that must not exist yet, and takes it away again if
// writing fails.
func create(root *os.Root, name string, data []byte) error {
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err != nil {
		_ = root.Remove(name)
	}
	return err
}

// plainError takes the operation and the path off, since the sentence names the path.
func plainError(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}
