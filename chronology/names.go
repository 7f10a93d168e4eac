package chronology

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"yearmark/schema"
)

// names gives records the names that sentences use.
type names struct {
	ref    *schema.Reference
	proper map[string]bool // words that keep their capital inside a sentence
}

func newNames(ref *schema.Reference) *names {
	n := &names{ref: ref, proper: map[string]bool{}}
	for _, m := range ref.Makers.All() {
		n.keep(m.Name.Value)
		n.keep(m.Place.Value)
		for _, o := range m.Owners {
			n.keep(o.Name.Value)
		}
	}
	for _, m := range ref.Models.All() {
		n.keep(m.Name.Value)
	}
	return n
}

// keep makes the words of a proper name keep their capitals. A word that is
// not written with a capital there is left alone.
func (n *names) keep(name string) {
	for _, w := range strings.Fields(name) {
		if r, _ := utf8.DecodeRuneInString(w); unicode.IsUpper(r) {
			n.proper[word(w)] = true
		}
	}
}

// word strips what is not part of a word from both its ends, and an 's.
func word(s string) string {
	s = strings.TrimFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return strings.TrimSuffix(strings.TrimSuffix(s, "'s"), "’s")
}

// inSentence gives a name as it stands inside a sentence: "Oval mark" becomes
// "oval mark", "Halvane oval" and "GRP" stay.
func (n *names) inSentence(name string) string {
	first, _, _ := strings.Cut(name, " ")
	r, size := utf8.DecodeRuneInString(first)
	rest := first[size:]
	abbreviated := rest == "" || strings.ContainsFunc(rest, func(r rune) bool { return unicode.IsUpper(r) || unicode.IsDigit(r) })
	if !unicode.IsUpper(r) || abbreviated || n.proper[word(first)] {
		return name
	}
	return string(unicode.ToLower(r)) + name[size:]
}

// model names a model: "the Plover".
func (n *names) model(m *schema.Model) string { return "the " + orID(m.Name.Value, m.ID) }

// maker names a maker: "Halvane Archery".
func (n *names) maker(m *schema.Maker) string { return orID(m.Name.Value, m.ID) }

func orID(name, id string) string {
	if name == "" {
		return id
	}
	return name
}

// claim names what a claim is about: "the oval mark", "the second pattern",
// "the draw weight (30–55 lb)", "the Plover", "Halvane Archery".
func (n *names) claim(c *schema.Claim) string {
	switch c.About {
	case schema.AboutMade:
		return n.model(c.Model)
	case schema.AboutTrading:
		return n.maker(c.Maker)
	case schema.AboutOwner:
		return "the time of " + orID(c.Name.Value, c.ID.Value) + " at " + n.maker(c.Maker)
	case schema.AboutEra:
		return "the " + n.inSentence(orID(c.Name.Value, c.ID.Value))
	}
	f, ok := n.ref.Features.Get(c.FeatureID())
	if !ok {
		return `the claim "` + c.ID.Value + `"`
	}
	feature := n.inSentence(orID(f.Name.Value, f.ID))
	switch schema.FeatureKind(f.Kind.Value) {
	case schema.Figure:
		return "the " + feature + " (" + strings.Replace(c.Range.Written, "..", "–", 1) + ")"
	case schema.Wording:
		return "the " + feature + ` "` + c.Value.Value + `"`
	case schema.Presence:
		return presence(feature, c.Value.Value)
	}
	return n.value(feature, f.ValueName(c.Value.Value))
}

// presence names having a feature, or lacking it.
func presence(feature, value string) string {
	if value != schema.Absent {
		return "the " + feature
	}
	if strings.HasSuffix(feature, "s") && !strings.HasSuffix(feature, "ss") {
		return "the lack of " + feature
	}
	if strings.ContainsRune("aeiou", rune((feature + " ")[0])) {
		return "the lack of an " + feature
	}
	return "the lack of a " + feature
}

// value names a value of a feature: "the oval mark" where both names share a
// word, "the padauk riser wood" where they do not.
func (n *names) value(feature, value string) string {
	words := strings.Fields(value)
	if len(words) > 3 || strings.ContainsAny(value, `,;:()"`) {
		return "the " + feature + ` "` + value + `"`
	}
	value = n.inSentence(value)
	for _, w := range strings.Fields(feature) {
		for _, v := range words {
			if len(w) > 2 && strings.EqualFold(w, v) {
				return "the " + value
			}
		}
	}
	return "the " + value + " " + feature
}

// of names what a claim is about among claims of several models: "the oval
// mark of the Plover", "the oval mark of the models of Halvane".
func (n *names) of(c *schema.Claim) string {
	switch owner := ownerOf(c).(type) {
	case *schema.Model:
		if c.About != schema.AboutMade {
			return n.claim(c) + " of " + n.model(owner)
		}
	case *schema.Maker:
		return n.claim(c) + " of the models of " + n.maker(owner)
	}
	return n.claim(c)
}

// cited gives citations in brackets, "(List of 1964, p. 6; Letter, sheet 2)",
// or nothing where there is none.
func (n *names) cited(cites []schema.Citation) string {
	if len(cites) == 0 {
		return ""
	}
	words := make([]string, len(cites))
	for i, c := range cites {
		words[i] = n.ref.CitationTitle(c)
		if c.Place != "" {
			words[i] += ", " + c.Place
		}
	}
	return " (" + strings.Join(words, "; ") + ")"
}
