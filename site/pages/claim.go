package pages

import (
	"strconv"
	"strings"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// claimView is one claim as a line of a list, with its proof behind it.
type claimView struct {
	Anchor, What, Href, Thumb, Years string
	Flags                            []flag
	Proof                            proofView
}

// flag is a stamp beside a claim; Class chooses its colour.
type flag struct{ Class, Text string }

// proofView is who says so, who says otherwise and how it was decided.
type proofView struct {
	First                            []citeView // the citation that stands in the open, if any
	Summary, Settled, Note, Standing string
	Line                             anchor // where the record states it
	For, Against                     []witnessView
	Sightings                        []sightingView
	Chains                           []chainView
}

// witnessView is one independent witness and the citations that lead to it.
type witnessView struct {
	Cites    []citeView
	Credence string
}

// citeView is one citation: the source, the place in it, and by way of which
// other sources it leads to its origin.
type citeView struct {
	Href, Text, Place, Kind string
	Via                     []anchor
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
	standing := p.facts.Weighing.Of(c)
	v := claimView{
		Anchor: c.Anchor(), What: p.what(c), Years: p.years(c),
		Flags: p.flags(c, standing), Proof: p.proof(c, standing),
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
	name := c.FeatureID()
	if f, ok := s.ref.Features.Get(name); ok {
		name = f.Title()
	}
	return c.Statement(name, s.what(c))
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
	y := s.facts.Timeline.Years(c)
	if y.Empty() {
		return "no year possible"
	}
	return y.String()
}

func (p *page) flags(c *schema.Claim, standing provenance.Standing) []flag {
	var list []flag
	add := func(yes bool, class, text string) {
		if yes {
			list = append(list, flag{class, text})
		}
	}
	add(c.Only.Value, "only", "in no other year")
	add(c.Disputed.Value, "disputed", "disputed")
	add(c.Settled != nil, "settled", "settled")
	add(p.facts.Timeline.Derived(c), "derived", "years derived")
	add(standing.Doubted, "doubted", "doubted")
	add(len(standing.For) > 0 && allRecollection(standing.For), "recollection", "recollection only")
	return list
}

func allRecollection(list []provenance.Witness) bool {
	for _, w := range list {
		if w.Origin.Source == nil || schema.SourceKind(w.Origin.Source.Kind.Value) != schema.Recollection {
			return false
		}
	}
	return true
}

func (p *page) proof(c *schema.Claim, standing provenance.Standing) proofView {
	v := proofView{
		Summary: proofSummary(standing), Note: c.Note.Value, Standing: standingWords(c, standing),
		For: p.witnesses(standing.For), Against: p.witnesses(standing.Against),
		Settled: settledWords(c.Settled), Chains: p.chains(c), Line: p.lineOf(c),
	}
	if cites := c.Citations(); len(cites) > 0 {
		v.First = p.cites(cites[:1])
	}
	for _, a := range c.Attested {
		v.Sightings = append(v.Sightings, sightingView{Year: strconv.Itoa(a.Year.Value), Href: "#" + c.Anchor(), Cites: p.cites(a.Cites)})
	}
	return v
}

// proofSummary counts the voices on both sides.
func proofSummary(standing provenance.Standing) string {
	words := count(len(standing.For), "independent witness", "independent witnesses")
	if len(standing.For) == 0 {
		words = "Nobody is cited"
	}
	if n := len(standing.Against); n > 0 {
		words += ", " + strconv.Itoa(n) + plural(n, " says", " say") + " otherwise"
	}
	return words
}

// standingWords puts the figures of a standing into a sentence.
func standingWords(c *schema.Claim, s provenance.Standing) string {
	words := "Believed " + share(s.Credence) + ": " + count(len(s.For), "independent witness", "independent witnesses")
	if n := len(s.Against); n > 0 {
		words += ", " + strconv.Itoa(n) + " against"
		if s.Settled {
			words += " (set aside by the settlement)"
		}
	}
	if s.Doubted {
		words += ", halved because the span is doubted"
	}
	words += "."
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

func (p *page) witnesses(list []provenance.Witness) []witnessView {
	views := make([]witnessView, 0, len(list))
	for _, w := range list {
		v := witnessView{Credence: share(w.Credence)}
		for i, c := range w.Cites {
			cite := p.cite(c)
			if via := w.Through(i); via != nil {
				for _, id := range via[1:] {
					cite.Via = append(cite.Via, p.sourceAnchor(id))
				}
			}
			v.Cites = append(v.Cites, cite)
		}
		views = append(views, v)
	}
	return views
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
