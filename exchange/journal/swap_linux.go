package journal

import (
	"errors"
	"os"
	"path"

	"golang.org/x/sys/unix"
)

// swap exchanges two files of a folder in one step. Their parents are held
// open, so that no link leads it elsewhere.
func swap(root *os.Root, a, b string) error {
	from, err := root.Open(path.Dir(a))
	if err != nil {
		return err
	}
	defer from.Close()
	to, err := root.Open(path.Dir(b))
	if err != nil {
		return err
	}
	defer to.Close()
	err = unix.Renameat2(int(from.Fd()), path.Base(a), int(to.Fd()), path.Base(b), unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.ENOSYS) {
		return errors.ErrUnsupported
	}
	return err
}
