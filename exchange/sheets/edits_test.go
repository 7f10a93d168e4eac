package sheets

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"yearmark/exchange/journal"
)

var update = flag.Bool("update", false, "rewrite what the edits are wanted to look like")

// TestEditsInPlace takes the cell changes of testdata/edits.txtar in, one case
// a file, and holds every line that differs against the lines below them. The
// changes read: table, then "set ROW COLUMN CELL" or "add COLUMN CELL …", with
// cells in quotes.
func TestEditsInPlace(t *testing.T) {
	file := filepath.Join("testdata", "edits.txtar")
	archive, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	files := register(t)
	for i, c := range archive.Files {
		orders, want, _ := strings.Cut(string(c.Data), "\n\n")
		p, err := Prepare(load(t, files), "table.csv", changed(t, files, orders))
		if err != nil {
			t.Errorf("%s: %v", c.Name, err)
			continue
		}
		var got strings.Builder
		for _, change := range p.Changes {
			got.WriteString(differingLines(change))
		}
		for _, n := range p.Notes {
			fmt.Fprintf(&got, "note: %s\n", n)
		}
		if *update {
			archive.Files[i].Data = []byte(orders + "\n\n" + got.String())
		} else if d := cmp.Diff(want, got.String()); d != "" {
			t.Errorf("%s:\n%s", c.Name, d)
		}
		load(t, after(files, p)) // reads without problems
	}
	if *update {
		if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if len(archive.Files) < 30 {
		t.Errorf("only %d cases", len(archive.Files))
	}
}

// changed writes a table with the changes that the lines order.
func changed(t *testing.T, files map[string]string, orders string) []byte {
	t.Helper()
	var g *grid
	for line := range strings.Lines(orders) {
		words := quotedWords(t, strings.TrimSpace(line))
		switch words[0] {
		case "set":
			g.set(t, words[1], words[2], words[3])
		case "add":
			g.add(t, words[1:]...)
		case "widen":
			g.rows[0] = append(g.rows[0], words[1])
			for i := range g.rows[1:] {
				g.rows[i+1] = append(g.rows[i+1], "")
			}
		default:
			for _, table := range Tables(Facts{Ref: load(t, files)}) {
				if table.Name == words[0] {
					g = gridOf(t, table)
				}
			}
		}
	}
	return g.bytes(t)
}

// quotedWords parts a line at its blanks, those within quotes aside.
func quotedWords(t *testing.T, line string) []string {
	t.Helper()
	var words []string
	for line != "" {
		if line[0] == '"' {
			quoted, err := strconv.QuotedPrefix(line)
			if err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			word, _ := strconv.Unquote(quoted)
			words, line = append(words, word), strings.TrimSpace(line[len(quoted):])
			continue
		}
		word, rest, _ := strings.Cut(line, " ")
		words, line = append(words, word), strings.TrimSpace(rest)
	}
	return words
}

// differingLines shows the lines of a diff that are not the same on both sides.
func differingLines(c journal.Change) string {
	var b strings.Builder
	for line := range strings.Lines(c.Diff()) {
		if line[0] == '+' || line[0] == '-' {
			b.WriteString(line)
		}
	}
	return b.String()
}
