package output

import "golang.org/x/sys/unix"

// exchange swaps two folders in one step.
func exchange(a, b string) error { return unix.RenamexNp(a, b, unix.RENAME_SWAP) }
