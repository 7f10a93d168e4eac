package dating

import (
	"context"
	"fmt"
	"math"
	"slices"

	"yearmark/dating/odds"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/parallel"
)

// EnoughForExponent is how many examples with a documented year a temper is suggested from.
const EnoughForExponent = 20

// Calibration is how often the odds were right: every example whose papers
// give one year, dated from its features alone, without what rests on it.
type Calibration struct {
	Trials  []Trial
	LeftOut []LeftOut
	Half    Coverage // of the sets that hold 50 % of the odds
	Most    Coverage // of the sets that hold 95 %
	// MeanError is the mean distance in years of the best year from the documented one.
	MeanError float64
	// LogLoss is the mean of -log2 of the chance given to the documented year, in
	// bits; GuessLogLoss is the same for a guess from the made span alone. A
	// chance below one in a million counts as that.
	LogLoss, GuessLogLoss float64
	Temper                float64 // the editor's
	// Suggested is the temper, in hundredths, with the least log loss; 0 with
	// fewer than EnoughForTemper trials. SuggestedLogLoss is the log loss where
	// each bow is dated with the temper that did best on the others.
	Suggested        float64
	SuggestedLogLoss float64
	// Clear says that the temper suggested beats the editor's by more than twice
	// the standard error of the difference, bow by bow.
	Clear bool
	// Misses are the bows of which the odds gave the documented year the least
	// chance, worst first, worstShown at most: those dated to another year.
	Misses []Miss
}

// Trial is one example dated from its features alone.
type Trial struct {
	Example     string  `json:"example"`
	Year        int     `json:"year"` // the documented year
	Best        Odds    `json:"best"`
	Chance      float64 `json:"chance"` // of the documented year, all models together
	Guess       float64 `json:"guess"`  // the same by the made span alone
	InHalf      bool    `json:"in50"`   // the 50 % set held it
	InMost      bool    `json:"in95"`   // the 95 % set held it
	Features    int     `json:"features"`
	Independent bool    `json:"independent"` // nothing in the reference rested on it

	expected [2]float64 // the odds' own chance that the 50 % and the 95 % set hold the year
	against  objection
	scaled   func(exponent float64) float64
}

// LeftOut is an example that was not dated, and why.
type LeftOut struct {
	Example string `json:"example"`
	Because string `json:"because"` // lower case, no full stop
}

// Coverage is how often sets held the documented year. Low and High bound the
// true rate by Wilson's score interval at 95 %. Expected is how many the odds
// themselves expected to hold it: more than the level of the set says, since
// years are taken whole.
type Coverage struct {
	Held, Of  int
	Low, High float64
	Expected  float64
}

// Share is the part held, or 0 of none.
func (c Coverage) Share() float64 {
	if c.Of == 0 {
		return 0
	}
	return float64(c.Held) / float64(c.Of)
}

// Calibrate dates every documented example of the reference. What rests on an
// example counts for nothing while it is dated; see Account. An example with a model is dated
// as that model; its documented year counts as held where a set has it with any
// model. Examples documented to more than one year are left out. The error is ctx's.
func (a *LeaveOneOut) Calibrate(ctx context.Context) (Calibration, error) {
	var documented []*schema.Example
	for _, ex := range a.ref.Examples.All() {
		if ex.Documented != nil {
			documented = append(documented, ex)
		}
	}
	a.All()
	attempts := make([]attempt, len(documented))
	err := parallel.Each(ctx, len(documented), func(i int) error {
		attempts[i] = a.try(documented[i])
		return nil
	})
	if err != nil {
		return Calibration{}, err
	}
	return a.sum(attempts), nil
}

// attempt is a trial, or why there was none.
type attempt struct {
	trial Trial
	out   *LeftOut
}

// try dates an example whose papers give one year, with an engine that does
// not know of it.
func (e *Engine) try(ex *schema.Example, independent bool) attempt {
	if provenance.Hearsay(e.ref, ex.Documented.Cites) {
		return attempt{out: &LeftOut{ex.ID, "its year is documented by recollection or the web alone"}}
	}
	first, okFirst := ex.Documented.Span.Earliest()
	last, okLast := ex.Documented.Span.Latest()
	if !okFirst || !okLast || first != last || ex.Documented.Span.Approximate() {
		return attempt{out: &LeftOut{ex.ID, "its papers do not give one year"}}
	}
	trial, err := e.trial(ex, first)
	if err != nil {
		return attempt{out: &LeftOut{ex.ID, err.Error()}}
	}
	trial.Independent = independent
	return attempt{trial: trial}
}

// trial dates an example from its features alone.
func (e *Engine) trial(ex *schema.Example, year int) (Trial, error) {
	q := QuestionOf(e.ref, ex)
	query, _, err := e.resolve(q)
	if err != nil {
		return Trial{}, err
	}
	p := e.table.Posterior(query)
	if p.Impossible {
		return Trial{}, fmt.Errorf("no year is left for it")
	}
	t := Trial{Example: ex.ID, Year: year, Best: e.pair(p, p.Best()), Features: len(query.Seen)}
	t.Chance = e.yearChance(p, year)
	t.Guess = e.yearChance(e.table.Posterior(odds.Query{Models: query.Models}), year)
	t.InHalf, t.expected[0] = e.holds(p, .50, year)
	t.InMost, t.expected[1] = e.holds(p, .95, year)
	if t.Best.Year != year {
		t.against = e.objection(p, query, year)
	}
	t.scaled = e.scaled(query, year)
	return t, nil
}

// scaled gives the chance of a year as a function of the temper. It keeps
// likelihoods and not the engine.
func (e *Engine) scaled(query odds.Query, year int) func(exponent float64) float64 {
	p := e.table.Posterior(odds.Query{Models: query.Models})
	prior, logs := e.table.Likelihoods(query)
	top := slices.Max(logs)
	if math.IsInf(top, -1) {
		return func(float64) float64 { return 0 }
	}
	hit := make([]bool, len(prior))
	for i := range hit {
		hit[i] = int(e.table.Years[p.Pair(i)]) == year
	}
	return func(exponent float64) float64 {
		sum, held := 0.0, 0.0
		for i, log := range logs {
			x := float64(prior[i] * math.Exp(exponent*(log-top)))
			sum += x
			if hit[i] {
				held += x
			}
		}
		return held / sum
	}
}

// yearChance is the chance of a year, all admitted models together.
func (e *Engine) yearChance(p *odds.Posterior, year int) float64 {
	sum := 0.0
	for i, c := range p.Chance {
		if c > 0 && int(e.table.Years[p.Pair(i)]) == year {
			sum += c
		}
	}
	return sum
}

// holds says whether the set of the level has the year with any model, and the
// chance of all years that it has.
func (e *Engine) holds(p *odds.Posterior, level float64, year int) (held bool, chance float64) {
	in := map[int32]bool{}
	for _, i := range p.Smallest(level) {
		in[e.table.Years[p.Pair(i)]] = true
	}
	for i, c := range p.Chance {
		if in[e.table.Years[p.Pair(i)]] {
			chance += c
		}
	}
	return in[int32(year)], chance
}

// sum turns the trials into figures.
func (a *LeaveOneOut) sum(attempts []attempt) Calibration {
	r := Calibration{Temper: exponent(a.ref)}
	for _, tried := range attempts {
		if tried.out != nil {
			r.LeftOut = append(r.LeftOut, *tried.out)
		} else {
			r.Trials = append(r.Trials, tried.trial)
		}
	}
	n := float64(len(r.Trials))
	half, most := 0, 0
	for _, t := range r.Trials {
		half += one(t.InHalf)
		most += one(t.InMost)
		r.MeanError += math.Abs(float64(t.Best.Year-t.Year)) / n
		r.LogLoss += loss(t.Chance) / n
		r.GuessLogLoss += loss(t.Guess) / n
	}
	r.Half, r.Most = Wilson(half, len(r.Trials)), Wilson(most, len(r.Trials))
	for _, t := range r.Trials {
		r.Half.Expected += t.expected[0]
		r.Most.Expected += t.expected[1]
	}
	if len(r.Trials) >= EnoughForExponent {
		r.suggest()
	}
	r.Misses = a.misses(r.Trials)
	return r
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// loss is -log2 of a chance, of one in a million at least.
func loss(chance float64) float64 { return -math.Log2(max(chance, 1e-6)) }

// Wilson gives held of n with Wilson's score interval at 95 % (E. B. Wilson,
// Journal of the American Statistical Association 22, 1927).
func Wilson(held, n int) Coverage {
	c := Coverage{Held: held, Of: n, High: 1}
	if n == 0 {
		return c
	}
	const z = 1.959963984540054 // the normal distribution's 97.5 % point
	p, size := float64(held)/float64(n), float64(n)
	middle := (p + z*z/(2*size)) / (1 + z*z/size)
	half := float64(z / (1 + z*z/size) * math.Sqrt(p*(1-p)/size+z*z/(4*size*size)))
	c.Low, c.High = max(0, middle-half), min(1, middle+half)
	return c
}
