package sheets

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"

	"yearmark/schema"
	"yearmark/schema/english"
)

// The bounds of one table.
const (
	MaxTableBytes = 64 << 20
	maxRows       = 200_000
	maxColumns    = 5_000
)

// sheet is a table as read.
type sheet struct {
	file   string
	data   []byte // without its mark
	comma  rune
	header []string
	first  int            // the row of the header
	at     map[string]int // place of each column by name
	rows   []sheetRow

	found []found
}

// sheetRow is one row that is not blank. Its cells are unguarded.
type sheetRow struct {
	number int // as a spreadsheet counts; the header is 1
	cells  []string
}

// found is a problem before its place in the file has been looked up.
type found struct {
	row, cell     int // cell -1 for the whole row
	message, help string
}

// report notes a problem of a cell, or of a whole row with an empty column.
func (s *sheet) report(row int, column, message, help string) {
	cell := -1
	if at, ok := s.at[column]; ok {
		cell = at
	}
	s.found = append(s.found, found{row, cell, message, help})
}

// readSheet reads a table. What is wrong with its form is the error, a Problems.
func readSheet(file string, data []byte) (*sheet, error) {
	whole := func(line int, message, help string) error {
		return Problems{{File: file, Line: line, Message: message, Help: help}}
	}
	if plain, err := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Bytes(data); err == nil {
		data = plain // what is no text in it is U+FFFD, which no record may hold
	}
	const save = "In the spreadsheet choose “Save as” and the format “CSV UTF-8”."
	switch {
	case len(data) > MaxTableBytes:
		return nil, whole(0, fmt.Sprintf("the table has %d MB, more than %d", len(data)>>20, MaxTableBytes>>20), "Divide it into several tables.")
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return nil, whole(0, "this is a spreadsheet's own file, not CSV", save)
	case !utf8.Valid(data):
		return nil, whole(firstBadLine(data), "a character is not UTF-8 text", save)
	}
	s := &sheet{file: file, data: bytes.TrimPrefix(data, []byte(byteOrderMark)), at: map[string]int{}}
	s.comma = separator(s.data)
	if err := s.each(s.take); err != nil {
		return nil, err
	}
	if s.header == nil {
		return nil, whole(0, "the table is empty", "The first row holds the names of the columns: begin with a table that \"yearmark tables\" wrote.")
	}
	return s, nil
}

// each reads row after row. number counts as a spreadsheet does: an empty line
// is a row too.
func (s *sheet) each(do func(number int, cells []string, place func(cell int) (line, column int)) error) error {
	r := csv.NewReader(bytes.NewReader(s.data))
	r.Comma, r.FieldsPerRecord = s.comma, -1
	number, expected, offset := 0, 1, int64(0)
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			return Problems{{File: s.file, Line: parse.Line, Column: parse.Column, Message: "the quotes of a cell are not in order", Help: "A cell with quotes in it stands in quotes itself, and those within are doubled: \"a \"\"b\"\"\". Saving from a spreadsheet does so."}}
		}
		if err != nil {
			return err
		}
		line, _ := r.FieldPos(0)
		number += 1 + line - expected
		expected += bytes.Count(s.data[offset:r.InputOffset()], []byte("\n"))
		offset = r.InputOffset()
		if err := do(number, cells, r.FieldPos); err != nil {
			return err
		}
	}
}

// take takes the first row for the names of the columns and the others as they are.
func (s *sheet) take(number int, cells []string, _ func(int) (int, int)) error {
	switch {
	case s.header == nil:
		s.first = number
		return s.name(cells)
	case len(s.rows) == maxRows:
		return Problems{{File: s.file, Message: fmt.Sprintf("the table has more than %d rows", maxRows), Help: "Divide it into several tables."}}
	}
	s.add(number, cells)
	return nil
}

// separator is what parts the cells: a comma, or what spreadsheets of other
// languages write, judged by the first line.
func separator(data []byte) rune {
	line, _, _ := bytes.Cut(data, []byte("\n"))
	best, most := ',', bytes.Count(line, []byte(","))
	for _, r := range ";\t" {
		if n := bytes.Count(line, []byte(string(r))); n > most {
			best, most = r, n
		}
	}
	return best
}

func firstBadLine(data []byte) int {
	line := 1
	for text := range bytes.Lines(data) {
		if !utf8.Valid(text) {
			return line
		}
		line++
	}
	return line
}

// name takes the first row for the names of the columns.
func (s *sheet) name(cells []string) error {
	if len(cells) > maxColumns {
		return Problems{{File: s.file, Line: 1, Message: fmt.Sprintf("the table has %d columns, more than %d", len(cells), maxColumns), Help: "Begin with a table that \"yearmark tables\" wrote."}}
	}
	for i, cell := range cells {
		name := strings.TrimSpace(unguard(cell))
		s.header = append(s.header, name)
		if name == "" || strings.HasPrefix(name, "#") {
			continue
		}
		if _, twice := s.at[name]; twice {
			s.found = append(s.found, found{s.first, i, fmt.Sprintf("the column %q is there twice", english.Clip(name, maxShown)), "Delete one of the two, or rename it so that it begins with #."})
			continue
		}
		s.at[name] = i
	}
	return nil
}

// add takes a row, unless it is blank.
func (s *sheet) add(number int, cells []string) {
	filled := 0
	for i, cell := range cells {
		cells[i] = unguard(oneLineEnd(cell))
		if strings.TrimSpace(cell) != "" {
			filled = i + 1
		}
	}
	switch {
	case filled == 0:
		return
	case filled > len(s.header):
		s.found = append(s.found, found{number, len(s.header), fmt.Sprintf("the row has %d cells, but there are %d columns", filled, len(s.header)), "A comma within a cell parts it, unless the cell stands in quotes."})
		return
	case len(cells) < len(s.header):
		s.found = append(s.found, found{number, -1, fmt.Sprintf("the row has %d cells, but there are %d columns", len(cells), len(s.header)), "Write every cell of the row, empty ones too: an empty cell says that there is nothing."})
		return
	}
	s.rows = append(s.rows, sheetRow{number, cells[:len(s.header)]})
}

// cell gives a row's cell in a column, and whether the table has that column.
func (s *sheet) cell(r sheetRow, column string) (string, bool) {
	at, ok := s.at[column]
	if !ok {
		return "", false
	}
	return tidy(r.cells[at]), true
}

// know looks for columns that nobody reads. known lists those of the table. One
// whose name is near to that of another, or private, is a problem;
// the others are told.
func (in *intake) know(known []string, other func(name string) bool) {
	for i, name := range in.sheet.header {
		if strings.HasPrefix(name, "#") || slices.Contains(known, name) || other != nil && other(name) {
			continue
		}
		near, isNear := schema.Nearest(name, known)
		switch {
		case strings.HasPrefix(strings.ToLower(name), "private"):
			in.sheet.found = append(in.sheet.found, found{in.sheet.first, i, "what is private is in no table", "Delete this column, and write such things into the record itself, below private."})
		case isNear:
			in.sheet.found = append(in.sheet.found, found{in.sheet.first, i, fmt.Sprintf("there is no column %q in this table", english.Clip(name, maxShown)), fmt.Sprintf("Did you mean %q? A column whose name begins with # is a remark of your own.", near)})
		case name != "":
			in.note("the column %q is none of this table's and is left unread", english.Clip(name, maxShown))
		case in.sheet.filled(i):
			in.note("the column %s has no name and is left unread", columnLetters(i))
		}
	}
}

// filled says whether any row has something in a column.
func (s *sheet) filled(at int) bool {
	return slices.ContainsFunc(s.rows, func(r sheetRow) bool { return strings.TrimSpace(r.cells[at]) != "" })
}

// columnLetters names a column as spreadsheets do: A to Z, AA …
func columnLetters(at int) string {
	if at < 26 {
		return string(rune('A' + at))
	}
	return columnLetters(at/26-1) + columnLetters(at%26)
}

// problems looks up where in the file each problem is, in no order. Nil means
// that there are none.
func (s *sheet) problems() Problems {
	if len(s.found) == 0 {
		return nil
	}
	byRow := map[int][]found{}
	for _, f := range s.found {
		byRow[f.row] = append(byRow[f.row], f)
	}
	var list Problems
	_ = s.each(func(number int, cells []string, place func(int) (int, int)) error {
		for _, f := range byRow[number] {
			p := Problem{File: s.file, Row: number, Message: f.message, Help: f.help}
			p.Line, _ = place(0)
			if f.cell >= 0 && f.cell < len(cells) {
				p.Line, p.Column = place(f.cell)
			}
			if f.cell >= 0 && f.cell < len(s.header) {
				p.Header = s.header[f.cell]
			}
			list = append(list, p)
		}
		delete(byRow, number)
		return nil
	})
	for _, rest := range byRow { // rows that no file has: told without a place
		for _, f := range rest {
			list = append(list, Problem{File: s.file, Message: f.message, Help: f.help})
		}
	}
	return list
}
