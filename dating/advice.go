package dating

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
)

// Advice is what practitioners say of bows of a model, a sentence each: what
// they look at first, on bows of this model or else of its maker, whom the
// maker is not to be confused with, and what they never saw. It moves no odds.
func Advice(ref *schema.Reference, m *schema.Model) []string {
	list := []string{}
	maker, _ := ref.Makers.Get(m.Maker.Value)
	if words := lookFirst(ref, m.LookFirst); words != "" {
		list = append(list, fmt.Sprintf("On the %s practitioners look first at %s.", m.Title(), words))
	} else if maker != nil {
		if words := lookFirst(ref, maker.LookFirst); words != "" {
			list = append(list, fmt.Sprintf("On bows of %s practitioners look first at %s.", maker.Title(), words))
		}
	}
	if maker != nil {
		list = append(list, NamesakeWords(ref, maker)...)
	}
	for _, n := range ref.NeverSeenOn(m) {
		list = append(list, neverSeen(ref, n))
	}
	return list
}

// neverSeen says what somebody never saw, and who.
func neverSeen(ref *schema.Reference, n *schema.NeverSeen) string {
	what := n.Feature.Value + " " + n.Value.Value
	if f, known := ref.Features.Get(n.Feature.Value); known {
		what = f.Title() + " " + f.ValueName(n.Value.Value)
		if schema.FeatureKind(f.Kind.Value) == schema.Wording {
			what = f.Title() + " “" + newPattern(n.Value.Value).Label + "”"
		}
	}
	words := fmt.Sprintf("%s: %s (%s), which moves no odds", what, ref.NeverSeenWords(n), sourceNames(ref, n.Cites))
	if by := sourceNames(ref, n.Against); by != "" {
		words += "; but see " + by
	}
	return words + "."
}

// lookFirst names features in their order, and who says so.
func lookFirst(ref *schema.Reference, hints []*schema.Hint) string {
	var names []string
	var cites []schema.Citation
	for _, h := range hints {
		name := h.Feature.Value
		if f, known := ref.Features.Get(name); known {
			name = "the " + schema.Lowered(f.Title())
		}
		names, cites = append(names, name), append(cites, h.Cites...)
	}
	words := strings.Join(names, ", then ")
	if by := sourcesOnce(ref, cites); words != "" && by != "" {
		words += " (" + by + ")"
	}
	return words
}

// sourcesOnce names who is cited, each source once with all its places.
func sourcesOnce(ref *schema.Reference, list []schema.Citation) string {
	var titles []string
	places := map[string][]string{}
	for _, by := range list {
		title := ref.CitationTitle(by)
		if !slices.Contains(titles, title) {
			titles = append(titles, title)
		}
		if by.Place != "" && !slices.Contains(places[title], by.Place) {
			places[title] = append(places[title], by.Place)
		}
	}
	for i, title := range titles {
		if at := places[title]; len(at) > 0 {
			titles[i] += ", " + english.And(at)
		}
	}
	return strings.Join(titles, "; ")
}

// NamesakeWords says whom a maker is not to be confused with, a sentence each.
func NamesakeWords(ref *schema.Reference, m *schema.Maker) []string {
	var list []string
	for _, n := range m.Namesakes {
		name := n.Name.Value
		if other, known := ref.Makers.Get(n.Maker.Value); known {
			name = other.Title()
		}
		words := fmt.Sprintf("%s is not to be confused with %s: %s", m.Title(), cmp.Or(name, n.Maker.Value), strings.TrimRight(n.Tell.Value, "."))
		if by := sourceNames(ref, n.Cites); by != "" {
			words += " (" + by + ")"
		}
		list = append(list, words+".")
	}
	return list
}

// MeaningWords says what a feature and its values are said to mean, a sentence
// each, in the record's order; where several speak of one value each stands by itself.
func MeaningWords(ref *schema.Reference, f *schema.Feature) []string {
	list := []string{}
	for _, m := range f.Means {
		of := f.Title()
		if m.Value.Value != "" {
			of += " " + f.ValueName(m.Value.Value)
		}
		by := sourceNames(ref, m.Cites)
		if m.By.Value != "" {
			by = m.By.Value + ", in " + by
		}
		list = append(list, fmt.Sprintf("%s means “%s”, says %s.", of, strings.TrimRight(m.Says.Value, "."), by))
	}
	return list
}

// practice is the advice of the one model asked for; none where several were, or none.
func (a *Answer) practice() []string {
	if len(a.question.Models) != 1 || a.Best == nil || a.engine.ref == nil {
		return []string{}
	}
	if m, known := a.engine.ref.Models.Get(a.Best.Model); known {
		return Advice(a.engine.ref, m)
	}
	return []string{}
}
