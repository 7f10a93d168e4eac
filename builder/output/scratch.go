package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"github.com/gofrs/flock"
)

// ErrBusy says that another publish to the same target is under way.
var ErrBusy = errors.New("another publish to this folder is under way; wait for it to end, then try again")

// scratch is the folder in which a site is made. A lock in it keeps a second
// publish out, also one by another user.
type scratch struct {
	folder string
	lock   *flock.Flock
}

const (
	lockName  = "lock"
	newName   = "new" // the tree that will be the site; once swapped, the old site
	asideName = "old" // the old site, where a system cannot swap in one step
)

// openScratch makes the folder, if need be, and takes its lock.
func openScratch(folder string) (*scratch, error) {
	for range 10 {
		if err := os.Mkdir(folder, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		info, err := os.Lstat(folder)
		if errors.Is(err, fs.ErrNotExist) {
			continue // another publish has just ended
		}
		if err != nil {
			return nil, err
		}
		if !info.IsDir() {
			return nil, fmt.Errorf("%s is not a folder; delete it, then publish again", folder)
		}
		s := &scratch{folder, flock.New(filepath.Join(folder, lockName))}
		got, err := s.lock.TryLock()
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if !got {
			return nil, ErrBusy
		}
		mine, errMine := s.lock.Stat()
		there, errThere := os.Lstat(s.lock.Path())
		if errMine == nil && errThere == nil && os.SameFile(mine, there) {
			return s, nil
		}
		_ = s.lock.Unlock() // of a lock that another publish has taken away
	}
	return nil, ErrBusy
}

func (s *scratch) tree() string  { return filepath.Join(s.folder, newName) }
func (s *scratch) aside() string { return filepath.Join(s.folder, asideName) }

// clear removes all but the lock.
func (s *scratch) clear() error {
	entries, err := os.ReadDir(s.folder)
	for _, e := range entries {
		if e.Name() != lockName {
			err = errors.Join(err, removeTree(filepath.Join(s.folder, e.Name())))
		}
	}
	return err
}

// close removes the folder and gives the lock back. The lock goes last, so that
// who takes it next finds nothing that is still being removed.
func (s *scratch) close() error {
	err := s.clear()
	if runtime.GOOS == "windows" { // it removes no open file
		_ = s.lock.Unlock()
	}
	_ = os.Remove(s.lock.Path())
	_ = os.Remove(s.folder) // fails where the next publish has begun
	_ = s.lock.Unlock()
	return err
}

// removeTree removes a folder with all that is in it, folders of a person's
// that are shut against writing too.
func removeTree(folder string) error {
	err := os.RemoveAll(folder)
	if !errors.Is(err, fs.ErrPermission) {
		return err
	}
	_ = filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err == nil && e.IsDir() {
			_ = os.Chmod(path, 0o700)
		}
		return nil
	})
	return os.RemoveAll(folder)
}
