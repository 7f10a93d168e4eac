package dating_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/odds"
	"yearmark/dating/testdata/made"
	"yearmark/provenance"
)

// BenchmarkDate measures one dating against a bare loop over the same table
// that comes to the same figures: odds, entropy, the sets, weights of evidence
// and the gain of every other feature, without names, claims or outcomes
// thought through. It reports the median times, their
// ratio, and the ratio of the least times, which a busy machine spoils less.
func BenchmarkDate(b *testing.B) {
	for _, size := range []struct {
		name   string
		models int
	}{{"300", 300}, {"3000", 3000}} {
		b.Run(size.name+" models", func(b *testing.B) {
			e := made.Engine(b, size.models)
			r := rand.New(rand.NewPCG(3, 3))
			var engine, bare []time.Duration
			for b.Loop() {
				for range 20 {
					q := made.Observed(e, r)
					start := time.Now()
					a, err := e.Date(q)
					middle := time.Now()
					figures := bareLoop(b, e, q)
					engine, bare = append(engine, middle.Sub(start)), append(bare, time.Since(middle))
					if err != nil || math.Abs(figures.entropy-a.Entropy) > 1e-9 || math.Abs(figures.bits-a.Suggestion[0].Bits) > 1e-9 {
						b.Fatalf("%v: entropy %v and %v, gain %v and %v", err, a.Entropy, figures.entropy, a.Suggestion[0].Bits, figures.bits)
					}
				}
			}
			slices.Sort(engine)
			slices.Sort(bare)
			mid := len(engine) / 2
			b.ReportMetric(float64(engine[mid].Microseconds())/1000, "ms/dating")
			b.ReportMetric(float64(bare[mid].Microseconds())/1000, "ms/bare")
			b.ReportMetric(float64(engine[mid])/float64(bare[mid]), "ratio")
			b.ReportMetric(float64(engine[0])/float64(bare[0]), "ratio-of-least")
		})
	}
}

// figures are what the bare loop comes to.
type figures struct{ entropy, bits float64 }

// bareLoop dates with nothing but loops over the table's rows and pairs.
func bareLoop(b *testing.B, e *dating.Engine, q dating.Question) figures {
	t := e.Table()
	n := t.Pairs()
	logs, chance, plogp, fails := make([]float64, n), make([]float64, n), make([]float64, n), make([]uint64, n)
	seen := map[int]bool{}
	decibans := 0.0
	for i, o := range q.Observed {
		f, err := e.FeatureNamed(o.Feature)
		if err != nil {
			b.Fatal(err)
		}
		seen[f] = true
		outcomes, _ := e.Features()[f].Domain.Observed(o.Values[0])
		feature := &t.Features[f]
		terms, impossible := make([]float64, len(feature.Rows)), make([]bool, len(feature.Rows))
		for r := range feature.Rows {
			row := &feature.Rows[r]
			p, possible := row.Rest, row.Silent
			for _, c := range row.Cells {
				if int(c.From) <= outcomes[0] && outcomes[0] <= int(c.To) {
					p, possible = c.Chance, possible || c.Possible
				}
			}
			terms[r], impossible[r] = math.Log(.98*p+.02/float64(feature.Outcomes)), !possible
		}
		before := 0.0
		for h, r := range feature.RowOf {
			logs[h] += terms[r]
			before += t.Prior[h] * math.Exp(terms[r])
			if impossible[r] {
				fails[h] |= 1 << i
			}
		}
		decibans += before
	}
	top, sum := math.Inf(-1), 0.0
	for h := range logs {
		logs[h] += math.Log(t.Prior[h])
		top = max(top, logs[h])
	}
	for h := range logs {
		chance[h] = math.Exp(logs[h] - top)
		sum += chance[h]
	}
	nats := 0.0
	left := 0
	for h := range logs {
		chance[h] /= sum
		plogp[h] = chance[h] * (logs[h] - top - math.Log(sum))
		nats -= plogp[h]
		if fails[h] == 0 {
			left++
		}
	}
	order := make([]int, n)
	for h := range order {
		order[h] = h
	}
	slices.SortFunc(order, func(a, c int) int { return cmp.Compare(chance[c], chance[a]) })
	for held, i := 0.0, 0; held < .95; i++ {
		held += chance[order[i]]
	}
	best := 0.0
	for f := range t.Features {
		if !seen[f] {
			best = max(best, nats-bareGain(&t.Features[f], chance, plogp))
		}
	}
	return figures{nats / math.Ln2, best / math.Ln2}
}

// bareGain is the entropy in nats that a look is expected to leave, outcome by outcome.
func bareGain(f *odds.Feature, chance, plogp []float64) float64 {
	mass, logs := make([]float64, len(f.Rows)), make([]float64, len(f.Rows))
	for h, r := range f.RowOf {
		mass[r] += chance[h]
		logs[r] += plogp[h]
	}
	z, zlogz := make([]float64, f.Outcomes), make([]float64, f.Outcomes)
	rest, restLog := 0.0, 0.0
	for r := range f.Rows {
		row := &f.Rows[r]
		if mass[r] == 0 {
			continue
		}
		share := func(p float64) (float64, float64) {
			if p == 0 {
				return 0, 0
			}
			return mass[r] * p, p * (logs[r] + mass[r]*math.Log(p))
		}
		a, c := share(row.Rest)
		rest, restLog = rest+a, restLog+c
		for _, cell := range row.Cells {
			x, y := share(cell.Chance)
			for v := cell.From; v <= cell.To; v++ {
				z[v] += x - a
				zlogz[v] += y - c
			}
		}
	}
	after := 0.0
	for v := range z {
		if all := z[v] + rest; all > 0 {
			after += all*math.Log(all) - (zlogz[v] + restLog)
		}
	}
	return after
}

// BenchmarkNew measures making the engine of 3,000 models and 84,000 claims
// against reading their records, in one run.
func BenchmarkNew(b *testing.B) {
	start := time.Now()
	ref := made.Reference(b, 3000)
	reading := time.Since(start)
	timeline, weights := chronology.Build(ref), provenance.Weigh(ref)
	for b.Loop() {
		dating.New(ref, timeline, weights)
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/float64(reading), "of-reading")
}
