package dating

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"yearmark/schema"
)

// A List is a table of bows, one row a bow, read and dated row by row, so that
// its length costs no memory. Its first row names the columns. A column is a
// feature (by identifier or name), a feature's name and "sure", the model, or
// anything else, which is kept as it is.
//
// A cell of a feature holds what was seen. "|" parts several that it may be; for
// features other than text and numbers "," and " or " do so as well. A "?" at
// its end means unsure. Empty, "?", "-", "unknown", "cannot tell" and "n/a" mean
// not observed. Cells are parted by commas, semicolons or tabs, whichever the
// first row has most of.
type List struct {
	Warnings []string // as in Answer; JSON alone tells them

	engine  *Engine
	columns []Column
	rows    *csv.Reader
	budget  *budget
}

// Column is what a column of a list is taken for.
type Column struct {
	Name string `json:"name"` // as written
	// Use is "feature", "sure" (how sure of a feature), "model" or "kept".
	Use     string `json:"use"`
	Feature string `json:"feature,omitempty"` // of a feature and of sure
	// Near is the feature that a kept column may have been meant for, or "".
	Near string `json:"near,omitempty"`

	feature int
}

// The uses of a column.
const (
	useFeature = "feature"
	useSure    = "sure"
	useModel   = "model"
	useKept    = "kept"
)

// Fault is a row that could not be dated.
type Fault struct {
	Line    int    `json:"line"`             // of the file, from 1
	Column  int    `json:"column"`           // the cell's place in the row, from 1; 0 for the whole row
	Header  string `json:"header,omitempty"` // the column's name
	Message string `json:"message"`          // lower case, no full stop
}

// Error names the line, the column and what is wrong.
func (f Fault) Error() string {
	if f.Column == 0 {
		return fmt.Sprintf("line %d: %s", f.Line, f.Message)
	}
	return fmt.Sprintf("line %d, column %d (%s): %s", f.Line, f.Column, f.Header, f.Message)
}

// Bounds of a list, so that no file can take the memory of the machine.
const (
	maxColumns  = 1000
	maxRowBytes = 1 << 20
)

// OpenList reads the first row of a table of bows. It refuses a table without
// a column that is a feature or the model, and one in which two columns are
// the same feature.
func (e *Engine) OpenList(r io.Reader) (*List, error) {
	l := &List{engine: e, budget: &budget{from: r, left: maxRowBytes}}
	first := bufio.NewReaderSize(l.budget, 1<<16)
	if mark, err := first.Peek(3); err == nil && bytes.Equal(mark, []byte("\ufeff")) {
		first.Discard(3)
	}
	l.rows = csv.NewReader(first)
	l.rows.Comma = separator(first)
	l.rows.FieldsPerRecord = -1
	l.rows.ReuseRecord = true
	names, err := l.rows.Read()
	switch {
	case errors.Is(err, io.EOF):
		return nil, errors.New("the list is empty: its first row must name the columns")
	case err != nil:
		return nil, fmt.Errorf("the first row of the list cannot be read: %w", err)
	case len(names) > maxColumns:
		return nil, fmt.Errorf("the list has %d columns, more than %d", len(names), maxColumns)
	}
	for _, name := range names {
		l.columns = append(l.columns, e.column(strings.TrimSpace(name)))
	}
	return l, l.refuse()
}

// separator gives the sign that the first row has most of.
func separator(r *bufio.Reader) rune {
	head, _ := r.Peek(1 << 14)
	line, _, _ := bytes.Cut(head, []byte("\n"))
	best := ','
	for _, sign := range ";\t" {
		if bytes.Count(line, []byte(string(sign))) > bytes.Count(line, []byte(string(best))) {
			best = sign
		}
	}
	return best
}

// column says what a column is taken for.
func (e *Engine) column(name string) Column {
	c := Column{Name: name, Use: useKept}
	if strings.EqualFold(name, "model") {
		c.Use = useModel
		return c
	}
	whole := strings.TrimSpace(name)
	const sure = " sure"
	if base := len(whole) - len(sure); base > 0 && strings.EqualFold(whole[base:], sure) {
		if at, err := e.FeatureNamed(strings.TrimSpace(whole[:base])); err == nil {
			return Column{Name: name, Use: useSure, Feature: e.features[at].ID, feature: at}
		}
	}
	if at, err := e.FeatureNamed(whole); err == nil {
		return Column{Name: name, Use: useFeature, Feature: e.features[at].ID, feature: at}
	}
	for i := range e.features {
		if s := squeezed(whole); s != "" && (s == squeezed(e.features[i].ID) || s == squeezed(e.features[i].Name())) {
			return Column{Name: name, Use: useFeature, Feature: e.features[i].ID, feature: i}
		}
	}
	var ids []string
	for _, f := range e.features {
		ids = append(ids, f.ID)
	}
	c.Near, _ = schema.Nearest(name, ids)
	return c
}

// squeezed keeps a name's letters and figures, so that "makers mark" is "Maker's mark".
func squeezed(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, name)
}

// refuse refuses a table whose columns make no questions.
func (l *List) refuse() error {
	first := map[string]string{}
	some := false
	for _, c := range l.columns {
		some = some || c.Use == useFeature || c.Use == useModel
		if c.Use != useFeature {
			continue
		}
		if other, again := first[c.Feature]; again {
			return fmt.Errorf("the columns %q and %q are both the feature %s: leave one out", other, c.Name, c.Feature)
		}
		first[c.Feature] = c.Name
	}
	if !some {
		return errors.New("no column of the list is a feature or the model: name the columns as the features are named, as in " + l.engine.someFeatures())
	}
	return nil
}

func (e *Engine) someFeatures() string {
	var names []string
	for i := range e.features {
		if i == 3 {
			break
		}
		names = append(names, e.features[i].ID)
	}
	return strings.Join(names, ", ")
}

// Columns says what each column is taken for.
func (l *List) Columns() []Column { return l.columns }

// row is one row as read, and its outcome.
type row struct {
	line  int
	cells []string // as many as columns
	brief *Brief
	fault *Fault
}

// next reads and dates the next row. The error is io.EOF at the end, or that of
// the reader; a row that cannot be dated is no error but has a fault.
func (l *List) next() (row, error) {
	l.budget.left = maxRowBytes
	cells, err := l.rows.Read()
	var parse *csv.ParseError
	switch {
	case errors.As(err, &parse):
		message := "the row cannot be read: " + parse.Err.Error()
		if errors.Is(parse.Err, csv.ErrQuote) || errors.Is(parse.Err, csv.ErrBareQuote) {
			message = "a quotation mark stands where none can: write \"\" for one inside a quoted cell"
		}
		return row{line: parse.StartLine, cells: make([]string, len(l.columns)), fault: &Fault{Line: parse.Line, Message: message}}, nil
	case err != nil:
		return row{}, err
	}
	line, _ := l.rows.FieldPos(0)
	r := row{line: line, cells: make([]string, len(l.columns))}
	copy(r.cells, cells)
	for i := len(l.columns); i < len(cells); i++ {
		if strings.TrimSpace(cells[i]) != "" {
			r.fault = &Fault{Line: line, Column: i + 1, Message: fmt.Sprintf("the row has %d cells and the first row names %d columns", len(cells), len(l.columns))}
			return r, nil
		}
	}
	q, fault := l.question(r)
	if fault == nil {
		r.brief, fault = l.date(q, r)
	}
	r.fault = fault
	return r, nil
}

// notObserved are the cells that say that nothing is known.
var notObserved = []string{"", "?", "-", "–", "unknown", "cannot tell", "can't tell", "n/a"}

// question reads a row.
func (l *List) question(r row) (Question, *Fault) {
	var q Question
	sure := map[int]schema.Sureness{}
	for i, c := range l.columns {
		cell := strings.TrimSpace(r.cells[i])
		if slices.Contains(notObserved, strings.ToLower(cell)) {
			continue
		}
		switch c.Use {
		case useModel:
			q.Models = separated(cell, true)
		case useSure:
			sure[c.feature] = schema.Sureness(strings.ToLower(cell))
			if !slices.Contains(schema.Surenesses, sure[c.feature]) {
				return q, &Fault{r.line, i + 1, c.Name, fmt.Sprintf("%q is not how sure one can be: write sure, fairly or unsure", cell)}
			}
		case useFeature:
			q.Observed = append(q.Observed, l.observation(c, cell))
		}
	}
	for i := range q.Observed {
		at, err := l.engine.FeatureNamed(q.Observed[i].Feature)
		if word, ok := sure[at]; ok && err == nil {
			q.Observed[i].Sure = word
		}
	}
	return q, nil
}

// observation reads a cell of a feature.
func (l *List) observation(c Column, cell string) Observation {
	o := Observation{Feature: c.Feature, Sure: schema.Sure}
	if before, ok := strings.CutSuffix(cell, "?"); ok {
		cell, o.Sure = strings.TrimSpace(before), schema.Unsure
	}
	_, plain := l.engine.features[c.feature].Domain.(*Values)
	o.Values = separated(cell, plain)
	return o
}

// separated parts a cell at "|" and, where plain, at "," and " or " as well.
func separated(cell string, plain bool) []string {
	cell = strings.ReplaceAll(cell, "|", "\x00")
	if plain {
		cell = strings.NewReplacer(",", "\x00", " or ", "\x00").Replace(cell)
	}
	var values []string
	for part := range strings.SplitSeq(cell, "\x00") {
		if part = strings.TrimSpace(part); part != "" {
			values = append(values, part)
		}
	}
	return values
}

// date answers a row, and finds the cell that a refusal is about.
func (l *List) date(q Question, r row) (*Brief, *Fault) {
	b, err := l.engine.brief(q)
	var refusal *Refusal
	if errors.As(err, &refusal) {
		f := &Fault{Line: r.line, Message: refusal.Error()}
		for i, c := range l.columns {
			if refusal.Feature != "" && c.Use == useFeature && c.Feature == refusal.Feature || refusal.Model != "" && c.Use == useModel {
				f.Column, f.Header = i+1, c.Name
			}
		}
		return nil, f
	}
	if err != nil {
		return nil, &Fault{Line: r.line, Message: err.Error()}
	}
	return b, nil
}

// budget bounds what one row may take.
type budget struct {
	from io.Reader
	left int
}

func (b *budget) Read(p []byte) (int, error) {
	if b.left <= 0 {
		return 0, fmt.Errorf("a row is longer than %d bytes: a quotation mark may never have been closed", maxRowBytes)
	}
	n, err := b.from.Read(p[:min(len(p), b.left)])
	b.left -= n
	return n, err
}
