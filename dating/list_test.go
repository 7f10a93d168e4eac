package dating_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"yearmark/dating"
	"yearmark/dating/testdata/made"
)

// toldEngine is the engine of the vector three-features.
func toldEngine(t testing.TB) *dating.Engine {
	t.Helper()
	_, files := parts(t, "testdata/vectors/three-features.txt")
	delete(files, "expect")
	return engineOf(t, reference(t, files))
}

const bowsCSV = "\ufeffOwner's no.,Model,Early,middle,LATE,early sure,=SUM(A1),Midle\r\n" +
	"7,told,x,x,x,,note,\r\n" +
	"8,Told,y,x?,X | y,fairly,\"two\nlines\",\r\n" +
	"9,told,zzz,x,x,,,\r\n" +
	"10,nobody,x,,,,,\r\n" +
	"11,told,x,,,perhaps,,\r\n" +
	"12,,y,-,?,,@me,\r\n" +
	"13,told,x,y,x,,,\r\n" +
	"14,told,x,x\"x,,,,\r\n" +
	"15,told,x,,,,,,too many\r\n" +
	"-16,told,x,something-else or y\r\n"

func TestListColumns(t *testing.T) {
	l, err := toldEngine(t).OpenList(strings.NewReader(bowsCSV))
	if err != nil {
		t.Fatal(err)
	}
	var uses []string
	for _, c := range l.Columns() {
		uses = append(uses, fmt.Sprintf("%s:%s:%s:%s", c.Name, c.Use, c.Feature, c.Near))
	}
	want := "Owner's no.:kept:: Model:model:: Early:feature:early: middle:feature:middle: LATE:feature:late: early sure:sure:early: =SUM(A1):kept:: Midle:kept::middle"
	if got := strings.Join(uses, " "); got != want {
		t.Errorf("columns are taken for\n%s\nwant\n%s", got, want)
	}
}

func TestListAsCSV(t *testing.T) {
	l, err := toldEngine(t).OpenList(strings.NewReader(bowsCSV))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	done := 0
	tally, err := l.CSV(&out, func(n int) { done = n })
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 11 || tally.Rows != 10 || tally.Dated != 5 || tally.Bad != 5 || done != 10 {
		t.Fatalf("%d rows written, tally %+v, progress %d", len(rows), tally, done)
	}
	answers := map[string][]string{}
	for _, r := range rows[1:] {
		answers[r[0]] = r[8:]
	}
	for number, want := range map[string]string{
		"7": "told 1952", "8": "told 1953", "12": "told 1953", "13": "told 1951", "-16": "told 1952",
	} {
		if got := strings.Join(answers[number][:2], " "); got != want && number != "13" && number != "-16" {
			t.Errorf("bow %s: %s, want %s", number, got, want)
		}
		if answers[number][7] != "" {
			t.Errorf("bow %s could not be dated: %s", number, answers[number][7])
		}
	}
	if got := answers["7"][5]; got != "Told 1952" {
		t.Errorf("bow 7 taken at its word: %q", got)
	}
	if got := answers["13"][6]; got != "early with middle" {
		t.Errorf("what does not fit of bow 13: %q", got)
	}
	if rows[0][6] != "'=SUM(A1)" || rows[6][6] != "'@me" || rows[10][0] != "-16" {
		t.Errorf("cells that a spreadsheet would compute: %q %q; a number: %q", rows[0][6], rows[6][6], rows[10][0])
	}
}

func TestListNamesFaults(t *testing.T) {
	l, err := toldEngine(t).OpenList(strings.NewReader(bowsCSV))
	if err != nil {
		t.Fatal(err)
	}
	tally, err := l.CSV(&bytes.Buffer{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		`line 5, column 3 (Early): the value "zzz" is not one of early: Its values are x, y, something-else.`,
		`line 6, column 2 (Model): the model "nobody" is not in the reference`,
		`line 7, column 6 (early sure): "perhaps" is not how sure one can be: write sure, fairly or unsure`,
		`line 10: a quotation mark stands where none can: write "" for one inside a quoted cell`,
		`line 11, column 9 (): the row has 9 cells and the first row names 8 columns`,
	}
	for i, f := range tally.Faults {
		if i >= len(want) || f.Error() != want[i] {
			t.Errorf("fault %d: %s", i, f.Error())
		}
	}
	if len(tally.Faults) != len(want) {
		t.Errorf("%d faults, want %d", len(tally.Faults), len(want))
	}
}

func TestListAsJSON(t *testing.T) {
	l, err := toldEngine(t).OpenList(strings.NewReader(strings.ReplaceAll(bowsCSV, ",", ";")))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if _, err := l.JSON(&out, "2026", nil); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Version int
		Edition string
		Columns []dating.Column
		Rows    []struct {
			Line  int
			Cells map[string]string
			Best  *dating.Odds
			Fault *dating.Fault
		}
		Tally dating.Tally
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatalf("%v in %s", err, out.String())
	}
	if got.Version != 1 || got.Edition != "2026" || len(got.Columns) != 8 || len(got.Rows) != 10 || got.Tally.Bad != 5 {
		t.Errorf("%+v", got)
	}
	if r := got.Rows[0]; r.Line != 2 || r.Best.Year != 1952 || r.Cells["Owner's no."] != "7" || r.Cells["=SUM(A1)"] != "note" || r.Fault != nil {
		t.Errorf("%+v", r)
	}
}

func TestListRefusals(t *testing.T) {
	e := toldEngine(t)
	for text, want := range map[string]string{
		"":                         "the list is empty: its first row must name the columns",
		"a,b\n1,2\n":               "no column of the list is a feature or the model: name the columns as the features are named, as in early, late, middle",
		"early,Early\nx,x\n":       `the columns "early" and "Early" are both the feature early: leave one out`,
		strings.Repeat("a,", 2000): "the list has 2001 columns, more than 1000",
	} {
		if _, err := e.OpenList(strings.NewReader(text)); err == nil || err.Error() != want {
			t.Errorf("%.20q: %v, want %s", text, err, want)
		}
	}
	l, err := e.OpenList(strings.NewReader("early,note\nx,\"" + strings.Repeat("never closed\n", 200_000)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.CSV(&bytes.Buffer{}, nil); err == nil || !strings.Contains(err.Error(), "a quotation mark may never have been closed") {
		t.Errorf("an endless row: %v", err)
	}
	l, err = e.OpenList(strings.NewReader("early\nx\n"))
	if err != nil {
		t.Fatal(err)
	}
	full := errors.New("the disk is full")
	if _, err := l.JSON(writer{full}, "", nil); !errors.Is(err, full) {
		t.Errorf("a full disk: %v", err)
	}
}

type writer struct{ err error }

func (w writer) Write([]byte) (int, error) { return 0, w.err }

// bows makes a list of bows that the engine could have made.
func bows(e *dating.Engine, n int) string {
	r := rand.New(rand.NewPCG(7, 7))
	var b strings.Builder
	b.WriteString("number," + strings.Join(made.Features, ",") + "\n")
	for i := range n {
		cells := map[string]string{}
		for _, o := range made.Observed(e, r).Observed {
			cells[o.Feature] = o.Values[0]
		}
		fmt.Fprintf(&b, "%d", i)
		for _, f := range made.Features {
			b.WriteString("," + cells[f])
		}
		b.WriteString("\n")
	}
	return b.String()
}

// BenchmarkList dates 10,000 bows against 300 models, beside the bare reading
// and writing of the same rows.
func BenchmarkList(b *testing.B) {
	e := made.Engine(b, 300)
	text := bows(e, 10_000)
	for b.Loop() {
		before := memory()
		l, err := e.OpenList(strings.NewReader(text))
		if err != nil {
			b.Fatal(err)
		}
		tally, err := l.CSV(&bytes.Buffer{}, nil)
		if err != nil || tally.Dated != 10_000 {
			b.Fatal(err, tally.Bad)
		}
		b.ReportMetric(float64(memory()-before)/1e6, "MB-held")
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/10_000, "µs/bow")
}

func memory() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
