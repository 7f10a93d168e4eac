package compare

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// JSON writes the changes in the documented form.
func (c *Changes) JSON(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(c)
}

// Text writes the changes for people, at most so many of a part; 0 means all.
func (c *Changes) Text(w io.Writer, most int) error {
	var b strings.Builder
	fmt.Fprintf(&b, "From %s to %s\n", c.Old, c.New)
	if c.None() {
		b.WriteString("\nNothing changed.\n")
	}
	for _, p := range c.Parts() {
		fmt.Fprintf(&b, "\n%s (%d)\n", p.Name, len(p.Entries))
		for i, e := range p.Entries {
			if most > 0 && i == most {
				fmt.Fprintf(&b, "  … and %d more: add --all to see them\n", len(p.Entries)-most)
				break
			}
			e.write(&b)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// String names a state: "HEAD~1, edition 2026-11-14 1d2fa62bc85f".
func (s Side) String() string { return s.Name + ", edition " + s.Edition }

func (e Entry) write(b *strings.Builder) {
	if e.Part == PartBreaks {
		fmt.Fprintf(b, "  ! %s: %s\n    %s\n", e.Address, e.Words, e.Help)
		return
	}
	fmt.Fprintf(b, "  %s %s: %s\n", e.Sign, e.Title, e.Words)
}
