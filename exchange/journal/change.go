package journal

import (
	"fmt"
	"io/fs"
	"strings"
)

// Change is one file before and after.
type Change struct {
	File   string      `json:"file"`   // below the reference's folder, with slashes
	Mode   fs.FileMode `json:"mode"`   // permissions; set when it is written
	Before []byte      `json:"before"` // nil for a new file
	After  []byte      `json:"after"`  // nil for a file that goes
}

// admitted refuses a path that is no record's or picture's.
func (c Change) admitted() error {
	if !fs.ValidPath(c.File) || strings.HasPrefix(c.File, ".") || strings.Contains(c.File, "/.") {
		return fmt.Errorf("%q is no file of a reference", c.File)
	}
	return nil
}

// reversed gives the changes that take others back.
func reversed(changes []Change) []Change {
	var back []Change
	for _, c := range changes {
		back = append(back, Change{File: c.File, Mode: c.Mode, Before: c.After, After: c.Before})
	}
	return back
}
