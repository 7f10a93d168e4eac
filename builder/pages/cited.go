package pages

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"yearmark/schema"
)

// citedSource is all that cites one source or example, place by place.
type citedSource struct {
	Places []*citedPlace // in the order of a reader turning pages
	byName map[string]*citedPlace
}

// citedPlace is one place in a source and the statements that rest on it.
type citedPlace struct {
	Name   string // as cited, "p. 6"; empty where no place was given
	Anchor string // its identifier on the source's page
	Uses   []use
}

// use is one citation seen from the source. One of the pointers is set.
type use struct {
	Against bool
	Claim   *schema.Claim
	Year    int           // of a sighting, else 0
	Model   *schema.Model // an order, a relation or an output figure of this model
	Maker   *schema.Maker // an order or the weight marks of this maker
	Example *schema.Example
	What    string // what is said, where it is no claim
}

// citedSources turns every citation of the reference round.
func citedSources(ref *schema.Reference) map[string]*citedSource {
	g := gatherer{}
	for _, m := range ref.Makers.All() {
		for _, c := range m.Claims() {
			g.claim(c)
		}
		if m.WeightMarks != nil {
			g.all(m.WeightMarks.Cites, use{Maker: m, What: "how its draw weights are stamped"})
		}
		for _, o := range m.Order {
			g.order(o, use{Maker: m})
		}
	}
	for _, m := range ref.Models.All() {
		g.model(m)
	}
	for _, e := range ref.Examples.All() {
		if e.Documented != nil {
			g.all(e.Documented.Cites, use{Example: e, What: "its year"})
		}
	}
	for _, s := range g {
		s.arrange()
	}
	return g
}

type gatherer map[string]*citedSource

func (g gatherer) model(m *schema.Model) {
	for _, c := range m.Claims() {
		g.claim(c)
	}
	for _, o := range m.Order {
		g.order(o, use{Model: m})
	}
	for _, r := range m.Related {
		g.all(r.Cites, use{Model: m, What: "its kin"})
	}
	for _, o := range m.Output {
		g.all(o.Cites, use{Model: m, What: "how many were made"})
	}
}

func (g gatherer) claim(c *schema.Claim) {
	g.all(c.Cites, use{Claim: c})
	g.all(c.Against, use{Claim: c, Against: true})
	for _, a := range c.Attested {
		g.all(a.Cites, use{Claim: c, Year: a.Year.Value})
	}
}

func (g gatherer) order(o *schema.Order, u use) {
	u.What = "what came before what"
	g.all(o.Cites, u)
	u.Against = true
	g.all(o.Against, u)
}

func (g gatherer) all(cites []schema.Citation, u use) {
	for _, c := range cites {
		s := g[c.Source]
		if s == nil {
			s = &citedSource{byName: map[string]*citedPlace{}}
			g[c.Source] = s
		}
		place := s.byName[c.Place]
		if place == nil {
			place = &citedPlace{Name: c.Place}
			s.byName[c.Place] = place
			s.Places = append(s.Places, place)
		}
		place.Uses = append(place.Uses, u)
	}
}

// arrange sorts the places and gives each its anchor.
func (s *citedSource) arrange() {
	slices.SortFunc(s.Places, func(a, b *citedPlace) int { return comparePlaces(a.Name, b.Name) })
	taken := map[string]int{}
	for _, place := range s.Places {
		anchor := "at-" + cmp.Or(fragment(place.Name), "large")
		taken[anchor]++
		if n := taken[anchor]; n > 1 {
			anchor += "-n" + strconv.Itoa(n)
		}
		place.Anchor = anchor
	}
}

// fragment keeps the letters and digits of a place, small, and joins the rest
// with hyphens.
func fragment(place string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(place) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = b.Len() > 0
			continue
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(r)
	}
	return b.String()
}

// comparePlaces orders "cover" before "p. 2" before "p. 10": runs of digits by
// their value, the rest letter by letter; a source at large comes last.
func comparePlaces(a, b string) int {
	if a == "" || b == "" {
		return cmp.Compare(b, a)
	}
	x, y := a, b
	for x != "" && y != "" {
		dx, dy := digits(x), digits(y)
		if dx > 0 && dy > 0 {
			nx, ny := strings.TrimLeft(x[:dx], "0"), strings.TrimLeft(y[:dy], "0")
			if c := cmp.Or(cmp.Compare(len(nx), len(ny)), cmp.Compare(nx, ny)); c != 0 {
				return c
			}
			x, y = x[dx:], y[dy:]
			continue
		}
		if x[0] != y[0] {
			return cmp.Compare(x[0], y[0])
		}
		x, y = x[1:], y[1:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

// digits is the length of the run of digits that s begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
