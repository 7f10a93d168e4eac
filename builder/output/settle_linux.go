package output

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// settle returns once all that was written below a folder is on the disk, so
// that a site is not put in place of another and then lost with the power.
func settle(folder string) error {
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(unix.Syncfs(int(f.Fd())), f.Close())
}
