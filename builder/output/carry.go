package output

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

// carrier brings what a person put into a site into the tree that will stand in
// its place. Nothing is moved: the old site stays whole until it is exchanged.
type carrier struct {
	from, to string
	old      written
	ours     map[string]bool        // folders of the new tree, by path
	brought  map[string]fs.FileInfo // by path: the original, as it was then
}

// foreign is one thing in the old site that Yearmark did not write.
type foreign struct {
	path string // with forward slashes
	info fs.FileInfo
}

// errMoving says that a person's files do not come to rest.
var errMoving = errors.New("files in the site's folder keep changing; end what writes there, then publish again")

// bring brings everything that is there by now, and looks again until nothing
// changes any more.
func (c *carrier) bring(ctx context.Context) error {
	for range 10 {
		changed, err := c.pass(ctx)
		if err != nil || !changed {
			return err
		}
	}
	return errMoving
}

// pass makes the new tree agree with the old site in all that is a person's.
func (c *carrier) pass(ctx context.Context) (changed bool, err error) {
	list, err := c.look(ctx)
	if err != nil {
		return false, err
	}
	there := make(map[string]bool, len(list))
	for _, f := range list {
		there[f.path] = true
	}
	if changed, err = c.drop(there); err != nil {
		return false, err
	}
	var folders []foreign
	for _, f := range list {
		if err := ctx.Err(); err != nil {
			return false, err
		}
		was, known := c.brought[f.path]
		if known && sameState(was, f.info) {
			continue
		}
		if known && !(was.IsDir() && f.info.IsDir()) {
			if err := os.Remove(c.into(f.path)); err != nil {
				return false, err
			}
		}
		if err := c.place(ctx, f); err != nil {
			return false, err
		}
		if f.info.IsDir() && !c.ours[f.path] {
			folders = append(folders, f)
		}
		c.brought[f.path], changed = f.info, true
	}
	for _, f := range slices.Backward(folders) { // what comes into a folder changes its time
		if err := keepState(c.into(f.path), f.info); err != nil {
			return false, err
		}
	}
	return changed, nil
}

// drop takes out of the new tree what was brought and is no longer there.
func (c *carrier) drop(there map[string]bool) (changed bool, err error) {
	names := slices.Sorted(maps.Keys(c.brought))
	for _, name := range slices.Backward(names) { // what is in a folder goes before it
		if there[name] {
			continue
		}
		gone := os.Remove(c.into(name))
		if gone != nil && !(c.brought[name].IsDir() && c.ours[name]) {
			err = errors.Join(err, gone)
		}
		delete(c.brought, name)
		changed = true
	}
	return changed, err
}

// look lists what in the old site is a person's, folders before what is in
// them. What could not be brought, or not be removed later, is refused.
func (c *carrier) look(ctx context.Context) ([]foreign, error) {
	var list []foreign
	top, err := os.Lstat(c.from)
	if err != nil {
		return nil, err
	}
	err = filepath.WalkDir(c.from, func(file string, e fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) && file != c.from {
			return nil // it went meanwhile
		}
		if err := errors.Join(err, ctx.Err()); err != nil {
			return err
		}
		below, err := filepath.Rel(c.from, file)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(below)
		if !e.IsDir() && c.old.file(name) {
			return nil
		}
		info, err := e.Info()
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		if kind := e.Type(); !e.IsDir() && !kind.IsRegular() && kind != fs.ModeSymlink {
			return fmt.Errorf("%s is a %s, which cannot be kept in a site; move it out of the folder, then publish again", file, kindOf(kind))
		}
		if e.IsDir() {
			if isMounted(top, info) {
				return fmt.Errorf("%s is mounted there and cannot be kept when the site is exchanged; unmount it, then publish again", file)
			}
			if !mayEmpty(file, info) {
				return &fs.PathError{Op: "change", Path: file, Err: fs.ErrPermission}
			}
			if c.old.folder(name) {
				return nil
			}
		}
		list = append(list, foreign{name, info})
		return nil
	})
	return list, err
}

func kindOf(kind fs.FileMode) string {
	switch {
	case kind&fs.ModeNamedPipe != 0:
		return "named pipe"
	case kind&fs.ModeSocket != 0:
		return "socket"
	}
	return "device"
}

// sameState says whether a thing is what it was.
func sameState(was, is fs.FileInfo) bool {
	return os.SameFile(was, is) && was.Mode() == is.Mode() && was.Size() == is.Size() && was.ModTime().Equal(is.ModTime())
}

func (c *carrier) into(name string) string { return filepath.Join(c.to, filepath.FromSlash(name)) }

// place puts one thing into the new tree: linked where the system can link,
// else copied.
func (c *carrier) place(ctx context.Context, f foreign) error {
	from, to := filepath.Join(c.from, filepath.FromSlash(f.path)), c.into(f.path)
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return c.clash(f, err)
	}
	if f.info.IsDir() {
		err := os.Mkdir(to, 0o700)
		if info, errInfo := os.Lstat(to); errors.Is(err, fs.ErrExist) && errInfo == nil && info.IsDir() {
			return nil
		}
		return c.clash(f, err)
	}
	err := os.Link(from, to)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil // it went meanwhile: the next pass sees that
	case errors.Is(err, fs.ErrExist):
		return c.clash(f, err)
	case isAcross(err):
		return fmt.Errorf("%s lies in something mounted there and cannot be kept when the site is exchanged; unmount it, then publish again", from)
	case f.info.Mode().IsRegular() && err == nil:
		return nil
	case err == nil: // some systems link what a link leads to
		if info, err := os.Lstat(to); err == nil && os.SameFile(info, f.info) {
			return nil
		}
		if err := os.Remove(to); err != nil {
			return err
		}
	}
	if f.info.Mode().IsRegular() {
		return c.clash(f, copyFile(ctx, from, to, f.info))
	}
	leads, err := os.Readlink(from)
	if err != nil {
		return err
	}
	return c.clash(f, os.Symlink(leads, to))
}

// clash names a person's thing that stands where the site has its own; other
// errors stay as they are.
func (c *carrier) clash(f foreign, err error) error {
	if err == nil || !errors.Is(err, fs.ErrExist) && !isNoFolder(err) {
		return err
	}
	return inTheWay(filepath.Join(c.from, filepath.FromSlash(f.path)))
}

func inTheWay(file string) error {
	return fmt.Errorf("%s stands where the site needs a file of its own, and Yearmark did not write it; move it or give it another name, then publish again", file)
}

// copyFile copies a plain file with its mode, its time and, where that is
// allowed, its owner.
func copyFile(ctx context.Context, from, to string, info fs.FileInfo) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(Until(ctx, out), in)
	if err := errors.Join(err, out.Close()); err != nil {
		return err
	}
	return keepState(to, info)
}

// keepState gives a copy what the original has.
func keepState(file string, info fs.FileInfo) error {
	keepOwner(file, info)
	mode := info.Mode() & (fs.ModePerm | fs.ModeSetuid | fs.ModeSetgid | fs.ModeSticky)
	return errors.Join(os.Chmod(file, mode), os.Chtimes(file, info.ModTime(), info.ModTime()))
}

// conflicts says whether a person's thing stands in the old site at a path, or
// above it, that the site is about to write.
func (c *carrier) conflicts(name string) (file string, yes bool) {
	if c == nil || c.old.file(name) {
		return "", false
	}
	file = filepath.Join(c.from, filepath.FromSlash(name))
	info, err := os.Lstat(file)
	if err != nil || info.IsDir() && c.old.folder(name) {
		return "", false
	}
	return file, true
}
