//go:build unix

package output

import (
	"errors"
	"io/fs"
	"os"
	"os/user"
	"strconv"
	"syscall"

	"golang.org/x/sys/unix"
)

// owners names whose a thing is, and who asks.
func owners(info fs.FileInfo) (owner, me string) {
	s, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return "", ""
	}
	return userName(int(s.Uid)), userName(os.Geteuid())
}

func userName(id int) string {
	if u, err := user.LookupId(strconv.Itoa(id)); err == nil {
		return u.Username
	}
	return "the user of number " + strconv.Itoa(id)
}

// mayEmpty says whether what is in a folder can be taken away.
func mayEmpty(folder string, info fs.FileInfo) bool {
	s, ok := info.Sys().(*syscall.Stat_t)
	return !ok || int(s.Uid) == os.Geteuid() || unix.Access(folder, unix.W_OK|unix.X_OK) == nil
}

// keepOwner gives a copy the original's owner, where that is allowed.
func keepOwner(file string, info fs.FileInfo) {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		_ = os.Lchown(file, int(s.Uid), int(s.Gid))
	}
}

// isMounted says whether a thing lies on another disk than the site's folder.
func isMounted(site, thing fs.FileInfo) bool {
	a, okA := site.Sys().(*syscall.Stat_t)
	b, okB := thing.Sys().(*syscall.Stat_t)
	return okA && okB && a.Dev != b.Dev
}

func isAcross(err error) bool   { return errors.Is(err, syscall.EXDEV) }
func isNoFolder(err error) bool { return errors.Is(err, syscall.ENOTDIR) }
