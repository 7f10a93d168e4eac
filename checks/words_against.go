package checks

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
)

var wordsAgainst = Check{
	Name: "words-against", Family: Provenance, Level: Warning,
	Meaning: "The words of the place cited name years, and the claim can hold in none of them. Years that the words set aside (since, until, as in, unlike, or later) do not count, nor do places cited against the claim; a note on the claim answers it.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
→ the words at "list-1971, p. 9" name 1972, outside 1958–1971`,
	Remedy: "Look whether the right place is cited and the years are right; where the words mean something else, say so in the claim's note.",
	Run: func(p *Pass) {
		for c := range p.placesCited {
			if c.claim == nil || c.against || c.claim.Note.Value != "" {
				continue
			}
			held := p.yearsOf(c.claim)
			for _, place := range c.places {
				years := yearsNamed(place.Says.Value)
				if place.CorrectedAt.Value != "" || len(years) == 0 || held.Empty() || slices.ContainsFunc(years, held.Possible) {
					continue
				}
				p.Report(Finding{
					Pos: c.cite.Pos, Message: fmt.Sprintf("the words at %s name %s, outside %s", quote(c.cite.String()), yearList(years), held.String()),
					Why: []Place{{Pos: place.At.Pos, Message: "the words are here"}}, Claims: []*schema.Claim{c.claim},
				})
			}
		}
	},
}

var (
	namedYear = regexp.MustCompile(`\b(?:1[89]|20)[0-9]{2}\b`)
	// asideBefore and asideAfter are what a year that is not the statement's own
	// is said with; common usage, no source.
	asideBefore = regexp.MustCompile(`(?i)\b(?:since|until|till|before|after|by|unlike|than|formerly|established|estd?\.?|founded|not|no longer|as in|as of|discontinued|withdrawn|ended?|of the)(?: (?:in|the|those of|end of|spring|summer|autumn|winter|january|february|march|april|may|june|july|august|september|october|november|december))*\s*$`)
	asideAfter  = regexp.MustCompile(`(?i)^(?: or (?:later|earlier|after|before)\b|s\b|[’']s\b|[ -]?(?:pattern|model|list|catalogue|edition|season[’']s)\b)`)
)

// yearsNamed gives the years that words state as their own, in order and once.
func yearsNamed(words string) []int {
	var years []int
	for _, at := range namedYear.FindAllStringIndex(words, -1) {
		before, after := words[max(0, at[0]-40):at[0]], words[at[1]:]
		if asideBefore.MatchString(before) || asideAfter.MatchString(after) {
			continue
		}
		year, _ := strconv.Atoi(words[at[0]:at[1]])
		if !slices.Contains(years, year) {
			years = append(years, year)
		}
	}
	slices.Sort(years)
	return years
}

func yearList(years []int) string {
	words := make([]string, len(years))
	for i, y := range years {
		words[i] = strconv.Itoa(y)
	}
	return strings.Join(words, ", ")
}
