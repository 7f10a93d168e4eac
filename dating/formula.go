package dating

import (
	"math"
	"slices"

	"yearmark/dating/odds"
	"yearmark/schema/edtf"
)

// Support is one claim as the formulas take it.
type Support struct {
	First, Last int // the outcomes that it holds
	Years       edtf.Years
	Credence    float64 // from 0 to 1
	// Looseness is e by the claim's own `held`, or negative where it has none.
	Looseness float64
	Only      bool // the value is claimed to be found in no other year
}

// Rates is what holds for a feature whatever the year.
type Rates struct {
	Outcomes  int     // |V|
	Numbers   bool    // the outcomes are steps of a number
	Looseness float64 // e, by the feature's `held`
	Altered   float64 // a, how often later owners change it
	To        []int   // what they change it to, rising
}

// weighedClaim is one claim that holds in a year, with w = credence * membership.
type weighedClaim struct {
	*Support
	w float64
}

// Row gives the chances of every outcome in one year, by the formulas of the
// package comment.
func (r Rates) Row(claims []Support, year int) odds.Row {
	members := make([]float64, len(claims))
	for i := range claims {
		members[i] = claims[i].Years.Membership(year)
	}
	return r.rowOf(claims, members)
}

// rowOf gives the chances in a year from the membership of each claim in it.
func (r Rates) rowOf(claims []Support, members []float64) odds.Row {
	weighed := make([]weighedClaim, 0, len(claims))
	f := factory{rates: r, loose: r.Looseness}
	heaviest, silence := 0.0, 1.0
	for i, m := range members {
		if m == 0 {
			continue
		}
		v := weighedClaim{&claims[i], float64(claims[i].Credence * m)}
		weighed = append(weighed, v)
		silence = float64(silence * (1 - v.w))
		heaviest = max(heaviest, v.w)
	}
	for _, v := range weighed {
		if v.w == heaviest && heaviest > 0 && v.Looseness >= 0 {
			f.loose = v.Looseness
			break
		}
	}
	f.kappa = 1 - silence
	f.absences, f.sumQ = r.absencesIn(claims, members)
	return f.row(weighed)
}

// absence is evidence that a value was not found in a year, from the claims
// that it is found in no other years than theirs.
type absence struct {
	value    int
	q        float64 // what is left of its part of the share that nobody speaks for
	excluded bool    // such a claim leaves the year out, and no other claim of the value holds in it
}

// absencesIn gives the absences of a year by the membership of each claim in
// it, and the sum of q over all outcomes; all q are 1 where they would all be 0.
func (r Rates) absencesIn(claims []Support, members []float64) (list []absence, sumQ float64) {
	for i := range claims {
		if c := &claims[i]; c.Only && !slices.ContainsFunc(list, func(a absence) bool { return a.value == c.First }) {
			list = append(list, absenceOf(c.First, claims, members))
		}
	}
	sumQ = float64(r.Outcomes - len(list))
	for _, a := range list {
		sumQ += a.q // and not less 1 - q, since all q may be next to nothing
	}
	if len(list) == r.Outcomes && !slices.ContainsFunc(list, func(a absence) bool { return a.q > 0 }) {
		for i := range list {
			list[i].q = 1
		}
		sumQ = float64(r.Outcomes)
	}
	return list, sumQ
}

func absenceOf(value int, claims []Support, members []float64) absence {
	a := absence{value: value, q: 1}
	claimed := false
	for i, m := range members {
		if claims[i].First != value {
			continue
		}
		claimed = claimed || m > 0
		if claims[i].Only {
			a.q = float64(a.q * (1 - float64(claims[i].Credence*(1-m))))
			a.excluded = a.excluded || m == 0
		}
	}
	a.excluded = a.excluded && !claimed
	return a
}

// factory turns the weighed of one year into chances.
type factory struct {
	rates    Rates
	kappa    float64
	loose    float64
	absences []absence
	sumQ     float64 // of all outcomes
}

// absence gives what speaks against an outcome; q is 1 where nothing does.
func (f factory) absence(outcome int) absence {
	for _, a := range f.absences {
		if a.value == outcome {
			return a
		}
	}
	return absence{value: outcome, q: 1}
}

// chance gives P of an outcome from its share of the weighed, w_v / sum w, and
// its q. The conversions keep products from being fused with sums, so that every kind of
// machine makes the same table.
func (f factory) chance(share, altered, q float64) float64 {
	n := float64(f.rates.Outcomes)
	made := float64(f.kappa*share) + float64((1-f.kappa)/f.sumQ*q)
	made = float64((1-f.loose)*made) + f.loose/n
	return float64((1-f.rates.Altered)*made) + float64(f.rates.Altered*altered)
}

func (f factory) row(weighed []weighedClaim) odds.Row {
	least := 1.0
	for _, a := range f.absences {
		least = min(least, a.q)
	}
	row := odds.Row{Rest: f.chance(0, 0, least), Silent: len(weighed) == 0}
	var shares func(from, to int) float64
	if f.rates.Numbers {
		shares = densities(weighed)
	} else {
		shares = portions(weighed)
	}
	// Where nobody speaks for the year all is possible but what is excluded.
	allButExcluded := row.Silent && slices.ContainsFunc(f.absences, func(a absence) bool { return a.excluded })
	row.Silent = row.Silent && !allButExcluded
	cuts := f.cuts(weighed)
	for i := 0; i+1 < len(cuts); i++ {
		from, to := cuts[i], cuts[i+1]-1
		altered := 0.0
		if slices.Contains(f.rates.To, from) {
			altered = 1 / float64(len(f.rates.To))
		}
		against := f.absence(from)
		cell := odds.Cell{From: int32(from), To: int32(to), Chance: f.chance(shares(from, to), altered, against.q)}
		cell.Possible = allButExcluded && !against.excluded ||
			slices.ContainsFunc(weighed, func(v weighedClaim) bool { return v.First <= from && to <= v.Last })
		row.Cells = appendCell(row.Cells, cell, row.Rest)
	}
	return row
}

// appendCell leaves out a cell that says no more than the rest does, and
// lengthens the last cell where the next says the same.
func appendCell(cells []odds.Cell, c odds.Cell, rest float64) []odds.Cell {
	if c.Chance == rest && !c.Possible {
		return cells
	}
	if n := len(cells); n > 0 {
		if last := &cells[n-1]; last.To+1 == c.From && last.Chance == c.Chance && last.Possible == c.Possible {
			last.To = c.To
			return cells
		}
	}
	return append(cells, c)
}

// cuts gives the outcomes at which a weighedClaim, an absence or an alteration begins
// or ends, rising. With an absence they span every outcome, since those that
// nobody speaks for are then no longer alike.
func (f factory) cuts(weighed []weighedClaim) []int {
	var cuts []int
	if len(f.absences) > 0 {
		cuts = append(cuts, 0, f.rates.Outcomes)
	}
	for _, a := range f.absences {
		cuts = append(cuts, a.value, a.value+1)
	}
	for _, v := range weighed {
		cuts = append(cuts, v.First, v.Last+1)
	}
	if f.rates.Altered > 0 {
		for _, o := range f.rates.To {
			cuts = append(cuts, o, o+1)
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// portions gives w_v / sum w of a value; two claims of one value are no more
// than one claim that is surer.
func portions(weighed []weighedClaim) func(from, to int) float64 {
	quiet := func(value int) float64 { // 1 - w_v
		q := 1.0
		for _, v := range weighed {
			if v.First == value {
				q = float64(q * (1 - v.w))
			}
		}
		return q
	}
	sum := 0.0
	for i, v := range weighed {
		if !slices.ContainsFunc(weighed[:i], func(u weighedClaim) bool { return u.First == v.First }) {
			sum += 1 - quiet(v.First)
		}
	}
	return func(from, _ int) float64 {
		if sum == 0 {
			return 0
		}
		return (1 - quiet(from)) / sum
	}
}

// densities gives sum w d / sum w of a step, where d spreads a claim evenly over its steps.
func densities(weighed []weighedClaim) func(from, to int) float64 {
	sum := 0.0
	for _, v := range weighed {
		sum += v.w
	}
	return func(from, to int) float64 {
		x := 0.0
		for _, v := range weighed {
			if v.First <= from && to <= v.Last {
				x += v.w / float64(v.Last-v.First+1)
			}
		}
		if sum == 0 {
			return 0
		}
		return x / sum
	}
}

// maxYears bounds the years of one model, so that no record can take the
// memory of the machine; what is made longer is dated within the first of them.
const maxYears = 2000

// Prior gives the chances of a model's years, which sum to 1 where any is
// possible: in proportion to membership of the made span, or to how many were made.
func Prior(made edtf.Years, output []Output) (years []int32, chance []float64) {
	made.D = min(made.D, made.A+maxYears-1)
	weights := outputWeights(made, output)
	sum := 0.0
	for y := made.A; !made.Empty() && y <= made.D; y++ {
		w := float64(made.Membership(y))
		if w > 0 && weights != nil {
			w = float64(weights(y))
		}
		if w > 0 && !math.IsInf(w, 0) {
			years, chance = append(years, int32(y)), append(chance, w)
			sum += w
		}
	}
	for i := range chance {
		chance[i] /= sum
	}
	return years, chance
}

// Output is how many were made within a span, spread over its membership.
type Output struct {
	Years edtf.Years
	Made  float64
}

// outputWeights gives the number made in a year, or nil where no figures are
// known. Years without a figure are taken to have the average of those with one.
func outputWeights(made edtf.Years, output []Output) func(year int) float64 {
	counted := map[int]float64{}
	total := 0.0
	for _, o := range output {
		sum := 0.0
		for y := max(made.A, o.Years.A); y <= min(made.D, o.Years.D); y++ {
			sum += float64(o.Years.Membership(y))
		}
		if !(sum > 0) || !(o.Made >= 0) {
			continue
		}
		for y := max(made.A, o.Years.A); y <= min(made.D, o.Years.D); y++ {
			if m := o.Years.Membership(y); m > 0 && made.Possible(y) {
				counted[y] += o.Made * m / sum
			}
		}
		total += o.Made
	}
	if len(counted) == 0 || total == 0 {
		return nil
	}
	return func(year int) float64 {
		if n, ok := counted[year]; ok {
			return n
		}
		return total / float64(len(counted)) * made.Membership(year)
	}
}
