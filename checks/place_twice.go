package checks

import (
	"strings"

	"yearmark/schema"
)

var placeTwice = Check{
	Name: "place-twice", Family: Provenance, Level: Warning,
	Meaning: "A source lists one place twice, in the same or in other letters (p. 2, page 2), and nothing tells the two apart: neither other words nor another part of the scan. Readers see it twice.",
	Example: `places:
  - {at: p. 2, says: "Risers of padauk"}
  - {at: page 2, says: "Risers of padauk"}
→ the place "page 2" is listed already, as "p. 2"`,
	Remedy: "Make one place of the two, with the words, the scan and the region; or write in each what stands there and not in the other.",
	Run: func(p *Pass) {
		for _, s := range p.Ref.Sources.All() {
			listed := map[string][]*schema.SourcePlace{}
			for _, place := range s.Places {
				key := place.Locator().Key()
				for _, earlier := range listed[key] {
					if !sameMatter(place, earlier) {
						continue
					}
					name := "the place " + quote(place.At.Value) + " is listed already"
					if place.At.Value != earlier.At.Value {
						name += ", as " + quote(earlier.At.Value)
					}
					p.Report(Finding{Pos: place.At.Pos, Message: name, Why: []Place{{Pos: earlier.At.Pos, Message: "it is listed here"}}})
					break
				}
				listed[key] = append(listed[key], place)
			}
		}
	},
}

// sameMatter says that two entries of one place could be one: whatever both give
// is the same in both.
func sameMatter(a, b *schema.SourcePlace) bool {
	for _, pair := range [][2]string{
		{strings.Join(strings.Fields(a.Says.Value), " "), strings.Join(strings.Fields(b.Says.Value), " ")},
		{a.Scan.Value, b.Scan.Value}, {a.Region.Written(), b.Region.Written()},
		{originOf(a), originOf(b)}, {a.Kind.Value, b.Kind.Value}, {a.Hedge.Value, b.Hedge.Value}, {a.CorrectedAt.Value, b.CorrectedAt.Value},
	} {
		if pair[0] != "" && pair[1] != "" && pair[0] != pair[1] {
			return false
		}
	}
	return true
}

// originOf tells what the writer saw from what the place took from elsewhere.
func originOf(p *schema.SourcePlace) string {
	if p.Own.Value {
		return "own"
	}
	var from []string
	for _, source := range p.ReliesOn {
		from = append(from, source.Value)
	}
	return strings.Join(from, ", ")
}
