package sheets

import (
	"strconv"

	"yearmark/schema"
)

// sourceFields are the columns that a source's record fills.
var sourceFields = []field[*schema.Source]{
	{column: "source", about: "The name of the source's record, by which it is cited. For a new source, a name of small letters, digits and hyphens.", get: func(s *schema.Source) string { return s.ID }},
	{column: "name", about: "Its title or description.", way: []string{"name"}, needed: true, get: func(s *schema.Source) string { return s.Name.Value }},
	{column: "kind", about: "What it is: catalogue, price-list, advertisement, factory-paper, patent, article, book, web, letter, recollection, examined-example, recording, photograph or sale-listing.", way: []string{"kind"}, needed: true, get: func(s *schema.Source) string { return s.Kind.Value }},
	{column: "credence", about: "How far it is believed, from 0 to 1, in place of what holds for its kind; no source by itself gives more than .999.", form: figures, way: []string{"credence"}, get: ownCredence},
	{column: "by", about: "Who wrote or issued it.", way: []string{"by"}, get: func(s *schema.Source) string { return s.By.Value }},
	{column: "issued", about: "When it was issued or written down, in EDTF (ISO 8601-2).", form: years, way: []string{"issued"}, get: func(s *schema.Source) string { return s.Issued.String() }},
	{column: "relies-on", about: "The sources that it took its facts from.", form: parts, way: []string{"relies-on"}, get: func(s *schema.Source) string { return textCells(s.ReliesOn) }},
	{column: "kept", about: "Where it can be consulted.", way: []string{"kept"}, get: func(s *schema.Source) string { return s.Kept.Value }},
	{column: "link", about: "Its address on the web.", way: []string{"link"}, get: func(s *schema.Source) string { return s.Link.Value }},
	{column: "copied-on", about: "The day on which a copy of the linked page was kept.", form: years, way: []string{"copied", "on"}, get: ofCopied(func(c *schema.Copied) string { return c.On.String() })},
	{column: "copied-sha256", about: "The SHA-256 checksum of the copy.", way: []string{"copied", "sha256"}, get: ofCopied(func(c *schema.Copied) string { return c.SHA256.Value })},
	{column: "consulted", about: "no if nobody of the register has seen it.", form: yesOrNo, way: []string{"consulted"}, get: func(s *schema.Source) string { return flagCell(s.Consulted) }},
}

// sourceDerived are the columns that follow from all the records.
var sourceDerived = []derived[*schema.Source]{
	{"origins", "The sources that its facts come from in the end; itself if it relies on none.", func(f Facts, s *schema.Source) string {
		if f.Weighing == nil {
			return ""
		}
		return joinParts(f.Weighing.Origins(s.ID))
	}},
	{"claims-for", "Claims that cite it for themselves.", func(f Facts, s *schema.Source) string {
		if f.Weighing == nil {
			return ""
		}
		return strconv.Itoa(len(f.Weighing.DependsOn(s.ID)))
	}},
	{"claims-against", "Claims that it is cited against.", func(f Facts, s *schema.Source) string {
		if f.Weighing == nil {
			return ""
		}
		return strconv.Itoa(len(f.Weighing.SpeaksAgainst(s.ID)))
	}},
	{"address", "Its page on the site.", func(f Facts, s *schema.Source) string { return address(f, s.Address()) }},
}

var sources = recordTable[*schema.Source]{
	schema.KindSource, "Every source, what it is, where it is kept and what rests on it.", sourceFields, sourceDerived,
	func(ref *schema.Reference) *schema.Collection[*schema.Source] { return &ref.Sources },
}

// Sources is the table of sources, by identifier.
func Sources(f Facts) Table { return sources.write(f) }

func ofCopied(get func(*schema.Copied) string) func(*schema.Source) string {
	return func(s *schema.Source) string {
		if s.Copied == nil {
			return ""
		}
		return get(s.Copied)
	}
}

// ownCredence is a source's own credence as its record has it, or nothing.
func ownCredence(s *schema.Source) string {
	if s.Credence.Pos.IsZero() {
		return ""
	}
	return strconv.FormatFloat(s.Credence.Value, 'f', -1, 64)
}
