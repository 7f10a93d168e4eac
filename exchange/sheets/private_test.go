package sheets

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// TestPrivateStaysPrivate looks for what is private in every table, every diff
// and every message.
func TestPrivateStaysPrivate(t *testing.T) {
	files := register(t)
	var out bytes.Buffer
	for _, table := range Tables(facts(t, files)) {
		if _, err := table.Write(&out, true); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintln(&out, table.Columns)
	}
	diffs := 0
	for _, orders := range []string{
		"examples\nset 0007 documented \"\"\nset 0007 documented-cites \"\"",
		"examples\nset 0007 pictures \"\"\nset 0007 condition \"\"",
		"examples\nset 0008 riser-wood elm\nset 0008 name X",
		"examples\nset 0007 by \"\"\nset 0007 pictures b.svg",
	} {
		p, err := Prepare(load(t, files), "t.csv", changed(t, files, orders))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range p.Changes {
			if !bytes.Contains(c.After, []byte("PRIVATE-")) {
				t.Errorf("%s lost what is private", c.File)
			}
			diffs++
			out.WriteString(c.Diff())
		}
	}
	for _, r := range refusals {
		if _, err := Prepare(load(t, files), "t.csv", changed(t, files, r.orders)); err != nil {
			fmt.Fprintf(&out, "%+v\n", err)
		}
	}
	files["examples/0008.md"] = "---\nrecord: example\nprivate: {serial: PRIVATE-SERIAL, x: [PRIVATE-LIST]}\n---\n"
	if _, err := Prepare(loadAnyway(t, files), "t.csv", []byte("example,riser-wood\n0008,elm\n")); err != nil {
		fmt.Fprintf(&out, "%+v\n", err)
	}
	if at := strings.Index(out.String(), "PRIVATE-"); at >= 0 || diffs < 4 || !strings.Contains(out.String(), "private: …") {
		t.Errorf("%d diffs; private words at %d: %.200s", diffs, at, out.String()[max(at-100, 0):])
	}
}
