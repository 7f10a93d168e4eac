package odds

import (
	"cmp"
	"math"
	"slices"
)

// slack is how far a set's chance may fall short of its level through rounding,
// and how far apart two chances may be that count as tied.
const slack = 1e-9

// Smallest gives the smallest set of admitted pairs that holds the level (0 to
// 1) of the odds, in the table's order. Pairs enter by falling chance; those
// tied with the last one taken, to 1e-9, all belong to the set. A sum within
// 1e-9 of the level counts as reaching it.
func (p *Posterior) Smallest(level float64) []int {
	if p.Impossible || level <= slack {
		return nil
	}
	// Pairs below their share of what is left over hold less than that together.
	floor := (1 - level) / float64(len(p.Chance))
	var rising []float64
	for _, c := range p.Chance {
		if c > 0 && c >= floor {
			rising = append(rising, c)
		}
	}
	slices.Sort(rising)
	least, need := math.Inf(1), level-slack
	for i := len(rising) - 1; i >= 0 && need > 0; i-- {
		least = rising[i]
		need -= least
	}
	var set []int
	for i, c := range p.Chance {
		if c > 0 && c >= least-slack {
			set = append(set, i)
		}
	}
	return set
}

// Order gives the admitted pairs likelier than least, by falling rank (see
// Rank) and then in the table's order.
func (p *Posterior) Order(least float64) []int {
	var order []int
	for i, c := range p.Chance {
		if c > least {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(Rank(p.Chance[b]), Rank(p.Chance[a])) })
	return order
}
