package intake

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/english"
)

// Report writes what a submission says, how it dates and which bows on record it
// may be, for the editor. What is private is counted and not shown.
func (in *Inbox) Report(w io.Writer, r *Receipt, edition string) error {
	t := report{inbox: in, s: r.Submission}
	t.said()
	t.visitors(r.Answer, edition)
	t.b.WriteString("\nHow it dates\n\n")
	if err := dating.Text(&t.b, r.Answer, dating.TextOptions{Edition: edition}); err != nil {
		return err
	}
	if len(r.Alike) > 0 {
		t.b.WriteString("\nA bow already on record?\n")
		for _, a := range r.Alike {
			fmt.Fprintf(&t.b, "  - %s, %q: %s\n", a.Words(), a.Name, a.Because)
		}
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

type report struct {
	inbox *Inbox
	s     *Submission
	b     strings.Builder
}

// Line is one thing that a visitor said: what it is about, and the words.
type Line struct{ Name, Words string }

func (t *report) said() {
	fmt.Fprintf(&t.b, "A submission of %s, by the edition %s\n\n", t.s.On, t.s.Edition)
	for _, l := range t.inbox.Said(t.s) {
		for i, words := range strings.Split(l.Words, "\n") {
			name := l.Name
			if i > 0 {
				name = ""
			}
			fmt.Fprintf(&t.b, "  %-12s %s\n", cmp.Or(name, " "), words)
		}
	}
}

// Said is what a submission says, line by line, without what is private. A name
// that is empty goes on from the line above.
func (in *Inbox) Said(s *Submission) []Line {
	var lines []Line
	line := func(name, words string) {
		if words != "" {
			lines = append(lines, Line{name, words})
		}
	}
	line("made for", in.elsewhere(s))
	if m, ok := in.ref.Models.Get(s.Model); ok {
		line("model", m.Title())
	}
	for i, o := range s.Observed {
		name := ""
		if i == 0 {
			name = "seen"
		}
		line(name, in.seen(o))
	}
	line("weight mark", s.WeightMark)
	for _, m := range s.Marks {
		line("mark", in.bows.name(m.Mark)+": "+m.Place)
	}
	for _, c := range s.Condition {
		line("condition", c.Part+": "+cmp.Or(c.State, c.Fault))
		if c.Fault != "" {
			line("", "fault: "+c.Fault)
		}
	}
	line("by", s.By)
	line("note", s.Note)
	if n := len(s.Photographs); n > 0 {
		line("photographs", fmt.Sprintf("%d named; their names stand under private in the record", n))
	}
	if s.Private != nil {
		line("private", "who sent it, for you alone: see the record")
	}
	return lines
}

// seen puts one observation into words: "Riser wood: Padauk, unsure (edge worn)".
func (in *Inbox) seen(o Seen) string {
	f, ok := in.ref.Features.Get(o.Feature)
	name, values := o.Feature, slices.Clone(o.Values)
	if ok {
		name = f.Title()
		for i, v := range values {
			values[i] = f.ValueName(v)
			if schema.FeatureKind(f.Kind.Value) == schema.Figure && f.Unit.Value != "" && !strings.Contains(v, f.Unit.Value) {
				values[i] += " " + f.Unit.Value
			}
		}
	}
	words := name + ": " + strings.Join(values, " or ")
	if o.Sure != string(schema.Sure) {
		words += ", " + o.Sure
	}
	if o.Note != "" {
		words += " (" + o.Note + ")"
	}
	return words
}

// visitors says what the visitor's page made of the bow, where it is not what
// this edition makes of it.
func (t *report) visitors(answer *dating.Answer, edition string) {
	d := t.s.Dated
	if d == nil || answer.Best != nil && answer.Best.Model == d.Model && answer.Best.Maker == d.Maker && answer.Best.Year == d.Year && t.s.Edition == edition {
		return
	}
	fmt.Fprintf(&t.b, "\n  The visitor's page made it: %s, %d (%.0f in 100), by the edition %s.\n", dating.BowName(t.inbox.ref, d.Model, d.Maker), d.Year, d.Chance*100, t.s.Edition)
}

// Line gives a receipt in one line, for a folder of many: "Plover 1965, as 0053".
func (in *Inbox) Line(r *Receipt) string {
	words := "no year"
	if best := r.Answer.Best; best != nil {
		words = fmt.Sprintf("%s %d (%.0f in 100)", dating.BowName(in.ref, best.Model, best.Maker), best.Year, best.Chance*100)
	}
	for _, a := range r.Alike {
		words += "; " + a.Words()
	}
	if site := in.elsewhere(r.Submission); site != "" {
		words += "; made for " + site
	}
	return words
}

// elsewhere names the site that a submission was made on, where it is another
// reference's or this one has been renamed.
func (in *Inbox) elsewhere(s *Submission) string {
	if s.Reference == in.ref.Settings.Name.Value {
		return ""
	}
	return fmt.Sprintf("the site of %q, not this one", english.Clip(s.Reference, maxShown))
}

// JSONVersion is the version of the JSON that a Summary is written as.
const JSONVersion = 1

// Summary is what became of several submissions, as written for programs:
//
//	{"version":1,"edition","dryRun","received":[{"file","example","before","adds":[],"best":{"model","year","chance"},
//	 "alike":[{"example","name","sure","because"}],"problems":[{"where","message","help"}]}],
//	 "counts":{"filed","before","amended","refused"}}
//
// With dryRun, example is the number that it would get. Refused submissions
// have problems and no example.
type Summary struct {
	Version  int        `json:"version"`
	Edition  string     `json:"edition"`
	DryRun   bool       `json:"dryRun"`
	Received []Received `json:"received"`
	Counts   Counts     `json:"counts"`
}

// Received is what became of one submission.
type Received struct {
	File     string       `json:"file"`
	Example  string       `json:"example"`
	Before   bool         `json:"before"`
	Adds     []string     `json:"adds"` // keys under private
	Best     *dating.Odds `json:"best"`
	Alike    []Alike      `json:"alike"`
	Problems Problems     `json:"problems"`
}

// Counts counts submissions by what became of them.
type Counts struct {
	Filed   int `json:"filed"`
	Before  int `json:"before"`  // and nothing new
	Amended int `json:"amended"` // filed before, with something new
	Refused int `json:"refused"`
}

// Took notes a submission that was taken in.
func (s *Summary) Took(file string, r *Receipt) {
	one := Received{File: file, Example: r.ID, Before: r.Before, Best: r.Answer.Best, Adds: append([]string{}, r.Adds...), Alike: []Alike{}, Problems: Problems{}}
	for _, a := range r.Alike {
		if !a.private { // such a list may end in a log
			one.Alike = append(one.Alike, a)
		}
	}
	s.Received = append(s.Received, one)
	switch {
	case len(r.Adds) > 0:
		s.Counts.Amended++
	case r.Before:
		s.Counts.Before++
	default:
		s.Counts.Filed++
	}
}

// Refused notes a submission that was refused.
func (s *Summary) Refused(file string, why Problems) {
	s.Received = append(s.Received, Received{File: file, Adds: []string{}, Alike: []Alike{}, Problems: why})
	s.Counts.Refused++
}
