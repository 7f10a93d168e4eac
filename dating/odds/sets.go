package odds

import (
	"cmp"
	"math"
	"slices"
)

// slack is how far a set's chance may fall short of its level through rounding.
const slack = 1e-9

// Smallest gives the smallest set of admitted pairs that holds the level (0 to
// 1) of the odds, in the table's order. Pairs enter by falling chance and,
// where chances are alike (see Rank), in the table's order; a sum within 1e-9 of the
// level counts as reaching it.
func (p *Posterior) Smallest(level float64) []int {
	if p.Impossible {
		return nil
	}
	// A pair whose chance is below its share of the rest cannot enter.
	floor := (1 - level) / float64(len(p.Chance))
	var left []int
	for i, c := range p.Chance {
		if c > 0 && c >= floor {
			left = append(left, i)
		}
	}
	var set []int
	for need := level - slack; len(left) > 0 && need > 0; {
		pivot := middle(p, left[0], left[len(left)/2], left[len(left)-1])
		above, below, mass := p.split(left, pivot)
		switch {
		case mass+p.Chance[pivot] < need:
			set = append(append(set, above...), pivot)
			need -= mass + p.Chance[pivot]
			left = below
		case mass < need:
			set = append(append(set, above...), pivot)
			left = nil
		default:
			left = above
		}
	}
	slices.Sort(set)
	return set
}

// split parts the pairs into those that enter a set before the pivot and those
// after it, in place, and gives the chance that the first hold.
func (p *Posterior) split(list []int, pivot int) (before, after []int, mass float64) {
	n := 0
	for i, x := range list {
		if p.enters(x, pivot) {
			mass += p.Chance[x]
			list[i], list[n] = list[n], x
			n++
		}
	}
	before, after = list[:n], list[n:]
	for i, x := range after {
		if x == pivot {
			after[i] = after[len(after)-1]
			return before, after[:len(after)-1], mass
		}
	}
	return before, after, mass
}

// enters says whether pair a enters a set before pair b.
func (p *Posterior) enters(a, b int) bool {
	if x, y := Rank(p.Chance[a]), Rank(p.Chance[b]); x != y {
		return x > y
	}
	return a < b
}

// middle gives the pair that enters second of three.
func middle(p *Posterior, a, b, c int) int {
	if p.enters(b, a) {
		a, b = b, a
	}
	if p.enters(c, b) {
		b = c
	}
	if p.enters(b, a) {
		return a
	}
	return b
}

// Order gives the admitted pairs likelier than least, by falling rank and then
// in the table's order.
func (p *Posterior) Order(least float64) []int {
	list := make([]ranked, 0, len(p.Chance))
	for i, c := range p.Chance {
		if c > least {
			list = append(list, ranked{^math.Float64bits(Rank(c)) >> rankBits, i})
		}
	}
	list = sortRanked(list)
	order := make([]int, len(list))
	for k, r := range list {
		order[k] = r.pair
	}
	return order
}

// ranked is a pair with a key that rises as its rank falls.
type ranked struct {
	key  uint64
	pair int
}

// rankBits is how many of a rank's lowest bits are always 0.
const rankBits = 12

// digit is how many bits of the key one pass of sortRanked puts in order.
const digit = 13

// sortRanked puts pairs in order of key; those with one key keep their order.
func sortRanked(list []ranked) []ranked {
	if len(list) < 1<<digit/8 { // counting would cost more than comparing
		slices.SortStableFunc(list, func(a, b ranked) int { return cmp.Compare(a.key, b.key) })
		return list
	}
	other := make([]ranked, len(list))
	for shift := 0; shift < 64-rankBits; shift += digit {
		var at [1<<digit + 1]int
		for _, r := range list {
			at[r.key>>shift&(1<<digit-1)+1]++
		}
		for d := 1; d < len(at); d++ {
			at[d] += at[d-1]
		}
		for _, r := range list {
			d := r.key >> shift & (1<<digit - 1)
			other[at[d]] = r
			at[d]++
		}
		list, other = other, list
	}
	return list
}
