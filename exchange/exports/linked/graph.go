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
	siteID   = "index.html"
	editorID = "index.html#Editor"
)

type graph struct {
	ref      *schema.Reference
	timeline *chronology.Timeline
	facts    Facts
	writer
	cited map[string]cited // what citations name
	ids   []string         // addresses being gathered
}

// cited is what a citation names: its address, empty where nothing is there,
// and whether it is first-hand and of its time.
type cited struct {
	id        string
	firstHand bool
}

// Write writes the document, one thing of its graph a line. The same facts give
// the same bytes.
func Write(w io.Writer, f Facts) error {
	g := &graph{ref: f.Ref, timeline: f.Timeline, facts: f, cited: map[string]cited{}}
	out := bufio.NewWriter(w)
	context, err := json.MarshalIndent(context(f.Ref), "", "  ")
	if err != nil {
		return err
	}
	g.b = append(append(append(g.b, `{"@context": `...), context...), ",\n\"@graph\": [\n"...)
	g.site()
	for _, r := range g.ref.Records() {
		g.record(r)
		if _, err := out.Write(g.b); err != nil {
			return err
		}
		g.b = g.b[:0]
	}
	_, _ = out.Write(append(g.b, "\n]}\n"...))
	return out.Flush()
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

func (g *graph) site() {
	s := g.ref.Settings
	g.begin(siteID, "schema:WebSite", "prov:Entity")
	g.put("schema:name", s.Name.Value)
	g.open("schema:publisher")
	g.put("@id", editorID)
	g.list("@type", "schema:Organization", "prov:Organization")
	g.put("schema:name", s.Editor.Value)
	g.close()
	g.put("prov:wasAttributedTo", editorID)
	g.put("schema:inLanguage", s.Language.Value)
	g.put("schema:dateModified", g.facts.Date)
	g.put("schema:version", g.facts.Hash)
	g.licence(s.Licence.Value)
	g.close()
}

func (g *graph) licence(name string) {
	if url := schema.LicenceAddress(name); url != "" {
		g.reference("schema:license", url)
		return
	}
	g.put("schema:license", name)
}

// record writes a record's page, what the record is about, and what it says.
func (g *graph) record(r schema.Record) {
	g.next()
	g.begin(r.Address(), "schema:WebPage")
	g.put("schema:name", r.Title())
	g.put("schema:isPartOf", siteID)
	g.licence(g.ref.Settings.Licence.Value)
	if _, text := r.(*schema.Page); !text {
		g.put("schema:mainEntity", thing(r))
	}
	g.close()
	switch r := r.(type) {
	case *schema.Maker:
		g.maker(r)
		g.claims(r.Claims())
		for _, w := range r.Withdrawn {
			g.withdrawn(r, "makers/"+r.ID, w)
		}
	case *schema.Model:
		g.model(r)
		g.claims(r.Claims())
		for _, w := range r.Withdrawn {
			g.withdrawn(r, r.ID, w)
		}
	case *schema.Feature:
		g.feature(r)
	case *schema.Source:
		g.source(r)
	case *schema.Example:
		g.example(r)
	}
}

func (g *graph) claims(list []*schema.Claim) {
	for _, c := range list {
		g.claim(c)
	}
}

func (g *graph) maker(m *schema.Maker) {
	g.next()
	g.begin(thing(m), "crm:E74_Group", "schema:Organization")
	g.put("schema:name", m.Title())
	g.put("schema:location", m.Place.Value)
	g.close()
}

// ties are how models are related, and schema.org's names for it.
var ties = []struct{ how, term string }{
	{"succeeded-by", "schema:predecessorOf"}, {"successor-of", "schema:successorOf"}, {"variant-of", "schema:isVariantOf"},
}

func (g *graph) model(m *schema.Model) {
	g.next()
	g.begin(thing(m), "crm:E99_Product_Type", "schema:ProductModel")
	g.put("schema:name", m.Title())
	if maker, ok := g.ref.Makers.Get(m.Maker.Value); ok {
		g.put("schema:manufacturer", thing(maker))
	}
	for _, tie := range ties {
		var others []string
		for _, r := range m.Related {
			if other, ok := g.ref.Models.Get(r.Model.Value); ok && r.How.Value == tie.how {
				others = append(others, thing(other))
			}
		}
		g.list(tie.term, others...)
	}
	g.close()
}

func (g *graph) feature(f *schema.Feature) {
	g.next()
	g.begin(thing(f), "crm:E55_Type", "schema:DefinedTermSet")
	g.put("schema:name", f.Title())
	g.put("schema:description", f.Look.Value)
	list := f.Values
	if schema.FeatureKind(f.Kind.Value) == schema.Presence {
		present, _ := f.Value(schema.Present)
		absent, _ := f.Value(schema.Absent)
		list = []*schema.FeatureValue{present, absent}
	}
	each(&g.writer, "schema:hasDefinedTerm", list, func(v *schema.FeatureValue) {
		g.begin(valueID(f, v.ID.Value), "crm:E55_Type", "schema:DefinedTerm")
		g.put("schema:name", f.ValueName(v.ID.Value))
		g.put("schema:termCode", v.ID.Value)
		g.put("schema:description", v.Tell.Value)
		g.close()
	})
	g.close()
}

// types are schema.org's names for kinds of source; the others are works without one.
var types = map[schema.SourceKind]string{
	schema.Article: "schema:Article", schema.Book: "schema:Book", schema.Web: "schema:WebPage", schema.Letter: "schema:Message",
}

func (g *graph) source(s *schema.Source) {
	g.next()
	if kind := schema.SourceKind(s.Kind.Value); kind == schema.ExaminedExample {
		g.begin(thing(s), "prov:Entity", "crm:E22_Human-Made_Object")
	} else {
		g.begin(thing(s), "prov:Entity", "crm:E31_Document", cmp.Or(types[kind], "schema:CreativeWork"))
	}
	g.put("schema:name", s.Title())
	g.put("schema:genre", s.Kind.Value)
	g.put("dc:creator", s.By.Value)
	g.written("dcterms:issued", s.Issued.Expr)
	g.put("schema:datePublished", plainDate(s.Issued.Expr))
	g.put("schema:itemLocation", s.Kept.Value)
	g.put("schema:url", s.Link.Value)
	g.ids = g.ids[:0]
	for _, r := range s.ReliesOn {
		g.gather(g.named(r.Value).id)
	}
	g.list("prov:wasDerivedFrom", g.ids...)
	g.close()
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
	g.next()
	g.begin(thing(e), "prov:Entity", "crm:E22_Human-Made_Object", "schema:IndividualProduct")
	g.put("schema:name", e.Title())
	if m, ok := g.ref.Models.Get(e.Model.Value); ok {
		g.put("crm:P2_has_type", thing(m))
	}
	each(&g.writer, "schema:additionalProperty", e.Observed, g.observed)
	g.put("dc:contributor", e.By.Value)
	if e.Unreviewed() {
		g.put("schema:creativeWorkStatus", "unreviewed")
	}
	page := e.Address()
	if e.Documented != nil {
		g.put("crm:P108i_was_produced_by", page+"#State-documented")
	}
	g.close()
	if e.Documented == nil {
		return
	}
	g.next()
	g.begin(page+"#Claim-documented", "prov:Entity", "crm:E73_Information_Object")
	g.open("crm:P129_is_about")
	g.put("@id", page+"#State-documented")
	g.put("@type", "crm:E12_Production")
	g.timeSpan(page+"#Years-documented", g.documented(e), nil)
	g.close()
	g.put("prov:wasAttributedTo", editorID)
	g.written("dcterms:temporal", e.Documented.Span.Expr)
	g.derivation(e.Documented.Cites)
	g.close()
}

// documented gives the years of an example by its papers.
func (g *graph) documented(e *schema.Example) edtf.Years {
	return e.Documented.Span.Years(edtf.Frame{Horizon: g.ref.Horizon(), Circa: g.ref.Settings.Judgement.Circa.Value})
}

func (g *graph) observed(o *schema.Observed) {
	g.start()
	g.put("@type", "schema:PropertyValue")
	f, known := g.ref.Features.Get(o.Feature.Value)
	if known {
		g.reference("schema:propertyID", thing(f))
		g.put("schema:name", f.Title())
	} else {
		g.put("schema:name", o.Feature.Value)
	}
	each(&g.writer, "schema:value", o.Value, func(v schema.Text) {
		if known && valueID(f, v.Value) != "" {
			g.start()
			g.put("@id", valueID(f, v.Value))
			g.close()
			return
		}
		g.text(v.Value)
	})
	switch {
	case o.OwnersWork():
		g.put("schema:description", "an owner's work, no evidence of the year")
	case o.Sureness() != schema.Sure:
		g.put("schema:description", "the observer was "+string(o.Sureness()))
	}
	g.close()
}
