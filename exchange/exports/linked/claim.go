package linked

import (
	"slices"
	"strings"

	"yearmark/schema"
)

// claim writes a claim and the state of affairs that it is about.
func (g *graph) claim(c *schema.Claim) {
	address := c.Address()
	page, anchor, _ := strings.Cut(address, "#")
	n := node{
		ID: iri(address), Type: []string{"prov:Entity", "crm:E73_Information_Object"}, Identifier: c.Key(), About: g.state(c, page, anchor),
		AttributedTo: editorID, Temporal: written(c.Span.Expr), Note: c.Note.Value, Scope: schema.Sentence(strings.TrimSpace(g.Ref.Conditions(c.When))), Editorial: settlement(c),
	}
	g.derive(&n, c.Citations())
	for _, cite := range c.Against {
		n.DisputedBy = gather(n.DisputedBy, g.named(cite.Source).id)
	}
	g.add(n)
}

func settlement(c *schema.Claim) string {
	switch {
	case c.Settled != nil:
		words := "Settled"
		if on := c.Settled.On.String(); on != "" {
			words += " on " + on
		}
		if by := c.Settled.By.Value; by != "" {
			words += " by " + by
		}
		return words + ": " + c.Settled.Because.Value
	case c.Disputed.Value:
		return "Disputed: both sides are shown."
	}
	return ""
}

// derive says what a statement was derived and quoted from, and where in it.
func (g *graph) derive(n *node, cites []schema.Citation) {
	for _, c := range cites {
		source := g.named(c.Source)
		if source.id == "" {
			continue
		}
		n.DerivedFrom = gather(n.DerivedFrom, source.id)
		kind, list := "prov:Derivation", &n.Qualified
		if source.firstHand {
			n.PrimarySource = gather(n.PrimarySource, source.id)
			kind, list = "prov:PrimarySource", &n.QualifiedPrimary
		}
		if c.Place == "" {
			continue
		}
		*list = append(*list, qualified{Type: []string{kind}, Entity: source.id, Pagination: c.Place})
		for _, place := range g.Ref.Quoted(c) {
			n.QuotedFrom = gather(n.QuotedFrom, g.quotes[place])
		}
	}
}

// named finds what a citation names.
func (g *graph) named(name string) cited {
	c, known := g.cited[name]
	if !known {
		c = g.find(name)
		g.cited[name] = c
	}
	return c
}

// find finds a source or an example. First-hand is what is of its own time and
// took its facts from nowhere else. Letters and recollections look back.
func (g *graph) find(name string) cited {
	r, known := g.Ref.Cited(name)
	if !known {
		return cited{}
	}
	s, isSource := r.(*schema.Source)
	if !isSource {
		return cited{thing(r), true}
	}
	c := cited{id: thing(s)}
	switch schema.SourceKind(s.Kind.Value) {
	case schema.FactoryPaper, schema.Catalogue, schema.PriceList, schema.Patent, schema.Advertisement, schema.ExaminedExample:
		c.firstHand = len(s.ReliesOn) == 0
	}
	return c
}

// gather adds an address to a list, unless it is in it or empty.
func gather(list []iri, id iri) []iri {
	if id == "" || slices.Contains(list, id) {
		return list
	}
	return append(list, id)
}

// state is what a claim is about: making, an era, a feature, trading …
func (g *graph) state(c *schema.Claim, page, anchor string) *node {
	n := &node{ID: iri(page + "#State-" + anchor), Type: []string{"crm:E2_Temporal_Entity"}}
	var about []iri
	if c.Model != nil {
		about = []iri{thing(c.Model)}
	} else {
		about = []iri{thing(c.Maker)}
	}
	switch c.About {
	case schema.AboutMade:
		n.Type[0], n.Produced, about = "crm:E12_Production", about[0], nil
	case schema.AboutEra:
		n.Type[0], n.Name = "crm:E4_Period", c.Name.Value
	case schema.AboutTrading:
		n.Type[0], n.CarriedOut, about = "crm:E7_Activity", about[0], nil
	case schema.AboutOwner:
		n.Name = c.Name.Value
	case schema.AboutFeature:
		g.value(n, c)
	case schema.AboutSpec:
		g.figure(n, c)
	}
	if c.Maker != nil && c.FeatureID() != "" {
		for _, m := range g.Ref.Models.All() {
			if c.HoldsFor(m) {
				about = append(about, thing(m))
			}
		}
	}
	n.SubjectOf = about
	if g.Timeline != nil {
		n.TimeSpan = g.timeSpan(iri(page+"#Years-"+anchor), g.Timeline.Years(c), c)
	}
	return n
}

// grounds are what a claim's years follow from where no record states them: what
// the claim itself states, other claims, sources.
func (g *graph) grounds(c *schema.Claim) []iri {
	ids := []iri{iri(c.Address())}
	for _, b := range g.Timeline.Why(c) {
		for _, step := range b.Steps {
			if step.Claim != nil {
				ids = gather(ids, iri(step.Claim.Address()))
			}
			for _, cite := range step.Cites {
				ids = gather(ids, g.named(cite.Source).id)
			}
		}
	}
	return ids
}

// value puts down the value of a feature: one declared, or words.
func (g *graph) value(n *node, c *schema.Claim) {
	f, ok := g.Ref.Features.Get(c.Feature.Value)
	if ok {
		if n.HasType = valueID(f, c.Value.Value); n.HasType != "" {
			return
		}
		n.HasType = thing(f)
	}
	if words := c.Value.Value; words != "" {
		n.Value = words
	}
}

// figure puts down a published figure.
func (g *graph) figure(n *node, c *schema.Claim) {
	if f, ok := g.Ref.Features.Get(c.Spec.Value); ok {
		n.HasType = thing(f)
	}
	if !c.Range.IsZero() {
		n.Value = node{Type: []string{"schema:QuantitativeValue"}, Min: &c.Range.Low, Max: &c.Range.High, Unit: string(c.Range.Unit)}
	}
}

// withdrawn writes a claim that was once published and has been taken back; key
// is how the keys of its record's claims begin.
func (g *graph) withdrawn(of schema.Record, key string, w *schema.Withdrawn) {
	n := node{
		ID: iri(of.Address() + "#" + w.ID.Value), Type: []string{"prov:Entity", "crm:E73_Information_Object"},
		Identifier: key + "/" + w.ID.Value, Editorial: "Withdrawn: " + w.Because.Value,
	}
	if day, ok := w.On.Earliest(); ok {
		n.Invalidated = firstInstant(day)
		if text := w.On.String(); len(text) == len("2026-01-31") && strings.Count(text, "-") == 2 {
			n.Invalidated = instant(text + "T00:00:00Z")
		}
	}
	g.add(n)
}
