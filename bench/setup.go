package bench

// StringLength gives the length of the string for a bow of the given length in
// inches. The trade's standard takes 3 inches off; other published pages take 4.
func StringLength(bow float64) Figure {
	return Figure{Low: bow - 4, High: bow - 3, Unit: "in", Basis: []Basis{
		{"3 inches shorter than the bow, under 100 lb of tension", "AMO Standards, 1987 edition, and Field Publication FP-3, 2000"},
		{"3 to 4 inches shorter", "a general archery glossary"},
		{"about 4 inches shorter", "a sporting-goods supplier and a bow-builder's page"},
	}}
}

// drawRates are the pounds an inch by which published pages let draw weight
// change, the mildest and the steepest of them.
const (
	leastRate = 2.0
	mostRate  = 3.0
)

// MaxBeyondMarked is how far past the marked draw a weight is still estimated, in inches.
const MaxBeyondMarked = 2.0

// DrawWeight gives the weight at the archer's draw of a bow that is marked with
// pounds at a draw in inches: 2 to 3 lb an inch, for published rules differ.
// Past the marked draw an old bow may break, so ok is false beyond
// MaxBeyondMarked inches, and where no marked draw is known (0).
func DrawWeight(pounds, marked, yours float64) (f Figure, ok bool) {
	if marked <= 0 || yours <= 0 || yours > marked+MaxBeyondMarked {
		return Figure{}, false
	}
	change := yours - marked
	a, b := pounds+float64(change*leastRate), pounds+float64(change*mostRate)
	return Figure{Low: max(0, min(a, b)), High: max(0, a, b), Unit: "lb", Basis: []Basis{
		{"2 lb an inch at 40 lb and under, 3 lb an inch above", "a club coaching page on peak bow weight"},
		{"2 to 2.5 lb an inch", "a general archery article"},
		{"2.5 to 3 lb an inch, a rough guide", "an article on measuring draw weight"},
	}}, true
}

// LightestArrow gives the least arrow weight in grains for a draw weight in
// pounds: 8 to 10 grains a pound. Modern rules of 5 are for other bows.
func LightestArrow(pounds float64) Figure {
	return Figure{Low: 8 * pounds, High: 10 * pounds, Unit: "gr", Basis: []Basis{
		{"at least 8 grains for each pound", "a bowyer's care page"},
		{"at least 7.5, and 10 for hunting", "another bowyer's care page"},
		{"9 to 10 for old bows", NoSource},
	}}
}
