package sheets

import (
	"bytes"
	"strings"

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

// masked puts dots for all that stands below the key private, so that nothing
// of it reaches a terminal or a log.
func masked(file string, source []byte) []byte {
	if !strings.HasPrefix(file, schema.KindExample.Folder()+"/") || source == nil {
		return source
	}
	top, err := schema.Locate(file, source)
	if err != nil {
		return nil
	}
	out := bytes.Clone(source)
	for i := len(top.Keys) - 1; i >= 0; i-- {
		if k := top.Keys[i]; k.Name == "private" {
			lines := strings.Repeat("\n…", bytes.Count(source[k.End:k.Value.End], []byte("\n")))
			out = append(append(bytes.Clone(out[:k.End]), ": …"+lines...), out[k.Value.End:]...)
		}
	}
	return withoutPrivateComments(out)
}

// withoutPrivateComments leaves lines that only remark on something out of
// what is shown where they follow private lines, since they may belong to them.
func withoutPrivateComments(source []byte) []byte {
	lines := bytes.SplitAfter(source, []byte("\n"))
	private := false
	for i, line := range lines {
		trimmed := bytes.TrimSpace(line)
		switch {
		case bytes.HasPrefix(trimmed, []byte("private:")), private && bytes.HasPrefix(trimmed, []byte("…")):
			private = true
			if at := bytes.IndexByte(line, '#'); at >= 0 {
				lines[i] = append(bytes.Clone(line[:at]), "# …\n"...)
			}
		case private && bytes.HasPrefix(trimmed, []byte("#")):
			lines[i] = []byte("# …\n")
		default:
			private = false
		}
	}
	return bytes.Join(lines, nil)
}
