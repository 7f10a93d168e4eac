//go:build !linux

package journal

import (
	"errors"
	"os"
)

// swap is known on Linux alone.
func swap(*os.Root, string, string) error { return errors.ErrUnsupported }
