package checks

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

var wordsAgainst = Check{
	Name: "words-against", Family: Provenance, Level: Warning,
	Meaning: "The words of the place cited name years, in full or as people write and say them (’72, sixty-six, the early sixties), and the claim can hold in none of them. Years that the words set aside (since, until, as in, unlike, or later) do not count, nor do places cited against the claim; a note on the claim answers it.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
→ the words at "list-1971, p. 9" name 1972, outside 1958–1971`,
	Remedy: "Look whether the right place is cited and the years are right; where the words mean something else, say so in the claim's note.",
	Run: func(p *Pass) {
		years := map[*schema.SourcePlace][]edtf.Years{}
		for c := range p.placesCited {
			if c.claim == nil || c.against || c.claim.Note.Value != "" {
				continue
			}
			held := p.yearsOf(c.claim)
			for _, place := range c.places {
				named, known := years[place]
				if !known {
					named = p.yearsNamed(place.Says.Value)
					years[place] = named
				}
				if place.CorrectedAt.Value != "" || len(named) == 0 || held.Empty() || slices.ContainsFunc(named, held.Overlaps) {
					continue
				}
				p.Report(Finding{
					Pos: c.cite.Pos, Message: fmt.Sprintf("the words at %s name %s, outside %s", quote(c.cite.String()), yearList(named), held.String()),
					Why: []Place{{Pos: place.At.Pos, Message: "the words are here"}}, Claims: []*schema.Claim{c.claim},
				})
			}
		}
	},
}

var (
	// asideBefore and asideAfter are what a year that is not the statement's own
	// is said with; common usage, no source.
	asideBefore = regexp.MustCompile(`(?i)\b(?:since|until|till|before|after|by|unlike|than|formerly|established|estd?\.?|founded|not|no longer|as in|as of|(?:list|catalogue|edition|bulletin|pattern) (?:of|for)|discontinued|withdrawn|ended?|of the)(?: (?:in|the|those of|end of|spring|summer|autumn|winter|january|february|march|april|may|june|july|august|september|october|november|december))*\s*$`)
	asideAfter  = regexp.MustCompile(`(?i)^(?: or (?:later|earlier|after|before)\b|[’']s\b| already\b|[ -]?(?:pattern|list|catalogue|edition|season[’']s)\b)`)
	// drawn says that figures of two digits after it may be pounds.
	drawn = regexp.MustCompile(`(?i)\b(?:draw|draws|drawing|weigh(?:s|ed|ing|ts?)?|pulls?|scale|pounds|lbs?)\b[^.;]*$`)
)

// yearsNamed gives the years that words state as their own, in order and once.
func (s *shared) yearsNamed(words string) []edtf.Years {
	var named []edtf.Years
	for _, m := range edtf.Mentions(words) {
		before, mention, after := words[max(0, m.From-40):m.From], words[m.From:m.To], words[m.To:]
		if m.Sure && !asideBefore.MatchString(before) && !asideAfter.MatchString(after) && (fourDigits.MatchString(mention) || !drawn.MatchString(before)) {
			named = append(named, s.yearsMentioned(mention)...)
		}
	}
	slices.SortFunc(named, func(a, b edtf.Years) int { return cmp.Or(cmp.Compare(a.A, b.A), cmp.Compare(a.D, b.D)) })
	return slices.CompactFunc(named, func(a, b edtf.Years) bool { return a.A == b.A && a.D == b.D })
}

// yearsMentioned gives what a mention of years may mean. One without its century is
// of any within the horizon.
func (s *shared) yearsMentioned(mention string) []edtf.Years {
	horizon := s.Ref.Horizon()
	var meant []edtf.Years
	for _, offer := range s.Ref.YearsInWords(mention) {
		e, err := edtf.Parse(offer.Write)
		if years := s.Ref.Years(schema.Span{Expr: e}); err == nil && (fourDigits.MatchString(mention) || years.Overlaps(edtf.OverRange(horizon))) {
			meant = append(meant, years)
		}
	}
	return meant
}

var fourDigits = regexp.MustCompile(`[0-9]{4}`)

func yearList(named []edtf.Years) string {
	words := make([]string, len(named))
	for i, y := range named {
		words[i] = edtf.Range{First: y.A, Last: y.D}.String()
	}
	return strings.Join(words, ", ")
}
