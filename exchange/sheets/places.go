package sheets

import (
	"fmt"
	"iter"
	"strconv"

	"yearmark/schema"
	"yearmark/schema/english"
)

// sourcePlace is a row of the table of places: one place and where it stands.
type sourcePlace struct {
	source *schema.Source
	index  int // in the source's list, from 0
	*schema.SourcePlace
}

// name is what the row is known by: the source and the number of the place in it, from 1.
func (p sourcePlace) name() string { return p.source.ID + "/" + strconv.Itoa(p.index+1) }

// placeFields are the columns that a place in a source fills.
var placeFields = []field[sourcePlace]{
	{column: "place", about: "The source and the number of the place in its record. Leave it empty for a new place.", get: sourcePlace.name},
	{column: "source", about: "The source, by the name by which it is cited.", get: func(p sourcePlace) string { return p.source.ID }},
	{column: "at", about: "The place as citations name it: p. 2, sheet 9, cover; of a recording the time, as in 12:34.", way: []string{"at"}, get: func(p sourcePlace) string { return p.At.Value }},
	{column: "says", about: "The words that stand there, to the letter.", way: []string{"says"}, get: func(p sourcePlace) string { return p.Says.Value }},
	{column: "scan", about: "A picture of the page, below the folder pictures.", way: []string{"scan"}, get: func(p sourcePlace) string { return p.Scan.Value }},
	{column: "region", about: "The part of the scan that holds the words: xywh=percent: or xywh=pixel: and left, top, width, height.", way: []string{"region"}, get: func(p sourcePlace) string { return p.Region.Written() }},
	{column: "own", about: "yes if the writer saw it.", form: yesOrNo, way: []string{"own"}, get: func(p sourcePlace) string { return flagCell(p.Own) }},
	{column: "relies-on", about: "The sources that this place took its facts from.", form: parts, way: []string{"relies-on"}, get: func(p sourcePlace) string { return textCells(p.ReliesOn) }},
	{column: "kind", about: "What it is, where that is another kind than the source's.", way: []string{"kind"}, get: func(p sourcePlace) string { return p.Kind.Value }},
	{column: "hedge", about: "fairly or unsure, where the speaker or writer said so.", way: []string{"hedge"}, get: func(p sourcePlace) string { return p.Hedge.Value }},
	{column: "corrected-at", about: "The place at which the speaker or writer mended this slip.", way: []string{"corrected-at"}, get: func(p sourcePlace) string { return p.CorrectedAt.Value }},
}

// placeDerived are the columns that follow from the records.
var placeDerived = []derived[sourcePlace]{
	{"address", "Its place on the site.", func(f Facts, p sourcePlace) string {
		return address(f, p.source.Address()+"#"+schema.Citation{Place: p.At.Value}.Anchor())
	}},
}

// Places is the table of what stands at the places of sources. Sources of which
// nothing may be shown are left out.
func Places(f Facts) Table {
	return Table{
		Name: "places", About: "What stands where in the sources: the words, the scan and its region, and who saw it.",
		Columns: withChecksum(columnsOf(placeFields, placeDerived)),
		Rows: rowsOf(shownPlaces(f.Ref), func(cells []string, p sourcePlace) []string {
			return rowOf(cells, f, placeFields, placeDerived, p)
		}),
	}
}

func shownPlaces(ref *schema.Reference) iter.Seq[sourcePlace] {
	return func(yield func(sourcePlace) bool) {
		for _, s := range ref.Sources.All() {
			if s.MayShow() == schema.ShowsNone {
				continue
			}
			for i, p := range s.Places {
				if !yield(sourcePlace{s, i, p}) {
					return
				}
			}
		}
	}
}

// places reads a table of places.
func (in *intake) places() {
	in.result.Table = "places"
	in.sheet.know(columnNames(placeFields, placeDerived), nil)
	known := map[string]sourcePlace{}
	for p := range shownPlaces(in.ref) {
		known[p.name()] = p
	}
	first := map[string]int{}
	for _, row := range in.sheet.rows {
		name, _ := in.sheet.cell(row, "place")
		if name != "" && first[name] > 0 {
			in.sheet.report(row.number, "place", fmt.Sprintf("the place %q is in row %d already", english.Clip(name, maxShown), first[name]), "Keep one of the two rows, or empty this cell for a new place.")
			continue
		}
		first[name] = row.number
		if p, ok := known[name]; ok {
			in.oldPlace(row, p)
		} else if name != "" {
			in.sheet.report(row.number, "place", fmt.Sprintf("there is no place %q", english.Clip(name, maxShown)), "Leave this cell empty for a new place; places that were taken out of the records need no row.")
		} else {
			in.newPlace(row)
		}
	}
}
