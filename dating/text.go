package dating

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"yearmark/dating/odds"
	"yearmark/schema"
)

// TextOptions says what Text adds to an answer.
type TextOptions struct {
	Edition     string       // named at the end, where known
	Calibration *Calibration // how often the odds were right; may be nil
	Width       int          // of a line in characters; 78 where it is 0
}

// Text writes the answer as a collector would argue it: the year, why, the odd
// one out, what to look at next, how sure, and what would change it.
func Text(w io.Writer, a *Answer, o TextOptions) error {
	if o.Width == 0 {
		o.Width = 78
	}
	t := &textWriter{a: a, e: a.engine, o: o}
	t.verdict()
	t.oddOneOut()
	t.reasons()
	t.next()
	t.sureness()
	_, err := io.WriteString(w, t.b.String())
	return err
}

type textWriter struct {
	a *Answer
	e *Engine
	o TextOptions
	b strings.Builder
}

// say writes a paragraph, indented by some steps of two spaces.
func (t *textWriter) say(indent int, format string, args ...any) {
	margin := strings.Repeat("  ", indent)
	t.b.WriteString(wrap(fmt.Sprintf(format, args...), margin, margin, t.o.Width))
}

// item writes a paragraph that hangs from a mark.
func (t *textWriter) item(mark, format string, args ...any) {
	t.b.WriteString(wrap(fmt.Sprintf(format, args...), mark, strings.Repeat(" ", len([]rune(mark))), t.o.Width))
}

func (t *textWriter) heading(words string) { t.b.WriteString("\n" + words + "\n") }

// verdict gives the answer on balance and taken at its word.
func (t *textWriter) verdict() {
	a := t.a
	if a.Impossible {
		t.say(0, "No year is left: the reference has none for what was asked.")
		return
	}
	if years := t.alike(); len(years) > 1 {
		t.say(0, "%s, %s, each as likely as the others: %s each.", t.e.longName(a.Best.Model), yearsInWords(years), inHundred(a.Best.Chance))
	} else {
		t.say(0, "%s, %d: %s, %s.", t.e.longName(a.Best.Model), a.Best.Year, howSure(a.Best.Chance), inHundred(a.Best.Chance))
	}
	if len(a.Models) > 1 {
		t.otherModels()
	}
	t.say(0, "Half of the odds lie on %s; 95 in 100 on %s.", t.e.modelYears(a.Likely50), t.e.modelYears(a.Likely95))
	switch {
	case len(a.Observed) == 0:
		t.say(0, "Nothing was observed, so this is the made span alone.")
	case len(a.Strict.Years) == 0:
		t.say(0, "Taken at its word, no year has everything that was observed.")
	default:
		t.say(0, "Taken at its word: %s.", t.e.modelYears(a.Strict.Years))
	}
}

// alike gives the years of the best model that are as likely as the best.
func (t *textWriter) alike() []int {
	var years []int
	for _, o := range t.a.Odds {
		if o.Model == t.a.Best.Model && odds.Rank(o.Chance) == odds.Rank(t.a.Best.Chance) {
			years = append(years, o.Year)
		}
	}
	return years
}

// otherModels names the models that are likeliest.
func (t *textWriter) otherModels() {
	var parts []string
	for i, m := range t.a.Models {
		if i == maxNamed || m.Chance < .01 && i > 0 {
			break
		}
		parts = append(parts, t.e.nameOf(m.Model)+" "+inHundred(m.Chance))
	}
	t.say(0, "Models: %s.", strings.Join(parts, "; "))
	first := t.a.Models[0]
	i := slices.IndexFunc(t.a.Models, func(m ModelChance) bool { return m.Model == t.a.Best.Model })
	if first.Chance-t.a.Models[i].Chance > .01 {
		t.say(0, "All its years together, the %s is the likeliest model; no year of it is as likely as %s %d.", t.e.nameOf(first.Model), t.e.nameOf(t.a.Best.Model), t.a.Best.Year)
	}
}

// oddOneOut names what cannot stand together, and what is left without each.
func (t *textWriter) oddOneOut() {
	s := t.a.Strict
	if len(s.Years) > 0 || len(t.a.Observed) == 0 || len(s.Conflicts) == 0 {
		return
	}
	t.heading("What does not fit")
	t.conflicts(s.Conflicts)
	some := false
	for _, w := range s.Without {
		if len(w.Years) > 0 {
			some = true
			t.item("  - ", "The odd one out may be the %s: without it %s remains. %s", t.name(w.Feature), t.e.modelYears(w.Years), t.explain(w.Feature))
		}
	}
	if !some {
		t.item("  - ", "No single observation is the odd one out: at least two of them do not belong with the rest, or the bow is none that the reference knows.")
	}
}

// conflicts tells the sets, in one sentence where all are pairs around one observation.
func (t *textWriter) conflicts(sets [][]string) {
	if hub, others := around(sets); hub != "" {
		var parts []string
		for _, f := range others {
			parts = append(parts, t.observed(f))
		}
		t.item("  - ", "No year has %s together with %s.", t.observed(hub), either(parts))
		return
	}
	for _, set := range sets {
		if len(set) == 1 {
			t.item("  - ", "No claim allows %s.", t.observed(set[0]))
			continue
		}
		var parts []string
		for _, f := range set {
			parts = append(parts, t.observed(f))
		}
		last := len(parts) - 1
		t.item("  - ", "No year has %s together with %s.", strings.Join(parts[:last], ", "), parts[last])
	}
}

// around gives the one feature that all of several pairs share, and what it is paired with.
func around(sets [][]string) (hub string, others []string) {
	if len(sets) < 2 {
		return "", nil
	}
	for _, hub := range sets[0] {
		others = nil
		for _, set := range sets {
			if len(set) == 2 && slices.Contains(set, hub) {
				others = append(others, set[one(set[0] == hub)])
			}
		}
		if len(others) == len(sets) {
			return hub, others
		}
	}
	return "", nil
}

// explain says how a feature may have come to be the odd one out.
func (t *textWriter) explain(feature string) string {
	f := t.e.feature(feature)
	o := t.observation(feature)
	reasons := []string{"a replaced or refinished part", "a special order", "a misreading"}
	if f.Record != nil && f.Record.Altered != nil && f.Record.Altered.Chance.Value > 0 {
		for _, to := range f.Record.Altered.To {
			if slices.Contains(o.Values, to.Value) {
				return "Later owners are known to have changed this."
			}
		}
	}
	if o.Sure == schema.Unsure {
		return "You were not sure of it: look again first."
	}
	return "It may be " + either(reasons) + "."
}

func (t *textWriter) observation(feature string) Observation {
	for _, o := range t.a.Observed {
		if o.Feature == feature {
			return o
		}
	}
	return Observation{}
}

// name is the feature's name within a sentence.
func (t *textWriter) name(feature string) string { return lowered(t.e.feature(feature).Name()) }

// lowered gives a name a small first letter, unless its second is a capital as well.
func lowered(name string) string {
	runes := []rune(name)
	if len(runes) > 1 && strings.ToLower(string(runes[1])) == string(runes[1]) {
		return strings.ToLower(string(runes[:1])) + string(runes[1:])
	}
	return name
}

// observed puts an observation into words: "riser wood padauk".
func (t *textWriter) observed(feature string) string {
	return t.name(feature) + " " + t.values(t.observation(feature))
}

// values names what was seen.
func (t *textWriter) values(o Observation) string {
	f := t.e.feature(o.Feature)
	names := slices.Clone(o.Values)
	for i, v := range names {
		if _, words := f.Domain.(*Wordings); words {
			names[i] = "\"" + v + "\""
		} else if outcomes, err := f.Domain.Observed(v); err == nil {
			names[i] = f.Domain.Label(outcomes)
		}
	}
	return either(names)
}

// reasons gives each observation's weight and the claims behind it, the
// heaviest first.
func (t *textWriter) reasons() {
	if t.a.Impossible || len(t.a.Evidence) == 0 {
		return
	}
	t.heading(fmt.Sprintf("Why %d", t.a.Best.Year))
	evidence := slices.Clone(t.a.Evidence)
	slices.SortStableFunc(evidence, func(a, b Evidence) int {
		switch {
		case a.Decibans > b.Decibans:
			return -1
		case a.Decibans < b.Decibans:
			return 1
		}
		return 0
	})
	for _, e := range evidence {
		doubt := ""
		if e.Sure != schema.Sure {
			doubt = ", " + string(e.Sure)
		}
		t.item("  - ", "%s: %s%s. It %s (%s decibans).", t.e.feature(e.Feature).Name(), t.values(e.Observation), doubt, weight(e.Decibans), signed(e.Decibans))
		t.grounds(e)
	}
}

// maxGrounds is how many claims are shown behind one observation.
const maxGrounds = 4

func (t *textWriter) grounds(e Evidence) {
	model := t.e.nameOf(t.a.Best.Model)
	if len(e.Claims) == 0 {
		t.item("      ", "Nobody says when the %s had it.", model)
	}
	claims := decisive(e.Claims)
	for i, g := range claims {
		if i == maxGrounds {
			t.item("      ", "%d more claims on the page of the %s.", len(claims)-i, model)
			break
		}
		t.item("      ", "%s %s, by %s.", g.Label, g.Years, t.word(g))
	}
}

// telling keeps the claims that hold in the best year, and those of the values
// seen in other years only where none of them holds in it.
func decisive(claims []Ground) []Ground {
	holds := slices.ContainsFunc(claims, func(g Ground) bool { return g.Seen && g.Holds })
	return slices.DeleteFunc(slices.Clone(claims), func(g Ground) bool { return holds && !g.Holds })
}

// word says on whose word a claim rests: who is cited, how many witnesses that
// makes where several citations go back to one, and who says otherwise.
func (t *textWriter) word(g Ground) string {
	cites := g.Claim.Citations()
	words := t.sources(cites)
	if words == "" {
		return "nobody named"
	}
	if g.Witnesses < len(cites) && g.Witnesses > 0 {
		words += fmt.Sprintf(" (%s)", witnesses(g.Witnesses))
	}
	if against := t.sources(g.Claim.Against); against != "" {
		words += ", against the word of " + against
		if g.Claim.Settled != nil {
			words += ", which was settled"
		}
	}
	return words
}

func witnesses(n int) string {
	if n == 1 {
		return "one witness"
	}
	return fmt.Sprintf("%d independent witnesses", n)
}

// sources names who is cited, each once.
func (t *textWriter) sources(list []schema.Citation) string {
	var parts []string
	for _, by := range list {
		words := strings.ReplaceAll(CitationWords(t.e.ref, by), "p. ", "p."+noBreak)
		if !slices.Contains(parts, words) {
			parts = append(parts, words)
		}
	}
	return strings.Join(parts, "; ")
}

// efforts says what a look costs.
var efforts = map[schema.Effort]string{
	schema.Glance: "a glance", schema.Measure: "measuring",
	schema.Unstring: "the bow unstrung (leave that to a bowyer if you have not done it before)",
	schema.Remove:   "a part taken off (leave that to a bowyer)",
}

// maxLooks is how many looks are proposed, and leastBits what one must tell.
const (
	maxSuggestions = 3
	leastBits      = .005
)

// next proposes what to look at, and what each outcome of the first would do.
func (t *textWriter) next() {
	if t.a.Impossible {
		return
	}
	t.heading("What to look at next")
	written := 0
	for _, l := range t.a.Suggestion {
		if l.Bits < leastBits || written == maxSuggestions {
			break
		}
		written++
		t.item("  - ", "%s, which takes %s: %.2f of the %.2f bits still open.", t.e.feature(l.Feature).Name(), efforts[l.Effort], l.Bits, t.a.Entropy)
		for _, o := range l.Outcomes {
			if o.Chance >= .01 {
				t.item("      ", "%s (%s): then %s, %s.", o.Label, inHundred(o.Chance), t.e.nameOf(o.Best.Model)+fmt.Sprintf(" %d", o.Best.Year), inHundred(o.Best.Chance))
			}
		}
	}
	if written == 0 {
		t.say(1, "Nothing that the reference knows of would tell more.")
	}
}

// leastMove is the part of the odds below which an observation is not said to carry the answer.
const leastMove = .05

// sureness says how far to trust the answer and what would change it.
func (t *textWriter) sureness() {
	if t.a.Impossible {
		return
	}
	t.heading("How sure, and what would change it")
	t.say(1, "The odds leave %.1f bits open, as much as %s.", t.a.Entropy, manyYears(t.a.Entropy))
	t.hangsOn()
	if c := t.o.Calibration; c != nil && c.Most.Of > 0 {
		t.say(1, "Tried on %s whose papers give the year, such 95 in 100 sets held it %s: the true share lies between %.0f and %.0f in 100.", bows(c.Most.Of), count(c.Most.Held), c.Most.Low*100, c.Most.High*100)
	}
	if t.o.Edition != "" {
		t.say(1, "By the edition of %s.", t.o.Edition)
	}
}

// hangsOn says which observation carries most of the answer, and what it would be without.
func (t *textWriter) hangsOn() {
	if len(t.a.Observed) == 0 {
		return
	}
	changes := t.a.Changes()
	if len(changes) == 0 || changes[0].Moved < leastMove {
		t.say(1, "No single observation carries the answer.")
		return
	}
	c, best := changes[0], t.a.Best
	would := fmt.Sprintf("the best year would be %s %d (%s)", t.e.nameOf(c.Best.Model), c.Best.Year, inHundred(c.Best.Chance))
	if c.Best.Model == best.Model && c.Best.Year == best.Year {
		would = fmt.Sprintf("%d would still be the best year, but at %s", c.Best.Year, inHundred(c.Best.Chance))
	}
	t.say(1, "Most hangs on the %s: without it %s, and 95 in 100 of the odds would lie on %s.", t.name(c.Feature), would, t.e.modelYears(c.Likely95))
}

// manyYears says how many years, all alike, would leave so many bits open.
func manyYears(bits float64) string {
	n := pow2(bits)
	if n < 1.05 {
		return "a single year"
	}
	return times(n) + " years of which each is as likely"
}
