package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// reckoning lists the rooms whose figures are published. The same records give
// the same bytes on any machine, so none of their products may be fused with a
// sum, which processors of some kinds do unless the product is converted (Go
// specification, "Floating-point operators").
var reckoning = []string{"./schema/...", "./provenance", "./chronology/...", "./dating/...", "./bench", "./site/charts"}

var fused = regexp.MustCompile(`(?m)\(([^()\s]+\.go:\d+)\)\s+FN?M(?:ADD|SUB)[DS]\s`)

// fusedIn compiles for a processor that fuses and gives the lines where it does.
func fusedIn(t *testing.T, folder string, packages ...string) []string {
	t.Helper()
	cmd := exec.Command("go", append([]string{"build", "-gcflags=-S"}, packages...)...)
	cmd.Dir, cmd.Env = folder, append(os.Environ(), "GOOS=linux", "GOARCH=arm64", "CGO_ENABLED=0", "GOFLAGS=")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("go build: %v\n%.2000s", err, out)
	}
	if !strings.Contains(string(out), "TEXT") {
		t.Fatalf("the compiler does not tell its instructions:\n%.2000s", out)
	}
	var lines []string
	for _, m := range fused.FindAllStringSubmatch(string(out), -1) {
		lines = append(lines, m[1])
	}
	return lines
}

func TestNoProductIsFused(t *testing.T) {
	need.Long(t)
	for _, line := range fusedIn(t, need.Root(t), reckoning...) {
		t.Errorf("%s fuses a product with a sum; write float64(a * b)", line)
	}
}

// TestFusingIsSeen: what the test above looks for is there where products are
// not converted, and only there.
func TestFusingIsSeen(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{
		"go.mod":   "module sample\n\ngo 1.24\n",
		"plain.go": "package sample\n\nfunc Plain(a, b, c float64) float64 { return a*b + c }\n\nfunc Kept(a, b, c float64) float64 { return float64(a*b) + c }\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if lines := fusedIn(t, folder, "."); len(lines) != 1 || !strings.HasSuffix(lines[0], "plain.go:3") {
		t.Errorf("fused on %q, want line 3 alone", lines)
	}
}
