package sheets

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"yearmark/schema"
)

// claimPlace is where a claim stands in its record.
type claimPlace struct {
	key   string
	index int // -1 for a key that holds one claim
}

// claimsOf yields the claims of a model or maker with their places.
func claimsOf(r schema.Record) func(func(claimPlace, *schema.Claim) bool) {
	return func(yield func(claimPlace, *schema.Claim) bool) {
		for _, l := range claimLists(r) {
			for i, c := range l.claims {
				place := claimPlace{l.key, i}
				if l.single {
					place.index = -1
				}
				if c != nil && !yield(place, c) {
					return
				}
			}
		}
	}
}

type claimList struct {
	key    string
	about  schema.About
	single bool
	claims []*schema.Claim
}

func claimLists(r schema.Record) []claimList {
	switch r := r.(type) {
	case *schema.Model:
		return []claimList{
			{"made", schema.AboutMade, true, []*schema.Claim{r.Made}}, {"eras", schema.AboutEra, false, r.Eras},
			{"features", schema.AboutFeature, false, r.Features}, {"specs", schema.AboutSpec, false, r.Specs},
		}
	case *schema.Maker:
		return []claimList{{"trading", schema.AboutTrading, true, []*schema.Claim{r.Trading}}, {"owners", schema.AboutOwner, false, r.Owners}}
	}
	return nil
}

func claimAt(r schema.Record, key string, index int) *schema.Claim {
	for place, c := range claimsOf(r) {
		if place.key == key && place.index == index {
			return c
		}
	}
	return nil
}

// claims reads a table of claims.
func (in *intake) claims() {
	in.result.Table = "claims"
	in.sheet.know(columnNames(claimFields, claimDerived), nil)
	index := map[string]*schema.Claim{}
	for c := range everyClaim(in.ref) {
		index[c.Key()] = c
	}
	at := map[*schema.Claim]claimPlace{}
	for _, r := range in.ref.Records() {
		for place, c := range claimsOf(r) {
			at[c] = place
		}
	}
	first := map[string]int{}
	for _, row := range in.sheet.rows {
		key, _ := in.sheet.cell(row, "claim")
		if key != "" && first[key] > 0 {
			in.sheet.report(row.number, "claim", fmt.Sprintf("the claim %q is in row %d already", clip(key), first[key]), "Keep one of the two rows.")
			continue
		}
		first[key] = row.number
		if c, ok := index[key]; ok {
			in.oldClaim(row, c, at[c])
			continue
		}
		if in.gone(row, "claim", key, func() []string { return slices.Sorted(maps.Keys(index)) }) {
			continue
		}
		in.newClaim(row, key)
	}
}

// gone says that a row was written for something that is no longer there.
func (in *intake) gone(row sheetRow, column, key string, known func() []string) bool {
	sum, _ := in.sheet.cell(row, checksumColumn)
	if key == "" || sum == "" {
		return false
	}
	help := "If it is new, empty the cell below “checksum”; if it was taken out of the records, delete the row."
	if near, ok := schema.Nearest(key, known()); ok {
		help = fmt.Sprintf("Did you mean %q? ", near) + help
	}
	in.sheet.report(row.number, column, fmt.Sprintf("there is no %s %q", column, clip(key)), help)
	return true
}

func columnNames[T any](fields []field[T], more []derived[T]) []string {
	names := []string{checksumColumn}
	for _, f := range fields {
		names = append(names, f.column)
	}
	for _, d := range more {
		names = append(names, d.column)
	}
	return names
}

// differ compares a row with what a record says and gives the edits that make
// the record say what the row says.
func differ[T any](in *intake, row sheetRow, fields []field[T], of T) []edit {
	var edits []edit
	for _, f := range fields {
		cell, there := in.sheet.cell(row, f.column)
		now := f.get(of)
		switch {
		case !there || f.form.same(now, cell) || f.way == nil && cell == "":
		case f.way == nil:
			in.sheet.report(row.number, f.column, fmt.Sprintf("the cell says %q, the record %q", clip(cell), clip(now)), "This cannot be changed in a table. Write it as it was, or make a new row for something new.")
		default:
			value, wrong := f.form.read(cell)
			if wrong != nil {
				in.sheet.report(row.number, f.column, wrong.message, wrong.help)
				continue
			}
			old, _ := f.form.read(now)
			edits = append(edits, edit{f.way, old, value})
		}
	}
	return edits
}

// fresh says whether a changed row may be taken over: the record must not
// have been changed since the table was written. A row that nobody changed
// since then is left, with a note.
func (in *intake) fresh(row sheetRow, sum string, rowSum func() string, what string) bool {
	written, _ := in.sheet.cell(row, checksumColumn)
	switch {
	case written == "" || written == sum:
		return true
	case written == rowSum():
		in.result.Same++
		in.note("row %d is left: %s was changed in the records after the table was written", row.number, what)
		return false
	}
	in.sheet.report(row.number, checksumColumn, fmt.Sprintf("%s was changed in the records after the table was written, and the row says something else again", what), "Write the table anew with \"yearmark tables\" and repeat the change; or empty this cell, and the row counts.")
	return false
}

func (in *intake) note(format string, args ...any) {
	in.result.Notes = append(in.result.Notes, fmt.Sprintf(format, args...))
}

// rowSum is the checksum of a row's own cells.
func rowSum[T any](in *intake, row sheetRow, fields []field[T]) string {
	cells := make([]string, len(fields))
	for i, f := range fields {
		cells[i], _ = in.sheet.cell(row, f.column)
	}
	return sumOf(fields, cells)
}

func (in *intake) oldClaim(row sheetRow, c *schema.Claim, at claimPlace) {
	edits := differ(in, row, claimFields, c)
	if len(edits) == 0 {
		in.result.Same++
		return
	}
	sum := sumOf(claimFields, cellsOf(claimFields, c))
	if !in.fresh(row, sum, func() string { return rowSum(in, row, claimFields) }, fmt.Sprintf("the claim %q", c.Key())) {
		return
	}
	d := in.draft(recordOf(c), row.number, "claim")
	if d == nil {
		return
	}
	node := d.node(at.key, at.index)
	if node == nil || node.Kind != schema.LocatedKeys {
		in.sheet.report(row.number, "claim", fmt.Sprintf("the claim is not to be found in %s", d.file), "Make this change in the record itself.")
		return
	}
	in.result.Edited++
	if err := d.edit.mapping(node, keyOrder(c), 1, asWritten(pinned(edits, c), c.About)); err != nil {
		in.sheet.report(row.number, "", err.Error(), "Make this change in the record itself.")
		return
	}
	d.rows = append(d.rows, in.claimRow(row, c.About, at))
}

func recordOf(c *schema.Claim) schema.Record {
	if c.Maker != nil {
		return c.Maker
	}
	return c.Model
}

// pinned writes down the identifier of a claim that has none of its own where
// the identifier made up for it would change, since it is permanent.
func pinned(edits []edit, c *schema.Claim) []edit {
	renames := slices.ContainsFunc(edits, func(e edit) bool { return slices.Contains([]string{"name", "feature", "value"}, e.way[0]) })
	if renames && c.ID.Pos.IsZero() && c.About != schema.AboutMade && c.About != schema.AboutTrading {
		edits = append([]edit{{way: []string{"id"}, new: wordOf(c.ID.Value)}}, edits...)
	}
	return edits
}

// asWritten names the key of a spec's feature as records do.
func asWritten(edits []edit, about schema.About) []edit {
	for i := range edits {
		if about == schema.AboutSpec && edits[i].way[0] == "feature" {
			edits[i].way = []string{"spec"}
		}
	}
	return edits
}

// claimRow ties a row to its claim in the draft.
func (in *intake) claimRow(row sheetRow, about schema.About, at claimPlace) draftRow {
	return draftRow{
		row: row.number, key: at.key, index: at.index,
		column: func(_ *schema.Located, way []string) string { return claimColumn(way, about) },
		check: func(now schema.Record) string {
			c := claimAt(now, at.key, at.index)
			if c == nil {
				return "claim"
			}
			return mismatch(in, row, claimFields, c)
		},
	}
}

// claimColumn names the column that fills a key.
func claimColumn(way []string, about schema.About) string {
	if len(way) == 0 {
		return ""
	}
	if about == schema.AboutSpec && way[0] == "spec" {
		return "feature"
	}
	if way[0] == "id" {
		return "claim"
	}
	return fieldColumn(way, claimFields)
}

// fieldColumn names the column whose way is the longest beginning of a way.
func fieldColumn[T any](way []string, fields []field[T]) string {
	best, length := "", 0
	for _, f := range fields {
		if n := len(f.way); n > length && n <= len(way) && slices.Equal(f.way, way[:n]) {
			best, length = f.column, n
		}
	}
	return best
}

// mismatch names the first column in which a record says something else than a row.
func mismatch[T any](in *intake, row sheetRow, fields []field[T], of T) string {
	for _, f := range fields {
		cell, there := in.sheet.cell(row, f.column)
		empty := cell == "" && f.way == nil // a name that was left to be made up
		if there && !empty && !f.form.same(f.get(of), cell) {
			return f.column
		}
	}
	return ""
}

// newClaim adds a claim to its model's or maker's record.
func (in *intake) newClaim(row sheetRow, key string) {
	r, id, ok := in.home(row, key)
	if !ok {
		return
	}
	edits := read(in, row, claimFields)
	about := in.aboutOf(row, r)
	if about == "" {
		return
	}
	if about == schema.AboutEra && id != "" {
		name, begins := strings.CutPrefix(id, "era-")
		if !begins {
			in.sheet.report(row.number, "claim", fmt.Sprintf("the claim %q is an era", clip(key)), fmt.Sprintf("The names of eras begin with era-: write %s/era-%s.", r.Header().ID, clip(id)))
			return
		}
		id = name
	}
	list, ok := listFor(r, about)
	if !ok {
		in.sheet.report(row.number, "about", fmt.Sprintf("a claim about %q does not belong to a %s", about, r.Header().Kind), "Write the model, or the maker alone, that it belongs to.")
		return
	}
	if twin := in.twin(row, list); key == "" && twin != nil {
		in.result.Same++
		in.note("row %d is left: the claim %q says the same", row.number, twin.Key())
		return
	}
	d := in.draft(r, row.number, "claim")
	if d == nil {
		return
	}
	claim := mappingOf()
	if id != "" && !list.single {
		claim.with("id", wordOf(id))
	}
	claim.keys = append(claim.keys, keysFrom(asWritten(edits, about), keyOrder(schema.Claim{})).keys...)
	at := claimPlace{list.key, -1}
	switch {
	case !list.single:
		at.index = d.add(list.key, claim)
	case list.claims[0] != nil:
		in.sheet.report(row.number, "about", fmt.Sprintf("%s says already when it was %s", d.file, list.key), fmt.Sprintf("Change the row of the claim %q instead.", list.claims[0].Key()))
		return
	default:
		if err := d.edit.mapping(d.top, keyOrder(r), 0, []edit{{way: []string{list.key}, new: claim}}); err != nil {
			in.sheet.report(row.number, "", err.Error(), "Make this change in the record itself.")
			return
		}
	}
	in.result.Added++
	d.rows = append(d.rows, in.claimRow(row, about, at))
}

// twin finds a claim that says what a nameless row says, so that a table taken
// in twice changes nothing the second time.
func (in *intake) twin(row sheetRow, list claimList) *schema.Claim {
	for _, c := range list.claims {
		if c != nil && mismatch(in, row, claimFields, c) == "" && !saysMore(in, claimFields, c) {
			return c
		}
	}
	return nil
}

// saysMore says that a record has something for which the table has no column.
func saysMore[T any](in *intake, fields []field[T], of T) bool {
	return slices.ContainsFunc(fields, func(f field[T]) bool {
		return f.way != nil && !in.has(f.column) && f.get(of) != ""
	})
}

// home finds the record that a new claim belongs to, by its name or by the
// columns model and maker, and the identifier that it is given.
func (in *intake) home(row sheetRow, key string) (r schema.Record, id string, ok bool) {
	model, _ := in.sheet.cell(row, "model")
	maker, _ := in.sheet.cell(row, "maker")
	column := "model"
	if rest, ofMaker := strings.CutPrefix(key, "makers/"); ofMaker {
		maker, id, _ = strings.Cut(rest, "/")
		model, column = "", "claim"
	} else if name, rest, two := strings.Cut(key, "/"); two {
		if model != "" && model != name {
			in.sheet.report(row.number, "model", fmt.Sprintf("the model is %q here and %q in the claim's name", clip(model), clip(name)), "Write the same model in both, or leave the claim's name empty.")
			return nil, "", false
		}
		model, id, column = name, rest, "claim"
	} else if key != "" {
		in.sheet.report(row.number, "claim", fmt.Sprintf("%q is no claim's name", clip(key)), "Write model/claim or makers/maker/claim, in small letters, digits and hyphens; or leave the cell empty for a new claim, and a name is made for it.")
		return nil, "", false
	}
	switch {
	case model != "":
		if m, found := in.ref.Models.Get(model); found {
			return m, id, true
		}
		in.sheet.report(row.number, column, fmt.Sprintf("there is no model %q", clip(model)), nearestRecord(model, idsOf(&in.ref.Models), "models"))
	case maker != "":
		if m, found := in.ref.Makers.Get(maker); found {
			return m, id, true
		}
		in.sheet.report(row.number, "maker", fmt.Sprintf("there is no maker %q", clip(maker)), nearestRecord(maker, idsOf(&in.ref.Makers), "makers"))
	default:
		in.sheet.report(row.number, "", "the row names neither a claim that is there nor the model of a new one", "Write the claim's name as it was, or for a new claim the model it belongs to.")
	}
	return nil, "", false
}

func idsOf[R schema.Record](shelf *schema.Shelf[R]) []string {
	var all []string
	for _, r := range shelf.All() {
		all = append(all, r.Header().ID)
	}
	return all
}

func nearestRecord(name string, known []string, folder string) string {
	if near, ok := schema.Nearest(name, known); ok {
		return fmt.Sprintf("Did you mean %q?", near)
	}
	return fmt.Sprintf("Write the file name of a record in the folder %s, without its ending; a new record begins in that folder.", folder)
}

var abouts = []string{"made", "era", "feature", "spec", "trading", "owner"}

// aboutOf says what a new claim is about: its cell, or else what the filled
// cells tell.
func (in *intake) aboutOf(row sheetRow, r schema.Record) schema.About {
	cell := func(column string) string { c, _ := in.sheet.cell(row, column); return c }
	switch said := cell("about"); {
	case slices.Contains(abouts, said):
		return schema.About(said)
	case said != "":
		help := "Write made, era, feature, spec, trading or owner."
		if near, ok := schema.Nearest(said, abouts); ok {
			help = fmt.Sprintf("Did you mean %q?", near)
		}
		in.sheet.report(row.number, "about", fmt.Sprintf("there is no claim about %q", clip(said)), help)
		return ""
	case cell("range") != "":
		return schema.AboutSpec
	case cell("feature") != "":
		return schema.AboutFeature
	case cell("name") != "" && r.Header().Kind == schema.KindMaker:
		return schema.AboutOwner
	case cell("name") != "":
		return schema.AboutEra
	}
	in.sheet.report(row.number, "about", "the row does not say what the new claim is about", "Write made, era, feature, spec, trading or owner.")
	return ""
}

func listFor(r schema.Record, about schema.About) (claimList, bool) {
	for _, l := range claimLists(r) {
		if l.about == about {
			return l, true
		}
	}
	return claimList{}, false
}
