package preview

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"
)

// Pauses of the watcher. One save of an editor is many events, and there is no
// sign that writing has ended, so a change counts once it has been quiet for a
// while, and at the latest after quietAtMost.
const (
	quietFor    = 60 * time.Millisecond
	quietAtMost = time.Second
	pollEvery   = 500 * time.Millisecond
)

// Watch calls changed after every change below folder until the context ends.
// Folders are watched, not files, since editors replace files; hidden names are
// passed over. Where the system has no watches left it says so once through
// notice and compares modification times instead.
func Watch(ctx context.Context, folder string, changed func(), notice func(string)) error {
	watcher, err := fsnotify.NewWatcher()
	if err == nil {
		defer watcher.Close()
		err = watchTree(watcher, folder)
	}
	if err != nil {
		if !outOfWatches(err) {
			return fmt.Errorf("cannot follow changes in %s: %w", folder, err)
		}
		notice("the system has no file watches left; looking at the folder twice a second instead")
		return Poll(ctx, folder, changed)
	}
	return follow(ctx, watcher, changed)
}

// outOfWatches recognises how systems say that their limit is reached.
func outOfWatches(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EMFILE)
}

// watchTree watches a folder and all below it. A folder is watched before it is
// listed, so that nothing made in between is lost.
func watchTree(w *fsnotify.Watcher, folder string) error {
	if err := w.Add(folder); err != nil {
		return err
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.IsDir() && !hidden(e.Name()) {
			if err := watchTree(w, filepath.Join(folder, e.Name())); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
		}
	}
	return nil
}

func hidden(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasSuffix(name, "~")
}

func follow(ctx context.Context, w *fsnotify.Watcher, changed func()) error {
	quiet := time.NewTimer(time.Hour)
	quiet.Stop()
	var first time.Time
	for {
		select {
		case <-ctx.Done():
			return nil
		case event, ok := <-w.Events:
			if !ok {
				return nil
			}
			if !matters(w, event) {
				continue
			}
			if first.IsZero() {
				first = time.Now()
			}
			quiet.Reset(min(quietFor, max(0, quietAtMost-time.Since(first))))
		case <-w.Errors:
			// Events were lost: what is on the disk is read again.
			quiet.Reset(quietFor)
		case <-quiet.C:
			first = time.Time{}
			changed()
		}
	}
}

// matters says whether an event can change the reference, and watches new folders.
func matters(w *fsnotify.Watcher, event fsnotify.Event) bool {
	if event.Op == fsnotify.Chmod || hidden(filepath.Base(event.Name)) {
		return false
	}
	if event.Has(fsnotify.Create) {
		if info, err := os.Lstat(event.Name); err == nil && info.IsDir() {
			_ = watchTree(w, event.Name)
		}
	}
	return true
}

// Poll calls changed whenever a name, size or modification time below folder
// differs from the last look, until the context ends.
func Poll(ctx context.Context, folder string, changed func()) error {
	last := look(folder)
	tick := time.NewTicker(pollEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
			if now := look(folder); now != last {
				last = now
				changed()
			}
		}
	}
}

// look sums up the names, sizes and modification times of a folder.
func look(folder string) string {
	var b strings.Builder
	_ = filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return nil
		}
		if hidden(e.Name()) && path != folder {
			if e.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if info, err := e.Info(); err == nil {
			fmt.Fprintln(&b, path, info.Size(), info.ModTime().UnixNano())
		}
		return nil
	})
	return b.String()
}
