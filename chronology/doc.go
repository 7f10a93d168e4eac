// Package chronology works out what follows in time from the records of a
// reference: the tightest years of every claim, the chain of cited sentences
// behind each year that no record states, and every set of statements that
// cannot hold together, explained in cited sentences. It is computed once by Build
// and shared by whoever asks after years.
//
// Every claim has two unknown years, its start and its end. Each statement of
// the records bounds them (package network has the mathematics):
//
//   - A span [A, B, C, D] (see edtf.Years): A <= start <= B and C <= end <= D. A
//     OneOf is one year, so its start is its end, and each of its years that
//     stays is one of a dating of all records that hang together; an AllOf
//     counts by its first and last year. Years outside the made span are left to the
//     check that finds them; an end written ".." is the end of the made span,
//     of the trading of the maker for a made span.
//   - An attestation: start <= year <= end.
//   - An era referred to: the same start and end.
//   - An order: one of Allen's thirteen relations, or how many years a claim lasted.
//   - A succession: the successor starts at least a year after its
//     predecessor started, and ends no earlier than it ended.
//   - A citation of anything but a patent: the claim starts at most one year
//     after the source was last issued, lists being printed for the coming
//     season. A source too early for the claim's own span bounds nothing: that
//     is the business of another check.
//   - By rule: a claim lies within the years its model was made, and those
//     within the years its maker traded; so does what a maker's record says of
//     all its models, which is one claim here, whatever models it holds for.
//
// # What gives way
//
// Where statements contradict each other, weaker ones are set aside so that
// the rest can be worked out. Settled claims and orders stand; next come
// statements in the order of the credence of the best source cited; then those
// that cite nothing; weakest of all are statements marked as disputed and
// those whose every citation was set aside by a settlement about the same
// feature of the same model. A claim whose statement was set aside, or that stands
// in a contradiction that no settlement or dispute is about, keeps its years as
// stated.
//
// # Changes
//
// Records that hang together (a maker, its models, and what is stated relative
// to them) form a group, solved apart from all others. Timeline.Renew keeps
// the groups that an edit does not concern, and Timeline.Without those that
// cite nothing of what is left out.
package chronology
