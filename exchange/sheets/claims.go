package sheets

import (
	"strconv"

	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// claimFields are the columns that a claim's record fills.
var claimFields = []field[*schema.Claim]{
	{column: "claim", about: "The claim's permanent name: model/claim, or makers/maker/claim. For a new claim, a name of that form, or nothing.", get: (*schema.Claim).Key},
	{column: "model", about: "The model that it is about: the name of its record.", get: modelOf},
	{column: "maker", about: "The maker that it is about, or that made the model.", get: makerOf},
	{column: "about", about: "What kind of statement it is: made, era, feature, spec, trading or owner.", get: func(c *schema.Claim) string { return string(c.About) }},
	{column: "name", about: "The name of an era or an owner.", way: []string{"name"}, get: func(c *schema.Claim) string { return c.Name.Value }},
	{column: "feature", about: "The feature that it is about; of a spec, the figure.", way: []string{"feature"}, get: (*schema.Claim).FeatureID},
	{column: "value", about: "The value claimed.", way: []string{"value"}, get: func(c *schema.Claim) string { return c.Value.Value }},
	{column: "range", about: "The figures of a spec, with their unit.", form: figures, way: []string{"range"}, get: func(c *schema.Claim) string { return c.Range.Written }},
	{column: "span", about: "The years as written, in EDTF (ISO 8601-2).", form: years, way: []string{"span"}, get: func(c *schema.Claim) string { return c.Span.String() }},
	{column: "era", about: "The era whose years it shares.", way: []string{"era"}, get: func(c *schema.Claim) string { return c.Era.Value }},
	{column: "attested", about: "Dated sightings: year, colon, citation.", form: sightings, way: []string{"attested"}, get: attestedCell},
	{column: "only", about: "yes if the value is claimed to be found in no other year.", form: yesOrNo, way: []string{"only"}, get: func(c *schema.Claim) string { return flagCell(c.Only) }},
	{column: "held", about: "How strictly the maker kept to it: firm, usual or loose.", way: []string{"held"}, get: func(c *schema.Claim) string { return c.Held.Value }},
	{column: "when", about: "What other features must be for it to hold: feature, colon, values with commas between; a bar between features.", form: premises, way: []string{"when"}, get: func(c *schema.Claim) string { return premiseCells(c.When) }},
	{column: "except", about: "Of a maker's claim: the models for which it does not hold.", form: parts, way: []string{"except"}, get: func(c *schema.Claim) string { return textCells(c.Except) }},
	{column: "cites", about: "Who says so: a source and a place in it.", form: citations, way: []string{"cites"}, get: func(c *schema.Claim) string { return citeCells(c.Cites) }},
	{column: "against", about: "Who says otherwise.", form: citations, way: []string{"against"}, get: func(c *schema.Claim) string { return citeCells(c.Against) }},
	{column: "settled", about: "How a dispute was decided: the reason.", way: []string{"settled", "because"}, get: ofSettled(func(s *schema.Settlement) string { return s.Because.Value })},
	{column: "settled-by", about: "Who decided.", way: []string{"settled", "by"}, get: ofSettled(func(s *schema.Settlement) string { return s.By.Value })},
	{column: "settled-on", about: "The day of the decision.", form: years, way: []string{"settled", "on"}, get: ofSettled(func(s *schema.Settlement) string { return s.On.String() })},
	{column: "settled-over", about: "The claims that are not followed, by their names.", form: parts, way: []string{"settled", "over"}, get: ofSettled(func(s *schema.Settlement) string { return textCells(s.Over) })},
	{column: "disputed", about: "yes if the dispute is open.", form: yesOrNo, way: []string{"disputed"}, get: func(c *schema.Claim) string {
		return flagCell(schema.Flag{Value: c.Disputed.Value, Pos: c.Disputed.Pos})
	}},
	{column: "note", about: "A remark shown with the claim.", way: []string{"note"}, get: func(c *schema.Claim) string { return c.Note.Value }},
}

// claimDerived are the columns that follow from all the records.
var claimDerived = []derived[*schema.Claim]{
	{"possible-from", "The first possible year, after all that is known.", yearCell(func(y edtf.Years) int { return y.A })},
	{"certain-from", "The first certain year; empty where no year is certain.", certainCell(func(r edtf.Range) int { return r.First })},
	{"certain-to", "The last certain year.", certainCell(func(r edtf.Range) int { return r.Last })},
	{"possible-to", "The last possible year.", yearCell(func(y edtf.Years) int { return y.D })},
	{"years", "The same in words.", func(f Facts, c *schema.Claim) string {
		if f.Timeline == nil {
			return ""
		}
		return f.Timeline.Years(c).String()
	}},
	{"derived", "yes if the years are tighter than the record states.", func(f Facts, c *schema.Claim) string {
		if f.Timeline != nil && f.Timeline.Derived(c) {
			return "yes"
		}
		return ""
	}},
	{"disputed-with", "The claims that it is disputed with, by their names.", func(_ Facts, c *schema.Claim) string { return textCells(c.Disputed.With) }},
	{"witnesses", "Independent witnesses for it.", assessmentCell(func(a provenance.Assessment) string { return strconv.Itoa(a.For.Witnesses) })},
	{"witnesses-against", "Independent witnesses against it.", assessmentCell(func(a provenance.Assessment) string { return strconv.Itoa(a.Against.Witnesses) })},
	{"credence", "How far it is believed, from 0 to 1: the editor's judgement in figures.", assessmentCell(func(a provenance.Assessment) string { return share(a.Credence) })},
	{"address", "Its permanent address on the site.", func(f Facts, c *schema.Claim) string { return address(f, c.Address()) }},
}

// Claims is the table of claims: those of the models by identifier, then those of the makers.
func Claims(f Facts) Table {
	return Table{
		Name: "claims", About: "Every dated statement, with its citations, its years and how far it is believed.",
		Columns: withChecksum(columnsOf(claimFields, claimDerived)),
		Rows:    rowsOf(f.Ref.Claims(), func(cells []string, c *schema.Claim) []string { return rowOf(cells, f, claimFields, claimDerived, c) }),
	}
}

func withChecksum(columns []Column) []Column {
	return append(columns, Column{Name: checksumColumn, About: checksumAbout, Derived: true})
}

func modelOf(c *schema.Claim) string {
	if c.Model == nil {
		return ""
	}
	return c.Model.ID
}

func makerOf(c *schema.Claim) string {
	if c.Maker != nil {
		return c.Maker.ID
	}
	return c.Model.Maker.Value
}

func ofSettled(get func(*schema.Settlement) string) func(*schema.Claim) string {
	return func(c *schema.Claim) string {
		if c.Settled == nil {
			return ""
		}
		return get(c.Settled)
	}
}

// attestedCell writes sightings, one citation a part.
func attestedCell(c *schema.Claim) string {
	var all []string
	for _, a := range c.Attested {
		year := strconv.Itoa(a.Year.Value)
		switch {
		case a.Bare:
			all = append(all, year)
		case len(a.Cites) == 0:
			all = append(all, year+":")
		default:
			for _, cite := range a.Cites {
				all = append(all, year+": "+cite.String())
			}
		}
	}
	return joinParts(all)
}

func yearCell(pick func(edtf.Years) int) func(Facts, *schema.Claim) string {
	return func(f Facts, c *schema.Claim) string {
		if f.Timeline == nil {
			return ""
		}
		y := f.Timeline.Years(c)
		if y.Empty() {
			return ""
		}
		return strconv.Itoa(pick(y))
	}
}

func certainCell(pick func(edtf.Range) int) func(Facts, *schema.Claim) string {
	return func(f Facts, c *schema.Claim) string {
		if f.Timeline == nil {
			return ""
		}
		certain, ok := f.Timeline.Years(c).Certain()
		if !ok {
			return ""
		}
		return strconv.Itoa(pick(certain))
	}
}

func assessmentCell(pick func(provenance.Assessment) string) func(Facts, *schema.Claim) string {
	return func(f Facts, c *schema.Claim) string {
		if f.Weighing == nil {
			return ""
		}
		return pick(f.Weighing.Of(c))
	}
}

// share writes a credence with four figures after the point at most.
func share(x float64) string {
	return strconv.FormatFloat(float64(int64(float64(x*1e4)+0.5))/1e4, 'f', -1, 64)
}
