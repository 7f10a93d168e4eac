// Package dating says which model a bow is and which year it was made, how
// sure that is, on whose word, and what to look at next.
//
// A hypothesis is a pair of model and year. Models are alike before anything
// is seen; within a model each year counts in proportion to the membership of
// its made span or, where the records say how many were made, in proportion
// to that (years without a figure are taken to have the average of those with
// one). A claim k speaks for a year y with w = credence * membership. For a
// feature with |V| values
//
//	w_v   = 1 - product over the claims of value v (1 - w)
//	kappa = 1 - product over the values (1 - w_v)            how far anyone speaks
//	F_v   = kappa * w_v / sum w + (1 - kappa) / |V|          1/|V| where sum w = 0
//	P_fac = (1 - e) * F_v + e / |V|                          e by held: custom orders
//	P     = (1 - a) * P_fac + a * T(v)                       a, T: later alteration
//	seen  = s * P + (1 - s) / |V|                            s: the observer's doubt
//
// A claim that its value is found in no other year (`only`) is evidence of
// absence: with q_v the product over such claims of v of 1 - credence * (1 -
// membership), the share (1 - kappa) / |V| of v is multiplied by q_v, and those
// shares are scaled to sum to 1 - kappa again; they stay equal where all q are 0.
//
// and the product of the seen terms is raised to the editor's temper. The
// arithmetic after the table of P is package odds; this package makes the
// table from the records and puts the answer into words.
//
// A maker's claims speak for each model that they hold for, cut to the years in
// which it was made. Where no model is asked for there are further hypotheses:
// another model of each maker, dated by the maker's claims alone over its trading
// years, and one by a maker not on record, over the horizon and without claims.
// They share judgement.unrecorded evenly and take no part in the strict answer.
//
// A claim can hold on conditions about other features of the bow. These cut each
// feature given into classes; a world is one class of each. With P(c) the chance
// of a world, the features that conditions tie have one factor together: the sum
// over c of P(c), times s P(seen and c) / P(c) + (1 - s) n / |V| for each feature
// given that was seen, times seen under the claims that hold in c for each that
// depends on them. Strictly, some world must leave all that was seen. What dated
// bows teach of a dependent feature is shared by the worlds as what was seen of
// the features given, or else what is claimed of them, makes them likely.
//
// In years of a maker's special orders e is that of `loose`, in proportion to the
// membership of their span, unless a claim's own `held` counts.
//
// Where the plan leaves a choice:
//
//   - A bow by a maker not on record can have been altered like any other.
//   - A condition on a feature that has conditions itself is passed over, and so
//     are conditions that would make more than 1,024 worlds.
//   - A step of a number is in the range of a condition if its own figure is.
//   - Era claims date nothing: an era is not a feature.
//   - A claim's own `held` counts in the years in which no claim of the feature
//     has a larger w; of several that are level, the first that gives one.
//   - A choice has one value more than it declares, `something-else`, which
//     may also be observed. `altered.to` may name it; what `altered.to` names
//     that is no value of the feature is passed over, and with none left the
//     feature counts as never altered.
//   - Numbers lie on the grid plausible.low, + step, + 2 step …; a figure
//     counts as the step nearest to it, the upper of two as near. Without
//     plausible figures the grid spans what the claims say. Steps beyond 4,096
//     are too fine and are widened. An observed range is the set of its steps.
//   - Text: capitals and repeated spaces count for nothing; where nothing
//     matches as written, separators do not either (see loose.go). A claim's value
//     matches itself; if it has any of \.+*?()|[]{}^$ it is an RE2 pattern as
//     well and must match the whole of what was seen. The feature's values are
//     every value claimed in the reference, and something-else.
//   - A claim without a credence above 0 makes its value possible, taken
//     strictly, and ends the silence of its year.
package dating
