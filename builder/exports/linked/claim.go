package linked

import (
	"fmt"
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// claim gives a claim and the state of affairs that it is about.
func (g *graph) claim(c *schema.Claim) node {
	page, anchor, _ := strings.Cut(c.Address(), "#")
	n := node{
		"@id": c.Address(), "@type": []string{"prov:Entity", "crm:E73_Information_Object"},
		"schema:identifier": c.Key(), "crm:P129_is_about": g.state(c, page, anchor), "prov:wasAttributedTo": editorID,
	}
	n.put("dcterms:temporal", written(c.Span.Expr))
	g.derivation(n, c.Citations())
	n.put("cito:isDisputedBy", g.sources(c.Against))
	n.put("skos:note", c.Note.Value)
	n.put("skos:editorialNote", settlement(c))
	return n
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
func (g *graph) derivation(n node, cites []schema.Citation) {
	n.put("prov:wasDerivedFrom", g.sources(cites))
	n.put("prov:hadPrimarySource", g.sources(slices.DeleteFunc(slices.Clone(cites), func(c schema.Citation) bool { return !g.firstHand(c) })))
	var first, other []node
	for _, c := range cites {
		source := g.sourceID(c)
		if source == "" || c.Place == "" {
			continue
		}
		d := node{"prov:entity": source, "schema:pagination": c.Place}
		if g.firstHand(c) {
			d["@type"] = "prov:PrimarySource"
			first = append(first, d)
		} else {
			d["@type"] = "prov:Derivation"
			other = append(other, d)
		}
	}
	n.put("prov:qualifiedPrimarySource", first)
	n.put("prov:qualifiedDerivation", other)
}

// firstHand says that a citation is of something of its own time that took its
// facts from nowhere else. Letters and recollections look back.
func (g *graph) firstHand(c schema.Citation) bool {
	s, ok := g.ref.Sources.Get(c.Source)
	if !ok {
		_, ok := c.ExampleID()
		return ok && g.sourceID(c) != ""
	}
	switch schema.SourceKind(s.Kind.Value) {
	case schema.FactoryPaper, schema.Catalogue, schema.PriceList, schema.Patent, schema.Advertisement, schema.ExaminedExample:
		return len(s.ReliesOn) == 0
	}
	return false
}

// sources gives the addresses of what is cited, each once, in order.
func (g *graph) sources(cites []schema.Citation) []string {
	var all []string
	for _, c := range cites {
		if id := g.sourceID(c); id != "" && !slices.Contains(all, id) {
			all = append(all, id)
		}
	}
	return all
}

// sourceID is the address of what a citation names, or "" where nothing is there.
func (g *graph) sourceID(c schema.Citation) string {
	if s, ok := g.ref.Sources.Get(c.Source); ok {
		return thing(s)
	}
	if id, ok := c.ExampleID(); ok {
		if e, ok := g.ref.Examples.Get(id); ok {
			return thing(e)
		}
	}
	return ""
}

// state gives what a claim is about: making, an era, a feature, trading …
func (g *graph) state(c *schema.Claim, page, anchor string) node {
	n := node{"@id": page + "#State-" + anchor, "@type": "crm:E2_Temporal_Entity"}
	switch c.About {
	case schema.AboutMade:
		n["@type"], n["crm:P186_produced_thing_of_product_type"] = "crm:E12_Production", thing(c.Model)
	case schema.AboutEra:
		n["@type"], n["schema:about"] = "crm:E4_Period", thing(c.Model)
		n.put("schema:name", c.Name.Value)
	case schema.AboutFeature:
		n["schema:about"] = thing(c.Model)
		g.value(n, c)
	case schema.AboutSpec:
		n["schema:about"] = thing(c.Model)
		g.figure(n, c)
	case schema.AboutTrading:
		n["@type"], n["crm:P14_carried_out_by"] = "crm:E7_Activity", thing(c.Maker)
	case schema.AboutOwner:
		n["schema:about"] = thing(c.Maker)
		n.put("schema:name", c.Name.Value)
	}
	if g.timeline != nil {
		n.put("crm:P4_has_time-span", g.years(c, page+"#Years-"+anchor, g.timeline.Years(c)))
	}
	return n
}

// years gives a claim's time-span and, where no record states it, what it follows from.
func (g *graph) years(c *schema.Claim, id string, y edtf.Years) node {
	span := timeSpan(id, y)
	if span == nil || !g.timeline.Derived(c) {
		return span
	}
	var from []string
	add := func(id string) {
		if id != "" && !slices.Contains(from, id) {
			from = append(from, id)
		}
	}
	add(c.Address()) // what the claim itself states
	for _, b := range g.timeline.Why(c) {
		for _, step := range b.Steps {
			if step.Claim != nil {
				add(step.Claim.Address())
			}
			for _, cite := range step.Cites {
				add(g.sourceID(cite))
			}
		}
	}
	span["@type"] = []string{"crm:E52_Time-Span", "prov:Entity"}
	span.put("prov:wasDerivedFrom", from)
	return span
}

// value gives the value of a feature: one declared, or words.
func (g *graph) value(n node, c *schema.Claim) {
	f, ok := g.ref.Features.Get(c.Feature.Value)
	if !ok {
		n.put("schema:value", c.Value.Value)
		return
	}
	if id := valueID(f, c.Value.Value); id != "" {
		n["crm:P2_has_type"] = id
		return
	}
	n["crm:P2_has_type"] = thing(f)
	n.put("schema:value", c.Value.Value)
}

// figure gives a published figure.
func (g *graph) figure(n node, c *schema.Claim) {
	if f, ok := g.ref.Features.Get(c.Spec.Value); ok {
		n["crm:P2_has_type"] = thing(f)
	}
	if c.Range.IsZero() {
		return
	}
	q := node{"@type": "schema:QuantitativeValue", "schema:minValue": c.Range.Low, "schema:maxValue": c.Range.High}
	q.put("schema:unitText", string(c.Range.Unit))
	n["schema:value"] = q
}

// withdrawn gives a claim that was once published and has been taken back; key
// is how the keys of its record's claims begin.
func withdrawn(of schema.Record, key string, w *schema.Withdrawn) node {
	n := node{
		"@id": of.Address() + "#" + w.ID.Value, "@type": []string{"prov:Entity", "crm:E73_Information_Object"},
		"schema:identifier": key + "/" + w.ID.Value, "skos:editorialNote": fmt.Sprintf("Withdrawn: %s", w.Because.Value),
	}
	if day, ok := w.On.Earliest(); ok {
		n["prov:invalidatedAtTime"] = firstInstant(day)
		if text := w.On.String(); len(text) == len("2026-01-31") && strings.Count(text, "-") == 2 {
			n["prov:invalidatedAtTime"] = text + "T00:00:00Z"
		}
	}
	return n
}
