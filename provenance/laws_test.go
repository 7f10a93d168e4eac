package provenance

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
)

// library draws a shelf of sources, some relying on others in any way, and a
// claim that cites some of them.
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

// standing weighs the claim of a library.
func (l library) standing(t testing.TB) Standing {
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
		before, after := l.standing(t), l.with("new", "kind: "+string(kind)).standing(t)
		if len(after.For) != len(before.For)+1 {
			r.Fatalf("%d witnesses became %d", len(before.For), len(after.For))
		}
		if after.CreditFor < before.CreditFor || after.CreditFor > 1 {
			r.Fatalf("%g became %g", before.CreditFor, after.CreditFor)
		}
	})
}

func TestACopyIsNoWitness(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		of := rapid.SampledFrom(l.cites).Draw(r, "copied")
		before, after := l.standing(t), l.with("copy", "kind: factory-paper\nrelies-on: ["+of+"]").standing(t)
		if len(after.For) != len(before.For) {
			r.Fatalf("%s became %s", names(before.For), names(after.For))
		}
		if after.CreditFor != before.CreditFor || after.Credence != before.Credence {
			r.Fatalf("%g became %g", before.CreditFor, after.CreditFor)
		}
	})
}

// The ways agree with a search through every path there is.
func TestTheBestWayIsTheBest(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		ref := book{sources: l.sources, claims: []string{"span: 1965, cites: [list]"}}.reference(t)
		w := Weigh(ref)
		for id := range l.sources {
			for _, witness := range w.Origins(id) {
				if witness.Origin.Ring != nil {
					continue
				}
				best := 0.0
				everyPath(ref, id, witness.Origin.ID(), map[string]bool{}, 1, &best)
				if witness.Credence != best {
					r.Fatalf("from %s to %s the best way is worth %g, not %g", id, witness.Origin.ID(), best, witness.Credence)
				}
				if via := witness.Via[0]; via[0] != id || via[len(via)-1] != witness.Origin.ID() || lowest(ref, via) != best {
					r.Fatalf("the way %v from %s is not worth %g", via, id, best)
				}
			}
		}
	})
}

func everyPath(ref *schema.Reference, at, to string, seen map[string]bool, lowest float64, best *float64) {
	s, _ := ref.Sources.Get(at)
	lowest = min(lowest, ref.Settings.Judgement.Credence[schema.SourceKind(s.Kind.Value)].Value)
	if at == to {
		*best = max(*best, lowest)
		return
	}
	seen[at] = true
	for _, next := range s.ReliesOn {
		if !seen[next.Value] {
			everyPath(ref, next.Value, to, seen, lowest, best)
		}
	}
	delete(seen, at)
}

func lowest(ref *schema.Reference, via []string) float64 {
	least := 1.0
	for _, id := range via {
		s, _ := ref.Sources.Get(id)
		least = min(least, ref.Settings.Judgement.Credence[schema.SourceKind(s.Kind.Value)].Value)
	}
	return least
}
