//go:build unix

package files

import "syscall"

// withoutWaiting opens a pipe at once, though nobody writes to it.
const withoutWaiting = syscall.O_NONBLOCK
