package dating

import (
	"context"
	"math"

	"yearmark/schema"
	"yearmark/schema/parallel"
)

// suggest finds the temper with the least log loss, tried in hundredths.
func (c *Calibration) suggest() {
	losses := make([][]float64, len(c.Trials))
	for i, t := range c.Trials {
		for k := 100; k > 0; k-- {
			losses[i] = append(losses[i], loss(t.scaled(float64(k)/100)))
		}
	}
	best, heldOut := leastLoss(losses)
	c.Suggested = float64(100-best) / 100
	var gains []float64
	for i, t := range c.Trials {
		c.SuggestedLogLoss += heldOut[i] / float64(len(heldOut))
		gains = append(gains, loss(t.Chance)-heldOut[i])
	}
	mean, spread := meanAndError(gains)
	c.Clear = mean > 2*spread && mean > 1e-9
}

// leastLoss gives the choice with the least sum of losses, the first of several,
// and for each bow its loss with the choice that is best by the others.
func leastLoss(losses [][]float64) (best int, heldOut []float64) {
	sums := make([]float64, len(losses[0]))
	for _, of := range losses {
		for k, l := range of {
			sums[k] += l
		}
	}
	least := func(without []float64) int {
		at, low := 0, math.Inf(1)
		for k, sum := range sums {
			if without != nil {
				sum -= without[k]
			}
			if sum < low-1e-9 {
				at, low = k, sum
			}
		}
		return at
	}
	for _, of := range losses {
		heldOut = append(heldOut, of[least(of)])
	}
	return least(nil), heldOut
}

// meanAndError gives the mean of figures and its standard error.
func meanAndError(list []float64) (mean, err float64) {
	n := float64(len(list))
	for _, x := range list {
		mean += x / n
	}
	for _, x := range list {
		err += float64((x-mean)*(x-mean)) / (n - 1) / n
	}
	return mean, math.Sqrt(err)
}

// Settings are what the odds can be tuned by.
type Settings struct {
	Temper float64 `json:"temper"`
	Weight float64 `json:"weight"` // as in Teaching: 0 for no teaching
	Years  int     `json:"years"`
}

// Together is the temper and the teaching that did best together.
type Together struct {
	Settings
	LogLoss float64  // each bow dated with the settings that did best on the others
	Editors float64  // the log loss of the same bows with the editor's settings
	AtBound []string // settings that are the least or the most that was tried: "temper"
	Trials  int
}

// What is tried together, beside the editor's own weight and years.
var (
	triedWeights = []float64{.5, 1, 2, 4, 8, 16, 32}
	triedYears   = []int{0, 1, 2, 3, 5, 8}
)

const triedTempers = 20 // in steps of 1/20

// teachings lists what is tried, the editor's first, then no teaching.
func teachings(ref *schema.Reference) []Teaching {
	own := teaching(ref)
	list := []Teaching{own}
	if own.Weight > 0 {
		list = append(list, Teaching{Steps: own.Steps})
	}
	for _, w := range triedWeights {
		for _, y := range triedYears {
			if t := (Teaching{w, y, own.Steps}); t != own {
				list = append(list, t)
			}
		}
	}
	return list
}

// Suggest dates every example of a known model whose papers give one year once
// with each of many settings, and says which did best. It gives nil with fewer
// than EnoughForExponent such bows. The error is ctx's.
func (a *LeaveOneOut) Suggest(ctx context.Context) (*Together, error) {
	var bows []*schema.Example
	for _, ex := range a.ref.Examples.All() {
		if _, known := a.ref.Models.Get(ex.Model.Value); known && ex.Documented != nil && a.try(ex).out == nil {
			bows = append(bows, ex)
		}
	}
	if len(bows) < EnoughForExponent {
		return nil, ctx.Err()
	}
	out := make([]*leftOut, len(bows))
	for i, ex := range bows {
		out[i] = a.dependsOn(ex)
	}
	tried := teachings(a.ref)
	losses := make([][]float64, len(bows))
	for _, t := range tried {
		taught := map[string]*lessons{} // by model
		for _, ex := range bows {
			taught[ex.Model.Value] = &lessons{}
		}
		err := parallel.Each(ctx, len(bows), func(i int) error {
			year, _ := bows[i].Documented.Span.Earliest()
			e := a.engineWith(bows[i], out[i], &t, taught[bows[i].Model.Value])
			query, _, err := e.resolve(QuestionOf(a.ref, bows[i]))
			if err != nil {
				return err
			}
			scaled := e.scaled(query, year)
			for k := triedTempers; k > 0; k-- {
				losses[i] = append(losses[i], loss(scaled(float64(k)/triedTempers)))
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	at, heldOut := leastLoss(losses)
	t := tried[at/triedTempers]
	best := &Together{Settings: Settings{float64(triedTempers-at%triedTempers) / triedTempers, t.Weight, t.Years}, Trials: len(bows)}
	for i, ex := range bows {
		best.LogLoss += heldOut[i] / float64(len(bows))
		best.Editors += loss(a.try(ex).trial.Chance) / float64(len(bows))
	}
	best.AtBound = atBound(best.Settings)
	return best, nil
}

func atBound(s Settings) []string {
	var list []string
	if s.Temper == 1 || s.Temper == 1./triedTempers {
		list = append(list, "temper")
	}
	if s.Weight == triedWeights[0] || s.Weight == triedWeights[len(triedWeights)-1] {
		list = append(list, "weight")
	}
	if s.Weight > 0 && s.Years == triedYears[len(triedYears)-1] {
		list = append(list, "years")
	}
	return list
}
