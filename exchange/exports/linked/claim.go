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
	g.next()
	g.begin(address, "prov:Entity", "crm:E73_Information_Object")
	g.put("schema:identifier", c.Key())
	g.state(c, page, anchor)
	g.put("prov:wasAttributedTo", editorID)
	g.written("dcterms:temporal", c.Span.Expr)
	g.derivation(c.Citations())
	g.sources("cito:isDisputedBy", c.Against, func(cited) bool { return true })
	g.put("skos:note", c.Note.Value)
	g.put("skos:editorialNote", settlement(c))
	g.close()
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

// derivation says what a statement was derived from, and where in it.
func (g *graph) derivation(cites []schema.Citation) {
	g.sources("prov:wasDerivedFrom", cites, func(cited) bool { return true })
	g.sources("prov:hadPrimarySource", cites, func(c cited) bool { return c.firstHand })
	g.places("prov:qualifiedPrimarySource", "prov:PrimarySource", cites, true)
	g.places("prov:qualifiedDerivation", "prov:Derivation", cites, false)
}

// places writes the places of those citations that are first-hand, or of the others.
func (g *graph) places(term, kind string, cites []schema.Citation, firstHand bool) {
	none := true
	for _, c := range cites {
		source := g.named(c.Source)
		if source.id == "" || c.Place == "" || source.firstHand != firstHand {
			continue
		}
		if none {
			g.openList(term)
			none = false
		}
		g.start()
		g.put("@type", kind)
		g.put("prov:entity", source.id)
		g.put("schema:pagination", c.Place)
		g.close()
	}
	if !none {
		g.closeList()
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
	r, known := g.ref.Cited(name)
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

// gather adds an address to those gathered, unless it is among them or empty.
func (g *graph) gather(id string) {
	if id != "" && !slices.Contains(g.ids, id) {
		g.ids = append(g.ids, id)
	}
}

// sources writes the addresses of what is cited and wanted, each once, in order.
func (g *graph) sources(term string, cites []schema.Citation, wanted func(cited) bool) {
	g.ids = g.ids[:0]
	for _, c := range cites {
		if source := g.named(c.Source); wanted(source) {
			g.gather(source.id)
		}
	}
	g.list(term, g.ids...)
}

// state writes what a claim is about: making, an era, a feature, trading …
func (g *graph) state(c *schema.Claim, page, anchor string) {
	g.open("crm:P129_is_about")
	g.put("@id", page+"#State-"+anchor)
	kind, term := "crm:E2_Temporal_Entity", "schema:about"
	switch c.About {
	case schema.AboutMade:
		kind, term = "crm:E12_Production", "crm:P186_produced_thing_of_product_type"
	case schema.AboutEra:
		kind = "crm:E4_Period"
	case schema.AboutTrading:
		kind, term = "crm:E7_Activity", "crm:P14_carried_out_by"
	}
	g.put("@type", kind)
	switch {
	case c.Model != nil:
		g.put(term, thing(c.Model))
	case c.FeatureID() != "":
		about := []string{thing(c.Maker)}
		for _, m := range g.ref.Models.All() {
			if c.HoldsFor(m) {
				about = append(about, thing(m))
			}
		}
		g.list(term, about...)
	default:
		g.put(term, thing(c.Maker))
	}
	switch c.About {
	case schema.AboutEra, schema.AboutOwner:
		g.put("schema:name", c.Name.Value)
	case schema.AboutFeature:
		g.value(c)
	case schema.AboutSpec:
		g.figure(c)
	}
	if g.timeline != nil {
		g.timeSpan(page+"#Years-"+anchor, g.timeline.Years(c), c)
	}
	g.close()
}

// grounds writes what a claim's years follow from where no record states them.
func (g *graph) grounds(c *schema.Claim) {
	g.ids = g.ids[:0]
	g.gather(c.Address()) // what the claim itself states
	for _, b := range g.timeline.Why(c) {
		for _, step := range b.Steps {
			if step.Claim != nil {
				g.gather(step.Claim.Address())
			}
			for _, cite := range step.Cites {
				g.gather(g.named(cite.Source).id)
			}
		}
	}
	g.list("prov:wasDerivedFrom", g.ids...)
}

// value writes the value of a feature: one declared, or words.
func (g *graph) value(c *schema.Claim) {
	f, ok := g.ref.Features.Get(c.Feature.Value)
	if !ok {
		g.put("schema:value", c.Value.Value)
		return
	}
	if id := valueID(f, c.Value.Value); id != "" {
		g.put("crm:P2_has_type", id)
		return
	}
	g.put("crm:P2_has_type", thing(f))
	g.put("schema:value", c.Value.Value)
}

// figure writes a published figure.
func (g *graph) figure(c *schema.Claim) {
	if f, ok := g.ref.Features.Get(c.Spec.Value); ok {
		g.put("crm:P2_has_type", thing(f))
	}
	if c.Range.IsZero() {
		return
	}
	g.open("schema:value")
	g.put("@type", "schema:QuantitativeValue")
	g.number("schema:minValue", c.Range.Low)
	g.number("schema:maxValue", c.Range.High)
	g.put("schema:unitText", string(c.Range.Unit))
	g.close()
}

// withdrawn writes a claim that was once published and has been taken back; key
// is how the keys of its record's claims begin.
func (g *graph) withdrawn(of schema.Record, key string, w *schema.Withdrawn) {
	g.next()
	g.begin(of.Address()+"#"+w.ID.Value, "prov:Entity", "crm:E73_Information_Object")
	g.put("schema:identifier", key+"/"+w.ID.Value)
	g.put("skos:editorialNote", "Withdrawn: "+w.Because.Value)
	if day, ok := w.On.Earliest(); ok {
		at := firstInstant(day)
		if text := w.On.String(); len(text) == len("2026-01-31") && strings.Count(text, "-") == 2 {
			at = text + "T00:00:00Z"
		}
		g.put("prov:invalidatedAtTime", at)
	}
	g.close()
}
