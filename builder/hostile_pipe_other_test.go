//go:build !unix

package builder_test

import (
	"os"
	"testing"
)

// makePipe makes a folder, which cannot be read as a file either: these
// systems keep no pipes among files.
func makePipe(t testing.TB, name string) {
	t.Helper()
	if err := os.Mkdir(name, 0o755); err != nil {
		t.Fatal(err)
	}
}
