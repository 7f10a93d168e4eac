package pages

import (
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
	Sightings                        []sightingView
	Chains                           []chainView
}

// supportView is one citation, how far it is believed by itself, and what it
// goes back to.
type supportView struct {
	Cite     citeView
	Notes    []string // what its record says of the place
	Ways     []wayView
	More     bool // there are more ways than these
	Credence string
}

// wayView is the sources from the one cited to an origin; Words lead to the first.
type wayView struct {
	Words   string
	Sources []anchor
}

// citeView is one citation: the source and the place in it.
type citeView struct {
	Href, Text, Place, Kind string
	Opens                   string // the box with its words; empty where there is none
}

type sightingView struct {
	Year, Href string
	Cites      []citeView
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
				return patternWords(c.Value.Value)
			}
			return capital(f.ValueName(c.Value.Value))
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
	add(len(c.When) > 0, "when", strings.TrimSpace(p.ref.Conditions(c)))
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
		Summary: proofSummary(a), Note: c.Note.Value, Credence: credenceWords(c, a),
		For: p.supports(c.Citations()), Against: p.supports(c.Against),
		Settled: settledWords(c.Settled), Chains: p.chains(c), Line: p.lineOf(c), Know: p.writeInOn(c.Address()),
	}
	if cites := c.Citations(); len(cites) > 0 {
		v.First = p.cites(p.foremost(cites))
	}
	for _, other := range p.ref.OpponentClaims(c.Decision()) {
		link := anchor{p.claimHref(other), p.whole(other)}
		if c.Settled != nil {
			v.Over = append(v.Over, link)
		} else {
			v.With = append(v.With, link)
		}
	}
	for _, a := range c.Attested {
		v.Sightings = append(v.Sightings, sightingView{Year: strconv.Itoa(a.Year.Value), Href: p.claimHref(c), Cites: p.cites(a.Cites)})
	}
	return v
}

// foremost gives the citation that stands in the open: the first that leads to
// words, else the first.
func (p *page) foremost(cites []schema.Citation) []schema.Citation {
	for i, c := range cites {
		if p.ref.Words(c) != nil {
			return cites[i : i+1]
		}
	}
	return cites[:1]
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

// credenceWords says how far a claim is believed and why.
func credenceWords(c *schema.Claim, a provenance.Assessment) string {
	words := "Believed " + belief(a.Credence) + ": " + english.Count(a.For.Witnesses, "independent witness", "independent witnesses")
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

// hedgeWords say how sure the writer or speaker was at a place.
var hedgeWords = map[string]string{"fairly": "fairly sure, in its own words", "unsure": "unsure, in its own words"}

// supports shows citations with what each goes back to, as far as records state it.
func (p *page) supports(cites []schema.Citation) []supportView {
	views := make([]supportView, 0, len(cites))
	for _, s := range p.facts.Weighing.Supports(cites) {
		v := supportView{Cite: p.cite(s.Cite), Credence: belief(s.Chance), More: s.More, Notes: p.placeNotes(s.Cite)}
		if len(s.Ways) == 0 && len(v.Notes) == 0 {
			v.Notes = []string{"relies only on sources that rely on each other, which counts for nothing"}
		}
		for _, way := range s.Ways {
			if len(way.Sources) == 1 {
				continue
			}
			w := wayView{Words: "which relies on"}
			if way.Place != nil {
				w.Words = way.Place.At.Value + " took it from"
			}
			for _, id := range way.Sources[1:] {
				w.Sources = append(w.Sources, p.sourceAnchor(id))
			}
			v.Ways = append(v.Ways, w)
		}
		views = append(views, v)
	}
	return views
}

// placeNotes says what a source's record says of the places cited: how sure the
// speaker was, and what counts for nothing.
func (p *page) placeNotes(c schema.Citation) []string {
	s, known := p.ref.Sources.Get(c.Source)
	if !known {
		if _, example := p.ref.Cited(c.Source); !example {
			return []string{"not on record"}
		}
		return nil
	}
	var notes []string
	places := s.PlacesAt(c.Place)
	for _, place := range places {
		note := func(words string) {
			if len(places) > 1 {
				words = place.At.Value + " " + words
			}
			notes = append(notes, words)
		}
		switch {
		case place.CorrectedAt.Value != "":
			note("a slip, mended at " + place.CorrectedAt.Value + ", which counts for nothing")
		case place.Hedge.Value != "":
			note(hedgeWords[place.Hedge.Value])
		}
		if place.Own.Value {
			note("the writer’s own")
		}
	}
	return notes
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
		v.Kind = kindWords[schema.SourceKind(s.Kind.Value)]
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
			v.Href = p.to(s.Claim.Address())
		}
		views = append(views, v)
	}
	return views
}
