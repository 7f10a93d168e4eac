package sheets

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"yearmark/bench"
	"yearmark/dating"
	"yearmark/schema"
)

// exampleFields are the columns that an example's record fills, its observations aside.
var exampleFields = append([]field[*schema.Example]{
	{column: "example", about: "The name of the example's record, mostly a number. Empty for a new one: it gets the next number.", get: func(e *schema.Example) string { return e.ID }},
	{column: "name", about: "A short name, if it has one.", way: []string{"name"}, get: func(e *schema.Example) string { return e.Name.Value }},
	{column: "model", about: "The name of its model's record, where known.", way: []string{"model"}, get: func(e *schema.Example) string { return e.Model.Value }},
	{column: "either", about: "The models of which it may be one; then without a model.", form: parts, way: []string{"either"}, get: func(e *schema.Example) string { return textCells(e.Either) }},
	{column: "seen", about: "The day it was examined.", form: years, way: []string{"seen"}, get: func(e *schema.Example) string { return e.Seen.String() }},
	{column: "by", about: "Who examined it.", way: []string{"by"}, get: func(e *schema.Example) string { return e.By.Value }},
	{column: "weight-mark", about: "The draw weight as stamped, to the letter.", way: []string{"weight-mark"}, get: func(e *schema.Example) string { return e.WeightMark.Value }},
	{column: "documented", about: "Its year by a paper that came with it.", form: years, way: []string{"documented", "span"}, get: func(e *schema.Example) string {
		if e.Documented == nil {
			return ""
		}
		return e.Documented.Span.String()
	}},
	{column: "documented-cites", about: "The receipt, letter or label that says so.", form: citations, way: []string{"documented", "cites"}, get: func(e *schema.Example) string {
		if e.Documented == nil {
			return ""
		}
		return citeCells(e.Documented.Cites)
	}},
	{column: "condition", about: "Its state: part, colon, state; in brackets the kind of fault and how it was found: upper limb: slight twist [twist, found strung].", form: conditions, way: []string{"condition"}, get: func(e *schema.Example) string {
		var all []string
		for _, c := range e.Condition {
			all = append(all, conditionCell(c))
		}
		return strings.Join(all, between)
	}},
	{column: "pictures", about: "Its photographs: file, colon, what it shows.", form: pictures, way: []string{"pictures"}, get: func(e *schema.Example) string {
		var all []string
		for _, p := range e.Pictures {
			all = append(all, joinPair(p.File.Value, p.Shows.Value))
		}
		return strings.Join(all, between)
	}},
}, setupFields...)

// exampleDerived are the columns that follow from all the records.
var exampleDerived = []derived[*schema.Example]{
	{"dated-model", "The likeliest model, by its features alone.", ofBest(func(o *dating.Odds) string { return o.Model })},
	{"dated-year", "The likeliest year, by its features alone.", ofBest(func(o *dating.Odds) string { return strconv.Itoa(o.Year) })},
	{"dated-95", "The years that hold 95 % of the odds, by model.", func(f Facts, e *schema.Example) string {
		answer := dated(f, e)
		if answer == nil {
			return ""
		}
		var all []string
		for _, m := range answer.Likely95 {
			years := make([]string, len(m.Years))
			for i, y := range m.Years {
				years[i] = strconv.Itoa(y)
			}
			all = append(all, joinPair(cmp.Or(m.Model, dating.BowName(f.Ref, m.Model, m.Maker)), strings.Join(years, ", ")))
		}
		return strings.Join(all, between)
	}},
	{"submitted", "The day on which a visitor of the site sent it; empty where the register examined it itself.", func(_ Facts, e *schema.Example) string {
		if e.Submitted == nil {
			return ""
		}
		return e.Submitted.On.String()
	}},
	{"unreviewed", "yes if a visitor sent it and the editor has not looked it over.", func(_ Facts, e *schema.Example) string {
		if e.Unreviewed() {
			return "yes"
		}
		return ""
	}},
	{"address", "Its page on the site.", func(f Facts, e *schema.Example) string { return address(f, e.Address()) }},
}

func ofBest(get func(*dating.Odds) string) func(Facts, *schema.Example) string {
	return func(f Facts, e *schema.Example) string {
		answer := dated(f, e)
		if answer == nil || answer.Best == nil {
			return ""
		}
		return get(answer.Best)
	}
}

// dated is what an example dates to, or nil.
func dated(f Facts, e *schema.Example) *dating.Brief {
	if f.LeaveOneOut == nil {
		return nil
	}
	date, err := f.LeaveOneOut.Brief(e)
	if err != nil {
		return nil
	}
	return date
}

// Examples is the table of examples, by identifier, with a column for every
// feature. What is private is in none of them; f.Readers leaves out the set-up
// of bows that a fault keeps from being strung.
func Examples(f Facts) Table {
	columns := observedColumns(f.Ref)
	t := Table{Name: "examples", About: "Every bow that was examined, one a row, with a column for every feature."}
	t.Columns = columnsOf(exampleFields, nil)
	for _, c := range columns {
		t.Columns = append(t.Columns, Column{Name: c.String(), About: c.about(f.Ref)})
	}
	t.Columns = withChecksum(append(t.Columns, columnsOf(nil, exampleDerived)...))
	t.Rows = rowsOf(slices.Values(f.Ref.Examples.All()), func(cells []string, e *schema.Example) []string {
		if f.Readers && e.Setup != nil && bench.Unsafe(e.Faults()) {
			withheld := *e
			withheld.Setup, e = nil, &withheld
		}
		cells = cellsOf(cells, exampleFields, e)
		seen := observedCells(e)
		for _, c := range columns {
			cells = append(cells, seen[c])
		}
		for _, d := range exampleDerived {
			cells = append(cells, d.get(f, e))
		}
		return append(cells, exampleSum(e))
	})
	return t
}

// exampleSum is the checksum of an example's own cells.
func exampleSum(e *schema.Example) string {
	cells, seen := cellsOf(nil, exampleFields, e), observedCells(e)
	return checksum(func(yield func(string, string) bool) {
		for i, f := range exampleFields {
			if !yield(f.column, cells[i]) {
				return
			}
		}
		for _, c := range slices.SortedFunc(maps.Keys(seen), observedColumn.compare) {
			if !yield(c.String(), seen[c]) {
				return
			}
		}
	})
}

// observedColumn is a column of one feature: what was seen, how sure that is,
// or the remark; of its first observation on a bow, its second …
type observedColumn struct {
	feature string
	number  int // from 1
	aspect  string
}

// The aspects of an observation.
const (
	seenAspect = ""
	sureAspect = "sure"
	noteAspect = "note"
	ownAspect  = "original" // no of an owner's work
)

var aspects = []string{seenAspect, sureAspect, noteAspect, ownAspect}

func (c observedColumn) compare(d observedColumn) int {
	return cmp.Or(cmp.Compare(c.feature, d.feature), cmp.Compare(c.number, d.number),
		cmp.Compare(slices.Index(aspects, c.aspect), slices.Index(aspects, d.aspect)))
}

// String is the column's name: "riser-wood", "riser-wood note", "tip 2 sure".
func (c observedColumn) String() string {
	name := c.feature
	if fixedExampleColumn(name) {
		name = featurePrefix + name
	}
	if c.number > 1 {
		name += " " + strconv.Itoa(c.number)
	}
	if c.aspect != seenAspect {
		name += " " + c.aspect
	}
	return name
}

// featurePrefix marks a feature whose name is that of another column.
const featurePrefix = "feature:"

func fixedExampleColumn(name string) bool {
	return name == checksumColumn || slices.ContainsFunc(exampleFields, func(f field[*schema.Example]) bool { return f.column == name }) ||
		slices.ContainsFunc(exampleDerived, func(d derived[*schema.Example]) bool { return d.column == name })
}

// readObservedColumn undoes String. It does not ask whether there is such a feature.
func readObservedColumn(name string) (observedColumn, bool) {
	words := strings.Fields(strings.TrimPrefix(name, featurePrefix))
	if len(words) == 0 || len(words) > 3 {
		return observedColumn{}, false
	}
	c := observedColumn{feature: words[0], number: 1}
	rest := words[1:]
	if len(rest) > 0 {
		if n, err := strconv.Atoi(rest[0]); err == nil && n >= 1 && n <= schema.MaxClaims {
			c.number, rest = n, rest[1:]
		}
	}
	if len(rest) == 1 && slices.Contains(aspects, rest[0]) {
		c.aspect, rest = rest[0], nil
	}
	return c, len(rest) == 0
}

func (c observedColumn) about(ref *schema.Reference) string {
	title := c.feature
	if f, ok := ref.Features.Get(c.feature); ok {
		title = f.Title()
	}
	switch c.aspect {
	case sureAspect:
		return fmt.Sprintf("How sure the observer of “%s” was: sure, fairly or unsure.", title)
	case ownAspect:
		return fmt.Sprintf("no if what was seen of “%s” is an owner's work, which is no evidence of the year.", title)
	case noteAspect:
		return fmt.Sprintf("A remark on “%s”.", title)
	}
	return fmt.Sprintf("What was seen of “%s”; several if it is one of them.", title)
}

// observedColumns are those of every feature, and what else the examples need.
func observedColumns(ref *schema.Reference) []observedColumn {
	set := map[observedColumn]bool{}
	for _, f := range ref.Features.All() {
		set[observedColumn{feature: f.ID, number: 1}] = true
	}
	for _, e := range ref.Examples.All() {
		for c := range observedCells(e) {
			set[c] = true
		}
	}
	return slices.SortedFunc(maps.Keys(set), observedColumn.compare)
}

// observedCells gives what was observed on an example, cell by cell; empty cells are left out.
func observedCells(e *schema.Example) map[observedColumn]string {
	cells := map[observedColumn]string{}
	for i, c := range numbered(e) {
		o := e.Observed[i]
		for aspect, cell := range map[string]string{seenAspect: textCells(o.Value), sureAspect: o.Sure.Value, noteAspect: o.Note.Value, ownAspect: flagCell(o.Original)} {
			if cell != "" {
				c.aspect = aspect
				cells[c] = cell
			}
		}
	}
	return cells
}

// numbered gives the column of each observation, counting those of one feature.
func numbered(e *schema.Example) []observedColumn {
	count := map[string]int{}
	columns := make([]observedColumn, len(e.Observed))
	for i, o := range e.Observed {
		count[o.Feature.Value]++
		columns[i] = observedColumn{feature: o.Feature.Value, number: count[o.Feature.Value]}
	}
	return columns
}
