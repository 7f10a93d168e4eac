package dating

import (
	"cmp"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Tally is what became of a list's rows.
type Tally struct {
	Rows  int `json:"rows"`
	Dated int `json:"dated"`
	// Faults are the rows that could not be dated, in order; of a list with
	// more than a thousand, the first thousand.
	Faults []Fault `json:"faults"`
	Bad    int     `json:"bad"` // how many there are
}

// maxFaults is how many faults are kept.
const maxFaults = 1000

func (t *Tally) count(r row) {
	t.Rows++
	switch {
	case r.fault == nil:
		t.Dated++
	case t.Bad < maxFaults:
		t.Faults = append(t.Faults, *r.fault)
		fallthrough
	default:
		t.Bad++
	}
}

// answerColumns follow the list's own columns in the CSV.
var answerColumns = []string{"model (dated)", "year", "chance", "half of the odds", "95 in 100", "taken at its word", "does not fit", "could not be dated"}

// CSV dates the list and writes it as CSV: its own columns as they are, then
// the outcome of each row. Cells cannot start a spreadsheet formula. progress,
// which may be nil, gets how many rows are done. The error is that of
// reading or writing; rows that could not be dated are in the tally.
func (l *List) CSV(w io.Writer, progress func(done int)) (Tally, error) {
	out := csv.NewWriter(w)
	var header []string
	for _, c := range l.columns {
		header = append(header, tame(c.Name))
	}
	out.Write(append(header, answerColumns...))
	tally, err := l.each(progress, func(r row) error {
		cells := make([]string, 0, len(r.cells)+len(answerColumns))
		for _, c := range append(r.cells, l.answerCells(r)...) {
			cells = append(cells, tame(c))
		}
		return out.Write(cells)
	})
	out.Flush()
	if err == nil {
		err = out.Error()
	}
	return tally, err
}

// each dates every row and hands it on.
func (l *List) each(progress func(int), use func(row) error) (Tally, error) {
	var t Tally
	for {
		r, err := l.next()
		if errors.Is(err, io.EOF) {
			return t, nil
		}
		if err != nil {
			return t, fmt.Errorf("the list cannot be read on after %d rows: %w", t.Rows, err)
		}
		t.count(r)
		if err := use(r); err != nil {
			return t, err
		}
		if progress != nil {
			progress(t.Rows)
		}
	}
}

// answerCells gives the cells of answerColumns.
func (l *List) answerCells(r row) []string {
	cells := make([]string, len(answerColumns))
	if r.fault != nil {
		cells[len(cells)-1] = r.fault.Error()
		return cells
	}
	b := r.brief
	if b.Best != nil {
		cells[0], cells[1], cells[2] = cmp.Or(b.Best.Model, l.engine.nameOf(b.Best.Model, b.Best.Maker)), strconv.Itoa(b.Best.Year), strconv.FormatFloat(b.Best.Chance, 'f', 4, 64)
		cells[3], cells[4] = l.engine.modelYears(b.Likely50), l.engine.modelYears(b.Likely95)
	}
	cells[5] = l.engine.modelYears(b.Strict.Years)
	var conflicts []string
	for _, set := range b.Strict.Conflicts {
		conflicts = append(conflicts, strings.Join(set, " with "))
	}
	cells[6] = strings.Join(conflicts, "; ")
	return cells
}

// tame puts an apostrophe before a cell that a spreadsheet would take for a
// formula. A plain number stays as it is.
func tame(cell string) string {
	shown := strings.TrimLeft(cell, " \u00a0\u3000") // spreadsheets skip these
	if r, _ := utf8.DecodeRuneInString(shown); shown == "" || !strings.ContainsRune("=+-@＝＋－＠\t\r\n", r) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}

// rowJSON is one row of a list.
type rowJSON struct {
	Line       int               `json:"line"`
	Cells      map[string]string `json:"cells"` // the columns kept, by name
	Impossible bool              `json:"impossible"`
	Best       *Odds             `json:"best"`
	Likely     likelyJSON        `json:"likely"`
	Strict     Strict            `json:"strict"`
	Fault      *Fault            `json:"fault,omitempty"`
}

// JSON dates the list and writes {"version", "edition", "columns", "rows", "tally"},
// row by row. progress and the error are as in CSV.
func (l *List) JSON(w io.Writer, edition string, progress func(done int)) (Tally, error) {
	head, err := json.Marshal(struct {
		Version  int      `json:"version"`
		Edition  string   `json:"edition"`
		Warnings []string `json:"warnings"`
		Columns  []Column `json:"columns"`
	}{JSONVersion, edition, list(l.Warnings), l.columns})
	if err != nil {
		return Tally{}, err
	}
	if _, err := fmt.Fprintf(w, "%s,\"rows\":[", head[:len(head)-1]); err != nil {
		return Tally{}, err
	}
	first := true
	tally, err := l.each(progress, func(r row) error {
		data, err := json.Marshal(l.rowJSON(r))
		if err != nil {
			return err
		}
		comma := ",\n"
		if first {
			comma, first = "\n", false
		}
		_, err = io.WriteString(w, comma+string(data))
		return err
	})
	if err != nil {
		return tally, err
	}
	tally.Faults = list(tally.Faults)
	tail, err := json.Marshal(tally)
	if err == nil {
		_, err = fmt.Fprintf(w, "\n],\"tally\":%s}\n", tail)
	}
	return tally, err
}

func (l *List) rowJSON(r row) rowJSON {
	j := rowJSON{Line: r.line, Cells: map[string]string{}, Fault: r.fault}
	for i, c := range l.columns {
		if c.Use == useKept && r.cells[i] != "" {
			j.Cells[c.Name] = r.cells[i]
		}
	}
	j.Strict, j.Likely = Strict{list[ModelYears](nil), list[[]string](nil), list[Without](nil)}, likelyJSON{list[ModelYears](nil), list[ModelYears](nil)}
	if b := r.brief; b != nil {
		j.Impossible, j.Best, j.Strict = b.Impossible, b.Best, b.Strict
		j.Likely = likelyJSON{list(b.Likely50), list(b.Likely95)}
	}
	return j
}
