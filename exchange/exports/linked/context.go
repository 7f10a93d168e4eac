package linked

import (
	"cmp"
	"strings"

	"yearmark/schema"
)

// The namespaces used.
const (
	crm      = "http://www.cidoc-crm.org/cidoc-crm/"
	prov     = "http://www.w3.org/ns/prov#"
	schemaNS = "https://schema.org/"
	cito     = "http://purl.org/spar/cito/"
	dc       = "http://purl.org/dc/elements/1.1/"
	dcterms  = "http://purl.org/dc/terms/"
	skos     = "http://www.w3.org/2004/02/skos/core#"
	rdfs     = "http://www.w3.org/2000/01/rdf-schema#"
	xsd      = "http://www.w3.org/2001/XMLSchema#"
	edtfNS   = "http://id.loc.gov/datatypes/edtf/"
)

// links are the terms whose values are addresses.
var links = []string{
	"crm:P2_has_type", "crm:P4_has_time-span", "crm:P14_carried_out_by", "crm:P108i_was_produced_by", "crm:P129_is_about",
	"crm:P186_produced_thing_of_product_type", "cito:isDisputedBy", "prov:entity", "prov:hadPrimarySource",
	"prov:qualifiedDerivation", "prov:qualifiedPrimarySource", "prov:wasAttributedTo", "prov:wasDerivedFrom",
	"schema:about", "schema:hasDefinedTerm", "schema:isPartOf", "schema:isVariantOf", "schema:mainEntity",
	"schema:manufacturer", "schema:predecessorOf", "schema:publisher", "schema:successorOf", "schema:url",
}

// instants are the terms whose values are points in time.
var instants = []string{
	"crm:P81a_end_of_the_begin", "crm:P81b_begin_of_the_end", "crm:P82a_begin_of_the_begin", "crm:P82b_end_of_the_end",
	"prov:invalidatedAtTime",
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
		"crm": crm, "prov": prov, "schema": schemaNS, "cito": cito, "dc": dc, "dcterms": dcterms, "skos": skos, "rdfs": rdfs,
		"xsd": xsd, "edtf": edtfNS,
	}
	for _, term := range links {
		c[term] = map[string]any{"@type": "@id"}
	}
	for _, term := range instants {
		c[term] = map[string]any{"@type": "xsd:dateTime"}
	}
	return c
}
