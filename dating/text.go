package dating

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
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
	t := &textWriter{a: a, e: a.engine, o: o, s: a.Sentences()}
	for _, warning := range a.Warnings {
		t.say(0, "Warning: %s", warning)
	}
	t.verdict()
	t.reasons()
	t.next()
	t.practitioners()
	t.sureness()
	_, err := io.WriteString(w, t.b.String())
	return err
}

type textWriter struct {
	a *Answer
	e *Engine
	o TextOptions
	s Sentences
	b strings.Builder
}

// say writes a paragraph, indented by some steps of two spaces.
func (t *textWriter) say(indent int, format string, args ...any) {
	margin := strings.Repeat("  ", indent)
	t.b.WriteString(wrap(held(format, args), margin, margin, t.o.Width))
}

// item writes a paragraph that hangs from a mark.
func (t *textWriter) item(mark, format string, args ...any) {
	t.b.WriteString(wrap(held(format, args), mark, strings.Repeat(" ", len([]rune(mark))), t.o.Width))
}

// held keeps a page's number on the line of its "p.".
func held(format string, args []any) string {
	return strings.ReplaceAll(fmt.Sprintf(format, args...), "p. ", "p."+noBreak)
}

func (t *textWriter) heading(words string) { t.b.WriteString("\n" + words + "\n") }

// verdict gives the answer on balance and taken at its word, and before it what does not fit.
func (t *textWriter) verdict() {
	a := t.a
	switch headline := t.s.Headline; {
	case a.Impossible || a.Contradicts():
		t.say(0, "%s. %s", headline, t.s.Advice)
	case len(a.question.Models) == 1:
		t.say(0, "%s: %s.", t.e.longName(a.Best.Model, a.Best.Maker), headline)
	default:
		t.say(0, "%s.", headline)
	}
	for _, words := range t.s.Conflicts[min(1, len(t.s.Conflicts)):] {
		t.item("  - ", "%s", words)
	}
	if a.Contradicts() {
		t.heading("On balance, all the same")
	}
	for _, words := range t.s.Balance {
		t.say(0, "%s", words)
	}
	if len(a.Models) > 1 {
		t.otherModels()
	}
}

// otherModels names the models that are likeliest.
func (t *textWriter) otherModels() {
	var parts []string
	for i, m := range t.a.Models {
		if i == maxNamed || m.Chance < .01 && i > 0 {
			break
		}
		parts = append(parts, t.e.nameOf(m.Model, m.Maker)+" "+inHundred(m.Chance))
	}
	t.say(0, "Models: %s.", strings.Join(parts, "; "))
	first := t.a.Models[0]
	i := slices.IndexFunc(t.a.Models, func(m ModelChance) bool { return m.Model == t.a.Best.Model && m.Maker == t.a.Best.Maker })
	if first.Chance-t.a.Models[i].Chance > .01 {
		t.say(0, "All its years together, %s is likeliest; no year of it is as likely as %s %d.", t.e.theBow(first.Model, first.Maker), t.e.nameOf(t.a.Best.Model, t.a.Best.Maker), t.a.Best.Year)
	}
}

// maxGrounds is how many claims are shown behind one observation.
const maxGrounds = 4

// reasons gives each observation's weight and the claims behind it, the
// heaviest first.
func (t *textWriter) reasons() {
	if t.a.Impossible || len(t.a.Evidence) == 0 {
		return
	}
	t.heading(fmt.Sprintf("Why %d", t.a.Best.Year))
	for _, r := range t.s.Reasons {
		at := slices.IndexFunc(t.a.Evidence, func(e Evidence) bool { return e.Feature == r.Feature })
		t.item("  - ", "%s: %s. %s (%s decibans).", t.e.feature(r.Feature).Name(), r.Seen, raised(r.Weight), signed(t.a.Evidence[at].Decibans))
		for i, words := range r.Grounds {
			if i == maxGrounds {
				t.item("      ", "%d more claims on the page of %s.", len(r.Grounds)-i, t.e.theBow(t.a.Best.Model, t.a.Best.Maker))
				break
			}
			t.item("      ", "%s", words)
		}
	}
}

// raised gives words a capital at their beginning.
func raised(words string) string { return strings.ToUpper(words[:1]) + words[1:] }

// efforts says what a look costs.
var efforts = map[schema.Effort]string{
	schema.Glance: "a glance", schema.Measure: "measuring",
	schema.Unstring: "the bow unstrung (leave that to a bowyer if you have not done it before)",
	schema.Remove:   "a part taken off (leave that to a bowyer)",
}

// maxSuggestions is how many features are proposed.
const maxSuggestions = 3

// next proposes what to look at, and what each outcome of the first would do.
func (t *textWriter) next() {
	if t.a.Impossible {
		return
	}
	t.heading("What to look at next")
	written := 0
	for _, l := range t.a.Suggestion {
		if l.Bits < LeastBits || written == maxSuggestions {
			break
		}
		written++
		t.item("  - ", "%s, which takes %s: %s (%.2f of the %.2f bits still open).", t.e.feature(l.Feature).Name(), efforts[l.Effort], Worth(l.Bits, written == 1), l.Bits, t.a.Entropy)
		for _, o := range l.Outcomes {
			if o.Chance >= .01 {
				t.item("      ", "%s (%s): then %s, %s.", o.Label, inHundred(o.Chance), t.e.nameOf(o.Best.Model, o.Best.Maker)+fmt.Sprintf(" %d", o.Best.Year), inHundred(o.Best.Chance))
			}
		}
	}
	if written == 0 {
		t.say(1, "Nothing that the register knows of would tell much more.")
		t.secondLook()
	}
}

// practitioners says what they look at first and never saw, and whom the maker is
// not to be confused with.
func (t *textWriter) practitioners() {
	list := t.a.practice()
	if t.a.Impossible || len(list) == 0 {
		return
	}
	t.heading("What practitioners say")
	for _, words := range list {
		t.say(1, "%s", words)
	}
}

// secondLook names what is to be held against the bow once no question is left.
func (t *textWriter) secondLook() {
	var parts []string
	for _, x := range t.s.Second {
		parts = append(parts, t.a.featureName(x.Feature)+" "+x.Label)
	}
	if len(parts) > 0 {
		t.say(1, "A second look: it should have %s. A part that differs is the odd one out, or it is another bow.", strings.Join(parts, "; "))
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
		t.say(1, "Tried on %s whose papers give the year, such 95 in 100 sets held it %s: the true share lies between %.0f and %.0f in 100.", english.Count(c.Most.Of, "bow"), count(c.Most.Held), c.Most.Low*100, c.Most.High*100)
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
	would := fmt.Sprintf("the best year would be %s %d (%s)", t.e.nameOf(c.Best.Model, c.Best.Maker), c.Best.Year, inHundred(c.Best.Chance))
	if c.Best.Model == best.Model && c.Best.Maker == best.Maker && c.Best.Year == best.Year {
		would = fmt.Sprintf("%d would still be the best year, but at %s", c.Best.Year, inHundred(c.Best.Chance))
	}
	t.say(1, "Most hangs on the %s: without it %s, and 95 in 100 of the odds would lie on %s.", t.a.featureName(c.Feature), would, t.e.modelYears(c.Likely95))
}

// manyYears says how many years, all alike, would leave so many bits open.
func manyYears(bits float64) string {
	n := pow2(bits)
	if n < 1.05 {
		return "a single year"
	}
	return times(n) + " years of which each is as likely"
}
