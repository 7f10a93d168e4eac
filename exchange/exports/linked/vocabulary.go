package linked

import (
	"cmp"
	"reflect"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// The namespaces used.
const (
	crm      = "http://www.cidoc-crm.org/cidoc-crm/"
	prov     = "http://www.w3.org/ns/prov#"
	schemaNS = "https://schema.org/"
	cito     = "http://purl.org/spar/cito/"
	oa       = "http://www.w3.org/ns/oa#"
	dc       = "http://purl.org/dc/elements/1.1/"
	dcterms  = "http://purl.org/dc/terms/"
	skos     = "http://www.w3.org/2004/02/skos/core#"
	rdf      = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
	rdfs     = "http://www.w3.org/2000/01/rdf-schema#"
	xsd      = "http://www.w3.org/2001/XMLSchema#"
	edtfNS   = "http://id.loc.gov/datatypes/edtf/"
)

// iri is an address: relative to the public one, or an absolute one.
type iri string

// instant is a point in time, as an xsd:dateTime.
type instant string

// node is a thing of the graph and what is said of it. What is empty is not said.
type node struct {
	ID   iri      `json:"@id,omitempty"`
	Type []string `json:"@type,omitempty"`

	Identifier   string   `json:"schema:identifier,omitempty"`
	Name         string   `json:"schema:name,omitempty"`
	Description  string   `json:"schema:description,omitempty"`
	Genre        string   `json:"schema:genre,omitempty"`
	Location     string   `json:"schema:location,omitempty"`
	ItemLocation string   `json:"schema:itemLocation,omitempty"`
	Language     string   `json:"schema:inLanguage,omitempty"`
	Modified     string   `json:"schema:dateModified,omitempty"`
	Published    string   `json:"schema:datePublished,omitempty"`
	Version      string   `json:"schema:version,omitempty"`
	Status       string   `json:"schema:creativeWorkStatus,omitempty"`
	Pagination   string   `json:"schema:pagination,omitempty"`
	TermCode     string   `json:"schema:termCode,omitempty"`
	Unit         string   `json:"schema:unitText,omitempty"`
	Min          *float64 `json:"schema:minValue,omitempty"`
	Max          *float64 `json:"schema:maxValue,omitempty"`
	Value        any      `json:"schema:value,omitempty"`
	Creator      string   `json:"dc:creator,omitempty"`
	Contributor  string   `json:"dc:contributor,omitempty"`
	Issued       *literal `json:"dcterms:issued,omitempty"`
	Scope        string   `json:"skos:scopeNote,omitempty"` // on what it depends
	Note         string   `json:"skos:note,omitempty"`
	Editorial    string   `json:"skos:editorialNote,omitempty"`
	Licence      any      `json:"schema:license,omitempty"`

	Publisher    *node  `json:"schema:publisher,omitempty"`
	Properties   []node `json:"schema:additionalProperty,omitempty"`
	Terms        []node `json:"schema:hasDefinedTerm,omitempty"`
	URL          iri    `json:"schema:url,omitempty"`
	IsPartOf     iri    `json:"schema:isPartOf,omitempty"`
	MainEntity   iri    `json:"schema:mainEntity,omitempty"`
	Manufacturer iri    `json:"schema:manufacturer,omitempty"`
	Property     iri    `json:"schema:propertyID,omitempty"`
	SubjectOf    []iri  `json:"schema:about,omitempty"`
	Predecessor  []iri  `json:"schema:predecessorOf,omitempty"`
	Successor    []iri  `json:"schema:successorOf,omitempty"`
	Variant      []iri  `json:"schema:isVariantOf,omitempty"`

	About      *node     `json:"crm:P129_is_about,omitempty"`
	Produced   iri       `json:"crm:P186_produced_thing_of_product_type,omitempty"`
	ProducedBy iri       `json:"crm:P108i_was_produced_by,omitempty"`
	CarriedOut iri       `json:"crm:P14_carried_out_by,omitempty"`
	HasType    iri       `json:"crm:P2_has_type,omitempty"`
	TimeSpan   *timeSpan `json:"crm:P4_has_time-span,omitempty"`
	Temporal   *literal  `json:"dcterms:temporal,omitempty"`

	AttributedTo     iri         `json:"prov:wasAttributedTo,omitempty"`
	DerivedFrom      []iri       `json:"prov:wasDerivedFrom,omitempty"`
	PrimarySource    []iri       `json:"prov:hadPrimarySource,omitempty"`
	QuotedFrom       []iri       `json:"prov:wasQuotedFrom,omitempty"`
	QualifiedPrimary []qualified `json:"prov:qualifiedPrimarySource,omitempty"`
	Qualified        []qualified `json:"prov:qualifiedDerivation,omitempty"`
	Words            string      `json:"prov:value,omitempty"`
	Invalidated      instant     `json:"prov:invalidatedAtTime,omitempty"`
	DisputedBy       []iri       `json:"cito:isDisputedBy,omitempty"`

	ReferencedBy iri    `json:"dcterms:isReferencedBy,omitempty"`
	HasSource    iri    `json:"oa:hasSource,omitempty"`
	HasSelector  *node  `json:"oa:hasSelector,omitempty"`
	ConformsTo   iri    `json:"dcterms:conformsTo,omitempty"`
	Fragment     string `json:"rdf:value,omitempty"`
}

// timeSpan is years (CIDOC CRM E52). What is met for every claim has a type of
// its own: a node is large.
type timeSpan struct {
	ID          iri      `json:"@id"`
	Type        []string `json:"@type"`
	Label       string   `json:"rdfs:label,omitempty"`
	StartFirst  instant  `json:"crm:P82a_begin_of_the_begin,omitempty"`
	StartLast   instant  `json:"crm:P81a_end_of_the_begin,omitempty"`
	EndFirst    instant  `json:"crm:P81b_begin_of_the_end,omitempty"`
	EndLast     instant  `json:"crm:P82b_end_of_the_end,omitempty"`
	DerivedFrom []iri    `json:"prov:wasDerivedFrom,omitempty"`
}

// qualified is a source that something was derived from, and the place in it.
type qualified struct {
	Type       []string `json:"@type"`
	Pagination string   `json:"schema:pagination,omitempty"`
	Entity     iri      `json:"prov:entity,omitempty"`
}

// literal is a text with its datatype.
type literal struct {
	Type  string `json:"@type"`
	Value string `json:"@value"`
}

// written is an EDTF expression, or nil where there is none.
func written(e edtf.Expr) *literal {
	if e.IsZero() {
		return nil
	}
	return &literal{"edtf:EDTF", e.EDTF()}
}

// context says what the document's terms mean and where its addresses begin:
// at the public address or, without one, at the folder above the document's.
func context(ref *schema.Reference) map[string]any {
	base := ref.Settings.PublicURL.Value
	if base != "" && !strings.HasSuffix(base, "/") {
		base += "/"
	}
	c := map[string]any{
		"@version": 1.1, "@base": cmp.Or(base, "../"),
		"crm": crm, "prov": prov, "schema": schemaNS, "cito": cito, "oa": oa, "dc": dc, "dcterms": dcterms, "skos": skos,
		"rdf": rdf, "rdfs": rdfs, "xsd": xsd, "edtf": edtfNS,
	}
	for _, of := range []reflect.Type{reflect.TypeFor[node](), reflect.TypeFor[timeSpan](), reflect.TypeFor[qualified]()} {
		for f := range of.Fields() {
			term, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			switch {
			case strings.HasPrefix(term, "@"):
			case f.Type == reflect.TypeFor[iri](), f.Type == reflect.TypeFor[[]iri]():
				c[term] = map[string]any{"@type": "@id"}
			case f.Type == reflect.TypeFor[instant]():
				c[term] = map[string]any{"@type": "xsd:dateTime"}
			}
		}
	}
	return c
}
