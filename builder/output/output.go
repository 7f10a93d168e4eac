// Package output puts a finished site in place of the one before it: all or
// nothing. A site is written into a scratch folder beside its target and
// swapped in by one rename. Whatever stops the writing (a kill, a full disk, a
// refusal) leaves the old site whole, and the next run clears the scratch.
//
// Only a folder that is absent, empty, or marked as written by Yearmark is
// ever replaced. In a folder that is marked, what Yearmark did not write is
// brought over into the new site.
package output

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Replace calls fill with a writer for a fresh site and swaps the result in
// at target, with all that a person put into the site that stood there. If fill
// or any step fails, or ctx ends before the swap, target is as it was.
func Replace(ctx context.Context, target string, mark Mark, fill func(*Writer) error) error {
	target, err := filepath.Abs(target)
	if err != nil {
		return fmt.Errorf("cannot tell where %q is: %w", target, err)
	}
	return explainDenied(replace(ctx, target, mark, fill))
}

func replace(ctx context.Context, target string, mark Mark, fill func(*Writer) error) (err error) {
	inPlace, err := fillable(target)
	if err != nil {
		return err
	}
	folder := filepath.Join(filepath.Dir(target), scratchName(target))
	if inPlace {
		folder = filepath.Join(target, mountScratch)
	}
	if err := os.MkdirAll(filepath.Dir(folder), 0o755); err != nil {
		return fmt.Errorf("cannot write beside %s: %w", target, err)
	}
	s, err := openScratch(folder)
	if errors.Is(err, ErrBusy) {
		return fmt.Errorf("%s: %w", target, err)
	}
	if err != nil {
		return fmt.Errorf("cannot write beside %s: %w", target, err)
	}
	defer func() { err = errors.Join(err, s.close()) }()
	if err := recoverTarget(s, target); err != nil {
		return err
	}
	if inPlace {
		return fillMount(ctx, s, target, mark, fill)
	}
	if _, err := fillable(target); err != nil { // once more, as another publish may have ended
		return err
	}
	return fillAndSwap(ctx, s, target, mark, fill)
}

func fillAndSwap(ctx context.Context, s *scratch, target string, mark Mark, fill func(*Writer) error) error {
	c, err := carrierOf(ctx, s, target)
	if err != nil {
		return err
	}
	made, err := fillTree(ctx, s, c, mark, fill)
	if err != nil {
		return err
	}
	if c == nil {
		return os.Rename(s.tree(), target)
	}
	c.ours = made
	if err := c.bring(ctx); err != nil {
		return err
	}
	if err := settle(s.tree()); err != nil {
		return fmt.Errorf("cannot bring the site to the disk: %w", err)
	}
	if err := c.bring(ctx); err != nil { // what changed meanwhile
		return err
	}
	old, err := swap(s, target)
	if err != nil {
		return err
	}
	c.from, c.to = old, target
	if err := c.bring(context.WithoutCancel(ctx)); err != nil { // what changed while it was swapped
		return fmt.Errorf("the new site is in place, but not all that was changed in the old one meanwhile: %w", err)
	}
	return nil
}

// carrierOf is what brings a person's files over from the site at target, and
// nil where there is none. What cannot be brought is refused before anything
// is written.
func carrierOf(ctx context.Context, s *scratch, target string) (*carrier, error) {
	if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	m, _, err := readMark(target)
	if err != nil {
		return nil, err
	}
	c := &carrier{from: target, to: s.tree(), old: writtenBy(m), brought: map[string]fs.FileInfo{}}
	_, err = c.look(ctx)
	return c, err
}

// fillTree writes the new tree, its mark last, and gives its folders.
func fillTree(ctx context.Context, s *scratch, c *carrier, mark Mark, fill func(*Writer) error) (made map[string]bool, err error) {
	w := &Writer{ctx: ctx, folder: s.tree(), old: c, made: map[string]bool{}}
	if err := fill(w); err != nil {
		return nil, err
	}
	mark.Files = w.files
	data, err := mark.encode()
	if err != nil {
		return nil, err
	}
	if err := w.Put(MarkFile, data); err != nil {
		return nil, err
	}
	if c != nil {
		return w.made, nil
	}
	if err := settle(s.tree()); err != nil {
		return nil, fmt.Errorf("cannot bring the site to the disk: %w", err)
	}
	return w.made, ctx.Err()
}

func scratchName(target string) string { return "." + filepath.Base(target) + ".yearmark-scratch" }

// recoverTarget clears what an interrupted publish left. Where a system cannot
// swap in one step and it stopped between two renames, the old site is put back.
func recoverTarget(s *scratch, target string) error {
	if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(s.aside()); err == nil {
			if err := os.Rename(s.aside(), target); err != nil {
				return fmt.Errorf("cannot put the old site back: %w", err)
			}
		}
	}
	if err := s.clear(); err != nil {
		return fmt.Errorf("cannot clear what an interrupted publish left: %w", err)
	}
	return nil
}

// fillable refuses every target that is not absent, empty or marked as ours.
// inPlace says that it is an empty mount point, which no rename can replace.
func fillable(target string) (inPlace bool, err error) {
	info, err := os.Lstat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("cannot look at %s: %w", target, err)
	}
	if !info.IsDir() {
		return false, fmt.Errorf("%s is not a folder; name a new folder for the site", target)
	}
	entries, err := os.ReadDir(target)
	if err != nil {
		return false, fmt.Errorf("cannot look into %s: %w", target, err)
	}
	_, marked, err := readMark(target)
	if err != nil {
		return false, err
	}
	if mountPoint(target) {
		return true, mayFill(target, entries, marked)
	}
	if len(entries) == 0 || marked {
		return false, nil
	}
	return false, fmt.Errorf("%s holds files that Yearmark did not write; name an empty or a new folder", target)
}

// swap puts the new tree in the place of target and says where the old one is.
func swap(s *scratch, target string) (old string, err error) {
	if exchange(s.tree(), target) == nil {
		return s.tree(), nil
	}
	if err := os.Rename(target, s.aside()); err != nil {
		return "", fmt.Errorf("cannot move the old site aside: %w", err)
	}
	if err := os.Rename(s.tree(), target); err != nil {
		return "", errors.Join(fmt.Errorf("cannot put the new site in place: %w", err), os.Rename(s.aside(), target))
	}
	return s.aside(), nil
}
