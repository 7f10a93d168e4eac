//go:build unix

package builder_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"yearmark/builder"
	"yearmark/testdata/made"
	"yearmark/testdata/need"
)

// The same records give the same bytes: what differs from one machine to the
// next is varied by turns, and every byte of every file is compared. What no
// one machine can vary is how it rounds: products are rounded before they are added, which no compiler may fuse.
func TestTheSameRecordsGiveTheSameBytes(t *testing.T) {
	need.Long(t)
	command := filepath.Join(t.TempDir(), "yearmark")
	build := exec.Command("go", "build", "-o", command, "./cmd/yearmark")
	build.Dir = need.Root(t)
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for name, records := range map[string]map[string][]byte{"demonstration": demonstration(t), "made": madeRecords(t, 200)} {
		t.Run(name, func(t *testing.T) {
			home := t.TempDir()
			want := publishedBy(t, command, records, machine{home: home})
			if len(want) < 200 {
				t.Fatalf("only %d files were published", len(want))
			}
			for _, m := range []machine{
				{what: "the cache of the run before", home: home},
				{what: "one processor, far east, Turkish", home: t.TempDir(), env: []string{"GOMAXPROCS=1", "TZ=Pacific/Kiritimati", "LC_ALL=tr_TR.UTF-8", "LANG=tr_TR.UTF-8"}},
				{what: "eight processors, far west, no locale", home: t.TempDir(), env: []string{"GOMAXPROCS=8", "TZ=Pacific/Pago_Pago", "LC_ALL=C", "LANG="}},
				{what: "a tight umask, files written last first", home: t.TempDir(), umask: "077", lastFirst: true},
				{what: "files changed in another century, a path with a space", home: t.TempDir(), folder: "Bögen & more", changed: time.Date(1999, 12, 31, 23, 59, 59, 0, time.UTC)},
				{what: "no home, little memory to spare", env: []string{"GOGC=20"}},
			} {
				t.Run(m.what, func(t *testing.T) {
					compare(t, publishedBy(t, command, records, m), want)
				})
			}
			t.Run("folders listed in another order", func(t *testing.T) {
				site := filepath.Join(t.TempDir(), "site")
				study, err := builder.OpenFS(t.Context(), backward{made.Files(records)}, "backward")
				if err != nil {
					t.Fatal(err)
				}
				if _, err := study.Publish(t.Context(), site, func(int) {}); err != nil {
					t.Fatal(err)
				}
				compare(t, filesIn(t, site), want)
			})
		})
	}
}

// machine is what one machine has otherwise than another.
type machine struct {
	what      string
	home      string // of the user, with the cache; none where empty
	folder    string
	env       []string
	umask     string
	lastFirst bool      // the order in which the records are written
	changed   time.Time // when they changed last
}

// publishedBy publishes with the built command and gives every file by path.
func publishedBy(t *testing.T, command string, records map[string][]byte, m machine) map[string][]byte {
	t.Helper()
	top := filepath.Join(t.TempDir(), "x", m.folder)
	names := slices.Sorted(maps.Keys(records))
	if m.lastFirst {
		slices.Reverse(names)
	}
	for _, name := range names {
		file := filepath.Join(top, "reference", name)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, records[name], 0o644); err != nil {
			t.Fatal(err)
		}
		if !m.changed.IsZero() {
			if err := os.Chtimes(file, m.changed, m.changed); err != nil {
				t.Fatal(err)
			}
		}
	}
	umask := m.umask
	if umask == "" {
		umask = "022"
	}
	run := exec.Command("sh", "-c", "umask "+umask+`; exec "$0" "$@"`, command, "publish", "reference", "--to", "site")
	run.Dir = top
	run.Env = append([]string{"PATH=" + os.Getenv("PATH"), "TMPDIR=" + os.TempDir()}, m.env...)
	if m.home != "" {
		run.Env = append(run.Env, "HOME="+m.home)
	}
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return filesIn(t, filepath.Join(top, "site"))
}

func filesIn(t *testing.T, folder string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		name, err := filepath.Rel(folder, path)
		if err != nil {
			return err
		}
		files[filepath.ToSlash(name)], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func compare(t *testing.T, got, want map[string][]byte) {
	t.Helper()
	for name, data := range want {
		have, ok := got[name]
		if !ok {
			t.Errorf("%s is not there", name)
			continue
		}
		if !bytes.Equal(have, data) {
			at := 0
			for at < min(len(have), len(data)) && have[at] == data[at] {
				at++
			}
			t.Errorf("%s differs from byte %d on: %.80q, want %.80q", name, at, have[at:], data[at:])
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s is there too", name)
		}
	}
}

// demonstration gives the files of the demonstration, with a photograph that
// the cache of pictures has work with.
func demonstration(t *testing.T) map[string][]byte {
	t.Helper()
	records := filesIn(t, filepath.Join(need.Root(t), "content"))
	records["pictures/examples/photograph.jpg"] = photograph(t)
	const page = "pages/about.md"
	if records[page] == nil {
		t.Fatalf("the demonstration has no %s", page)
	}
	records[page] = append(slices.Clone(records[page]), "\n![A bow on a wall](pictures/examples/photograph.jpg)\n"...)
	return records
}

func madeRecords(t *testing.T, pages int) map[string][]byte {
	t.Helper()
	records := map[string][]byte{}
	err := made.Each(made.Options{Pages: pages, Seed: 5}, func(file string, data []byte) error {
		records[file] = data
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return records
}

// photograph is one large enough to be made smaller.
func photograph(t *testing.T) []byte {
	t.Helper()
	const wide, high = 1800, 1200
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			m.SetRGBA(x, y, color.RGBA{uint8(x * y >> 9), uint8(x*x>>11 ^ y), uint8(x + y*3), 255})
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// backward is a file system whose folders are listed from the end.
type backward struct{ fs.FS }

func (b backward) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(b.FS, name)
	slices.Reverse(list)
	return list, err
}

func (b backward) Open(name string) (fs.File, error) {
	f, err := b.FS.Open(name)
	if dir, ok := f.(fs.ReadDirFile); ok && err == nil {
		return backwardDir{dir}, nil
	}
	return f, err
}

type backwardDir struct{ fs.ReadDirFile }

func (d backwardDir) ReadDir(n int) ([]fs.DirEntry, error) {
	if n > 0 {
		return nil, fmt.Errorf("nobody reads a folder in parts")
	}
	list, err := d.ReadDirFile.ReadDir(n)
	slices.Reverse(list)
	return list, err
}
