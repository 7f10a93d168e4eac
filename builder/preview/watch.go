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
// little while, and at the latest after quietAtMost. The pause is short, since
// what was read half written is read again when the rest comes; where files
// come in numbers, as when an earlier state is fetched, it is longer.
const (
	quietFor    = 5 * time.Millisecond
	quietBurst  = 120 * time.Millisecond
	quietAtMost = time.Second
	burst       = 20 // files
)

// Changes are the files that changed since the last, by their way below the
// folder with forward slashes. All says that others may have, too.
type Changes struct {
	Files []string
	All   bool
}

// Watch calls changed after every change below folder until the context ends;
// what comes while it runs is reported by the next call. Folders are watched, not
// files, since editors replace files; hidden names are passed over. Where the
// system has no watches left it says so once through notice and compares
// modification times instead.
func Watch(ctx context.Context, folder string, changed func(Changes), notice func(string)) error {
	w := &watch{folder: folder, notice: notice, add: (*fsnotify.Watcher).Add}
	return w.start(ctx, changed)
}

// start watches from now on, or looks where that cannot be.
func (w *watch) start(ctx context.Context, changed func(Changes)) error {
	var err error
	if w.Watcher, err = fsnotify.NewWatcher(); err == nil {
		defer w.Close()
		err = w.tree(w.folder)
	}
	if err == nil {
		return w.follow(ctx, changed)
	}
	if !outOfWatches(err) {
		return fmt.Errorf("cannot follow changes in %s: %w", w.folder, err)
	}
	w.notice("the system has no file watches left; looking at the folder twice a second instead")
	return Poll(ctx, w.folder, changed)
}

// outOfWatches recognises how systems say that their limit is reached.
func outOfWatches(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EMFILE)
}

// tree watches a folder and all below it. A folder is watched before it is
// listed, so that nothing made in between is lost.
func (w *watch) tree(folder string) error {
	if err := w.add(w.Watcher, folder); err != nil {
		return err
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.IsDir() && !hidden(e.Name()) {
			if err := w.tree(filepath.Join(folder, e.Name())); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
		}
	}
	return nil
}

func hidden(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasSuffix(name, "~")
}

// watch gathers the events of a folder into changes.
type watch struct {
	*fsnotify.Watcher
	add    func(w *fsnotify.Watcher, folder string) error
	folder string
	notice func(string)

	first time.Time // when the first of the changes not yet reported was seen
	files map[string]bool
	all   bool

	since  time.Time       // when a second began in which burst files make a burst
	recent map[string]bool // what was reported in it
}

func (w *watch) follow(ctx context.Context, changed func(Changes)) error {
	quiet := time.NewTimer(time.Hour)
	quiet.Stop()
	identity := time.NewTicker(pollEvery)
	defer identity.Stop()
	root, _ := os.Stat(w.folder)
	for {
		select {
		case <-ctx.Done():
			return nil
		case event, ok := <-w.Events:
			if !ok {
				return nil
			}
			if w.take(event) {
				quiet.Reset(w.pause())
			}
		case err, ok := <-w.Errors:
			if !ok {
				return nil
			}
			// Events may be lost: what is on the disk is looked at again.
			if err != nil {
				w.all = true
				quiet.Reset(quietBurst)
			}
		case <-identity.C:
			// Where the whole folder was moved away, or a folder above it, its
			// watches see nothing of what stands in its place.
			if now, err := os.Stat(w.folder); err == nil && !os.SameFile(root, now) {
				root, w.all = now, true
				w.forget()
				quiet.Reset(quietBurst)
			} else if err != nil && root != nil {
				root, w.all = nil, true
				quiet.Reset(quietBurst)
			}
		case <-quiet.C:
			if w.all {
				w.restore()
			}
			changed(w.changes())
		}
	}
}

// forget ends all watches.
func (w *watch) forget() {
	for _, folder := range w.WatchList() {
		_ = w.Remove(folder)
	}
}

// restore watches every folder that there is now: a folder that took another's
// place may have lost its watch together with the other.
func (w *watch) restore() {
	if err := w.tree(w.folder); err != nil && outOfWatches(err) {
		w.notice("the system has no file watches left; changes in new folders are not seen (start again with --poll)")
	}
}

// take enters an event; it says whether it can change the reference. New
// folders are watched, and what is in them may have come unseen.
func (w *watch) take(event fsnotify.Event) bool {
	if event.Op == fsnotify.Chmod || hidden(filepath.Base(event.Name)) {
		return false
	}
	if w.first.IsZero() {
		w.first, w.files = time.Now(), map[string]bool{}
	}
	if event.Has(fsnotify.Create) {
		if info, err := os.Lstat(event.Name); err == nil && info.IsDir() {
			w.all = true
			if err := w.tree(event.Name); err != nil && outOfWatches(err) {
				w.notice("the system has no file watches left; changes in new folders are not seen (start again with --poll)")
			}
		}
	}
	name, err := filepath.Rel(w.folder, event.Name)
	if err != nil || name == "." {
		w.all = true
		return true
	}
	w.files[filepath.ToSlash(name)] = true
	return true
}

// pause is how long to wait for more.
func (w *watch) pause() time.Duration {
	quiet := quietFor
	if w.all || w.gathering() {
		quiet = quietBurst
	}
	return min(quiet, max(0, quietAtMost-time.Since(w.first)))
}

// gathering says that files come in numbers. Those reported a moment ago count
// with those that wait, since where the machine is busy a burst has gaps.
func (w *watch) gathering() bool {
	if time.Since(w.since) > quietAtMost {
		w.recent = nil
	}
	return len(w.files)+len(w.recent) >= burst
}

// changes gives what was gathered, and begins anew.
func (w *watch) changes() Changes {
	c := Changes{All: w.all}
	if len(w.recent) == 0 {
		w.since, w.recent = time.Now(), map[string]bool{}
	}
	for name := range w.files {
		c.Files = append(c.Files, name)
		w.recent[name] = true
	}
	w.first, w.files, w.all = time.Time{}, nil, false
	return c
}
