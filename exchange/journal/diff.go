package journal

import (
	"bytes"

	"github.com/rogpeppe/go-internal/diff"

	"yearmark/schema"
)

// Diff shows the change line by line, three lines of what stays around it.
// What is private is dots.
func (c Change) Diff() string {
	before, name := c.Before, c.File
	if before == nil {
		name += " (new)"
	}
	text := diff.Diff(c.File, schema.MaskPrivate(c.File, before), name, schema.MaskPrivate(c.File, c.After))
	_, text, _ = bytes.Cut(text, []byte("\n")) // the first line says what was compared with what
	return string(text)
}
