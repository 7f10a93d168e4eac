package output

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"runtime"

	"github.com/gofrs/flock"
)

// lock keeps a second publish to the same target out. The lock lies in the
// system's temporary folder, so that nothing of it stays beside the site.
func lock(target string) (func(), error) {
	sum := sha256.Sum256([]byte(target))
	return held(target, flock.New(filepath.Join(os.TempDir(), "yearmark-"+hex.EncodeToString(sum[:8])+".lock")))
}

// claim keeps others out of a scratch folder, which is made if need be. It
// holds against those who have another temporary folder: another user, or a
// service with one of its own.
func claim(target, scratch string) (func(), error) {
	if err := os.MkdirAll(scratch, 0o755); err != nil {
		return nil, fmt.Errorf("cannot write beside %s: %w", target, err)
	}
	if runtime.GOOS == "windows" {
		return func() {}, nil // it cannot lock folders
	}
	l := flock.New(scratch, flock.SetFlag(os.O_RDONLY))
	release, err := held(target, l)
	if err != nil {
		return nil, err
	}
	mine, err := l.Stat()
	if err != nil {
		release()
		return nil, fmt.Errorf("cannot lock %s: %w", target, err)
	}
	if there, err := os.Stat(scratch); err != nil || !os.SameFile(mine, there) {
		release()
		return nil, fmt.Errorf("%s: %w", target, ErrBusy) // the other has just ended, and taken the folder away
	}
	return release, nil
}

// held takes a lock, or fails where somebody else has it.
func held(target string, l *flock.Flock) (release func(), err error) {
	got, err := l.TryLock()
	if err != nil {
		return nil, fmt.Errorf("cannot lock %s: %w", target, err)
	}
	if !got {
		return nil, fmt.Errorf("%s: %w", target, ErrBusy)
	}
	return func() { _ = l.Unlock() }, nil
}
