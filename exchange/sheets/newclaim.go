package sheets

import (
	"fmt"
	"slices"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
)

// addition is a claim that a row adds, and where it goes.
type addition struct {
	row    sheetRow
	key    string // as the row names it; may be empty
	id     string // as the record is to name it; may be empty
	about  schema.About
	record schema.Record
	list   claimList
}

// newClaim adds a claim to its model's or maker's record.
func (in *intake) newClaim(row sheetRow, key string) {
	a, ok := in.addition(row, key)
	if !ok {
		return
	}
	if twin := in.twin(row, a.list); key == "" && twin != nil {
		in.result.Same++
		in.note("row %d is left: the claim %q says the same", row.number, twin.Key())
		return
	}
	var edits []editing.Edit
	if a.id != "" && !a.list.single {
		edits = append(edits, editing.Edit{Keys: []string{"id"}, New: editing.Word(a.id)})
	}
	in.put(a, editing.MappingOf(append(edits, asWritten(read(in, row, claimFields), a.about)...), editing.KeyOrder(schema.Claim{})))
}

// addition finds where a new claim goes and what it is called there.
func (in *intake) addition(row sheetRow, key string) (addition, bool) {
	a := addition{row: row, key: key}
	var ok bool
	if a.record, a.id, ok = in.home(row, key); !ok {
		return a, false
	}
	if a.about = in.aboutOf(row, a.record); a.about == "" {
		return a, false
	}
	if a.about == schema.AboutEra && a.id != "" {
		name, begins := strings.CutPrefix(a.id, "era-")
		if !begins {
			in.sheet.report(row.number, "claim", fmt.Sprintf("the claim %q is an era", english.Clip(key, maxShown)), fmt.Sprintf("The names of eras begin with era-: write %s/era-%s.", a.record.Header().ID, english.Clip(a.id, maxShown)))
			return a, false
		}
		a.id = name
	}
	if a.list, ok = listFor(a.record, a.about); !ok {
		in.sheet.report(row.number, "about", fmt.Sprintf("a claim about %q does not belong to a %s", a.about, a.record.Header().Kind), "Write the model, or the maker alone, that it belongs to.")
	}
	return a, ok
}

// put writes a new claim into the draft of its record.
func (in *intake) put(a addition, claim *editing.Value) {
	d := in.draft(a.record, a.row.number, "claim")
	if d == nil {
		return
	}
	at := claimPlace{a.list.key, -1}
	switch {
	case !a.list.single:
		at.index = d.edit.Add([]string{a.list.key}, claim)
	case a.list.claims[0] != nil:
		in.sheet.report(a.row.number, "about", fmt.Sprintf("%s has a claim of this kind already", d.file), fmt.Sprintf("Change the row of the claim %q instead.", a.list.claims[0].Key()))
		return
	default:
		in.result.Added++
		in.change(d, nil, nil, []editing.Edit{{Keys: []string{a.list.key}, New: claim}}, in.claimRow(a.row, a.about, at))
		return
	}
	in.result.Added++
	d.rows = append(d.rows, in.claimRow(a.row, a.about, at))
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
			in.sheet.report(row.number, "model", fmt.Sprintf("the model is %q here and %q in the claim's name", english.Clip(model, maxShown), english.Clip(name, maxShown)), "Write the same model in both, or leave the claim's name empty.")
			return nil, "", false
		}
		model, id, column = name, rest, "claim"
	} else if key != "" {
		in.sheet.report(row.number, "claim", fmt.Sprintf("%q is no claim's name", english.Clip(key, maxShown)), "Write model/claim or makers/maker/claim, in small letters, digits and hyphens; or leave the cell empty for a new claim, and a name is made for it.")
		return nil, "", false
	}
	switch {
	case model != "":
		if m, found := in.ref.Models.Get(model); found {
			return m, id, true
		}
		in.sheet.report(row.number, column, fmt.Sprintf("there is no model %q", english.Clip(model, maxShown)), nearestRecord(model, idsOf(&in.ref.Models), "models"))
	case maker != "":
		if m, found := in.ref.Makers.Get(maker); found {
			return m, id, true
		}
		in.sheet.report(row.number, "maker", fmt.Sprintf("there is no maker %q", english.Clip(maker, maxShown)), nearestRecord(maker, idsOf(&in.ref.Makers), "makers"))
	default:
		in.sheet.report(row.number, "", "the row names neither a claim that is there nor the model of a new one", "Write the claim's name as it was, or for a new claim the model it belongs to.")
	}
	return nil, "", false
}

func idsOf[R schema.Record](folder *schema.Collection[R]) []string {
	var all []string
	for _, r := range folder.All() {
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
		in.sheet.report(row.number, "about", fmt.Sprintf("there is no claim about %q", english.Clip(said, maxShown)), help)
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
