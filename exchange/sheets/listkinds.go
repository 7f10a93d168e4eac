package sheets

import "yearmark/schema"

var places = &list[*schema.SourcePlace]{
	name: "places", about: "What stands where in the sources: the words, the scan and its region, and who saw it.",
	item: "place", kind: schema.KindSource, key: "places",
	items: func(r schema.Record) []*schema.SourcePlace {
		if s := r.(*schema.Source); s.MayShow() != schema.ShowsNone {
			return s.Places
		}
		return nil
	},
	own: []field[listed[*schema.SourcePlace]]{
		{column: "at", about: "The place as citations name it: p. 2, sheet 9, cover; of a recording the time, as in 12:34.", way: []string{"at"}, get: of(func(p *schema.SourcePlace) string { return p.At.Value })},
		{column: "says", about: "The words that stand there, to the letter.", way: []string{"says"}, get: of(func(p *schema.SourcePlace) string { return p.Says.Value })},
		{column: "by", about: "Who says so, where several speak or write.", way: []string{"by"}, get: of(func(p *schema.SourcePlace) string { return p.By.Value })},
		{column: "scan", about: "A picture of the page, below the folder pictures.", way: []string{"scan"}, get: of(func(p *schema.SourcePlace) string { return p.Scan.Value })},
		{column: "region", about: "The part of the scan that holds the words: xywh=percent: or xywh=pixel: and left, top, width, height.", way: []string{"region"}, get: of(func(p *schema.SourcePlace) string { return p.Region.Written() })},
		{column: "own", about: "yes if the writer saw it.", form: yesOrNo, way: []string{"own"}, get: of(func(p *schema.SourcePlace) string { return flagCell(p.Own) })},
		{column: "relies-on", about: "The sources that this place took its facts from.", form: parts, way: []string{"relies-on"}, get: of(func(p *schema.SourcePlace) string { return textCells(p.ReliesOn) })},
		{column: "kind", about: "What it is, where that is another kind than the source's.", way: []string{"kind"}, get: of(func(p *schema.SourcePlace) string { return p.Kind.Value })},
		{column: "hedge", about: "fairly or unsure, where the speaker or writer said so.", way: []string{"hedge"}, get: of(func(p *schema.SourcePlace) string { return p.Hedge.Value })},
		{column: "corrected-at", about: "The place at which the speaker or writer mended this slip.", way: []string{"corrected-at"}, get: of(func(p *schema.SourcePlace) string { return p.CorrectedAt.Value })},
	},
	more: []derived[listed[*schema.SourcePlace]]{
		{"address", "Its place on the site.", func(f Facts, p listed[*schema.SourcePlace]) string {
			return address(f, p.home.Address()+"#"+schema.Citation{Place: p.it.At.Value}.Anchor())
		}},
	},
}

var attributions = &list[*schema.Attribution]{
	name: "attributed", about: "What others hold the years of bows to be: opinions, never evidence.",
	item: "attribution", kind: schema.KindExample, key: "attributed",
	items: func(r schema.Record) []*schema.Attribution { return r.(*schema.Example).Attributed },
	own: []field[listed[*schema.Attribution]]{
		{column: "span", about: "The years that they hold it to be of, in EDTF (ISO 8601-2).", form: years, way: []string{"span"}, get: of(func(a *schema.Attribution) string { return a.Span.String() })},
		{column: "by", about: "Whose opinion it is.", way: []string{"by"}, get: of(func(a *schema.Attribution) string { return a.By.Value })},
		{column: "from", about: "The features that they go by.", form: parts, way: []string{"from"}, get: of(func(a *schema.Attribution) string { return textCells(a.From) })},
		{column: "cites", about: "Where they say so.", form: citations, way: []string{"cites"}, get: of(func(a *schema.Attribution) string { return citeCells(a.Cites) })},
	},
}

var events = &list[*schema.Event]{
	name: "history", about: "What is known to have been done to bows, or to have happened to them.",
	item: "event", kind: schema.KindExample, key: "history",
	items: func(r schema.Record) []*schema.Event { return r.(*schema.Example).History },
	own: []field[listed[*schema.Event]]{
		{column: "on", about: "When, in EDTF (ISO 8601-2), as in 2019-05.", form: years, way: []string{"on"}, get: of(func(e *schema.Event) string { return e.On.String() })},
		{column: "what", about: "What was done.", way: []string{"what"}, get: of(func(e *schema.Event) string { return e.What.Value })},
		{column: "cites", about: "Who says so.", form: citations, way: []string{"cites"}, get: of(func(e *schema.Event) string { return citeCells(e.Cites) })},
	},
}

var sales = &list[*schema.Sale]{
	name: "sales", about: "Sales of bows that were public; no valuations.",
	item: "sale", kind: schema.KindExample, key: "sales",
	items: func(r schema.Record) []*schema.Sale { return r.(*schema.Example).Sales },
	own: []field[listed[*schema.Sale]]{
		{column: "on", about: "When it was sold, in EDTF (ISO 8601-2).", form: years, way: []string{"on"}, get: of(func(s *schema.Sale) string { return s.On.String() })},
		{column: "price", about: "What it fetched, with the currency: USD 240, £14 10s 6d.", way: []string{"price"}, get: of(func(s *schema.Sale) string { return s.Price.Written })},
		{column: "cites", about: "Where that stood.", form: citations, way: []string{"cites"}, get: of(func(s *schema.Sale) string { return citeCells(s.Cites) })},
	},
}

var people = &list[*schema.Person]{
	name: "people", about: "Who designed, made or owned at a maker, and when.",
	item: "person", kind: schema.KindMaker, key: "people",
	items: func(r schema.Record) []*schema.Person { return r.(*schema.Maker).People },
	own: []field[listed[*schema.Person]]{
		{column: "name", about: "The person's name.", way: []string{"name"}, get: of(func(p *schema.Person) string { return p.Name.Value })},
		{column: "role", about: "What they were: designer, bowyer or owner.", way: []string{"role"}, get: of(func(p *schema.Person) string { return p.Role.Value })},
		{column: "span", about: "In which years, in EDTF (ISO 8601-2).", form: years, way: []string{"span"}, get: of(func(p *schema.Person) string { return p.Span.String() })},
		{column: "note", about: "A remark.", way: []string{"note"}, get: of(func(p *schema.Person) string { return p.Note.Value })},
		{column: "cites", about: "Who says so.", form: citations, way: []string{"cites"}, get: of(func(p *schema.Person) string { return citeCells(p.Cites) })},
	},
}

var specialOrders = &list[*schema.SpecialOrders]{
	name: "special-orders", about: "Of which features makers took a customer's wish, and when.",
	item: "special-orders", kind: schema.KindMaker, key: "special-orders", single: true,
	items: func(r schema.Record) []*schema.SpecialOrders {
		if s := r.(*schema.Maker).SpecialOrders; s != nil {
			return []*schema.SpecialOrders{s}
		}
		return nil
	},
	own: []field[listed[*schema.SpecialOrders]]{
		{column: "features", about: "The features that customers could choose.", form: parts, way: []string{"features"}, get: of(func(s *schema.SpecialOrders) string { return textCells(s.Features) })},
		{column: "span", about: "The years, in EDTF (ISO 8601-2); all of its trading where none are given.", form: years, way: []string{"span"}, get: of(func(s *schema.SpecialOrders) string { return s.Span.String() })},
		{column: "cites", about: "Who says so.", form: citations, way: []string{"cites"}, get: of(func(s *schema.SpecialOrders) string { return citeCells(s.Cites) })},
	},
}

var mutes = &list[*schema.SaysNothing]{
	name: "says-nothing", about: "Features that date none of a maker's bows, and why.",
	item: "says-nothing", kind: schema.KindMaker, key: "says-nothing",
	items: func(r schema.Record) []*schema.SaysNothing { return r.(*schema.Maker).SaysNothing },
	own: []field[listed[*schema.SaysNothing]]{
		{column: "feature", about: "The feature that says nothing.", way: []string{"feature"}, get: of(func(s *schema.SaysNothing) string { return s.Feature.Value })},
		{column: "because", about: "Why, in a sentence.", way: []string{"because"}, get: of(func(s *schema.SaysNothing) string { return s.Because.Value })},
		{column: "cites", about: "Who says so.", form: citations, way: []string{"cites"}, get: of(func(s *schema.SaysNothing) string { return citeCells(s.Cites) })},
	},
}

var (
	neverSeenOnModels = neverSeen(schema.KindModel, "a model", func(r schema.Record) []*schema.NeverSeen { return r.(*schema.Model).NeverSeen })
	neverSeenOfMakers = neverSeen(schema.KindMaker, "any bow of a maker", func(r schema.Record) []*schema.NeverSeen { return r.(*schema.Maker).NeverSeen })
)

func neverSeen(kind schema.Kind, on string, items func(schema.Record) []*schema.NeverSeen) *list[*schema.NeverSeen] {
	return &list[*schema.NeverSeen]{
		name: "never-seen-" + kind.Folder(), about: "What people who looked never saw on " + on + "; no evidence of a year.",
		item: "never-seen", kind: kind, key: "never-seen", items: items,
		own: []field[listed[*schema.NeverSeen]]{
			{column: "feature", about: "The feature that was looked at.", way: []string{"feature"}, get: of(func(n *schema.NeverSeen) string { return n.Feature.Value })},
			{column: "value", about: "The value that was never seen.", way: []string{"value"}, get: of(func(n *schema.NeverSeen) string { return n.Value.Value })},
			{column: "when", about: "What other features are on the bows meant: feature, colon, values with commas between; a bar between features.", form: premises, way: []string{"when"}, get: of(func(n *schema.NeverSeen) string { return premiseCells(n.When) })},
			{column: "span", about: "Of bows of which years, in EDTF (ISO 8601-2); of all where none are given.", form: years, way: []string{"span"}, get: of(func(n *schema.NeverSeen) string { return n.Span.String() })},
			{column: "except", about: "In a maker's record: models of which it is not said.", form: parts, way: []string{"except"}, get: of(func(n *schema.NeverSeen) string { return textCells(n.Except) })},
			{column: "of", about: "How many were looked at, where that is said.", way: []string{"of"}, get: of(func(n *schema.NeverSeen) string { return wholeCell(n.Of) })},
			{column: "note", about: "A remark.", way: []string{"note"}, get: of(func(n *schema.NeverSeen) string { return n.Note.Value })},
			{column: "cites", about: "Who never saw one.", form: citations, way: []string{"cites"}, get: of(func(n *schema.NeverSeen) string { return citeCells(n.Cites) })},
			{column: "against", about: "Who has seen one, or says that there was one.", form: citations, way: []string{"against"}, get: of(func(n *schema.NeverSeen) string { return citeCells(n.Against) })},
		},
	}
}

var (
	countedOnModels = counted(schema.KindModel, "a model", func(r schema.Record) []*schema.Rate { return r.(*schema.Model).Counted })
	countedOfMakers = counted(schema.KindMaker, "bows of a maker", func(r schema.Record) []*schema.Rate { return r.(*schema.Maker).Counted })
)

func counted(kind schema.Kind, on string, items func(schema.Record) []*schema.Rate) *list[*schema.Rate] {
	return &list[*schema.Rate]{
		name: "counted-" + kind.Folder(), about: "On how many bows a value of " + on + " was found, where the years are not said; no evidence of a year.",
		item: "counted", kind: kind, key: "counted", items: items,
		own: []field[listed[*schema.Rate]]{
			{column: "feature", about: "The feature that was looked at.", way: []string{"feature"}, get: of(func(r *schema.Rate) string { return r.Feature.Value })},
			{column: "value", about: "The value that was found.", way: []string{"value"}, get: of(func(r *schema.Rate) string { return r.Value.Value })},
			{column: "with", about: "How many had it.", way: []string{"with"}, get: of(func(r *schema.Rate) string { return wholeCell(&r.With) })},
			{column: "of", about: "How many were looked at.", way: []string{"of"}, get: of(func(r *schema.Rate) string { return wholeCell(&r.Of) })},
			{column: "note", about: "A remark.", way: []string{"note"}, get: of(func(r *schema.Rate) string { return r.Note.Value })},
			{column: "cites", about: "Who counted.", form: citations, way: []string{"cites"}, get: of(func(r *schema.Rate) string { return citeCells(r.Cites) })},
		},
	}
}
