package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// explainDenied adds to what the system refuses who owns what, and what to do.
func explainDenied(err error) error {
	if !errors.Is(err, fs.ErrPermission) {
		return err
	}
	file := ""
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		file = p.Path
	case errors.As(err, &l):
		file = l.New
	default:
		return err
	}
	at, info := nearest(file)
	if info == nil {
		return err
	}
	owner, me := owners(info)
	switch {
	case owner == "" || owner == me && info.Mode().Perm()&0o200 != 0:
		return err
	case owner == me:
		return fmt.Errorf("%w\n%s is yours but shut (mode %v): open it with chmod u+w, then publish again", err, at, info.Mode().Perm())
	}
	return fmt.Errorf("%w\n%s belongs to %s, and you are %s: publish as %s, have it given to you, or name another folder", err, at, owner, me, owner)
}

// nearest is the thing itself where it is there, else the folder that it would
// be in, or the next above that is there.
func nearest(file string) (at string, info fs.FileInfo) {
	for at = filepath.Clean(file); ; at = filepath.Dir(at) {
		if info, err := os.Lstat(at); err == nil || at == filepath.Dir(at) {
			return at, info
		}
	}
}
