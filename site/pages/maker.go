package pages

import (
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
	"yearmark/site/charts"
)

// makerView is the page of one maker.
type makerView struct {
	Base                          base
	Name, Place                   string
	Trading                       *yearsLink
	Text                          textView
	Chart                         *chartView
	Models                        []cardView
	More                          int      // models beyond those drawn
	Also                          alsoView // other names
	People                        []personView
	Claims                        []claimView
	Features                      []claimGroup // what holds for its models
	Specs                         []claimGroup
	Wishes                        *wishesView
	Mute                          []muteView
	Namesakes, LookFirst, Missing []sayingView
	NeverSeen, Rates              []sayingView
	WeightMarks                   []markView
	MarkCites                     []citeView
	Through                       []throughView
	Orders                        []orderView
	Withdrawn                     []withdrawnView
	Tally                         []tallyView
	Record                        *recordView
}

// personView is somebody of the firm.
type personView struct {
	Name, Role, Years, Note string
	Cites                   []citeView
}

func (p *page) people(m *schema.Maker) []personView {
	var list []personView
	for _, person := range m.People {
		list = append(list, personView{person.Name.Value, person.Role.Value, spanWords(person.Span), person.Note.Value, p.cites(person.Cites)})
	}
	return list
}

// orWords joins further names: "a, b or c".
func orWords(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " or " + names[n-1]
	}
	return strings.Join(names, "")
}

// marksSection is the part of a maker's page that tells how its stamps read.
const marksSection = "Marks"

// markView is one sign beside a stamped weight.
type markView struct{ Sign, Side, Adds string }

// throughView is one feature across the maker's models: each value with the
// claims that give it.
type throughView struct {
	Of     anchor
	Values []throughValue
}

type throughValue struct {
	Name, Href, Thumb string
	Claims            []namedYears
}

// namedYears is a name and the years of one claim about it.
type namedYears struct{ Name, Years, Href string }

// mostLines is how many rows a chart across records draws before it leaves
// the rest to a list.
const mostLines = 80

func (p *page) maker(m *schema.Maker) makerView {
	models := p.byMade(p.built()[m.ID])
	v := makerView{
		Name: m.Title(), Place: m.Place.Value, Text: p.text(m.Body, m),
		Chart: p.makerChart(m, models), Models: p.modelCards(models), Claims: p.claimList(tradingAndOwners(m)), Features: p.groups(m.Features, nil), Specs: p.groups(m.Specs, nil),
		Through: p.through(models), Orders: p.orders(m.Order), More: max(len(models)-mostLines, 0),
	}
	v.Also, v.People = p.also(m.Also), p.people(m)
	if m.Trading != nil {
		v.Trading = &yearsLink{p.years(m.Trading), "#" + m.Trading.Anchor()}
	}
	v.Wishes, v.Mute = p.wishes(m), p.muted(m)
	v.Namesakes, v.LookFirst, v.Missing, v.NeverSeen = p.namesakes(m), p.lookFirst(m.LookFirst), p.missing(m), p.neverSeen(m.NeverSeen)
	v.Rates = p.rates(m.Counted)
	for _, w := range m.WeightMarks {
		when := ""
		if w.When() != "" {
			when = ", " + w.When()
		}
		v.WeightMarks = append(v.WeightMarks, markViews(w.Before, "before the figure"+when)...)
		v.WeightMarks = append(v.WeightMarks, markViews(w.After, "after the figure"+when)...)
		if runs := w.RunsWords(); runs != "" {
			v.WeightMarks = append(v.WeightMarks, markView{"", "Its bows when new, against the stamp" + when, runs})
		}
	}
	v.MarkCites = p.cites(markCites(m))
	bows := 0
	for _, model := range models {
		bows += reviewed(p.seen()[model.ID])
	}
	v.Tally = []tallyView{{len(models), english.Plural(len(models), "model", "models"), "#Models"}, {bows, english.Plural(bows, "bow examined", "bows examined"), ""}}
	v.Base = p.base(m.Title(), m.Title()+" of "+m.Place.Value+": its models year by year, its marks and its owners.", "makers/index.html")
	v.Base.Trail = []anchor{{p.to("makers/index.html"), "Makers"}}
	v.Withdrawn = withdrawnViews(m.Withdrawn)
	v.Base.Scripts, v.Record = scripts("open.js"), p.ownRecord(m)
	return v
}

// tradingAndOwners gives what a maker's record says of the firm itself.
func tradingAndOwners(m *schema.Maker) []*schema.Claim {
	return m.Claims()[:len(m.Claims())-len(m.Features)-len(m.Specs)]
}

// wishesView is what customers of a maker could choose, and when.
type wishesView struct {
	Features []anchor
	Years    yearsLink // to where the maker's page says so
	Cites    []citeView
}

// muteView is a feature that dates none of a maker's bows, and why.
type muteView struct {
	Feature anchor
	Because string
	Cites   []citeView
}

func (p *page) wishes(m *schema.Maker) *wishesView {
	s := m.SpecialOrders
	if s == nil {
		return nil
	}
	trading := p.facts.Timeline.Trading(m)
	href := "#Special-orders"
	if m.Address() != p.path {
		href = p.to(m.Address()) + href
	}
	v := &wishesView{Years: yearsLink{yearsWords(s.Years(p.ref, edtf.Range{First: trading.A, Last: trading.D})), href}, Cites: p.cites(s.Cites)}
	for _, t := range s.Features {
		v.Features = append(v.Features, p.featureAnchor(t.Value))
	}
	return v
}

func (p *page) muted(m *schema.Maker) []muteView {
	var list []muteView
	for _, s := range m.SaysNothing {
		list = append(list, muteView{p.featureAnchor(s.Feature.Value), s.Because.Value, p.cites(s.Cites)})
	}
	return list
}

// featureAnchor links a feature by its title.
func (p *page) featureAnchor(id string) anchor {
	if f, ok := p.ref.Features.Get(id); ok {
		return anchor{p.to(f.Address()), f.Title()}
	}
	return anchor{Text: id}
}

func markViews(signs []schema.MarkSign, side string) []markView {
	var list []markView
	for _, s := range signs {
		adds := figure(max(s.Adds.Low, -s.Adds.Low)) + " " + string(s.Adds.Unit)
		if s.Adds.Low < 0 {
			adds = "takes off " + adds
		} else {
			adds = "adds " + adds
		}
		list = append(list, markView{s.Sign.Value, side, adds})
	}
	return list
}

// byMade orders models by their first year, then by name.
func (s *Site) byMade(models []*schema.Model) []*schema.Model {
	return byYears(models, s.facts.Timeline.Made, func(a, b *schema.Model) int { return strings.Compare(a.Title(), b.Title()) })
}

// makerChart draws trading and owners, what holds for all models, then each model.
func (p *page) makerChart(m *schema.Maker, models []*schema.Model) *chartView {
	var ranges []edtf.Range
	for _, c := range m.Claims() {
		if y := p.facts.Timeline.Years(c); !y.Empty() {
			ranges = append(ranges, edtf.Range{First: y.A, Last: y.D})
		}
	}
	for _, model := range models {
		ranges = append(ranges, p.span(model))
	}
	c := p.newChart("Models of "+m.Title()+" by year", charts.AxisOver(p.ref.Horizon(), ranges...), "Of", "What", "Years")
	if m.Trading != nil {
		c.row("Trading", "", []*schema.Claim{m.Trading}, nil, func(*schema.Claim) string { return "" })
	}
	if len(m.Owners) > 0 {
		c.row("Owners", "", m.Owners, nil, p.what)
	}
	for _, g := range slices.Concat(byFeature(m.Features), byFeature(m.Specs)) {
		c.row(p.featureName(g.feature), "#On-"+g.feature, g.claims, nil, p.what)
	}
	p.modelRows(c, models)
	return c.done()
}

// modelRows draws one row a model: when it was made, and its eras below.
func (p *page) modelRows(c *chart, models []*schema.Model) {
	for _, model := range models[:min(len(models), mostLines)] {
		if model.Made != nil {
			c.row(model.Title(), p.to(model.Address()), []*schema.Claim{model.Made}, nil, func(*schema.Claim) string { return p.years(model.Made) })
		}
	}
}

// cardView is a record as a card of a list.
type cardView struct {
	anchor
	Picture, Under string
	Made           *yearsLink
}

func (p *page) modelCards(models []*schema.Model) []cardView {
	list := make([]cardView, 0, len(models))
	for _, m := range models {
		card := cardView{anchor: anchor{p.to(m.Address()), m.Title()}, Picture: p.picture(m.Picture.Value), Made: p.madeLink(m)}
		if uses := schema.Texts(m.Use); len(uses) > 0 {
			card.Under = capital(english.And(uses))
		}
		if n := reviewed(p.seen()[m.ID]); n > 0 {
			card.Under = joinWords(card.Under, english.Count(n, "bow examined", "bows examined"))
		}
		list = append(list, card)
	}
	return list
}

// joinWords puts two remarks in one line.
func joinWords(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	}
	return a + " · " + b
}

// through follows every choice feature that at least two of the models have,
// value by value in the order of its first year.
func (p *page) through(models []*schema.Model) []throughView {
	claims := map[string][]*schema.Claim{}
	users := map[string]int{}
	for _, m := range models {
		for _, g := range byFeature(m.Features) {
			claims[g.feature] = append(claims[g.feature], g.claims...)
			users[g.feature]++
		}
	}
	var list []throughView
	for _, f := range p.ref.Features.All() {
		if schema.FeatureKind(f.Kind.Value) != schema.Choice || users[f.ID] < 2 {
			continue
		}
		v := throughView{Of: anchor{p.to(f.Address()), f.Title()}}
		at := map[string]int{}
		for _, c := range p.inOrder(claims[f.ID]) {
			i, known := at[c.Value.Value]
			if !known {
				i = len(v.Values)
				at[c.Value.Value] = i
				v.Values = append(v.Values, p.throughValue(f, c.Value.Value))
			}
			v.Values[i].Claims = append(v.Values[i].Claims, namedYears{c.Model.Title(), p.years(c), p.to(c.Address())})
		}
		list = append(list, v)
	}
	return list
}

func (p *page) throughValue(f *schema.Feature, id string) throughValue {
	v := throughValue{Name: capital(f.ValueName(id)), Href: p.to(f.Address()) + "#" + valueAnchor(id)}
	if value, ok := f.Value(id); ok {
		v.Thumb = p.picture(value.Picture.Value)
	}
	return v
}

// valueAnchor is the identifier of a value on its feature's page.
func valueAnchor(id string) string { return "value-" + id }

// number prints a whole number.
func number(n int) string { return strconv.Itoa(n) }

// builtBy gives each maker's models, in order of identifier.
func builtBy(ref *schema.Reference) map[string][]*schema.Model {
	by := map[string][]*schema.Model{}
	for _, m := range ref.Models.All() {
		by[m.Maker.Value] = append(by[m.Maker.Value], m)
	}
	return by
}
