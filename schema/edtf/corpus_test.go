package edtf

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// table reads a file of testdata: tab-separated, # for comments, the first
// other line naming the columns.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	var columns []string
	var rows []map[string]string
	for i, line := range strings.Split(strings.TrimSuffix(string(data), "\n"), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "\t")
		if columns == nil {
			columns = cells
			continue
		}
		if len(cells) != len(columns) {
			t.Fatalf("%s:%d: %d cells in place of %d", name, i+1, len(cells), len(columns))
		}
		row := map[string]string{}
		for j, c := range columns {
			row[c] = cells[j]
		}
		rows = append(rows, row)
	}
	return rows
}

// refusedString undoes the two ways in which refused.tsv makes the invisible visible.
func refusedString(cell string) string {
	if cell == "(empty string)" {
		return ""
	}
	return strings.ReplaceAll(cell, "␠", " ")
}

// must parses an expression that a test takes as given.
func must(t testing.TB, s string) Expr {
	t.Helper()
	e, err := Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func number(t testing.TB, cell string) int {
	t.Helper()
	n, err := strconv.Atoi(cell)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Held against the Library of Congress specification, row by row.
func TestValid(t *testing.T) {
	rows := table(t, "valid.tsv")
	if len(rows) != 87 {
		t.Errorf("%d rows, want 87", len(rows))
	}
	for _, row := range rows {
		t.Run(row["expression"], func(t *testing.T) {
			e, err := Parse(row["expression"])
			if err != nil {
				t.Fatal(err)
			}
			if e.String() != row["expression"] {
				t.Errorf("String %q", e)
			}
			if got := strconv.Itoa(e.Level()); got != row["level"] {
				t.Errorf("level %s, want %s", got, row["level"])
			}
			if got := bound(e.Earliest()); got != limit(row["earliest"]) {
				t.Errorf("earliest %s, want %s", got, row["earliest"])
			}
			if got := bound(e.Latest()); got != limit(row["latest"]) {
				t.Errorf("latest %s, want %s", got, row["latest"])
			}
			if got := strings.ContainsAny(row["mark"], "?%"); e.Doubted() != got {
				t.Errorf("doubted %v, want %v", e.Doubted(), got)
			}
			if got := strings.ContainsAny(row["mark"], "~%"); e.Approximate() != got {
				t.Errorf("approximate %v, want %v", e.Approximate(), got)
			}
		})
	}
}

func bound(year int, ok bool) string {
	if !ok {
		return "none"
	}
	return strconv.Itoa(year)
}

// limit reads a bound of valid.tsv. The two winters of which the source leaves
// open where they end count as the year they are written with.
func limit(cell string) string {
	switch cell {
	case "open", "unknown":
		return "none"
	case "2001 or 2002":
		return "2001"
	}
	return cell
}

func TestRefused(t *testing.T) {
	rows := table(t, "refused.tsv")
	if len(rows) != 66 {
		t.Errorf("%d rows, want 66", len(rows))
	}
	for _, row := range rows {
		s := refusedString(row["string"])
		e, err := Parse(s)
		f, ok := err.(*SyntaxError)
		if !ok {
			t.Errorf("%q: %v read as %v, want a refusal: %s", s, err, e, row["why"])
			continue
		}
		checkFault(t, s, f)
	}
}
