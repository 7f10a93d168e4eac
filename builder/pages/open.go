package pages

import (
	"cmp"
	"math"
	"slices"

	"yearmark/builder/charts"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// openView is the page of open questions: a call for evidence.
type openView struct {
	Base   base
	Groups []openGroup
	Total  int
}

// openGroup is the questions of one kind.
type openGroup struct {
	ID, Name, About string
	Questions       questionList
	More            int
}

// question is one matter that a paper or a bow could settle.
type question struct {
	Kind string
	openLine
	claim *schema.Claim // whose citations are shown; nil for a gap
	// Bits is how much a sure answer could tell of the year of such a bow.
	Bits  float64
	Worth string
}

// The kinds of question, in the order of the page.
const (
	askDispute = "dispute"
	askGap     = "gap"
	askSingle  = "single"
)

// questionsShown bounds each group of the page.
const questionsShown = 120

func (p *page) open() openView {
	v := openView{Base: p.base("Open questions", "Disputes, gaps and claims on one witness: where a paper or a bow would sharpen a date.", "open-questions.html")}
	groups := []openGroup{
		{ID: "Disputes", Name: "Disputes", About: "Sources disagree and nobody has decided. Both sides are shown."},
		{ID: "Gaps", Name: "Gaps", About: "Years in which a model was made and nobody says how it looked."},
		{ID: "Single", Name: "On one witness", About: "Claims that rest on a single independent source. A second would do more than a tenth of another."},
	}
	at := map[string]int{askDispute: 0, askGap: 1, askSingle: 2}
	for _, q := range p.questions() {
		g := &groups[at[q.Kind]]
		if len(g.Questions) < questionsShown {
			g.Questions = append(g.Questions, p.questionLine(q))
		} else {
			g.More++
		}
		v.Total++
	}
	for _, g := range groups {
		if len(g.Questions) > 0 {
			v.Groups = append(v.Groups, g)
		}
	}
	return v
}

// questionLine shows a question on this page, with whoever speaks on either side.
func (p *page) questionLine(q question) question {
	q.Href = p.to(q.Href)
	if q.claim != nil {
		q.For, q.Against = p.cites(q.claim.Citations()), p.cites(q.claim.Against)
	}
	return q
}

// questions gives all open questions, those first that would tell most. Their
// addresses are relative to the site's root.
func (s *Site) questions() []question { return s.asked() }

func (s *Site) workOutQuestions() []question {
	var list []question
	for _, m := range s.ref.Models.All() {
		made := weighYears(s.facts.Timeline.Made(m))
		for _, c := range m.Claims() {
			if q, ok := s.questionOf(c, made); ok {
				list = append(list, q)
			}
		}
		for _, g := range byFeature(slices.Concat(m.Features, m.Specs)) {
			for _, gap := range s.gaps(m, g) {
				list = append(list, s.gapQuestion(m, g.feature, gap, made))
			}
		}
	}
	slices.SortStableFunc(list, func(a, b question) int {
		return cmp.Or(cmp.Compare(b.Bits, a.Bits), cmp.Compare(a.Href, b.Href))
	})
	for i := range list {
		list[i].Worth = worthWords(list[i].Bits)
	}
	return list
}

// questionOf asks about a claim that is disputed or rests on one witness.
func (s *Site) questionOf(c *schema.Claim, made float64) (question, bool) {
	standing := s.facts.Weighing.Of(c)
	q := question{claim: c, openLine: openLine{What: s.whole(c), Years: s.years(c), Href: c.Address()}}
	tells := splits(weighYears(s.facts.Timeline.Years(c)), made)
	switch {
	case c.Disputed.Value:
		q.Kind = askDispute
		q.Bits = tells * (1 - math.Abs(2*standing.Credence-1))
	case len(standing.For) == 1 && c.Settled == nil:
		q.Kind = askSingle
		q.Bits = tells * (1 - standing.Credence)
	default:
		return question{}, false
	}
	return q, true
}

func (s *Site) gapQuestion(m *schema.Model, feature string, gap edtf.Range, made float64) question {
	name := feature
	if f, ok := s.ref.Features.Get(feature); ok {
		name = f.Title()
	}
	return question{
		Kind: askGap, Bits: splits(float64(gap.Last-gap.First+1), made),
		openLine: openLine{What: m.Title() + ", " + name, Years: charts.YearWords(gap), Href: m.Address() + "#On-" + feature, Because: "Nobody says how it looked in these years."},
	}
}

// weighYears is how many years a claim comes to, each counted by its membership.
func weighYears(y edtf.Years) float64 {
	if y.Empty() {
		return 0
	}
	sum := 0.0
	for year := y.A; year <= y.D; year++ {
		sum += y.Membership(year)
	}
	return sum
}

// splits is the entropy in bits of whether a bow's year lies among part of
// all its possible years: what a sure answer tells.
func splits(part, all float64) float64 {
	if all <= 0 || part <= 0 || part >= all {
		return 0
	}
	x := part / all
	return -float64(x*math.Log2(x)) - float64((1-x)*math.Log2(1-x))
}

// worthWords says how much settling a question would tell.
func worthWords(bits float64) string {
	if bits < .005 {
		return "less than 0.01"
	}
	return charts.Decimal(bits, 2)
}
