package dating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
)

// reason puts an observation, its weight and its claims into words.
func (a *Answer) reason(e Evidence) Reason {
	r := Reason{Feature: e.Feature, Seen: a.values(e.Observation) + doubts[e.Sure], Weight: weight(e.Decibans), Grounds: []string{}}
	bow := a.engine.theBow(a.Best.Model, a.Best.Maker)
	if fits := a.fitsNone(e); fits != "" {
		r.Grounds = append(r.Grounds, fits)
	}
	if silence := a.silence(e, bow); silence != "" {
		r.Grounds = append(r.Grounds, silence)
	}
	for _, g := range deciding(e.Claims) {
		r.Grounds = append(r.Grounds, a.ground(g))
	}
	return r
}

// silence says of an observation that nobody speaks of it for the best bow and
// year, and why it moves the odds where it does; it is empty where somebody does.
func (a *Answer) silence(e Evidence, bow string) string {
	words, others := "Nobody says what "+bow+" had", "models"
	switch {
	case slices.ContainsFunc(e.Claims, func(g Ground) bool { return g.Holds }):
		return ""
	case len(e.Claims) > 0 || a.hasClaims(e.Feature):
		words, others = fmt.Sprintf("%s in %d", words, a.Best.Year), "years or models"
	}
	if math.Abs(e.Decibans) >= stillDecibans {
		return words + "; it weighs only because somebody does of other " + others + "."
	}
	return words + "."
}

// hasClaims says whether any claim of the best model is about the feature.
func (a *Answer) hasClaims(feature string) bool {
	m := a.engine.bowAt(a.Best.Model, a.Best.Maker)
	f, _ := a.engine.FeatureAt(feature)
	return len(a.engine.ClaimsAbout(m, f)) > 0
}

// fitsNone says of letters that match no recorded value what is recorded.
func (a *Answer) fitsNone(e Evidence) string {
	f := a.engine.feature(e.Feature)
	w, words := f.Domain.(*Wordings)
	if !words || len(w.Patterns) == 0 {
		return ""
	}
	for _, v := range e.Values {
		if outcomes, err := w.Observed(v); err != nil || outcomes[0] < len(w.Patterns) {
			return ""
		}
	}
	return "It fits nothing on record. Recorded: " + fewest(w.labels()) + "."
}

// fewest joins names, of many the first and a count.
func fewest(names []string) string {
	if len(names) > maxNamed+1 {
		names = append(slices.Clone(names[:maxNamed]), fmt.Sprintf("%d others", len(names)-maxNamed))
	}
	return english.And(names)
}

// deciding keeps the claims that hold in the best year, and those of the values
// seen in other years only where none of them holds in it.
func deciding(claims []Ground) []Ground {
	holds := slices.ContainsFunc(claims, func(g Ground) bool { return g.Seen && g.Holds })
	return slices.DeleteFunc(slices.Clone(claims), func(g Ground) bool { return holds && !g.Holds })
}

// ground says what a claim claims, who is cited, how many witnesses that makes
// where several citations go back to one, who says otherwise, how many witnesses
// that makes, and what settled it; then
// the words of the first place cited whose words are known.
func (a *Answer) ground(g Ground) string {
	but := ""
	if !g.Seen {
		but = "but "
	}
	cites := g.Claim.Citations()
	words := a.sources(cites)
	if words == "" {
		words = "nobody named"
	} else if g.Witnesses < len(cites) && g.Witnesses > 0 {
		words += " (" + witnesses(g.Witnesses) + ")"
	}
	if against := a.sources(g.Claim.Against); against != "" {
		words += ", against the word of " + against
		if g.Dissents < len(g.Claim.Against) && g.Dissents > 0 {
			words += " (" + witnesses(g.Dissents) + ")"
		}
	}
	if s := g.Claim.Settled; s != nil {
		words += ", settled"
		if s.Because.Value != "" {
			words += ": " + strings.TrimSuffix(s.Because.Value, ".")
		}
	} else if g.Claim.Disputed.Value || len(g.Claim.Against) > 0 {
		words += ", not settled"
	}
	return fmt.Sprintf("%s%s %s, by %s.%s", but, g.Label, g.Years, words, a.said(cites))
}

// said quotes the first of the cited places whose words are known.
func (a *Answer) said(cites []schema.Citation) string {
	for _, by := range cites {
		if who, words := SaidAt(a.engine.ref, by); words != "" {
			where := CitationWords(a.engine.ref, by) + " says"
			if who != "" {
				where = who + " says (" + CitationWords(a.engine.ref, by) + ")"
			}
			return " " + where + ": “" + strings.TrimSuffix(words, ".") + "”."
		}
	}
	return ""
}

func witnesses(n int) string {
	if n == 1 {
		return "one witness"
	}
	return fmt.Sprintf("%d independent witnesses", n)
}

// sources is sourceNames in the answer's reference.
func (a *Answer) sources(list []schema.Citation) string { return sourceNames(a.engine.ref, list) }

// sourceNames names who is cited, each once.
func sourceNames(ref *schema.Reference, list []schema.Citation) string {
	var parts []string
	for _, by := range list {
		if words := CitationWords(ref, by); !slices.Contains(parts, words) {
			parts = append(parts, words)
		}
	}
	return strings.Join(parts, "; ")
}
