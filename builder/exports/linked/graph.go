package linked

import (
	"bufio"
	"encoding/json"
	"io"
	"regexp"

	"yearmark/chronology"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// Facts is what the document is made from.
type Facts struct {
	Ref      *schema.Reference
	Timeline *chronology.Timeline
	Date     string // of the edition
	Hash     string
}

// siteID and editorID name the reference itself and whoever keeps it.
const (
	siteID   = "index.html"
	editorID = "index.html#Editor"
)

type graph struct {
	ref      *schema.Reference
	timeline *chronology.Timeline
	facts    Facts
}

// Write writes the document, one thing of its graph a line. The same facts give
// the same bytes.
func Write(w io.Writer, f Facts) error {
	g := &graph{ref: f.Ref, timeline: f.Timeline, facts: f}
	out := bufio.NewWriter(w)
	context, err := json.MarshalIndent(context(f.Ref), "", "  ")
	if err != nil {
		return err
	}
	_, _ = out.WriteString("{\"@context\": ")
	_, _ = out.Write(context)
	_, _ = out.WriteString(",\n\"@graph\": [")
	before := "\n"
	var line writer
	for n := range g.nodes {
		line.b = line.b[:0]
		if err := line.node(n); err != nil {
			return err
		}
		_, _ = out.WriteString(before)
		_, _ = out.Write(line.b)
		before = ",\n"
	}
	_, _ = out.WriteString("\n]}\n")
	return out.Flush()
}

// nodes yields everything: the site, then each record's page, the record and its claims.
func (g *graph) nodes(yield func(node) bool) {
	if !yield(g.site()) {
		return
	}
	for _, r := range g.ref.Records() {
		for _, n := range g.record(r) {
			if !yield(n) {
				return
			}
		}
	}
}

// anchors name what a record is about on the record's page.
var anchors = map[schema.Kind]string{
	schema.KindMaker: "#Maker", schema.KindModel: "#Model", schema.KindFeature: "#Feature",
	schema.KindSource: "#Source", schema.KindExample: "#Example", schema.KindPage: "#Page",
}

// thing is the address of what a record is about, on the record's page.
func thing(r schema.Record) string { return r.Address() + anchors[r.Header().Kind] }

// valueID is the address of a feature's declared value, or "".
func valueID(f *schema.Feature, id string) string {
	if _, ok := f.Value(id); !ok {
		return ""
	}
	return f.Address() + "#value-" + id
}

func (g *graph) site() node {
	s := g.ref.Settings
	n := node{"@id": siteID, "@type": []string{"schema:WebSite", "prov:Entity"}, "schema:name": s.Name.Value}
	editor := node{"@id": editorID, "@type": []string{"schema:Organization", "prov:Organization"}}
	editor.put("schema:name", s.Editor.Value)
	n["schema:publisher"], n["prov:wasAttributedTo"] = editor, editorID
	n.put("schema:inLanguage", s.Language.Value)
	n.put("schema:dateModified", g.facts.Date)
	n.put("schema:version", g.facts.Hash)
	n.put("schema:license", licence(s.Licence.Value))
	return n
}

// licences are the addresses of licences that people name by SPDX.
var licences = map[string]string{
	"CC0-1.0": "https://creativecommons.org/publicdomain/zero/1.0/", "CC-BY-4.0": "https://creativecommons.org/licenses/by/4.0/",
	"CC-BY-SA-4.0": "https://creativecommons.org/licenses/by-sa/4.0/", "CC-BY-NC-4.0": "https://creativecommons.org/licenses/by-nc/4.0/",
	"CC-BY-NC-SA-4.0": "https://creativecommons.org/licenses/by-nc-sa/4.0/", "CC-BY-ND-4.0": "https://creativecommons.org/licenses/by-nd/4.0/",
}

func licence(name string) any {
	if url, ok := licences[name]; ok {
		return node{"@id": url}
	}
	return name
}

// record gives a record's page, what the record is about, and what it says.
func (g *graph) record(r schema.Record) []node {
	page := node{
		"@id": r.Address(), "@type": "schema:WebPage", "schema:name": r.Title(), "schema:isPartOf": siteID,
		"schema:mainEntity": thing(r),
	}
	page.put("schema:license", licence(g.ref.Settings.Licence.Value))
	switch r := r.(type) {
	case *schema.Maker:
		all := append([]node{page, g.maker(r)}, g.claims(r.Claims())...)
		for _, w := range r.Withdrawn {
			all = append(all, withdrawn(r, "makers/"+r.ID, w))
		}
		return all
	case *schema.Model:
		all := append([]node{page, g.model(r)}, g.claims(r.Claims())...)
		for _, w := range r.Withdrawn {
			all = append(all, withdrawn(r, r.ID, w))
		}
		return all
	case *schema.Feature:
		return []node{page, g.feature(r)}
	case *schema.Source:
		return []node{page, g.source(r)}
	case *schema.Example:
		return append([]node{page}, g.example(r)...)
	}
	delete(page, "schema:mainEntity")
	return []node{page}
}

func (g *graph) claims(list []*schema.Claim) []node {
	all := make([]node, len(list))
	for i, c := range list {
		all[i] = g.claim(c)
	}
	return all
}

func (g *graph) maker(m *schema.Maker) node {
	n := node{"@id": thing(m), "@type": []string{"crm:E74_Group", "schema:Organization"}, "schema:name": m.Title()}
	n.put("schema:location", m.Place.Value)
	return n
}

// tieTerms are schema.org's names for how models are related.
var tieTerms = map[string]string{"succeeded-by": "schema:predecessorOf", "successor-of": "schema:successorOf", "variant-of": "schema:isVariantOf"}

func (g *graph) model(m *schema.Model) node {
	n := node{"@id": thing(m), "@type": []string{"crm:E99_Product_Type", "schema:ProductModel"}, "schema:name": m.Title()}
	if maker, ok := g.ref.Makers.Get(m.Maker.Value); ok {
		n["schema:manufacturer"] = thing(maker)
	}
	ties := map[string][]string{}
	for _, r := range m.Related {
		if other, ok := g.ref.Models.Get(r.Model.Value); ok {
			if term := tieTerms[r.How.Value]; term != "" {
				ties[term] = append(ties[term], thing(other))
			}
		}
	}
	for term, others := range ties {
		n.put(term, others)
	}
	return n
}

func (g *graph) feature(f *schema.Feature) node {
	n := node{"@id": thing(f), "@type": []string{"crm:E55_Type", "schema:DefinedTermSet"}, "schema:name": f.Title()}
	n.put("schema:description", f.Look.Value)
	var values []node
	list := f.Values
	if schema.FeatureKind(f.Kind.Value) == schema.Presence {
		present, _ := f.Value(schema.Present)
		absent, _ := f.Value(schema.Absent)
		list = []*schema.FeatureValue{present, absent}
	}
	for _, v := range list {
		value := node{"@id": valueID(f, v.ID.Value), "@type": []string{"crm:E55_Type", "schema:DefinedTerm"}, "schema:name": f.ValueName(v.ID.Value), "schema:termCode": v.ID.Value}
		value.put("schema:description", v.Tell.Value)
		values = append(values, value)
	}
	n.put("schema:hasDefinedTerm", values)
	return n
}

// types are schema.org's names for kinds of source; the others are works without one.
var types = map[schema.SourceKind]string{
	schema.Article: "schema:Article", schema.Book: "schema:Book", schema.Web: "schema:WebPage", schema.Letter: "schema:Message",
}

func (g *graph) source(s *schema.Source) node {
	kind := schema.SourceKind(s.Kind.Value)
	work := types[kind]
	if work == "" {
		work = "schema:CreativeWork"
	}
	n := node{"@id": thing(s), "@type": []string{"prov:Entity", "crm:E31_Document", work}, "schema:name": s.Title(), "schema:genre": s.Kind.Value}
	if kind == schema.ExaminedExample {
		n["@type"] = []string{"prov:Entity", "crm:E22_Human-Made_Object"}
	}
	n.put("dc:creator", s.By.Value)
	n.put("dcterms:issued", written(s.Issued.Expr))
	n.put("schema:datePublished", plainDate(s.Issued.Expr))
	n.put("schema:itemLocation", s.Kept.Value)
	n.put("schema:url", s.Link.Value)
	var from []schema.Citation
	for _, r := range s.ReliesOn {
		from = append(from, schema.Citation{Source: r.Value})
	}
	n.put("prov:wasDerivedFrom", g.sources(from))
	return n
}

var isoDate = regexp.MustCompile(`^[0-9]{4}(-(0[1-9]|1[0-2])(-[0-9]{2})?)?$`)

// plainDate gives a date that is one in ISO 8601-1 too, or "".
func plainDate(e edtf.Expr) string {
	if text := e.String(); isoDate.MatchString(text) {
		return text
	}
	return ""
}

// example gives a bow, and the claim that papers make of its year.
func (g *graph) example(e *schema.Example) []node {
	n := node{"@id": thing(e), "@type": []string{"prov:Entity", "crm:E22_Human-Made_Object", "schema:IndividualProduct"}, "schema:name": e.Title()}
	if m, ok := g.ref.Models.Get(e.Model.Value); ok {
		n["crm:P2_has_type"] = thing(m)
	}
	n.put("schema:additionalProperty", g.observed(e))
	n.put("dc:contributor", e.By.Value)
	if e.Unreviewed() {
		n["schema:creativeWorkStatus"] = "unreviewed"
	}
	if e.Documented == nil {
		return []node{n}
	}
	production := node{"@id": e.Address() + "#State-documented", "@type": "crm:E12_Production"}
	production.put("crm:P4_has_time-span", timeSpan(e.Address()+"#Years-documented", g.documented(e)))
	n["crm:P108i_was_produced_by"] = production["@id"]
	claim := node{
		"@id": e.Address() + "#Claim-documented", "@type": []string{"prov:Entity", "crm:E73_Information_Object"},
		"crm:P129_is_about": production, "prov:wasAttributedTo": editorID,
	}
	claim.put("dcterms:temporal", written(e.Documented.Span.Expr))
	g.derivation(claim, e.Documented.Cites)
	return []node{n, claim}
}

// documented gives the years of an example by its papers.
func (g *graph) documented(e *schema.Example) edtf.Years {
	return e.Documented.Span.Years(edtf.Frame{Horizon: g.ref.Horizon(), Circa: g.ref.Settings.Judgement.Circa.Value})
}

func (g *graph) observed(e *schema.Example) []node {
	var all []node
	for _, o := range e.Observed {
		n := node{"@type": "schema:PropertyValue", "schema:name": o.Feature.Value}
		f, known := g.ref.Features.Get(o.Feature.Value)
		if known {
			n["schema:propertyID"], n["schema:name"] = node{"@id": thing(f)}, f.Title()
		}
		var values []any
		for _, v := range o.Value {
			if known && valueID(f, v.Value) != "" {
				values = append(values, node{"@id": valueID(f, v.Value)})
				continue
			}
			values = append(values, v.Value)
		}
		n["schema:value"] = values
		if o.Sureness() != schema.Sure {
			n["schema:description"] = "the observer was " + string(o.Sureness())
		}
		all = append(all, n)
	}
	return all
}
