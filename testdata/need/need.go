// Package need tells a test whether what it is held against is on this
// machine: the npm reference libraries, Node, Chromium, Java, LibreOffice. Under a plain
// `go test ./...` a test whose means are missing is skipped and says why;
// under `make test` (YEARMARK_FULL=1) the same test fails. Under `go test
// -short` tests that need a browser, Java or many seconds are left out.
package need

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// full is set by `make test`: nothing may be left out.
const full = "YEARMARK_FULL"

// Root is the folder of the module: the nearest above the working directory,
// which for a test is its package's folder, that holds go.mod.
func Root(t testing.TB) string {
	t.Helper()
	folder, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder
		}
		above := filepath.Dir(folder)
		if above == folder {
			t.Fatal("no go.mod above the working directory")
		}
		folder = above
	}
}

// Npm gives the folder in which Node finds the reference libraries named.
func Npm(t testing.TB, libraries ...string) string {
	t.Helper()
	Node(t)
	folder := filepath.Join(Root(t), "testdata", "npm")
	for _, name := range libraries {
		if _, err := os.Stat(filepath.Join(folder, "node_modules", name)); err != nil {
			Missing(t, "the npm library "+name+" is not installed: run `make test`, or `npm ci` in testdata/npm")
		}
	}
	return folder
}

// Python gives the path of Debian's Python with its scikit-learn.
func Python(t testing.TB) string {
	t.Helper()
	Long(t)
	const path = "/usr/bin/python3"
	if exec.Command(path, "-c", "import sklearn").Run() != nil {
		Missing(t, "python3-sklearn is not installed: run `make tools`")
	}
	return path
}

// Fetched gives the path of open data that `make tools` fetches and the
// repository does not keep: "aircraft.dat", the designs of Debian's r-cran-sm;
// "ames.csv" and "tate_text.csv", houses and works of art of r-cran-modeldata.
func Fetched(t testing.TB, name string) string {
	t.Helper()
	path := filepath.Join(Root(t), "testdata", "fetched", name)
	if _, err := os.Stat(path); err != nil {
		Missing(t, name+" has not been fetched: run `make tools`")
	}
	return path
}

// Node gives the path of Node.
func Node(t testing.TB) string { t.Helper(); return program(t, "node") }

// Java gives the path of Java, which the HTML checker needs.
func Java(t testing.TB) string { t.Helper(); Long(t); return program(t, "java") }

// Chromium gives the path of a Chromium.
func Chromium(t testing.TB) string {
	t.Helper()
	Long(t)
	return program(t, "chromium", "chromium-browser")
}

// Office gives the path of LibreOffice's Calc.
func Office(t testing.TB) string { t.Helper(); Long(t); return program(t, "soffice") }

// Long leaves a test that takes many seconds out of `go test -short`.
func Long(t testing.TB) {
	t.Helper()
	if testing.Short() {
		Missing(t, "it takes long: run it without -short")
	}
}

func program(t testing.TB, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	Missing(t, names[0]+" is not installed: run `make test`")
	return ""
}

// Missing leaves the test out for want of what why names, and fails it where
// nothing may be left out. It is the one way to leave out a test.
func Missing(t testing.TB, why string) {
	t.Helper()
	if os.Getenv(full) != "" {
		t.Fatal(why)
	}
	t.Skip(why)
}
