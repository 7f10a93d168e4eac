package sheets

import (
	"fmt"
	"maps"
	"slices"

	"yearmark/exchange/editing"
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
		return []claimList{
			{"trading", schema.AboutTrading, true, []*schema.Claim{r.Trading}}, {"owners", schema.AboutOwner, false, r.Owners},
			{"features", schema.AboutFeature, false, r.Features}, {"specs", schema.AboutSpec, false, r.Specs},
		}
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
	in.know(columnNames(claimFields, claimDerived), nil)
	index := map[string]*schema.Claim{}
	for c := range in.ref.Claims() {
		index[c.Key()] = c
	}
	at := map[*schema.Claim]claimPlace{}
	for _, r := range in.ref.Records() {
		for place, c := range claimsOf(r) {
			at[c] = place
		}
	}
	for _, row := range in.sheet.rows {
		key, _ := in.sheet.cell(row, "claim")
		if !in.once(row, "claim", key, noName) {
			continue
		}
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

func (in *intake) oldClaim(row sheetRow, c *schema.Claim, at claimPlace) {
	edits := differ(in, row, claimFields, c)
	if len(edits) == 0 {
		in.result.Same++
		return
	}
	sum := sumOf(claimFields, cellsOf(nil, claimFields, c))
	if !in.fresh(row, sum, func() string { return rowSum(in, row, claimFields) }, fmt.Sprintf("the claim %q", c.Key())) {
		return
	}
	d := in.draft(c.Record(), row.number, "claim")
	if d == nil {
		return
	}
	node := d.edit.Node(pathTo(at.key, at.index)...)
	if node == nil || node.Kind != schema.LocatedKeys {
		in.sheet.report(row.number, "claim", fmt.Sprintf("the claim is not to be found in %s", d.file), "Make this change in the record itself.")
		return
	}
	in.result.Edited++
	in.change(d, pathTo(at.key, at.index), editing.KeyOrder(c), asWritten(pinned(edits, c), c.About), in.claimRow(row, c.About, at))
}

// pinned writes down the identifier of a claim that has none of its own where
// the identifier made up for it would change, since it is permanent.
func pinned(edits []editing.Edit, c *schema.Claim) []editing.Edit {
	renames := slices.ContainsFunc(edits, func(e editing.Edit) bool { return slices.Contains([]string{"name", "feature", "value"}, e.Keys[0]) })
	if renames && c.ID.Pos.IsZero() && c.About != schema.AboutMade && c.About != schema.AboutTrading {
		edits = append([]editing.Edit{{Keys: []string{"id"}, New: editing.Word(c.ID.Value)}}, edits...)
	}
	return edits
}

// asWritten names the key of a spec's feature as records do.
func asWritten(edits []editing.Edit, about schema.About) []editing.Edit {
	for i := range edits {
		if about == schema.AboutSpec && edits[i].Keys[0] == "feature" {
			edits[i].Keys = []string{"spec"}
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
