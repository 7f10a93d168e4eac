// Package linked writes a reference as linked data: one JSON-LD 1.1 document
// whose context stands in it, so that nothing has to be fetched to read it.
//
// A claim is a prov:Entity (PROV-O) and a proposition (CIDOC CRM,
// E73_Information_Object) about a state of affairs. It was derived from what
// it cites (prov:wasDerivedFrom), and had as primary source what is first-hand
// and of its time: factory papers, catalogues, price lists, patents,
// advertisements and bows that were examined, unless they took their facts
// from elsewhere. The place in the source stands in a qualified derivation.
// It was quoted (prov:wasQuotedFrom) from the places that it cites, as far as
// they are shown: each holds its words and, where a scan or recording is
// published, is the part of it (oa:SpecificResource of the Web Annotation
// vocabulary, with a media fragment) in which one sees or hears them.
// Sources that say otherwise are named by cito:isDisputedBy (CiTO).
//
// The state has a time-span (P4, E52) with the years after all that is known:
// P82a and P82b bound the stretch within which it lies, P81a and P81b the
// stretch throughout which it held. They are instants: P82a and P81b the first
// of their year, P81a and P82b the last. Where that leaves no stretch
// throughout which it surely held (as in a single year: a change may fall on any day
// of it), P81a and P81b are left out. A time-span that no record states as it
// is was derived from the claims and sources that imply it. The years as written stand
// with the claim, in EDTF.
//
// Records have pages (schema:WebPage) and are things: a model is an
// E99_Product_Type and schema:ProductModel, a maker an E74_Group, a source an
// E31_Document, a bow an E22_Human-Made_Object, a feature an E55_Type. What is
// private is in none of them.
package linked
