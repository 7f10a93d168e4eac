package pages

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/site/charts"
)

// openView is the page of open questions: a call for evidence.
type openView struct {
	Base   base
	Groups []openGroup
	Total  int
}

// openGroup is the questions of one kind.
type openGroup struct {
	kind            string
	ID, Name, About string
	Questions       []question
	More            int
}

// question is one matter that a paper or a bow could settle.
type question struct {
	openLine
	Worth string // in bits
	Tells string // the same in a word
	Know  string // where a visitor writes what they know of it
}

// asking is a question before it is put into words.
type asking struct {
	kind    string
	bits    float64       // how much a sure answer could tell of the year of such a bow
	href    string        // below the site's root
	claim   *schema.Claim // whose citations are shown; nil for a gap
	model   *schema.Model // of a gap, with the feature that nobody tells of
	feature string
	gap     edtf.Range
}

// askings is how many questions of one kind there are, and those that would
// tell most.
type askings struct {
	count int
	most  []asking
	least float64 // what would tell less is not shown
}

// add counts a question, and keeps it if it may be shown. where leads to it.
func (l *askings) add(a asking, where func() string) {
	l.count++
	if a.bits < l.least {
		return
	}
	a.href = where()
	if l.most = append(l.most, a); len(l.most) == 4*questionsShown {
		l.cut()
		l.least = l.most[questionsShown-1].bits
	}
}

// cut leaves those to be shown, first what would tell most.
func (l *askings) cut() {
	slices.SortFunc(l.most, compareAskings)
	l.most = l.most[:min(len(l.most), questionsShown)]
}

func compareAskings(a, b asking) int {
	return cmp.Or(cmp.Compare(b.bits, a.bits), cmp.Compare(a.href, b.href), cmp.Compare(a.gap.First, b.gap.First))
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
	asked := p.asked()
	for _, g := range []openGroup{
		{ID: "Disputes", kind: askDispute, Name: "Disputes", About: "Sources disagree and nobody has decided. Both sides are shown."},
		{ID: "Gaps", kind: askGap, Name: "Gaps", About: "Years in which a model was made and nobody says how it looked."},
		{ID: "Single", kind: askSingle, Name: "On one witness", About: "Claims that rest on a single independent source. A second would do more than a tenth of another."},
	} {
		of := asked[g.kind]
		if of.count == 0 {
			continue
		}
		for _, a := range of.most {
			g.Questions = append(g.Questions, p.question(a))
		}
		g.More = of.count - len(g.Questions)
		v.Total += of.count
		v.Groups = append(v.Groups, g)
	}
	return v
}

// question puts a question into words, with whoever speaks on either side.
func (p *page) question(a asking) question {
	q := question{Worth: worthWords(a.bits), Tells: tellsWords(a.bits), Know: p.writeInOn(a.href)}
	q.Href = p.to(a.href)
	if c := a.claim; c != nil {
		q.What, q.Years = p.whole(c), p.years(c)
		q.For, q.Against = p.cites(c.Citations()), p.cites(c.Against)
		return q
	}
	q.What, q.Years, q.Because = a.model.Title()+", "+p.featureName(a.feature), a.gap.String(), "Nobody says how it looked in these years."
	return q
}

// questions gives the open questions by their kind.
func (s *Site) questions() map[string]*askings {
	asked := map[string]*askings{askDispute: {}, askGap: {}, askSingle: {}}
	for _, m := range s.ref.Models.All() {
		made := weighYears(s.facts.Timeline.Made(m))
		for _, c := range m.Claims() {
			if a, ok := s.ask(c, made); ok {
				asked[a.kind].add(a, c.Address)
			}
		}
		for _, g := range byFeature(slices.Concat(s.featuresOn(m), s.specsOn(m))) {
			for _, gap := range s.gaps(m, g) {
				a := asking{kind: askGap, bits: splits(float64(gap.Last-gap.First+1), made), model: m, feature: g.feature, gap: gap}
				asked[askGap].add(a, func() string { return m.Address() + "#On-" + g.feature })
			}
		}
	}
	for _, of := range asked {
		of.cut()
	}
	return asked
}

// ask asks about a claim that is disputed or rests on one witness.
func (s *Site) ask(c *schema.Claim, made float64) (asking, bool) {
	assessment := s.facts.Weighing.Of(c)
	a := asking{claim: c}
	switch {
	case c.Disputed.Value:
		a.kind, a.bits = askDispute, 1-math.Abs(2*assessment.Credence-1)
	case assessment.For.Witnesses == 1 && c.Settled == nil:
		a.kind, a.bits = askSingle, 1-assessment.Credence
	default:
		return a, false
	}
	a.bits *= splits(weighYears(s.facts.Timeline.Years(c)), made)
	return a, true
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

// tellsWords says the same in a word.
func tellsWords(bits float64) string {
	return strings.TrimPrefix(dating.Worth(bits, false), "tells ")
}
