package linked

import (
	"bufio"
	"cmp"
	"encoding/json"
	"io"
	"regexp"

	"yearmark/chronology"
	"yearmark/exchange/exports/iiif"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// Facts is what the document is made from.
type Facts struct {
	Ref      *schema.Reference
	Timeline *chronology.Timeline
	Date     string // of the edition
	Hash     string
	// Published is what of sources can be seen and heard at the public address.
	Published iiif.Published
}

// siteID and editorID name the reference itself and whoever keeps it.
const (
	siteID   iri = "index.html"
	editorID iri = "index.html#Editor"
)

// graph writes things one by one: a reference has a hundred for every ten records.
type graph struct {
	Facts
	out    *bufio.Writer
	encode *json.Encoder
	some   bool
	cited  map[string]cited            // what citations name
	quotes map[*schema.SourcePlace]iri // the places of which something is shown
}

// cited is what a citation names: its address, empty where nothing is there,
// and whether it is first-hand and of its time.
type cited struct {
	id        iri
	firstHand bool
}

// Write writes the document, one thing of its graph a line. The same facts give
// the same bytes.
func Write(w io.Writer, f Facts) error {
	out := bufio.NewWriter(w)
	g := &graph{Facts: f, out: out, encode: json.NewEncoder(out), cited: map[string]cited{}}
	g.nameQuotes()
	_, _ = out.WriteString(`{"@context": `)
	_ = g.encode.Encode(context(f.Ref))
	_, _ = out.WriteString(`, "@graph": [` + "\n")
	g.site()
	for _, r := range g.Ref.Records() {
		g.record(r)
	}
	_, _ = out.WriteString("]}\n")
	return out.Flush() // which gives the first error
}

// add writes a thing. What can fail is the writing alone, which stays with the writer.
func (g *graph) add(n node) {
	if g.some {
		_ = g.out.WriteByte(',')
	}
	g.some = true
	_ = g.encode.Encode(&n)
}

// anchors name what a record is about on the record's page.
var anchors = map[schema.Kind]string{
	schema.KindMaker: "#Maker", schema.KindModel: "#Model", schema.KindFeature: "#Feature",
	schema.KindSource: "#Source", schema.KindExample: "#Example", schema.KindPage: "#Page",
}

// thing is the address of what a record is about, on the record's page.
func thing(r schema.Record) iri { return iri(r.Address() + anchors[r.Header().Kind]) }

// valueID is the address of a feature's declared value, or "".
func valueID(f *schema.Feature, id string) iri {
	if _, ok := f.Value(id); !ok {
		return ""
	}
	return iri(f.Address() + "#value-" + id)
}

func (g *graph) site() {
	s := g.Ref.Settings
	g.add(node{
		ID: siteID, Type: []string{"schema:WebSite", "prov:Entity"}, Name: s.Name.Value,
		Publisher:    &node{ID: editorID, Type: []string{"schema:Organization", "prov:Organization"}, Name: s.Editor.Value},
		AttributedTo: editorID, Language: s.Language.Value, Modified: g.Date, Version: g.Hash, Licence: licence(s.Licence.Value),
	})
}

// licence is a licence by its address, where it is known by its SPDX
// identifier, else by name; nil of none.
func licence(name string) any {
	switch url := schema.LicenceAddress(name); {
	case url != "":
		return node{ID: iri(url)}
	case name != "":
		return name
	}
	return nil
}

// record writes a record's page, what the record is about, and what it says.
func (g *graph) record(r schema.Record) {
	page := node{ID: iri(r.Address()), Type: []string{"schema:WebPage"}, Name: r.Title(), IsPartOf: siteID, Licence: licence(g.Ref.Settings.Licence.Value)}
	if _, text := r.(*schema.Page); !text {
		page.MainEntity = thing(r)
	}
	g.add(page)
	switch r := r.(type) {
	case *schema.Maker:
		g.add(node{ID: thing(r), Type: []string{"crm:E74_Group", "schema:Organization"}, Name: r.Title(), Location: r.Place.Value})
		g.claims(r, r.Claims(), "makers/"+r.ID, r.Withdrawn)
	case *schema.Model:
		g.model(r)
		g.claims(r, r.Claims(), r.ID, r.Withdrawn)
	case *schema.Feature:
		g.feature(r)
	case *schema.Source:
		g.source(r)
	case *schema.Example:
		g.example(r)
	}
}

// claims writes the claims of a record and those withdrawn; key is how the keys
// of its claims begin.
func (g *graph) claims(of schema.Record, list []*schema.Claim, key string, gone []*schema.Withdrawn) {
	for _, c := range list {
		g.claim(c)
	}
	for _, w := range gone {
		g.withdrawn(of, key, w)
	}
}

func (g *graph) model(m *schema.Model) {
	n := node{ID: thing(m), Type: []string{"crm:E99_Product_Type", "schema:ProductModel"}, Name: m.Title()}
	if maker, ok := g.Ref.Makers.Get(m.Maker.Value); ok {
		n.Manufacturer = thing(maker)
	}
	ties := map[string]*[]iri{"succeeded-by": &n.Predecessor, "successor-of": &n.Successor, "variant-of": &n.Variant} // schema.org's names for them
	for _, r := range m.Related {
		other, ok := g.Ref.Models.Get(r.Model.Value)
		if to := ties[r.How.Value]; ok && to != nil {
			*to = append(*to, thing(other))
		}
	}
	g.add(n)
}

func (g *graph) feature(f *schema.Feature) {
	n := node{ID: thing(f), Type: []string{"crm:E55_Type", "schema:DefinedTermSet"}, Name: f.Title(), Description: f.Look.Value}
	list := f.Values
	if schema.FeatureKind(f.Kind.Value) == schema.Presence {
		present, _ := f.Value(schema.Present)
		absent, _ := f.Value(schema.Absent)
		list = []*schema.FeatureValue{present, absent}
	}
	for _, v := range list {
		id := v.ID.Value
		n.Terms = append(n.Terms, node{ID: valueID(f, id), Type: []string{"crm:E55_Type", "schema:DefinedTerm"}, Name: f.ValueName(id), TermCode: id, Description: v.Tell.Value})
	}
	g.add(n)
}

// types are schema.org's names for kinds of source; the others are works without one.
var types = map[schema.SourceKind]string{
	schema.Article: "schema:Article", schema.Book: "schema:Book", schema.Web: "schema:WebPage", schema.Letter: "schema:Message",
}

func (g *graph) source(s *schema.Source) {
	n := node{
		ID: thing(s), Type: []string{"prov:Entity", "crm:E31_Document"}, Name: s.Title(), Genre: s.Kind.Value, Creator: s.By.Value, Issued: written(s.Issued.Expr),
		Published: plainDate(s.Issued.Expr), ItemLocation: s.Kept.Value, URL: iri(s.Link.Value),
	}
	if kind := schema.SourceKind(s.Kind.Value); kind == schema.ExaminedExample {
		n.Type[1] = "crm:E22_Human-Made_Object"
	} else {
		n.Type = append(n.Type, cmp.Or(types[kind], "schema:CreativeWork"))
	}
	for _, r := range s.ReliesOn {
		n.DerivedFrom = gather(n.DerivedFrom, g.named(r.Value).id)
	}
	if g.Ref.Settings.PublicURL.Value != "" && g.Published.Shows(s) {
		n.ReferencedBy = iri(iiif.ManifestPath(s))
	}
	g.add(n)
	for _, place := range s.Places {
		if id := g.quotes[place]; id != "" {
			g.quote(id, s, place)
		}
	}
}

var isoDate = regexp.MustCompile(`^[0-9]{4}(-(0[1-9]|1[0-2])(-[0-9]{2})?)?$`)

// plainDate gives a date that is one in ISO 8601-1 too, or "".
func plainDate(e edtf.Expr) string {
	if text := e.String(); isoDate.MatchString(text) {
		return text
	}
	return ""
}

// example writes a bow, and the claim that papers make of its year.
func (g *graph) example(e *schema.Example) {
	n := node{ID: thing(e), Type: []string{"prov:Entity", "crm:E22_Human-Made_Object", "schema:IndividualProduct"}, Name: e.Title(), Contributor: e.By.Value}
	if m, ok := g.Ref.Models.Get(e.Model.Value); ok {
		n.HasType = thing(m)
	}
	for _, o := range e.Observed {
		n.Properties = append(n.Properties, g.observed(o))
	}
	if e.Unreviewed() {
		n.Status = "unreviewed"
	}
	if e.Documented == nil {
		g.add(n)
		return
	}
	page := iri(e.Address())
	n.ProducedBy = page + "#State-documented"
	g.add(n)
	claim := node{
		ID: page + "#Claim-documented", Type: []string{"prov:Entity", "crm:E73_Information_Object"}, AttributedTo: editorID, Temporal: written(e.Documented.Span.Expr),
		About: &node{ID: page + "#State-documented", Type: []string{"crm:E12_Production"}, TimeSpan: g.timeSpan(page+"#Years-documented", g.Ref.Years(e.Documented.Span), nil)},
	}
	g.derive(&claim, e.Documented.Cites)
	g.add(claim)
}

func (g *graph) observed(o *schema.Observed) node {
	n := node{Type: []string{"schema:PropertyValue"}, Name: o.Feature.Value}
	f, known := g.Ref.Features.Get(o.Feature.Value)
	if known {
		n.Property, n.Name = thing(f), f.Title()
	}
	var values []any
	for _, v := range o.Value {
		if id := iri(""); known {
			if id = valueID(f, v.Value); id != "" {
				values = append(values, node{ID: id})
				continue
			}
		}
		values = append(values, v.Value)
	}
	if len(values) > 0 {
		n.Value = values
	}
	switch {
	case o.OwnersWork():
		n.Description = "an owner's work, no evidence of the year"
	case o.Sureness() != schema.Sure:
		n.Description = "the observer was " + string(o.Sureness())
	}
	return n
}
