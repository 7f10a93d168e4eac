package pages

import (
	"slices"
	"strconv"
	"strings"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
)

// claimView is one claim as a line of a list, with its proof behind it.
type claimView struct {
	Anchor, What, Href, Thumb, Years string
	Permanent                        string // where the claim stands on its own record's page
	Flags                            []flag
	Proof                            proofView
}

// flag is a stamp beside a claim; Class chooses its colour.
type flag struct{ Class, Text string }

// proofView is who says so, who says otherwise and how it was decided.
type proofView struct {
	First                            []citeView // the citation that stands in the open, if any
	Summary, Settled, Note, Credence string
	Line                             anchor   // where the record states it
	Know                             string   // where a visitor writes what they know of it
	Over, With                       []anchor // the claims that the settlement does not follow, or the dispute is with
	For, Against                     []supportView
	Lone                             bool // all there is to say of the one witness is said elsewhere
	Chains                           []chainView
}

// citeView is one citation: the source and the place in it.
type citeView struct {
	Href, Text, Place string
	Opens             string // the box with its words; empty where there is none
}

// chainView is one derived year and the statements that it follows from.
type chainView struct {
	Words string
	Steps []stepView
}

type stepView struct {
	Sentence, Href string
	Cites          []citeView
}

// claim shows a claim on its own record's page.
func (p *page) claim(c *schema.Claim) claimView {
	v := claimView{
		Anchor: c.Anchor(), Permanent: p.claimHref(c), What: p.what(c), Years: p.years(c),
		Flags: p.flags(c), Proof: p.proof(c),
	}
	if f, ok := p.ref.Features.Get(c.FeatureID()); ok {
		v.Href = p.to(f.Address())
		if value, ok := f.Value(c.Value.Value); ok && c.About == schema.AboutFeature {
			v.Href += "#" + valueAnchor(value.ID.Value)
			v.Thumb = p.picture(value.Picture.Value)
		}
	}
	return v
}

// claimOn shows a claim on the page of a model that it holds for. One of the
// maker's is marked as such, and leads to the maker's page.
func (p *page) claimOn(c *schema.Claim, m *schema.Model) claimView {
	v := p.claim(c)
	if c.Maker == nil {
		return v
	}
	v.Anchor, v.Years = "maker-"+c.Anchor(), p.facts.Timeline.YearsOn(c, m).String()
	words := "said of every model of " + c.Maker.Title()
	if len(c.Except) > 0 {
		words = "said of the models of " + c.Maker.Title()
	}
	v.Flags = append([]flag{{"maker", words}}, v.Flags...)
	return v
}

// exceptWords names the models for which a maker's claim does not hold.
func (p *page) exceptWords(c *schema.Claim) string {
	var names []string
	for _, t := range c.Except {
		names = append(names, dating.BowName(p.ref, t.Value, ""))
	}
	return english.And(names)
}

func (p *page) claimList(claims []*schema.Claim) []claimView {
	list := make([]claimView, 0, len(claims))
	for _, c := range claims {
		list = append(list, p.claim(c))
	}
	return list
}

// what says in a few words what is claimed, without its years.
func (s *Site) what(c *schema.Claim) string {
	switch c.About {
	case schema.AboutFeature:
		if f, ok := s.ref.Features.Get(c.Feature.Value); ok {
			if schema.FeatureKind(f.Kind.Value) == schema.Wording {
				return f.ClaimedName(c.Value.Value)
			}
			return capital(f.ClaimedName(c.Value.Value))
		}
		return c.Value.Value
	case schema.AboutSpec:
		return rangeWords(c.Range)
	case schema.AboutEra, schema.AboutOwner:
		return c.Name.Value
	}
	return aboutWords[c.About]
}

// whole says what is claimed so that it can be understood away from its page:
// "Plover, riser wood: Padauk".
func (s *Site) whole(c *schema.Claim) string {
	return c.Statement(s.featureName(c.FeatureID()), s.what(c))
}

// featureName gives the title of a feature, or its identifier where it is not on record.
func (s *Site) featureName(id string) string {
	if f, ok := s.ref.Features.Get(id); ok {
		return f.Title()
	}
	return id
}

// rangeWords prints a published figure with an en dash.
func rangeWords(r schema.Range) string {
	if r.Unit.IsCurrency() {
		return strings.Replace(r.Written, "..", "–", 1)
	}
	low, high := figure(r.Low), figure(r.High)
	words := low
	if high != low {
		words += "–" + high
	}
	if r.Unit != "" {
		words += " " + string(r.Unit)
	}
	return words
}

// eighths are the fractions that figures in inches are printed with.
var eighths = [8]string{"", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"}

// figure prints a number as the trade does: whole eighths as fractions, the rest in decimals.
func figure(x float64) string {
	if e := x * 8; e == float64(int64(e)) && x >= 0 {
		whole, part := int64(e)/8, eighths[int64(e)%8]
		if whole == 0 && part != "" {
			return part
		}
		return strconv.FormatInt(whole, 10) + part
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// years gives a claim's years in words, after all that bears on them.
func (s *Site) years(c *schema.Claim) string {
	return yearsWords(s.facts.Timeline.Years(c))
}

func yearsWords(y edtf.Years) string {
	if y.Empty() {
		return "no year possible"
	}
	return y.String()
}

func (p *page) flags(c *schema.Claim) []flag {
	var list []flag
	add := func(yes bool, class, text string) {
		if yes {
			list = append(list, flag{class, text})
		}
	}
	add(c.Only.Value, "only", "in no other year")
	add(len(c.When) > 0, "when", strings.TrimSpace(p.ref.Conditions(c.When)))
	add(len(c.Except) > 0, "except", "not of the "+p.exceptWords(c))
	add(c.Disputed.Value, "disputed", "disputed")
	add(c.Settled != nil, "settled", "settled")
	add(p.facts.Timeline.Derived(c), "derived", "years derived")
	add(p.facts.Weighing.Of(c).Doubted, "doubted", "doubted")
	add(provenance.OnlyRecollection(p.ref, c.Citations()), "recollection", "recollection only")
	return list
}

func (p *page) proof(c *schema.Claim) proofView {
	a := p.facts.Weighing.Of(c)
	v := proofView{
		Summary: proofSummary(a), Note: c.Note.Value,
		For: p.witnesses(c), Against: p.supports(c.Against),
		Settled: settledWords(c.Settled), Chains: p.chains(c), Line: p.lineOf(c), Know: p.writeInOn(c.Address()),
	}
	if i := slices.IndexFunc(v.For, func(w supportView) bool { return w.Above }); i >= 0 {
		v.First = []citeView{v.For[i].Cite}
		v.Lone = len(v.For) == 1 && len(v.Against) == 0 && v.For[i].plain() && v.For[i].Credence == belief(a.Credence)
	}
	kind := ""
	if v.Lone {
		kind = ", " + article(v.For[0].Kind)
	}
	v.Credence = credenceWords(c, a, kind)
	for _, other := range p.ref.OpponentClaims(c.Decision()) {
		link := anchor{p.claimHref(other), p.whole(other)}
		if c.Settled != nil {
			v.Over = append(v.Over, link)
		} else {
			v.With = append(v.With, link)
		}
	}
	return v
}

// proofSummary counts the independent witnesses on both sides.
func proofSummary(a provenance.Assessment) string {
	words := english.Count(a.For.Witnesses, "witness", "witnesses")
	if a.For.Witnesses == 0 {
		words = "No witness"
	}
	if n := a.Against.Witnesses; n > 0 {
		words = strconv.Itoa(a.For.Witnesses) + " for, " + strconv.Itoa(n) + " against"
	}
	return words
}

// credenceWords says how far a claim is believed and why. kind is a remark on its
// witness, where there is one alone.
func credenceWords(c *schema.Claim, a provenance.Assessment, kind string) string {
	words := "Believed " + belief(a.Credence) + ": " + english.Count(a.For.Witnesses, "independent witness", "independent witnesses") + kind
	if a.For.Witnesses == 0 {
		words = "Believed " + belief(a.Credence) + ": no independent witness"
	}
	if n := a.Against.Witnesses; n > 0 {
		words += ", " + strconv.Itoa(n) + " against"
		if a.Settled {
			words += " (set aside by the settlement)"
		}
	}
	if a.Divided {
		words += ", a source that is cited for more than one side being right about one of them only"
	}
	if a.Doubted {
		words += ", halved because the span is doubted"
	}
	words += "."
	if a.Estimated {
		words += " This is an estimate by the likeliest ways back: too many sources are shared to reckon it exactly."
	}
	switch {
	case !c.Span.IsZero():
		words += " Written: " + c.Span.String() + "."
	case c.Era.Value != "":
		words += " Written: the years of the era " + c.Era.Value + "."
	case len(c.Attested) > 0:
		words += " Written: sightings only."
	}
	return words
}

func settledWords(s *schema.Settlement) string {
	if s == nil {
		return ""
	}
	words := s.Because.Value
	if s.By.Value != "" || !s.On.IsZero() {
		words += " ("
		if s.By.Value != "" {
			words += s.By.Value
			if !s.On.IsZero() {
				words += ", "
			}
		}
		if !s.On.IsZero() {
			words += s.On.String()
		}
		words += ")"
	}
	return words
}

func (p *page) cites(list []schema.Citation) []citeView {
	views := make([]citeView, 0, len(list))
	for _, c := range list {
		views = append(views, p.cite(c))
	}
	return views
}

// cite links a citation to its place on the source's page.
func (p *page) cite(c schema.Citation) citeView {
	cited, known := p.ref.Cited(c.Source)
	a := p.citedAnchor(cited, c.Source)
	v := citeView{Href: a.Href, Text: a.Text, Place: c.Place}
	if known {
		v.Href += "#" + c.Anchor()
	}
	if s, ok := cited.(*schema.Source); ok {
		v.Opens = p.quotes.open(p, s, c, v.Href)
	}
	return v
}

// sourceAnchor links what a citation names: a source, or an example.
func (p *page) sourceAnchor(id string) anchor {
	cited, _ := p.ref.Cited(id)
	return p.citedAnchor(cited, id)
}

// citedAnchor links what a citation names, which is nil where it names nothing.
func (p *page) citedAnchor(cited schema.Record, id string) anchor {
	if cited != nil {
		return anchor{p.to(cited.Address()), cited.Title()}
	}
	return anchor{p.to("sources/index.html"), id}
}

// chains shows how the years that no record states were derived.
func (p *page) chains(c *schema.Claim) []chainView {
	var list []chainView
	for _, b := range p.facts.Timeline.Why(c) {
		list = append(list, chainView{Words: b.String(), Steps: p.steps(b.Steps)})
	}
	return list
}

func (p *page) steps(steps []chronology.Step) []stepView {
	views := make([]stepView, 0, len(steps))
	for _, s := range steps {
		v := stepView{Sentence: s.Fact, Cites: p.cites(s.Cites)}
		if s.Claim != nil {
			v.Href = p.claimHref(s.Claim)
		}
		views = append(views, v)
	}
	return views
}
