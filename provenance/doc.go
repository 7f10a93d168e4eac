// Package provenance says where claims come from and how far they are to be
// believed: origins, independent witnesses and credence.
//
// A citation leads to a source, a source to the sources that it relies on, and
// so on to the origins, which rely on nothing. A way is one such chain from a
// citation to an origin. Every source is reliable with its credence, that of its
// kind (schema.Judgement), at most .999 and independently of all others. Let F
// be that some way of some citation for a claim consists of reliable sources
// only, A the same for those against it. Both cannot be right, so
//
//	credence = P(F and not A) / P(not both), or P(F) once the claim is settled
//
// and half of that where its span is doubted (EDTF "?" or "%"). This is the
// reliability of a network whose nodes fail (network.chances). A copy adds
// nothing beside its own cited origin, and nothing is believed more than the
// source that carries it. Sources that rely only on each other have no way to
// an origin and give nothing.
//
// A source that is cited both for and against a claim, or for several claims that
// contradict each other, is right about one of them only, each as likely. Places
// of one source fail together: one that is believed less holds only where those
// believed more do.
//
// The independent witnesses of a side are the most ways that share no source.
//
// Credences are editorial judgement put into figures, not measurements.
// Everything is computed from the records alone and depends on no order in
// them. A Weighing may be used by many goroutines at once.
package provenance
