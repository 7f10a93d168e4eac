//go:build unix

package main

import (
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"yearmark/testdata/need"
)

// irregular are things that stand where a file should and that never answer.
var irregular = map[string]func(t *testing.T, path string){
	"pipe": func(t *testing.T, path string) {
		if err := syscall.Mkfifo(path, 0o644); err != nil {
			t.Fatal(err)
		}
	},
	"socket": func(t *testing.T, path string) {
		socket, err := net.Listen("unix", path)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { socket.Close() })
	},
	"device": func(t *testing.T, path string) {
		if err := os.Symlink("/dev/zero", path); err != nil {
			t.Fatal(err)
		}
	},
}

// TestNothingWaitsForAPipe puts a pipe, a socket and a device wherever a
// command reads a file. Each command ends, and names the file.
func TestNothingWaitsForAPipe(t *testing.T) {
	content := filepath.Join(need.Root(t), "content")
	for kind, put := range irregular {
		for _, place := range []string{"reference.yaml", "makers/halvane.md", "examples/0007.md", "pictures/woods/padauk.svg", "pictures/stray.jpg"} {
			t.Run(kind+" "+place, func(t *testing.T) {
				work, err := os.MkdirTemp("", "p") // a short path: that of a socket is bounded
				if err != nil {
					t.Fatal(err)
				}
				t.Cleanup(func() { os.RemoveAll(work) })
				folder := filepath.Join(work, "r")
				if err := os.CopyFS(folder, os.DirFS(content)); err != nil {
					t.Fatal(err)
				}
				path := filepath.Join(folder, filepath.FromSlash(place))
				_ = os.Remove(path)
				put(t, path)
				for _, args := range [][]string{
					{"check", folder}, {"check", folder, "--format", "sarif"}, {"publish", folder, "--to", filepath.Join(work, "site")},
					{"compare", folder, content}, {"compare", content, folder}, {"tables", folder, "--to", filepath.Join(work, "tables")},
					{"trial", folder}, {"date", "--in", folder, "riser-wood=padauk"}, {"find", "--in", folder, "plover"}, {"add", "maker", "--in", folder, "--id", "x"},
				} {
					text := ends(t, args...)
					if names := strings.Contains(text, filepath.Base(place)); !names && (args[0] == "check" || args[0] == "publish") {
						t.Errorf("%v does not name %s:\n%s", args[0], place, text)
					}
				}
			})
		}
		t.Run(kind+" as an argument", func(t *testing.T) {
			work, err := os.MkdirTemp("", "p")
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { os.RemoveAll(work) })
			path := filepath.Join(work, "x.json")
			put(t, path)
			for _, args := range [][]string{
				{"import", path, "--in", content}, {"receive", path, "--in", content, "--dry-run"}, {"receive", work, "--in", content, "--dry-run"},
				{"date", "--in", content, "--list", path}, {"compare", path, content}, {"check", path}, {"publish", path, "--to", filepath.Join(work, "site")},
			} {
				if text := ends(t, args...); !strings.Contains(text, "x.json") && args[1] != work {
					t.Errorf("%v does not name the file:\n%s", args, text)
				}
			}
		})
	}
}

// ends runs a command line that is not to hang, and gives what it said.
func ends(t *testing.T, args ...string) string {
	t.Helper()
	text := make(chan string, 1)
	go func() { text <- said(args...) }()
	select {
	case text := <-text:
		return text
	case <-time.After(2 * time.Minute): // for ever
		t.Fatalf("%v hangs", args)
		return ""
	}
}
