package main

import (
	"debug/elf"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// TestWhatIsHandedOutLoadsNoLibraries builds the program as the container file
// does: an executable that needs no other file, as an empty container has none,
// and that loads no library that lies beside it. Releases are built alike.
func TestWhatIsHandedOutLoadsNoLibraries(t *testing.T) {
	root := need.Root(t)
	builds := regexp.MustCompile(`go build (.*)-ldflags`)
	var args []string
	for _, file := range []string{"Makefile", "Containerfile"} {
		text, err := os.ReadFile(filepath.Join(root, file))
		if err != nil {
			t.Fatal(err)
		}
		found := builds.FindAllStringSubmatch(strings.ReplaceAll(string(text), "$(TAGS)", "-tags nodynamic"), -1)
		if len(found) == 0 {
			t.Errorf("%s builds nothing", file)
		}
		for _, f := range found {
			args = strings.Fields(f[1])
			if !strings.Contains(f[1], "-tags nodynamic") {
				t.Errorf("%s builds by %q, without the tag nodynamic", file, f[0])
			}
		}
	}
	need.Long(t)
	program := filepath.Join(t.TempDir(), "yearmark")
	build := exec.Command("go", append(append([]string{"build"}, args...), "-o", program, "./cmd/yearmark")...)
	build.Dir, build.Env = root, append(os.Environ(), "CGO_ENABLED=0", "GOOS=linux", "GOARCH=amd64")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	f, err := elf.Open(program)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, p := range f.Progs {
		if p.Type == elf.PT_INTERP || p.Type == elf.PT_DYNAMIC {
			t.Errorf("the program is linked with libraries of the machine: %v", p.Type)
		}
	}
}
