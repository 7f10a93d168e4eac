package sheets

import (
	"yearmark/schema"
)

var models = recordTable[*schema.Model]{
	schema.KindModel, "Every model, who made it and when.",
	[]field[*schema.Model]{
		{column: "model", about: "The name of the model's record. For a new model, a name of small letters, digits and hyphens.", get: func(m *schema.Model) string { return m.ID }},
		{column: "name", about: "The model's name.", way: []string{"name"}, needed: true, get: func(m *schema.Model) string { return m.Name.Value }},
		{column: "also", about: "Other names that people know it by, with a bar between; in brackets after one its years and who says so: The Robin [1961/1963; dockets, p. 2].", form: called, way: []string{"also"}, get: func(m *schema.Model) string { return calledCells(m.Also) }},
		{column: "maker", about: "Who made it: the name of the maker's record.", way: []string{"maker"}, needed: true, get: func(m *schema.Model) string { return m.Maker.Value }},
		{column: "use", about: "What it was sold for, as in target, field, hunting.", form: parts, way: []string{"use"}, get: func(m *schema.Model) string { return textCells(m.Use) }},
		{column: "picture", about: "A drawing or photograph below the folder pictures.", way: []string{"picture"}, get: func(m *schema.Model) string { return m.Picture.Value }},
		{column: "made", about: "The years in which it was made, in EDTF (ISO 8601-2).", form: years, way: []string{"made", "span"}, needed: true, get: func(m *schema.Model) string { return spanCell(m.Made) }},
		{column: "made-cites", about: "Who says so: a source and a place in it.", form: citations, way: []string{"made", "cites"}, get: func(m *schema.Model) string { return citesCell(m.Made) }},
	},
	[]derived[*schema.Model]{{"address", "Its page on the site.", func(f Facts, m *schema.Model) string { return address(f, m.Address()) }}},
	func(ref *schema.Reference) *schema.Collection[*schema.Model] { return &ref.Models },
}

var makers = recordTable[*schema.Maker]{
	schema.KindMaker, "Every maker, where it worked and when it traded.",
	[]field[*schema.Maker]{
		{column: "maker", about: "The name of the maker's record. For a new maker, a name of small letters, digits and hyphens.", get: func(m *schema.Maker) string { return m.ID }},
		{column: "name", about: "The firm's name.", way: []string{"name"}, needed: true, get: func(m *schema.Maker) string { return m.Name.Value }},
		{column: "also", about: "Other names that people know it by, with a bar between; in brackets after one its years and who says so: The Robin [1961/1963; dockets, p. 2].", form: called, way: []string{"also"}, get: func(m *schema.Maker) string { return calledCells(m.Also) }},
		{column: "place", about: "Where it worked.", way: []string{"place"}, get: func(m *schema.Maker) string { return m.Place.Value }},
		{column: "trading", about: "The years in which it traded, in EDTF (ISO 8601-2).", form: years, way: []string{"trading", "span"}, get: func(m *schema.Maker) string { return spanCell(m.Trading) }},
		{column: "trading-cites", about: "Who says so: a source and a place in it.", form: citations, way: []string{"trading", "cites"}, get: func(m *schema.Maker) string { return citesCell(m.Trading) }},
	},
	[]derived[*schema.Maker]{{"address", "Its page on the site.", func(f Facts, m *schema.Maker) string { return address(f, m.Address()) }}},
	func(ref *schema.Reference) *schema.Collection[*schema.Maker] { return &ref.Makers },
}

func spanCell(c *schema.Claim) string {
	if c == nil {
		return ""
	}
	return c.Span.String()
}

func citesCell(c *schema.Claim) string {
	if c == nil {
		return ""
	}
	return citeCells(c.Cites)
}
