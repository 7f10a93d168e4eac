package sheets

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// parse4180 reads a table by the grammar of RFC 4180, section 2, and by
// nothing else: records end in CRLF, all have as many fields, a field with a
// comma, a quote or a line end stands in quotes, and quotes within are doubled.
func parse4180(data string) ([][]string, error) {
	var rows [][]string
	for len(data) > 0 {
		var row []string
		for {
			field, rest, err := field4180(data)
			if err != nil {
				return nil, fmt.Errorf("record %d, field %d: %w", len(rows)+1, len(row)+1, err)
			}
			row = append(row, field)
			if after, more := strings.CutPrefix(rest, ","); more {
				data = after
				continue
			}
			after, ended := strings.CutPrefix(rest, "\r\n")
			if !ended {
				return nil, fmt.Errorf("record %d does not end in CRLF but in %.10q", len(rows)+1, rest)
			}
			data = after
			break
		}
		if len(rows) > 0 && len(row) != len(rows[0]) {
			return nil, fmt.Errorf("record %d has %d fields, the first %d", len(rows)+1, len(row), len(rows[0]))
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func field4180(data string) (field, rest string, err error) {
	if !strings.HasPrefix(data, `"`) {
		end := strings.IndexAny(data, ",\r\n")
		if end < 0 || strings.Contains(data[:end], `"`) {
			return "", "", fmt.Errorf("a bare field %.20q", data)
		}
		return data[:end], data[end:], nil
	}
	for at := 1; at < len(data); at++ {
		if data[at] != '"' {
			continue
		}
		if at+1 < len(data) && data[at+1] == '"' {
			at++
			continue
		}
		return strings.ReplaceAll(data[1:at], `""`, `"`), data[at+1:], nil
	}
	return "", "", fmt.Errorf("a quoted field without end")
}

func TestTablesAreRFC4180(t *testing.T) {
	for name, files := range map[string]map[string]string{"register": register(t), "demonstration": demonstration(t)} {
		for _, table := range Tables(facts(t, files)) {
			var b bytes.Buffer
			written, err := table.Write(&b, false)
			if err != nil {
				t.Fatal(err)
			}
			rows, err := parse4180(b.String())
			if err != nil {
				t.Errorf("%s, %s: %v", name, table.Name, err)
				continue
			}
			if len(rows) != written+1 || written == 0 {
				t.Errorf("%s, %s: %d rows of %d", name, table.Name, len(rows)-1, written)
			}
			formulas := 0
			for _, row := range rows {
				for _, cell := range row {
					if startsFormula(strings.ReplaceAll(cell, "\r\n", "\n")) {
						t.Errorf("%s, %s: the cell %q is a formula", name, table.Name, cell)
					}
					if strings.HasPrefix(cell, "'-") {
						formulas++
					}
				}
			}
			if name == "register" && table.Name == "examples" && formulas != 1 {
				t.Errorf("%d cells are guarded, want the weight mark alone", formulas)
			}
		}
	}
}

func TestColumnsSayWhatTheyHold(t *testing.T) {
	for _, table := range Tables(facts(t, register(t))) {
		seen := map[string]bool{}
		for _, c := range table.Columns {
			if !strings.HasSuffix(c.About, ".") || seen[c.Name] {
				t.Errorf("%s: the column %q is described as %q, or is there twice", table.Name, c.Name, c.About)
			}
			seen[c.Name] = true
		}
	}
}

// TestDerivedCells holds what is worked out against figures worked out by hand
// (claims: heron/ash-riser is 1955/1960 within 1955/1965; two origins, .97 and
// .75, are believed 1 - .03 * .25; against wren/made speaks a letter).
func TestDerivedCells(t *testing.T) {
	g := map[string]*grid{}
	for _, table := range Tables(facts(t, register(t))) {
		g[table.Name] = gridOf(t, table)
	}
	want := map[string]string{
		"claims heron/ash-riser possible-from":           "1955",
		"claims heron/ash-riser certain-to":              "1960",
		"claims heron/ash-riser witnesses":               "2",
		"claims heron/ash-riser credence":                "0.9925",
		"claims heron/ash-riser address":                 "https://tarnside.example.org/models/heron.html#ash-riser",
		"claims wren/made witnesses-against":             "1",
		"claims wren/made credence":                      share(.97 * .25 / (1 - .97*.75)),
		"sources list-1965 origins":                      "list-1955",
		"sources list-1955 claims-for":                   "6",
		"sources letter-1990 claims-against":             "2",
		"examples 0007 feature:by":                       `A\|O \\ 1`,
		"examples 0007 mark 2 note":                      "on the back",
		"examples 0008 unreviewed":                       "",
		"claims makers/orrest/owner-ada-orrest credence": "0.97",
	}
	got := map[string]string{}
	for key := range want {
		name, rest, _ := strings.Cut(key, " ")
		row, column, _ := strings.Cut(rest, " ")
		got[key] = "no such row"
		for _, cells := range g[name].rows[1:] {
			if cells[0] == row {
				got[key] = cells[g[name].column(t, column)]
			}
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	demo := gridOf(t, Examples(facts(t, demonstration(t))))
	dated := 0
	for _, cells := range demo.rows[1:] {
		if year, err := strconv.Atoi(cells[demo.column(t, "dated-year")]); err == nil && year >= 1930 && year <= 1985 {
			dated++
		}
		if cells[0] == "0007" && (cells[demo.column(t, "dated-year")] != "1965" || cells[demo.column(t, "dated-model")] != "plover") {
			t.Errorf("the padauk Plover is dated %q", cells)
		}
	}
	if dated < 40 {
		t.Errorf("only %d examples are dated", dated)
	}
}
