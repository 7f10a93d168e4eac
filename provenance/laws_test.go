package provenance

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
)

// library draws sources, some relying on others in any way, and a claim that
// cites some of them.
type library struct {
	sources map[string]string
	cites   []string
	against []string
}

func drawLibrary(t *rapid.T) library {
	n := rapid.IntRange(1, 9).Draw(t, "sources")
	l := library{sources: map[string]string{"list": "kind: price-list"}}
	ids := make([]string, n)
	for i := range ids {
		ids[i] = fmt.Sprintf("s%d", i)
	}
	pick := rapid.SliceOfNDistinct(rapid.SampledFrom(ids), 0, min(n, 3), rapid.ID)
	for _, id := range ids {
		kind := rapid.SampledFrom(schema.SourceKinds).Draw(t, "kind")
		l.sources[id] = fmt.Sprintf("kind: %s\nrelies-on: [%s]", kind, strings.Join(pick.Draw(t, "relies on"), ", "))
	}
	l.cites = rapid.SliceOfNDistinct(rapid.SampledFrom(ids), 1, n, rapid.ID).Draw(t, "cites")
	l.against = pick.Draw(t, "against")
	return l
}

// assessment weighs the claim of a library.
func (l library) assessment(t testing.TB) Assessment {
	text := "span: 1965, cites: [" + strings.Join(l.cites, ", ") + "], against: [" + strings.Join(l.against, ", ") + "]"
	ref := book{sources: l.sources, claims: []string{text}}.reference(t)
	return Weigh(ref).Of(claim(t, ref, "c0"))
}

func (l library) with(id, keys string) library {
	more := library{sources: map[string]string{id: keys}, cites: append([]string{id}, l.cites...), against: l.against}
	for k, v := range l.sources {
		more.sources[k] = v
	}
	return more
}

func TestOneMoreWitnessNeverLowers(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		kind := rapid.SampledFrom(schema.SourceKinds).Draw(r, "new kind")
		before, after := l.assessment(t), l.with("new", "kind: "+string(kind)).assessment(t)
		if after.For.Witnesses != before.For.Witnesses+1 {
			r.Fatalf("%d witnesses became %d", before.For.Witnesses, after.For.Witnesses)
		}
		if after.For.Chance < before.For.Chance || after.For.Chance > 1 || after.Credence < before.Credence-1e-12 || after.Credence > 1 {
			r.Fatalf("%+v became %+v", before, after)
		}
	})
}

func TestACopyIsNoWitness(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		of := rapid.SampledFrom(l.cites).Draw(r, "copied")
		before, after := l.assessment(t), l.with("copy", "kind: factory-paper\nrelies-on: ["+of+"]").assessment(t)
		if after.For.Witnesses != before.For.Witnesses {
			r.Fatalf("%d witnesses became %d", before.For.Witnesses, after.For.Witnesses)
		}
		near(t, "the chance for it", after.For.Chance, before.For.Chance)
		near(t, "the credence", after.Credence, before.Credence)
	})
}

func TestNoOrderMatters(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		turned := l
		turned.cites, turned.against = slices.Clone(l.cites), slices.Clone(l.against)
		slices.Reverse(turned.cites)
		slices.Reverse(turned.against)
		if a, b := l.assessment(t), turned.assessment(t); a != b {
			r.Fatalf("%+v, in another order %+v", a, b)
		}
	})
}

// The chance that a claim is believed by is at most that of the sources cited,
// were all that they rely on certain.
func TestNothingIsBelievedMoreThanWhatCarriesIt(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		ref := book{sources: l.sources, claims: []string{"span: 1965, cites: [list]"}}.reference(t)
		none := 1.0
		for _, id := range l.cites {
			s, _ := ref.Sources.Get(id)
			none *= 1 - ref.SourceCredence(s)
		}
		if a := l.assessment(t); a.For.Chance > 1-none+1e-12 || a.Credence > a.For.Chance+1e-12 {
			r.Fatalf("%+v, of %g at most", a, 1-none)
		}
	})
}

// byStates weighs the claim of a library from its definition: it goes through
// every state of the sources (wrong, right, or right about one side where both
// cite them) and looks in each whether a side has a way of sources that are right.
func (l library) byStates(ref *schema.Reference) (pro, credence float64) {
	sources := ref.Sources.All()
	state := map[string]int{} // 0 wrong, 1 right, 2 right for it, 3 right against it
	var leads func(id string, side int, seen map[string]bool) bool
	leads = func(id string, side int, seen map[string]bool) bool {
		if seen[id] || state[id] != 1 && state[id] != side {
			return false
		}
		seen[id] = true
		s, _ := ref.Sources.Get(id)
		if len(s.ReliesOn) == 0 {
			return true
		}
		return slices.ContainsFunc(s.ReliesOn, func(name schema.Text) bool { return leads(name.Value, side, seen) })
	}
	side := func(cites []string, side int) bool {
		seen := map[string]bool{}
		return slices.ContainsFunc(cites, func(id string) bool { return leads(id, side, seen) })
	}
	var proOnly, both float64
	var walk func(i int, p float64)
	walk = func(i int, p float64) {
		if i == len(sources) {
			f, a := side(l.cites, 2), side(l.against, 3)
			if f {
				pro += p
			}
			if f && a {
				both += p
			} else if f {
				proOnly += p
			}
			return
		}
		id := sources[i].ID
		r := ref.SourceCredence(sources[i])
		choices := map[int]float64{0: 1 - r, 1: r}
		if slices.Contains(l.cites, id) && slices.Contains(l.against, id) {
			choices = map[int]float64{0: 1 - r, 2: r / 2, 3: r / 2}
		}
		for s, q := range choices {
			state[id] = s
			walk(i+1, p*q)
		}
	}
	walk(0, 1)
	return pro, proOnly / (1 - both)
}

func TestAssessmentIsBruteForce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		pro, credence := l.byStates(book{sources: l.sources, claims: []string{"span: 1965, cites: [list]"}}.reference(t))
		a := l.assessment(t)
		near(t, "the chance for it", a.For.Chance, pro)
		if math.Abs(a.Credence-credence) > 1e-9 { // a quotient, whose divisor may be a thousandth: rounding grows as much
			t.Errorf("the credence is %v, want %v", a.Credence, credence)
		}
	})
}

// Worked by hand: a list is believed .97. Cited for each of two claims that
// contradict each other it is right about one, each as likely; of three that all
// do, a third; of three of which two do not contradict each other, two at a time.
func TestOneSourceForClaimsThatContradict(t *testing.T) {
	claims := []string{"span: 1965, cites: [list]", "span: 1966, cites: [list]", `span: 1967, cites: ["list, p. 3", cat]`, "span: 1968, cites: [cat]",
		`span: 1969, cites: [list], settled: {because: x, over: [c0]}`}
	ref := book{sources: shelf(), claims: claims}.reference(t)
	at := func(i int) *schema.Claim { return claim(t, ref, fmt.Sprintf("c%d", i)) }
	pair := func(i, j int) [2]*schema.Claim { return [2]*schema.Claim{at(i), at(j)} }
	for _, row := range []struct {
		name  string
		pairs [][2]*schema.Claim
		want  []float64
	}{
		{"none", nil, []float64{.97, .97, 1 - .03*.02, .98, .97}},
		{"two", [][2]*schema.Claim{pair(0, 1)}, []float64{.97 / 2, .97 / 2, 1 - .03*.02, .98, .97}},
		{"three", [][2]*schema.Claim{pair(0, 1), pair(1, 2), pair(2, 0)}, []float64{.97 / 3, .97 / 3, 1 - (1-.97/3)*.02, .98, .97}},
		{"two beside one", [][2]*schema.Claim{pair(0, 1), pair(2, 0)}, []float64{.97 / 2, .97 / 2, 1 - (1-.97/2)*.02, .98, .97}},
		{"no source in common", [][2]*schema.Claim{pair(0, 3)}, []float64{.97, .97, 1 - .03*.02, .98, .97}},
		{"settled", [][2]*schema.Claim{pair(0, 4)}, []float64{.97 / 2, .97, 1 - .03*.02, .98, .97}},
	} {
		w := Weigh(ref, row.pairs...)
		for i, want := range row.want {
			near(t, fmt.Sprintf("%s: c%d", row.name, i), w.Of(at(i)).Credence, want)
		}
		skip := func(c schema.Citation) bool { return c.Source == "list" && c.Place == "p. 3" }
		without, anew := w.Without(skip, "list"), WeighWithout(ref, skip, row.pairs...)
		for i := range claims {
			near(t, fmt.Sprintf("%s: c%d without p. 3", row.name, i), without.Of(at(i)).Credence, anew.Of(at(i)).Credence)
		}
	}
}
