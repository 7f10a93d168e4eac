package sheets

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
	text := diff.Diff(c.File, masked(c.File, before), name, masked(c.File, c.After))
	_, text, _ = bytes.Cut(text, []byte("\n")) // the first line says what was compared with what
	return string(text)
}

// masked puts dots for what is private, so that nothing of it reaches a
// terminal or a log.
func masked(file string, source []byte) []byte {
	if source == nil {
		return nil
	}
	shown, err := schema.MaskPrivate(file, source)
	if err != nil {
		return nil
	}
	return shown
}
