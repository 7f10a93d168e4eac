package journal

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strconv"
	"syscall"

	"yearmark/schema/files"
)

// exchange is files on their way into the folder.
type exchange struct {
	root     *os.Root
	prepared []Change
	folders  []string // made for new files
}

func preparedName(i int) string { return staging + "/" + strconv.Itoa(i) }

// prepare writes the new text of a file where it is exchanged from, and sets the
// change's mode.
func (x *exchange) prepare(c *Change) error {
	if err := c.admitted(); err != nil {
		return err
	}
	mode, err := x.unchanged(*c)
	if err != nil {
		return err
	}
	if c.Before != nil || c.Mode == 0 {
		c.Mode = mode
	}
	if folder := path.Dir(c.File); c.After != nil && folder != "." {
		switch err := x.root.Mkdir(folder, 0o755); {
		case err == nil:
			x.folders = append(x.folders, folder)
		case !errors.Is(err, fs.ErrExist):
			return fmt.Errorf("the folder %q cannot be made: %w", folder, files.WithoutPath(err))
		}
	}
	if c.After != nil {
		if err := writeWhole(x.root, preparedName(len(x.prepared)), c.After, c.Mode); err != nil {
			return fmt.Errorf("%s cannot be written: %w", c.File, files.WithoutPath(err))
		}
	}
	x.prepared = append(x.prepared, *c)
	return nil
}

// unchanged wants a file to be as it was read, and gives its permissions.
func (x *exchange) unchanged(c Change) (fs.FileMode, error) {
	info, err := x.root.Lstat(c.File)
	switch {
	case c.Before == nil && errors.Is(err, fs.ErrNotExist):
		return 0o644, nil
	case c.Before == nil && err == nil:
		return 0, fmt.Errorf("%s is there by now; try again", c.File)
	case err != nil:
		return 0, fmt.Errorf("%s cannot be opened: %w", c.File, files.WithoutPath(err))
	case !info.Mode().IsRegular():
		return 0, fmt.Errorf("%s is a link to another file; put the file itself in its place", c.File)
	}
	now, err := readFile(x.root, c.File)
	if err != nil {
		return 0, err
	}
	if !same(now, c.Before) {
		return 0, changedMeanwhile(c.File)
	}
	return info.Mode().Perm(), nil
}

func changedMeanwhile(file string) error {
	return fmt.Errorf("%s was changed in the meantime; try again", file)
}

// exchange puts a staged text in the place of its file, if that is still what it was.
func (x *exchange) exchange(i int) error {
	c, prepare := x.prepared[i], preparedName(i)
	var err error
	switch {
	case c.Before == nil:
		err = x.create(c, prepare)
	case c.After == nil:
		err = x.remove(c, prepare)
	default:
		err = x.replace(c, prepare)
	}
	if errors.Is(err, errChanged) {
		return changedMeanwhile(c.File)
	}
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there by now; try again", c.File)
	}
	if err != nil {
		return fmt.Errorf("%s cannot be exchanged: %w", c.File, files.WithoutPath(err))
	}
	return nil
}

var errChanged = errors.New("changed in the meantime")

// create puts a new file in its place; a link refuses a place that is taken.
func (x *exchange) create(c Change, prepare string) error {
	err := x.root.Link(prepare, c.File)
	if err == nil {
		return x.root.Remove(prepare)
	}
	if errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, err := x.root.Lstat(c.File); err == nil { // a disk without hard links
		return fs.ErrExist
	}
	return x.root.Rename(prepare, c.File)
}

// remove takes a file away, looks at what was taken, and puts it back if it was
// another.
func (x *exchange) remove(c Change, prepare string) error {
	if err := x.root.Rename(c.File, prepare); err != nil {
		return err
	}
	if now, err := readFile(x.root, prepare); err != nil || !same(now, c.Before) {
		return errors.Join(errChanged, x.create(c, prepare))
	}
	return nil
}

// replace swaps the new text with the file, looks at what was swapped out, and
// swaps back if it was another: nobody's save is lost in between. Where the
// disk cannot swap, the file is looked at directly before.
func (x *exchange) replace(c Change, prepare string) error {
	err := swap(x.root, prepare, c.File)
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		if _, err := x.unchanged(c); err != nil {
			return errChanged
		}
		return x.root.Rename(prepare, c.File)
	}
	if err != nil {
		return err
	}
	if now, err := readFile(x.root, prepare); err != nil || !same(now, c.Before) {
		return errors.Join(errChanged, swap(x.root, prepare, c.File))
	}
	return nil
}

// back takes the first n exchanges back, and the folders that were made.
func (x *exchange) back(n int) error {
	var all error
	for _, c := range reversed(x.prepared[:n]) {
		now, err := readFile(x.root, c.File)
		if err == nil && !same(now, c.Before) {
			continue // somebody has changed it since; theirs stays
		}
		if err == nil {
			err = carry(x.root, c)
		}
		if err != nil {
			all = errors.Join(all, fmt.Errorf("%s could not be put back as it was: %w", c.File, err))
		}
	}
	for _, folder := range x.folders {
		_ = x.root.Remove(folder) // stays where somebody put something into it
	}
	return all
}

// carry makes one change by itself.
func carry(root *os.Root, c Change) error {
	clearStaging(root)
	x := &exchange{root: root}
	if err := x.prepare(&c); err != nil {
		return err
	}
	if err := x.exchange(0); err != nil {
		return err
	}
	x.settle()
	return nil
}

// clearStaging removes what lies about from exchanges.
func clearStaging(root *os.Root) {
	list, _ := fs.ReadDir(root.FS(), staging)
	for _, e := range list {
		_ = root.Remove(staging + "/" + e.Name())
	}
}

// settle puts the names of what was exchanged on the disk.
func (x *exchange) settle() {
	done := map[string]bool{}
	for _, c := range x.prepared {
		if folder := path.Dir(c.File); !done[folder] {
			done[folder] = true
			settle(x.root, folder)
		}
	}
}

// settle puts a folder's list of names on the disk, where the system can.
func settle(root *os.Root, folder string) {
	if f, err := root.Open(folder); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}

// writeWhole writes a file to the disk that was not there.
func writeWhole(root *os.Root, name string, data []byte, mode fs.FileMode) error {
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
}

// readFile reads a regular file; nil where there is none.
func readFile(root *os.Root, name string) ([]byte, error) {
	info, err := root.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err == nil && !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no file of its own any more; put the file itself in its place", name)
	}
	f, err := files.OpenIn(root, name)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", name, files.WithoutPath(err))
	}
	defer f.Close()
	data, err := io.ReadAll(f)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", name, files.WithoutPath(err))
	}
	return data, nil // never nil
}
