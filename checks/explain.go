package checks

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// Explain writes all there is to say of one check: what it means, a worked
// example, and what to do.
func Explain(w io.Writer, c Check) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "%s (%s, %s)\n\n", c.Name, c.Family, c.Level)
	if c.Level == Note {
		fmt.Fprint(out, "A note: nothing need be wrong. \"yearmark check\" counts notes; \"yearmark check --notes\" lists them.\n\n")
	}
	for _, line := range wrap(c.Meaning, 80) {
		fmt.Fprintf(out, "%s\n", line)
	}
	fmt.Fprint(out, "\nFor example:\n\n")
	for line := range strings.SplitSeq(c.Example, "\n") {
		fmt.Fprintf(out, "    %s\n", line)
	}
	fmt.Fprint(out, "\nWhat to do:\n\n")
	for _, line := range wrap(c.Remedy, 76) {
		fmt.Fprintf(out, "    %s\n", line)
	}
	return out.Flush()
}
