package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"yearmark/testdata/need"
)

// asCommand makes the test's own binary stand for the command, so that it can
// be killed, starved and run by others as the built command would be.
const asCommand = "YEARMARK_TEST_AS_COMMAND"

// apart is the command as a process of its own, with a cache, a temporary
// folder and a place for sites of its own.
type apart struct {
	t                       *testing.T
	root, cache, temp, site string
}

func newApart(t *testing.T) *apart {
	t.Helper()
	root := t.TempDir()
	a := &apart{t, root, filepath.Join(root, "cache"), filepath.Join(root, "tmp"), filepath.Join(root, "sites", "site")}
	for _, folder := range []string{a.cache, a.temp, filepath.Dir(a.site)} {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return a
}

// command is not yet started.
func (a *apart) command(args ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), asCommand+"=1", "XDG_CACHE_HOME="+a.cache, "HOME="+a.root, "TMPDIR="+a.temp)
	return cmd
}

// publish runs to its end and gives what was said.
func (a *apart) publish(folder, to string) (string, error) {
	out, err := a.command("publish", folder, "--to", to).CombinedOutput()
	return string(out), err
}

func (a *apart) mustPublish(folder, to string) {
	a.t.Helper()
	if out, err := a.publish(folder, to); err != nil {
		a.t.Fatalf("publish: %v: %s", err, out)
	}
}

// state is the sum of everything below a folder: names, kinds and bytes.
func state(t *testing.T, folder string) string {
	t.Helper()
	h := sha256.New()
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		below, _ := filepath.Rel(folder, path)
		fmt.Fprintf(h, "%s %s\n", below, e.Type())
		if e.Type().IsRegular() {
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			fmt.Fprintf(h, "%d\n", len(data))
			h.Write(data)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// later makes the scratch of the cache as old as it would be some minutes on.
func (a *apart) later() {
	a.t.Helper()
	parts, err := filepath.Glob(filepath.Join(a.cache, "yearmark", "pictures", ".part-*"))
	for _, part := range parts {
		err = errors.Join(err, os.Chtimes(part, time.Time{}, time.Now().Add(-time.Hour)))
	}
	if err != nil {
		a.t.Fatal(err)
	}
}

// clean fails unless nothing lies where publishing works but the sites named,
// and the cache's whole pictures.
func (a *apart) clean(sites ...string) {
	a.t.Helper()
	entries, err := os.ReadDir(filepath.Dir(a.site))
	if err != nil {
		a.t.Fatal(err)
	}
	for _, e := range entries {
		if !slices.Contains(sites, e.Name()) {
			a.t.Errorf("left beside the site: %s", e.Name())
		}
	}
	for _, folder := range []string{a.temp, a.cache} {
		_ = filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return err
			}
			info, err := e.Info()
			if err != nil {
				return err
			}
			picture := folder == a.cache && len(e.Name()) == 2*sha256.Size && info.Size() > 0
			if !picture {
				a.t.Errorf("left behind: %s of %d bytes", path, info.Size())
			}
			return nil
		})
	}
}

// twoStates are a small register with a photograph and the same register a
// little changed: neither's site is the other's.
func twoStates(t *testing.T, root string) (first, second string) {
	t.Helper()
	first, second = filepath.Join(root, "first"), filepath.Join(root, "second")
	for _, folder := range []string{first, second} {
		said("begin", folder)
		if err := os.MkdirAll(filepath.Join(folder, "pictures"), 0o755); err != nil {
			t.Fatal(err)
		}
		var photo bytes.Buffer
		if err := jpeg.Encode(&photo, image.NewGray(image.Rect(0, 0, 900, 600)), nil); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, "pictures", "shed.jpg"), photo.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	rewrite(t, filepath.Join(second, "reference.yaml"), func(s string) string {
		return strings.Replace(s, "name: ", "name: New ", 1)
	})
	return first, second
}

// TestKilledAtAnyMoment kills 200 publishes at moments spread over their whole
// run: the old site or the new one is there byte for byte each time, and the
// next publish succeeds and leaves nothing behind.
func TestKilledAtAnyMoment(t *testing.T) {
	need.Long(t)
	a := newApart(t)
	first, second := twoStates(t, a.root)
	other := filepath.Join(a.root, "other")
	a.mustPublish(second, other)
	a.mustPublish(first, a.site)
	old, renewed := state(t, a.site), state(t, other)
	if old == renewed {
		t.Fatal("the two states make the same site")
	}
	random := rand.New(rand.NewPCG(3, 4))
	const kills = 200
	whole := time.Second // how long a publish takes, as the last to end by itself took
	swapped, dead, publishing, tries := 0, 0, 0, 0
	for ; dead < kills && tries < 3*kills; tries++ {
		// The moments are spread evenly, each with its own chance within its share.
		wait := time.Duration((float64(dead) + random.Float64()) / kills * float64(whole))
		if running, took := a.kill(wait, second); running {
			dead++
		} else {
			whole = took
		}
		if _, err := os.Lstat(filepath.Join(filepath.Dir(a.site), ".site.yearmark-scratch")); err == nil {
			publishing++
		}
		switch state(t, a.site) {
		case old:
		case renewed:
			swapped++
			a.mustPublish(first, a.site)
		default:
			t.Fatalf("killed after %v, the site is neither the old one nor the new one", wait)
		}
		if tries%20 == 19 {
			a.later()
			a.mustPublish(first, a.site)
			a.clean("site")
		}
	}
	a.later()
	a.mustPublish(second, a.site)
	if state(t, a.site) != renewed {
		t.Error("the publish after the last kill makes another site")
	}
	a.clean("site")
	t.Logf("%d of %d killed before their end, %d of them while writing; the new site stood %d times", dead, tries, publishing, swapped)
	if dead < kills || publishing < 10 {
		t.Errorf("only %d of %d were killed before their end, %d while writing", dead, tries, publishing)
	}
}

// kill starts a publish, kills it after a while, and says whether it was still
// running and, where it was not, how long it took.
func (a *apart) kill(wait time.Duration, folder string) (running bool, took time.Duration) {
	a.t.Helper()
	cmd := a.command("publish", folder, "--to", a.site)
	said, err := cmd.StderrPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		a.t.Fatal(err)
	}
	if _, err := bufio.NewReader(said).ReadString('\n'); err != nil {
		a.t.Fatalf("the publish did not start: %v", err)
	}
	began, ended := time.Now(), make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	select {
	case err = <-ended:
	case <-time.After(wait):
		_ = cmd.Process.Kill()
		err = <-ended
	}
	return err != nil, time.Since(began)
}

// TestTwoPublishesAtOnce starts two for one target: one is refused with a
// reason or waits, and the site is one of the two, whole.
func TestTwoPublishesAtOnce(t *testing.T) {
	need.Long(t)
	a := newApart(t)
	first, second := twoStates(t, a.root)
	a.mustPublish(first, a.site)
	one := state(t, a.site)
	a.mustPublish(second, a.site)
	two := state(t, a.site)
	refused := 0
	for range 5 {
		var said [2]bytes.Buffer
		var cmds [2]*exec.Cmd
		for i, folder := range []string{first, second} {
			cmds[i] = a.command("publish", folder, "--to", a.site)
			cmds[i].Stdout, cmds[i].Stderr = &said[i], &said[i]
			if err := cmds[i].Start(); err != nil {
				t.Fatal(err)
			}
		}
		failed := 0
		for i, cmd := range cmds {
			if err := cmd.Wait(); err != nil {
				failed++
				if !strings.Contains(said[i].String(), "another publish to this folder is under way; wait") {
					t.Errorf("refused with %q", said[i].String())
				}
			}
		}
		if refused += failed; failed == 2 {
			t.Error("both were refused")
		}
		if now := state(t, a.site); now != one && now != two {
			t.Fatal("the site is of neither")
		}
	}
	a.clean("site")
	t.Logf("%d of 10 were refused", refused)
}

// TestForeignTargets publishes to what Yearmark did not write: each is refused
// in a sentence with a remedy and stays as it is.
func TestForeignTargets(t *testing.T) {
	need.Long(t)
	a := newApart(t)
	first, _ := twoStates(t, a.root)
	papers, letters := filepath.Join(a.root, "papers"), filepath.Join(a.root, "letters.txt")
	forged := filepath.Join(a.root, "forged")
	for name, text := range map[string]string{
		filepath.Join(papers, "a.txt"): "mine", letters: "mine",
		filepath.Join(forged, "yearmark-site.json"): `{"writtenBy":"another"}`,
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	linkToFolder, linkToSite, linkToNothing := filepath.Join(a.root, "to-papers"), filepath.Join(a.root, "to-site"), filepath.Join(a.root, "to-nothing")
	a.mustPublish(first, a.site)
	for link, to := range map[string]string{linkToFolder: papers, linkToSite: a.site, linkToNothing: filepath.Join(a.root, "nothing")} {
		if err := os.Symlink(to, link); err != nil {
			t.Fatal(err)
		}
	}
	empty := filepath.Join(a.root, "empty")
	if err := os.Mkdir(empty, 0o755); err != nil {
		t.Fatal(err)
	}
	before := state(t, a.root)
	for name, target := range map[string]string{
		"a folder with files": papers, "a file": letters, "a mark of another": forged, "a link to a folder": linkToFolder,
		"a link to a site": linkToSite, "a link to nothing": linkToNothing, "the records": first, "what holds the records": a.root, "a folder of records": filepath.Join(first, "models"),
		"a new folder among records": filepath.Join(first, "models", "site"), "a new folder among pictures": filepath.Join(first, "pictures", "site"), "the top": "/", "a device": os.DevNull, "below a file": filepath.Join(letters, "site"),
	} {
		out, err := a.publish(first, target)
		if err == nil || !strings.Contains(out, "yearmark: ") || strings.Contains(out, "panic") {
			t.Errorf("%s: %v: %s", name, err, out)
		}
		if state(t, a.root) != before {
			t.Fatalf("%s was touched: %s", name, out)
		}
	}
	if err := os.RemoveAll(a.temp); err != nil { // and without a temporary folder
		t.Fatal(err)
	}
	a.mustPublish(first, empty)
}
