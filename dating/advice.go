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
// maker is not to be confused with, what they never saw, and on how many they found
// what. It moves no odds.
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
	for _, r := range m.Counted {
		list = append(list, fmt.Sprintf("%s: %s (%s), of no year, which moves no odds.", valueWords(ref, r.Feature.Value, r.Value.Value), r.Words(), sourceNames(ref, r.Cites)))
	}
	return list
}

// neverSeen says what somebody never saw, and who.
func neverSeen(ref *schema.Reference, n *schema.NeverSeen) string {
	words := fmt.Sprintf("%s: %s (%s), which moves no odds", valueWords(ref, n.Feature.Value, n.Value.Value), ref.NeverSeenWords(n), sourceNames(ref, n.Cites))
	if by := sourceNames(ref, n.Against); by != "" {
		words += "; but see " + by
	}
	return words + "."
}

// valueWords names a feature and a value of it.
func valueWords(ref *schema.Reference, feature, value string) string {
	f, known := ref.Features.Get(feature)
	switch {
	case !known:
		return feature + " " + value
	case schema.FeatureKind(f.Kind.Value) == schema.Wording:
		return f.Title() + " “" + f.ClaimedName(value) + "”"
	}
	return f.Title() + " " + f.ValueName(value)
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

// AlikeWords says how to tell a model from another that it is easily taken for,
// one sentence each, as the model's own record has it; of gives the others' identifiers.
func AlikeWords(ref *schema.Reference, m *schema.Model) (words, of []string) {
	for _, r := range m.Related {
		other, known := ref.Models.Get(r.Model.Value)
		if !known || r.How.Value != schema.LookAlike {
			continue
		}
		tell := fmt.Sprintf("%s or %s? %s", m.Title(), other.Title(), strings.TrimRight(r.Tell.Value, "."))
		if by := sourceNames(ref, r.Cites); by != "" {
			tell += " (" + by + ")"
		}
		words, of = append(words, tell+"."), append(of, other.ID)
	}
	return words, of
}

// alike says how to tell models apart that are easily taken for each other and
// of which both are wanted.
func (a *Answer) alike(wanted func(one, other string) bool) []string {
	list := []string{}
	if a.engine.ref == nil || a.Impossible {
		return list
	}
	for _, m := range a.engine.ref.Models.All() {
		words, of := AlikeWords(a.engine.ref, m)
		for i, other := range of {
			if wanted(m.ID, other) {
				list = append(list, words[i])
			}
		}
	}
	return list
}

// alikeLikely is alike of models that are both in the 95 % set.
func (a *Answer) alikeLikely() []string {
	likely := map[string]bool{}
	for _, m := range a.Likely95 {
		likely[m.Model] = true
	}
	return a.alike(func(one, other string) bool { return likely[one] && likely[other] })
}

// practice is the advice of the one model asked for, and how to tell it from
// others; where several were asked for, or none, how to tell the likely ones apart.
func (a *Answer) practice() []string {
	if len(a.question.Models) != 1 || a.Best == nil || a.engine.ref == nil {
		return a.alikeLikely()
	}
	if m, known := a.engine.ref.Models.Get(a.Best.Model); known {
		return append(Advice(a.engine.ref, m), a.alike(func(one, other string) bool { return one == m.ID || other == m.ID })...)
	}
	return []string{}
}
