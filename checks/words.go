package checks

import (
	"cmp"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"yearmark/schema"
)

// most is how many citations or places are named before the rest are counted.
const most = 3

// quote puts a user's own words in quotation marks and cuts very long ones.
func quote(s string) string {
	const longest = 60
	if utf8.RuneCountInString(s) > longest {
		s = string([]rune(s)[:longest]) + "…"
	}
	return `"` + s + `"`
}

// subject names what a claim is about, as it stands in the middle of a
// sentence: "riser wood", "the era", "the made span".
func (s *shared) subject(c *schema.Claim) string {
	switch c.About {
	case schema.AboutFeature, schema.AboutSpec:
		return s.featureName(c.FeatureID())
	case schema.AboutEra:
		return "the era"
	case schema.AboutMade:
		return "the made span"
	case schema.AboutTrading:
		return "trading"
	}
	return "the owner"
}

// featureName is a feature's name in the middle of a sentence.
func (s *shared) featureName(id string) string {
	if f, ok := s.Ref.Features.Get(id); ok && f.Title() != "" {
		return midSentence(f.Title())
	}
	return quote(id)
}

// midSentence takes the capital off a first word, unless more of it is in capitals.
func midSentence(name string) string {
	first, size := utf8.DecodeRuneInString(name)
	second, _ := utf8.DecodeRuneInString(name[size:])
	if unicode.IsUpper(first) && unicode.IsLower(second) {
		return string(unicode.ToLower(first)) + name[size:]
	}
	return name
}

// stated is what a claim states, in the record's words: the value, the range,
// the name of an era or owner.
func stated(c *schema.Claim) string {
	switch c.About {
	case schema.AboutFeature:
		return quote(c.Value.Value)
	case schema.AboutSpec:
		return quote(c.Range.Written)
	case schema.AboutEra:
		return quote(cmp.Or(c.Name.Value, c.ID.Value))
	case schema.AboutOwner:
		return quote(c.Name.Value)
	}
	return ""
}

// what names the claim in full: `riser wood "padauk"`, "the made span".
func (s *shared) what(c *schema.Claim) string {
	return strings.TrimSpace(s.subject(c) + " " + stated(c))
}

// sources lists citations by the names of their sources, each with its places.
func (s *shared) sources(cites []schema.Citation) []string {
	var words []string
	for i, c := range cites {
		if i == most && len(cites) > most+1 {
			return append(words, fmt.Sprintf("%d more", len(cites)-most))
		}
		words = append(words, s.cite(c))
	}
	return words
}

// cite names a citation for people: "the list of 1966, cover".
func (s *shared) cite(c schema.Citation) string {
	if c.Place == "" {
		return s.Ref.CitationTitle(c)
	}
	return s.Ref.CitationTitle(c) + ", " + c.Place
}

// says begins a sentence with who is cited: "Price list 1966, cover, says".
func (s *shared) says(cites []schema.Citation) string {
	words := s.sources(cites)
	switch {
	case len(words) == 0:
		return "the record, citing nobody, says"
	case len(cites) > 1 && cites[len(cites)-1].Place != "" && len(words) == len(cites):
		return strings.Join(words, "; ") + ", say"
	case len(cites) > 1:
		return strings.Join(words, "; ") + " say"
	case cites[0].Place != "":
		return words[0] + ", says"
	}
	return words[0] + " says"
}

// side tells one claim with its citations, as a place among others.
func (s *shared) side(c *schema.Claim) Place {
	credence := s.Weighing.Of(c).Credence
	claimed := s.what(c) + " for"
	switch c.About {
	case schema.AboutMade:
		claimed = "it was made in"
	case schema.AboutTrading:
		claimed = "it traded in"
	}
	return Place{Pos: at(c), Message: fmt.Sprintf("%s %s %s", s.says(citations(c)), claimed, s.yearsOf(c)), Credence: &credence}
}

// at is the place of a claim's years, or of the claim where none are written.
func at(c *schema.Claim) schema.Pos {
	switch {
	case !c.Span.Pos.IsZero():
		return c.Span.Pos
	case !c.Era.Pos.IsZero():
		return c.Era.Pos
	case len(c.Attested) > 0 && !c.Attested[0].Year.Pos.IsZero():
		return c.Attested[0].Year.Pos
	}
	return c.Pos
}

// subjectPos is the place where a claim names what it is about.
func subjectPos(c *schema.Claim) schema.Pos {
	for _, t := range []schema.Text{c.Feature, c.Spec, c.Name, c.ID} {
		if !t.Pos.IsZero() {
			return t.Pos
		}
	}
	return at(c)
}

// withArticle puts "a" or "an" before a word.
func withArticle(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}
