// Package bench is the trade's arithmetic for setting up an old bow: reading a
// stamped draw weight, the string a bow takes, its weight at the archer's own
// draw, the lightest arrow, and what to look at before it is strung.
//
// Where published figures disagree the answer is a range that says so. Nothing
// here certifies a bow as safe: the cautions say who can.
package bench

// Figure is a result as a range, with what it rests on. Low equals High where
// sources agree.
type Figure struct {
	Low, High float64
	Unit      string
	Basis     []Basis
}

// Basis is one rule behind a figure and where it is published.
type Basis struct {
	Rule   string // what the rule says, in a phrase
	Source string // who says so; "common practice, no source" where nobody is known to
}

// NoSource marks what the trade does without anybody having published it.
const NoSource = "common practice, no source"
