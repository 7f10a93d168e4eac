package pages

import (
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
	"yearmark/site/charts"
)

// modelView is the page of one model.
type modelView struct {
	Base       base
	Name, Uses string
	Also       alsoView // other names
	Maker      anchor
	Place      string
	Made       *yearsLink
	Picture    string
	Plate      *plateView
	Alikes     []alikeView
	Tally      []tallyView
	DateHref   string
	Text       textView
	Chart      *chartView
	MadeClaim  []claimView
	Eras       []claimView
	Features   []claimGroup
	Specs      []claimGroup
	Disputed   []openLine
	Derived    []openLine
	Gaps       []openLine
	Silent     []anchor
	Orders     []orderView
	Examples   []exampleLine
	Related    []relatedView
	Output     []outputView
	Wishes     *wishesView // of its maker
	Mute       []muteView
	LookFirst  []sayingView
	NeverSeen  []sayingView // its own and its maker's
	Rates      []sayingView
	Runs       []sayingView // how far its maker's bows ran from their stamps
	Withdrawn  []withdrawnView
	Record     *recordView
}

// yearsLink is years that lead to the claim that states them.
type yearsLink struct{ Years, Href string }

// tallyView is a number and what it counts.
type tallyView struct {
	Number int
	Of     string
	Href   string
}

// claimGroup is the claims about one feature.
type claimGroup struct {
	ID     string
	Of     anchor
	Look   string
	Digest string // all of them in a line, for when they are folded
	Lines  []claimView
}

// openLine is one matter that wants attention: what, and in which years.
type openLine struct {
	What, Years, Href string
	Because           string
	For, Against      []citeView // the sides of a dispute, or the one witness
}

// orderView is one statement of what came before what.
type orderView struct {
	First, Second anchor
	Words         string
	Flags         []flag
	Cites         []citeView
	Against       []citeView
	Settled       string
}

type relatedView struct {
	How   string
	Tell  string // how to tell the two apart
	Model anchor
	Made  *yearsLink
	Cites []citeView
}

type outputView struct {
	Years, Href, Made string // Href leads to the first citation
	Cites             []citeView
}

type withdrawnView struct{ Anchor, Because, On string }

func (p *page) model(m *schema.Model) modelView {
	v := modelView{
		Name: m.Title(), Uses: english.And(schema.Texts(m.Use)), Picture: p.picture(m.Picture.Value),
		DateHref: p.to("date.html#model=" + m.ID), Text: p.text(m.Body, m),
	}
	v.Also = p.also(m.Also)
	if maker, ok := p.ref.Makers.Get(m.Maker.Value); ok {
		v.Maker, v.Place = anchor{p.to(maker.Address()), maker.Title()}, maker.Place.Value
		v.Wishes, v.Mute, v.LookFirst = p.wishes(maker), p.muted(maker), p.lookFirst(maker.LookFirst)
	}
	v.NeverSeen, v.Rates = p.neverSeen(p.ref.NeverSeenOn(m)), p.rates(m.Counted)
	v.Runs = p.runs(m)
	if len(m.LookFirst) > 0 {
		v.LookFirst = p.lookFirst(m.LookFirst)
	}
	if m.Made != nil {
		v.Made = &yearsLink{p.years(m.Made), "#" + m.Made.Anchor()}
		v.MadeClaim = p.claimList([]*schema.Claim{m.Made})
	}
	v.Base = p.base(m.Title(), "The "+m.Title()+" by "+v.Maker.Text+": when it was made, and what tells its years apart.", "models/index.html")
	v.Base.Trail = []anchor{{p.to("makers/index.html"), "Makers"}, v.Maker}
	v.Base.Scripts, v.Record = scripts("open.js"), p.ownRecord(m)
	v.Plate, v.Alikes = p.plate(m), p.alikesOn(m)
	v.Chart = p.modelChart(m)
	v.Eras = p.claimList(m.Eras)
	v.Features, v.Specs = p.groups(p.featuresOn(m), m), p.groups(p.specsOn(m), m)
	p.modelOpen(m, &v)
	v.Orders = p.orders(m.Order)
	v.Examples = p.exampleLines(p.seen()[m.ID])
	p.modelKin(m, &v)
	bows := reviewed(p.seen()[m.ID])
	v.Tally = []tallyView{
		{len(m.Claims()), english.Plural(len(m.Claims()), "dated claim", "dated claims"), "#Features"},
		{p.sourcesOf(m), "sources", ""},
		{bows, english.Plural(bows, "bow examined", "bows examined"), "#Examples"},
	}
	return v
}

// sourcesOf counts the different sources that a model's claims cite.
func (p *page) sourcesOf(m *schema.Model) int {
	known := map[string]bool{}
	for _, c := range m.Claims() {
		for _, cite := range c.Citations() {
			known[cite.Source] = true
		}
	}
	return len(known)
}

// featuresOn gives the claims about a model's features: its own, then those of its
// maker that hold in some year of it.
func (s *Site) featuresOn(m *schema.Model) []*schema.Claim {
	return s.claimsOn(m, schema.AboutFeature)
}

// specsOn gives the claims about a model's published figures likewise.
func (s *Site) specsOn(m *schema.Model) []*schema.Claim { return s.claimsOn(m, schema.AboutSpec) }

func (s *Site) claimsOn(m *schema.Model, about schema.About) []*schema.Claim {
	return slices.DeleteFunc(s.ref.ClaimsOn(m), func(c *schema.Claim) bool {
		return c.About != about || c.Maker != nil && s.facts.Timeline.YearsOn(c, m).Empty()
	})
}

// groups puts a model's claims about one feature together, in the order of their
// first claims; those of a maker's page, which has no model, likewise.
func (p *page) groups(claims []*schema.Claim, m *schema.Model) []claimGroup {
	var list []claimGroup
	for _, g := range byFeature(claims) {
		group := claimGroup{ID: "On-" + g.feature, Of: p.featureAnchor(g.feature)}
		for _, c := range p.inOrder(g.claims) {
			if m == nil {
				group.Lines = append(group.Lines, p.claim(c))
			} else {
				group.Lines = append(group.Lines, p.claimOn(c, m))
			}
		}
		var parts []string
		for _, line := range group.Lines {
			parts = append(parts, line.What+" "+line.Years)
		}
		group.Digest = strings.Join(parts, " · ")
		list = append(list, group)
	}
	return list
}

type featureClaims struct {
	feature string
	claims  []*schema.Claim
}

func byFeature(claims []*schema.Claim) []featureClaims {
	var list []featureClaims
	at := map[string]int{}
	for _, c := range claims {
		id := c.FeatureID()
		if _, known := at[id]; !known {
			at[id] = len(list)
			list = append(list, featureClaims{feature: id})
		}
		list[at[id]].claims = append(list[at[id]].claims, c)
	}
	return list
}

// modelChart draws the eras, then every feature, then the published figures.
func (p *page) modelChart(m *schema.Model) *chartView {
	c := p.newChart("Features of the "+m.Title()+" by year", p.modelAxis(m), "Feature", "Value", "Years")
	if m.Made != nil {
		c.row("Made", "", []*schema.Claim{m.Made}, nil, func(*schema.Claim) string { return "" })
	}
	if len(m.Eras) > 0 {
		c.row("Eras", "#Eras", m.Eras, nil, p.what)
	}
	c.on = m
	for _, g := range slices.Concat(byFeature(p.featuresOn(m)), byFeature(p.specsOn(m))) {
		c.row(p.featureName(g.feature), "#On-"+g.feature, g.claims, p.gaps(m, g), func(of *schema.Claim) string {
			if of.Maker != nil {
				return p.what(of) + ", the maker’s"
			}
			return p.what(of)
		})
	}
	return c.done()
}

func (p *page) modelAxis(m *schema.Model) charts.Axis {
	ranges := []edtf.Range{p.span(m)}
	for _, c := range m.Claims() {
		if y := p.facts.Timeline.Years(c); !y.Empty() {
			ranges = append(ranges, edtf.Range{First: y.A, Last: y.D})
		}
	}
	return charts.AxisOver(p.ref.Horizon(), ranges...)
}

// gaps gives the years in which the model was certainly made and no claim
// about the feature is possible. What only the maker's record speaks of has none.
func (s *Site) gaps(m *schema.Model, g featureClaims) []edtf.Range {
	made, certain := s.facts.Timeline.Made(m).Certain()
	if f, ok := s.ref.Features.Get(g.feature); !certain || !ok || !f.IsExclusive() && schema.FeatureKind(f.Kind.Value) != schema.Figure {
		return nil
	}
	if !slices.ContainsFunc(g.claims, func(c *schema.Claim) bool { return c.Model == m }) {
		return nil
	}
	listed := make([]edtf.Years, len(g.claims))
	for i, c := range g.claims {
		listed[i] = s.facts.Timeline.YearsOn(c, m)
	}
	var list []edtf.Range
	for year := made.First; year <= made.Last; year++ {
		if slices.ContainsFunc(listed, func(y edtf.Years) bool { return y.Possible(year) }) {
			continue
		}
		if n := len(list); n > 0 && list[n-1].Last == year-1 {
			list[n-1].Last = year
		} else {
			list = append(list, edtf.Range{First: year, Last: year})
		}
	}
	return list
}

// modelOpen lists what is disputed, derived and missing.
func (p *page) modelOpen(m *schema.Model, v *modelView) {
	for _, c := range m.Claims() {
		line := openLine{What: p.shortWhole(c), Years: p.years(c), Href: "#" + c.Anchor()}
		if c.Disputed.Value {
			disputed := line
			disputed.For, disputed.Against = p.cites(c.Citations()), p.cites(c.Against)
			v.Disputed = append(v.Disputed, disputed)
		}
		if p.facts.Timeline.Derived(c) {
			v.Derived = append(v.Derived, line)
		}
	}
	listed := map[string]bool{}
	for _, g := range byFeature(slices.Concat(p.featuresOn(m), p.specsOn(m))) {
		listed[g.feature] = true
		for _, gap := range p.gaps(m, g) {
			v.Gaps = append(v.Gaps, openLine{What: p.featureName(g.feature), Years: gap.String(), Href: "#On-" + g.feature})
		}
	}
	for _, f := range p.ref.Features.All() {
		if !listed[f.ID] && len(v.Silent) < mostSilent {
			v.Silent = append(v.Silent, anchor{p.to(f.Address()), f.Title()})
		}
	}
}

// mostSilent is how many features without a claim a model's page names.
const mostSilent = 40

// shortWhole says what is claimed on the model's own page: "Riser wood: Padauk".
func (p *page) shortWhole(c *schema.Claim) string {
	name := aboutWords[c.About]
	if f, ok := p.ref.Features.Get(c.FeatureID()); ok {
		name = f.Title()
	}
	if c.About == schema.AboutMade || c.About == schema.AboutTrading {
		return name
	}
	return name + ": " + p.what(c)
}

// modelKin fills in related models, output and withdrawn claims.
func (p *page) modelKin(m *schema.Model, v *modelView) {
	for _, r := range m.Related {
		if r.How.Value == schema.LookAlike {
			continue // it stands beside its picture, above
		}
		view := relatedView{How: capital(tieWords[r.How.Value]), Tell: schema.Sentence(r.Tell.Value), Model: anchor{Text: r.Model.Value}, Cites: p.cites(r.Cites)}
		if other, ok := p.ref.Models.Get(r.Model.Value); ok {
			view.Model, view.Made = anchor{p.to(other.Address()), other.Title()}, p.madeLink(other)
		}
		v.Related = append(v.Related, view)
	}
	for _, o := range m.Output {
		view := outputView{Years: spanWords(o.Span), Made: plainNumber(o.Made.Value), Cites: p.cites(o.Cites)}
		if len(view.Cites) > 0 {
			view.Href = view.Cites[0].Href
		}
		v.Output = append(v.Output, view)
	}
	v.Withdrawn = withdrawnViews(m.Withdrawn)
}

func withdrawnViews(list []*schema.Withdrawn) []withdrawnView {
	var views []withdrawnView
	for _, w := range list {
		views = append(views, withdrawnView{w.ID.Value, w.Because.Value, w.On.String()})
	}
	return views
}

// spanWords prints a plain span with an en dash, and any other as written.
func spanWords(s schema.Span) string {
	first, okFirst := s.Earliest()
	last, okLast := s.Latest()
	if strings.HasPrefix(s.String(), "{") && s.Shape() == edtf.Interval {
		return s.Words()
	}
	if !okFirst || !okLast || s.Doubted() || s.Approximate() || s.Shape() != edtf.Interval && s.Shape() != edtf.Single {
		return s.String()
	}
	return edtf.Range{First: first, Last: last}.String()
}

// madeLink leads to the claim that says when a model was made.
func (p *page) madeLink(m *schema.Model) *yearsLink {
	if m.Made == nil {
		return nil
	}
	return &yearsLink{p.years(m.Made), p.claimHref(m.Made)}
}

func (p *page) orders(list []*schema.Order) []orderView {
	var views []orderView
	for _, o := range list {
		v := orderView{Cites: p.cites(o.Cites), Against: p.cites(o.Against), Settled: settledWords(o.Settled)}
		if o.Disputed.Value {
			v.Flags = append(v.Flags, flag{"disputed", "disputed"})
		}
		if o.OfClaim != nil || o.Of.Value != "" {
			v.First = p.claimAnchor(o.OfClaim, o.Of.Value)
			v.Words = "lasted " + lastsWords(o.Lasts)
		} else {
			v.First, v.Second = p.claimAnchor(o.FirstClaim, o.First.Value), p.claimAnchor(o.SecondClaim, o.Second.Value)
			v.Words = relationWords[schema.Relation(o.How.Value)]
		}
		views = append(views, v)
	}
	return views
}

func lastsWords(r schema.Range) string {
	words := figure(r.Low)
	if r.High != r.Low {
		words += " to " + figure(r.High)
	}
	return words + english.Plural(int(r.High), " year", " years")
}

// claimAnchor links a claim by what it says, or repeats a name that leads nowhere.
func (p *page) claimAnchor(c *schema.Claim, name string) anchor {
	if c == nil {
		return anchor{Text: name}
	}
	words := p.whole(c)
	if p.claimHref(c)[0] == '#' {
		words = p.shortWhole(c)
	}
	return anchor{p.claimHref(c), words}
}
