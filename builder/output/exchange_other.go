//go:build !linux && !darwin

package output

import "errors"

// exchange always fails here: the system has no rename that swaps two folders.
func exchange(a, b string) error { return errors.ErrUnsupported }
