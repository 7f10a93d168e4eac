// Package made makes up references of any size for measuring: their models,
// features and claims are drawn by a generator that always gives the same.
package made

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
)

// Features are the features of every made-up reference, fourteen of them.
var Features = []string{
	"bow-length", "brace-height", "draw-weight", "fixing", "glass", "grip", "handle", "mark", "medallion",
	"serial", "socket", "stripe", "tips", "wood",
}

// Choices says how many values each choice has.
var Choices = map[string]int{"fixing": 3, "glass": 8, "grip": 6, "handle": 6, "mark": 12, "stripe": 4, "tips": 5, "wood": 9}

// Reference makes up a reference of so many models, about fourteen years and
// thirty claims each, some of them with conditions.
func Reference(t testing.TB, models int) *schema.Reference {
	t.Helper()
	folder := fstest.MapFS{}
	put := func(name, text string) { folder[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644} }
	put("reference.yaml", "name: Made up\nyears: 1930/1985\n")
	for i := range 1 + models/20 {
		put(fmt.Sprintf("makers/maker-%d.md", i), fmt.Sprintf("---\nrecord: maker\nname: Maker %d\n---\n", i))
	}
	for i, kind := range []string{"catalogue", "price-list", "letter", "book", "recollection"} {
		put(fmt.Sprintf("sources/source-%d.md", i), fmt.Sprintf("---\nrecord: source\nname: Source %d\nkind: %s\n---\n", i, kind))
	}
	for _, f := range Features {
		put("features/"+f+".md", "---\nrecord: feature\nname: "+f+"\n"+featureKind(f)+"---\n")
	}
	r := rand.New(rand.NewPCG(1930, 1985))
	for m := range models {
		put(fmt.Sprintf("models/model-%04d.md", m), model(r, m))
	}
	ref, problems, err := schema.ReadFS(folder, "made up")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Fatalf("%s: %s", p.Pos, p.Message)
	}
	return ref
}

// Engine makes the engine of a made-up reference.
func Engine(t testing.TB, models int) *dating.Engine {
	t.Helper()
	ref := Reference(t, models)
	return dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))
}

func featureKind(f string) string {
	switch f {
	case "bow-length":
		return "kind: number\nunit: in\nplausible: 40..80\nstep: 1/4\n"
	case "brace-height":
		return "kind: number\nunit: in\nplausible: 5..10\nstep: 1/8\neffort: measure\n"
	case "draw-weight":
		return "kind: number\nunit: lb\nplausible: 10..80\nstep: 1\n"
	case "serial":
		return "kind: text\n"
	case "medallion", "socket":
		return "kind: presence\naltered: {to: [present], chance: 0.1}\n"
	}
	values := make([]string, Choices[f])
	for i := range values {
		values[i] = fmt.Sprintf("{id: v%d, name: Value %d}", i, i)
	}
	return "kind: choice\nvalues: [" + strings.Join(values, ", ") + "]\n"
}

// model writes one model's record.
func model(r *rand.Rand, m int) string {
	first := 1932 + r.IntN(36)
	last := first + 8 + r.IntN(13)
	var b strings.Builder
	fmt.Fprintf(&b, "---\nrecord: model\nname: Model %d\nmaker: maker-%d\nmade: {span: %d/%d, cites: [\"source-1, p. 1\"]}\nfeatures:\n", m, m/20, first, last)
	for _, f := range Features {
		switch {
		case Choices[f] > 0:
			spans(r, first, last, func(a, b2 int, span string) {
				fmt.Fprintf(&b, "  - {feature: %s, value: v%d, span: %q, cites: [%q]%s}\n", f, r.IntN(Choices[f]), span, cite(r), condition(f, m))
			})
		case f == "socket" || f == "medallion":
			change := first + r.IntN(last-first+1)
			fmt.Fprintf(&b, "  - {feature: %s, value: absent, span: %d/%d, cites: [%q]}\n", f, first, change, cite(r))
			fmt.Fprintf(&b, "  - {feature: %s, value: present, span: %d/%d, cites: [%q]}\n", f, change, last, cite(r))
		case f == "serial" && m%3 == 0:
			fmt.Fprintf(&b, "  - {feature: serial, value: \"^[A-F]%d[0-9]{2}$\", span: %d/%d, cites: [%q]}\n", m, first, last, cite(r))
		case f == "serial":
			fmt.Fprintf(&b, "  - {feature: serial, value: \"H-%d\", span: %d/%d, cites: [%q]}\n", m, first, last, cite(r))
		}
	}
	b.WriteString("specs:\n")
	low := 20 + r.IntN(20)
	spans(r, first, last, func(_, _ int, span string) {
		fmt.Fprintf(&b, "  - {spec: draw-weight, range: %d..%d lb, span: %q, cites: [%q]}\n", low, low+15+r.IntN(10), span, cite(r))
	})
	fmt.Fprintf(&b, "  - {spec: brace-height, range: 7 1/4..%d 3/4 in, span: %d/%d, cites: [%q]}\n", 7+r.IntN(2), first, last, cite(r))
	fmt.Fprintf(&b, "  - {spec: bow-length, range: %d in, span: %d/%d, cites: [%q]}\n---\n", 52+2*r.IntN(9), first, last, cite(r))
	return b.String()
}

// condition makes the tips of every fifth model depend on its glass.
func condition(f string, m int) string {
	if f != "tips" || m%5 != 0 {
		return ""
	}
	return ", when: {glass: [v0, v1, v2]}"
}

func cite(r *rand.Rand) string { return fmt.Sprintf("source-%d, p. %d", r.IntN(5), 1+r.IntN(40)) }

// spans cuts a life into two to four stretches, some of them approximate.
func spans(r *rand.Rand, first, last int, each func(a, b int, span string)) {
	for a := first; a <= last; {
		b := min(last, a+2+r.IntN(6))
		span := fmt.Sprintf("%d/%d", a, b)
		if r.IntN(5) == 0 {
			span = fmt.Sprintf("%d~/%d", a, b)
		}
		each(a, b, span)
		a = b + 1
	}
}

// Observed is a bow with six of its features seen, drawn from the engine's own claims.
func Observed(e *dating.Engine, r *rand.Rand) dating.Question {
	var q dating.Question
	m := r.IntN(len(e.Table().Models))
	for _, f := range r.Perm(len(e.Features())) {
		feature := &e.Features()[f]
		claims := e.ClaimsAbout(m, f)
		domain, ok := feature.Domain.(*dating.Values)
		if !ok || len(claims) == 0 {
			continue
		}
		v := claims[r.IntN(len(claims))]
		q.Observed = append(q.Observed, dating.Observation{Feature: feature.ID, Values: []string{domain.IDs[v.First]}})
		if len(q.Observed) == 6 {
			break
		}
	}
	return q
}
