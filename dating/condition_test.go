package dating_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"yearmark/dating"
)

// conditionRecords: what glass the Knot had depended on its weight, and its tips on
// weight and core together; the Ruff has the maker's glass, whatever its weight.
var conditionRecords = map[string][]byte{
	"reference.yaml": []byte("name: Conditions\nyears: 1950/1969\njudgement:\n  unrecorded: 0\n  credence: {factory-paper: 0.9, letter: 0.5}\n  looseness: {usual: 0.1}\n"),
	"makers/works.md": []byte("---\nrecord: maker\nname: The Works\nfeatures:\n" +
		"  - {feature: glass, value: clear, when: {core: ash}, span: 1960/1963, except: [knot], cites: [ledger]}\n---\n"),
	"features/weight.md": []byte("---\nrecord: feature\nname: Weight\nkind: number\nunit: lb\nplausible: 20..60\nstep: 5\n---\n"),
	"features/core.md":   []byte("---\nrecord: feature\nname: Core\nkind: choice\nvalues: [{id: maple}, {id: ash}]\n---\n"),
	"features/glass.md":  []byte("---\nrecord: feature\nname: Glass\nkind: choice\nvalues: [{id: black}, {id: white}, {id: clear}]\n---\n"),
	"features/tips.md":   []byte("---\nrecord: feature\nname: Tips\nkind: choice\nvalues: [{id: horn}, {id: plastic}]\n---\n"),
	"models/knot.md": []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1960/1963, cites: [ledger]}\nfeatures:\n" +
		"  - {feature: core, value: maple, span: 1960/1961, cites: [ledger]}\n  - {feature: core, value: ash, span: 1961/1963, cites: [word]}\n" +
		"  - {feature: glass, value: black, when: {weight: ..39 lb}, span: 1961/1963, cites: [ledger]}\n" +
		"  - {feature: glass, value: white, when: {weight: 40.. lb}, span: 1960/1963, cites: [ledger]}\n" +
		"  - {feature: glass, value: clear, span: 1960, cites: [word]}\n" +
		"  - {feature: tips, value: horn, when: {weight: 30..50 lb, core: [maple]}, span: 1960/1963, cites: [ledger]}\n" +
		"  - {feature: tips, value: plastic, span: 1962/1963, cites: [word]}\n" +
		"specs:\n  - {spec: weight, range: 25..50 lb, span: 1960/1963, cites: [ledger]}\n---\n"),
	"models/ruff.md": []byte("---\nrecord: model\nname: Ruff\nmaker: works\nmade: {span: 1962/1963, cites: [ledger]}\nfeatures:\n  - {feature: core, value: ash, span: 1962/1963, cites: [ledger]}\n---\n"),
}

// said is a claim as the brute force takes it: outcomes, years, credence, and for
// which weights (in steps from 20 lb) and cores it holds.
type said struct {
	first, last, from, to int
	credence              float64
	when                  func(weight, core int) bool
}

func always(int, int) bool { return true }

// factory gives the chances of a feature's outcomes by the formulas of the package
// comment, from the claims that hold.
func factory(outcomes int, number bool, claims []said, year, weight, core int) []float64 {
	quiet, sum := make([]float64, outcomes), 0.0
	for v := range quiet {
		quiet[v] = 1
	}
	kappa := 1.0
	dense := make([]float64, outcomes)
	for _, c := range claims {
		if year < c.from || year > c.to || !c.when(weight, core) {
			continue
		}
		kappa *= 1 - c.credence
		if number {
			sum += c.credence
		}
		for v := c.first; v <= c.last; v++ {
			quiet[v] *= 1 - c.credence
			dense[v] += c.credence / float64(c.last-c.first+1)
		}
	}
	kappa = 1 - kappa
	if !number {
		for _, q := range quiet {
			sum += 1 - q
		}
	}
	list := make([]float64, outcomes)
	for v := range list {
		share := 0.0
		if sum > 0 && number {
			share = dense[v] / sum
		} else if sum > 0 {
			share = (1 - quiet[v]) / sum
		}
		list[v] = .9*(kappa*share+(1-kappa)/float64(outcomes)) + .1/float64(outcomes)
	}
	return list
}

// bruteForce gives the odds of every pair by going through all outcomes of all
// four features together.
func bruteForce(seen map[string][]int, sure map[string]float64) (odds map[string]float64, evidence float64) {
	type model struct {
		first, last               int
		weight, core, glass, tips []said
	}
	light := func(w, _ int) bool { return w <= 3 } // 20, 25, 30 and 35 lb
	models := map[string]model{
		"knot": {1960, 1963,
			[]said{{1, 6, 1960, 1963, .9, always}},
			[]said{{0, 0, 1960, 1961, .9, always}, {1, 1, 1961, 1963, .5, always}},
			[]said{{0, 0, 1961, 1963, .9, light}, {1, 1, 1960, 1963, .9, func(w, c int) bool { return w >= 4 }}, {2, 2, 1960, 1960, .5, always}},
			[]said{{0, 0, 1960, 1963, .9, func(w, c int) bool { return w >= 2 && w <= 6 && c == 0 }}, {1, 1, 1962, 1963, .5, always}}},
		"ruff": {1962, 1963, nil, []said{{1, 1, 1962, 1963, .9, always}},
			[]said{{2, 2, 1960, 1963, .9, func(w, c int) bool { return c == 1 }}}, nil},
	}
	noisy := func(feature string, chances []float64, v, outcomes int) float64 {
		// P(seen and v), summed over v elsewhere
		values, ok := seen[feature]
		if !ok {
			return chances[v]
		}
		s := sure[feature]
		right := 0.0
		if slices.Contains(values, v) {
			right = 1
		}
		return chances[v] * (s*right + (1-s)*float64(len(values))/float64(outcomes))
	}
	odds = map[string]float64{}
	for id, m := range models {
		for y := m.first; y <= m.last; y++ {
			total := 0.0
			weights, cores := factory(9, true, m.weight, y, 0, 0), factory(3, false, m.core, y, 0, 0)
			for w := range 9 {
				for c := range 3 {
					given := noisy("weight", weights, w, 9) * noisy("core", cores, c, 3)
					glass, tips := factory(4, false, m.glass, y, w, c), factory(3, false, m.tips, y, w, c)
					ofGlass, ofTips := 0.0, 0.0
					for v := range 4 {
						ofGlass += noisy("glass", glass, v, 4)
					}
					for v := range 3 {
						ofTips += noisy("tips", tips, v, 3)
					}
					total += given * ofGlass * ofTips
				}
			}
			odds[fmt.Sprint(id, y)] = total / float64(m.last-m.first+1)
			evidence += odds[fmt.Sprint(id, y)]
		}
	}
	for k := range odds {
		odds[k] /= evidence
	}
	return odds, evidence
}

var conditionValues = map[string][]string{
	"weight": {"20", "25", "30", "35", "40", "45", "50", "55", "60"}, "core": {"maple", "ash", "something-else"},
	"glass": {"black", "white", "clear", "something-else"}, "tips": {"horn", "plastic", "something-else"},
}

// TestConditionsByBruteForce draws observations and holds the odds against a sum
// over every outcome of every feature, which knows no classes.
func TestConditionsByBruteForce(t *testing.T) {
	e := engineOf(t, reference(t, conditionRecords))
	if n := len(e.Table().Dependences); n == 0 {
		t.Fatal("nothing depends on anything")
	}
	r := rand.New(rand.NewPCG(20, 9))
	for range 400 {
		q, seen, sure := dating.Question{}, map[string][]int{}, map[string]float64{}
		for _, feature := range []string{"tips", "weight", "glass", "core"} {
			if r.IntN(3) == 0 {
				continue
			}
			o := dating.Observation{Feature: feature, Sure: "sure"}
			sure[feature] = .98
			if r.IntN(3) == 0 {
				o.Sure, sure[feature] = "unsure", .6
			}
			for v, id := range conditionValues[feature] {
				if r.IntN(len(conditionValues[feature])) == 0 || len(o.Values) == 0 && v == len(conditionValues[feature])-1 {
					o.Values, seen[feature] = append(o.Values, id), append(seen[feature], v)
				}
			}
			q.Observed = append(q.Observed, o)
		}
		a, err := e.Date(q)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := bruteForce(seen, sure)
		for _, o := range a.Odds {
			if w := want[fmt.Sprint(o.Model, o.Year)]; math.Abs(o.Chance-w) > 1e-9 {
				t.Fatalf("%+v: %+v, want %v", q.Observed, o, w)
			}
		}
		// what a further look would tell: the fall of entropy, by brute force
		for _, l := range a.Suggestion {
			if got, want := l.Bits, expectedFall(seen, sure, l.Feature, want); math.Abs(got-want) > 1e-9 {
				t.Fatalf("%+v: a look at %s tells %v bits, want %v", q.Observed, l.Feature, got, want)
			}
		}
	}
}

// expectedFall sums over what a sure look may show.
func expectedFall(seen map[string][]int, sure map[string]float64, feature string, now map[string]float64) float64 {
	entropy := func(odds map[string]float64) (h float64) {
		for _, p := range odds {
			if p > 0 {
				h -= p * math.Log2(p)
			}
		}
		return h
	}
	fall := entropy(now)
	for v := range conditionValues[feature] {
		with, be := map[string][]int{feature: {v}}, map[string]float64{feature: 1}
		for f := range seen {
			with[f], be[f] = seen[f], sure[f]
		}
		after, together := bruteForce(with, be)
		_, alone := bruteForce(seen, sure)
		fall -= together / alone * entropy(after)
	}
	return fall
}

// TestConditionsStrictly: by hand. A light Knot of 1961 has black glass, a heavy
// one white; together at their word only a class that both leave will do.
func TestConditionsStrictly(t *testing.T) {
	e := engineOf(t, reference(t, conditionRecords))
	for ask, want := range map[string]string{
		"weight=30 glass=black":              "[{knot  [1961 1962 1963]}] []",
		"weight=45 glass=white":              "[{knot  [1960 1961 1962 1963]}] []",
		"weight=45 glass=black":              "[] [[weight glass]]",
		"weight=30,45 glass=black":           "[{knot  [1961 1962 1963]}] []",
		"weight=45 tips=horn core=maple":     "[{knot  [1960 1961]}] []",
		"weight=45 tips=horn core=ash":       "[{knot  [1961]}] []", // nobody says what an ash one had then
		"glass=white tips=horn":              "[{knot  [1960 1961]}] []",
		"glass=black weight=30 tips=plastic": "[{knot  [1961 1962 1963]}] []",
	} {
		q := dating.Question{Models: []string{"knot"}}
		for part := range strings.FieldsSeq(ask) {
			feature, values, _ := strings.Cut(part, "=")
			q.Observed = append(q.Observed, dating.Observation{Feature: feature, Values: strings.Split(values, ",")})
		}
		a, err := e.Date(q)
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprint(a.Strict.Years, a.Strict.Conflicts); got != want {
			t.Errorf("%s: %s, want %s", ask, got, want)
		}
	}
}

// TestConditionsTeach: by hand. A dated light Knot with white glass teaches what
// light ones of its year have, and nothing of heavy ones: with a weight of 1 and no
// blur, white of a light one of 1962 has (P + 1) / 2.
func TestConditionsTeach(t *testing.T) {
	records := map[string][]byte{"examples/1.md": []byte("---\nrecord: example\nmodel: knot\nobserved:\n  - {feature: glass, value: white}\n  - {feature: weight, value: \"30\"}\ndocumented: {span: 1962, cites: [ledger]}\n---\n")}
	for name, text := range conditionRecords {
		records[name] = text
	}
	records["reference.yaml"] = append(slices.Clone(conditionRecords["reference.yaml"]), "  teach: off\n"...)
	plain := engineOf(t, reference(t, records))
	records["reference.yaml"] = append(slices.Clone(conditionRecords["reference.yaml"]), "  teach: {weight: 1, years: 0, steps: 0}\n"...)
	taught := engineOf(t, reference(t, records))
	white := func(e *dating.Engine, world int) (chance float64) { // of weight: to 25, to 35, to 50, to 60 lb
		glass, _ := e.FeatureAt("glass")
		for _, d := range e.Table().Dependences {
			for _, of := range d.Dependents {
				if of.Feature != glass || e.Table().Years[d.Pairs[0].Start] != 1962 || len(of.Rows) != 4 {
					continue
				}
				row := &e.Table().Features[glass].Rows[of.Rows[world]]
				chance = row.Rest
				for _, c := range row.Cells {
					if c.From <= 1 && 1 <= c.To {
						chance = c.Chance
					}
				}
			}
		}
		return chance
	}
	const light, heavy = 1, 2
	if was, is := white(plain, light), white(taught, light); math.Abs(is-(was+1)/2) > 1e-9 || was == 0 {
		t.Errorf("light: %v, was %v", is, was)
	}
	if was, is := white(plain, heavy), white(taught, heavy); math.Abs(is-was) > 1e-9 || was == 0 {
		t.Errorf("heavy: %v, was %v", is, was)
	}
}
