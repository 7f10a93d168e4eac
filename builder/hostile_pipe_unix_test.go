//go:build unix

package builder_test

import (
	"syscall"
	"testing"
)

// makePipe makes a pipe that nobody writes to: who opens it waits for ever.
func makePipe(t testing.TB, name string) {
	t.Helper()
	if err := syscall.Mkfifo(name, 0o644); err != nil {
		t.Fatal(err)
	}
}
