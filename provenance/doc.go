// Package provenance says where claims come from and how far they are to be
// believed: origins, independent witnesses and credence.
//
// A citation leads to a source, a source to the sources it relies on, and so
// on to the sources that rely on nothing: the origins. Ten bulletins that copy
// one letter are one witness. Sources that rely on each other in a ring and on
// nothing outside it are together one origin.
//
// The credence of an origin is that of its kind (schema.Judgement). Reached
// through other sources it is the lowest on the best way there: of all the
// ways from the cited source to the origin, the one whose least believed
// source is believed most. Of a claim
//
//	for      = 1 - product over the origins of its citations (1 - credence)
//	against  = the same over the citations against it
//	credence = for * (1 - against), or for alone once the claim is settled
//
// and half of that where its span is doubted (EDTF "?" or "%"). These are
// editorial judgement put into figures, not measurements.
//
// Everything is computed from the records alone and depends on no order in
// them. A Weighing may be used by many goroutines at once.
package provenance
