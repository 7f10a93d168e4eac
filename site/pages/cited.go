package pages

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"yearmark/schema"
)

// citedSource is all that cites one source or example, place by place.
type citedSource struct {
	Places []citedPlace // in the order of a reader turning pages
}

// citedPlace is one place in a source and the statements that rest on it.
type citedPlace struct {
	Name string // as cited, "p. 6"; empty where no place was given
	Uses []use
}

// use is one citation seen from the source: of a claim, or of something else
// that a record says. A large reference has millions.
type use struct {
	Claim   *schema.Claim
	By      schema.Record // where it is no claim, whose record says it
	Year    int32         // of a sighting, else 0
	What    said          // where it is no claim
	Against bool
}

// said is what a record says besides its claims.
type said uint8

const (
	saidOrder said = iota
	saidKin
	saidOutput
	saidMarks
	saidYear
	saidOpinion
	saidHistory
	saidSale
	saidPerson
	saidBesides
)

// String words it, after the record's name.
func (s said) String() string {
	return [...]string{"what came before what", "its kin", "how many were made", "how its draw weights are stamped", "its year", "what somebody makes of its year", "its history", "its sale", "who worked there", "what is said of it"}[s]
}

// citings finds what cites each source: at once the records that do, and what
// in them does when it is first asked for.
type citings struct {
	ref   *schema.Reference
	by    map[string][]schema.Record // by what a citation names; makers, models, examples, features, each by identifier
	mu    sync.Mutex
	known map[string]*citedSource
	found []citedUse // reused buffer
}

// citedUse is a use, and the place of which it is one.
type citedUse struct {
	place string
	use
}

// newCitings turns every citation of the reference round.
func newCitings(ref *schema.Reference) *citings {
	c := &citings{ref: ref, by: map[string][]schema.Record{}, known: map[string]*citedSource{}}
	for _, r := range citing(ref) {
		for _, source := range citedBy(r) {
			c.by[source] = append(c.by[source], r)
		}
	}
	return c
}

// citing gives the records that can cite, in the order in which a source's page
// names them.
func citing(ref *schema.Reference) []schema.Record {
	list := make([]schema.Record, 0, ref.Makers.Len()+ref.Models.Len()+ref.Examples.Len())
	for _, m := range ref.Makers.All() {
		list = append(list, m)
	}
	for _, m := range ref.Models.All() {
		list = append(list, m)
	}
	for _, e := range ref.Examples.All() {
		list = append(list, e)
	}
	for _, f := range ref.Features.All() {
		list = append(list, f)
	}
	return list
}

// citedBy names the sources and examples that a record cites, each once.
func citedBy(r schema.Record) []string {
	var list []string
	eachUse(r, func(cites []schema.Citation, _ use) {
		for _, cite := range cites {
			if !slices.Contains(list, cite.Source) {
				list = append(list, cite.Source)
			}
		}
	})
	return list
}

// of gives what cites a source; it has no places where nothing does.
func (c *citings) of(id string) *citedSource {
	c.mu.Lock()
	defer c.mu.Unlock()
	s, known := c.known[id]
	if !known {
		s = c.gather(id)
		c.known[id] = s
	}
	return s
}

// gather lists the citations of one source in the records that have any.
func (c *citings) gather(id string) *citedSource {
	c.found = c.found[:0]
	for _, r := range c.by[id] {
		eachUse(r, func(cites []schema.Citation, u use) {
			for _, cite := range cites {
				if cite.Source == id {
					c.found = append(c.found, citedUse{cite.Place, u})
				}
			}
		})
	}
	return arranged(c.found)
}

// eachUse calls do with every list of citations in a record, and what for.
func eachUse(r schema.Record, do func([]schema.Citation, use)) {
	switch r := r.(type) {
	case *schema.Maker:
		for _, c := range r.Claims() {
			claimUses(c, do)
		}
		for _, person := range r.People {
			do(person.Cites, use{By: r, What: saidPerson})
		}
		for _, w := range r.WeightMarks {
			do(w.Cites, use{By: r, What: saidMarks})
		}
		orderUses(r.Order, use{By: r, What: saidOrder}, do)
	case *schema.Model:
		for _, c := range r.Claims() {
			claimUses(c, do)
		}
		orderUses(r.Order, use{By: r, What: saidOrder}, do)
		for _, other := range r.Related {
			do(other.Cites, use{By: r, What: saidKin})
		}
		for _, o := range r.Output {
			do(o.Cites, use{By: r, What: saidOutput})
		}
	case *schema.Example:
		if r.Documented != nil {
			do(r.Documented.Cites, use{By: r, What: saidYear})
		}
		for _, a := range r.Attributed {
			do(a.Cites, use{By: r, What: saidOpinion})
		}
		for _, h := range r.History {
			do(h.Cites, use{By: r, What: saidHistory})
		}
		for _, s := range r.Sales {
			do(s.Cites, use{By: r, What: saidSale})
		}
	}
	for _, s := range schema.Sayings(r) {
		do(s.Cites, use{By: r, What: saidBesides})
	}
}

func claimUses(c *schema.Claim, do func([]schema.Citation, use)) {
	do(c.Cites, use{Claim: c})
	do(c.Against, use{Claim: c, Against: true})
	for _, a := range c.Attested {
		do(a.Cites, use{Claim: c, Year: int32(a.Year.Value)})
	}
}

func orderUses(orders []*schema.Order, u use, do func([]schema.Citation, use)) {
	for _, o := range orders {
		u.Against = false
		do(o.Cites, u)
		u.Against = true
		do(o.Against, u)
	}
}

// arranged puts together what is said of each place, in the order in which it
// was found. It sorts what was found.
func arranged(found []citedUse) *citedSource {
	slices.SortStableFunc(found, func(a, b citedUse) int { return comparePlaces(a.place, b.place) })
	places := 0
	for i := range found {
		if i == 0 || found[i].place != found[i-1].place {
			places++
		}
	}
	s := &citedSource{Places: make([]citedPlace, 0, places)}
	uses := make([]use, len(found)) // of all places, one behind the other
	for i, from := 0, 0; i < len(found); i++ {
		uses[i] = found[i].use
		if i+1 == len(found) || found[i+1].place != found[i].place {
			s.Places = append(s.Places, citedPlace{Name: found[i].place, Uses: uses[from : i+1 : i+1]})
			from = i + 1
		}
	}
	return s
}

// has says that something rests on the place of that name.
func (s *citedSource) has(name string) bool {
	_, known := slices.BinarySearchFunc(s.Places, name, func(p citedPlace, name string) int { return comparePlaces(p.Name, name) })
	return known
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
