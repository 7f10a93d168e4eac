package intake

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// record writes the submission as an example's record. alike is named in a
// comment, for whoever looks the record over.
func (s *Submission) record(sum string, alike []Alike) []byte {
	w := &strings.Builder{}
	w.WriteString("---\nrecord: example\n")
	for _, a := range alike {
		if a.private {
			continue
		}
		fmt.Fprintf(w, "# %s: %s\n", a.Words(), a.Because)
	}
	line := func(key, value string) {
		if value != "" {
			fmt.Fprintf(w, "%s: %s\n", key, value)
		}
	}
	if s.Model != "" {
		line("model", word(s.Model))
	}
	line("seen", s.On)
	line("by", quotedOrNone(s.By))
	notes, condition := s.places()
	w.WriteString("observed:\n")
	for i, o := range s.Observed {
		fmt.Fprintf(w, "  - {feature: %s, value: %s%s%s}\n", word(o.Feature), valuesOf(o.Values), sureOf(o.Sure), keyOf("note", notes[i]))
	}
	line("weight-mark", quotedOrNone(s.WeightMark))
	if len(condition) > 0 {
		w.WriteString("condition:\n")
	}
	for _, c := range condition {
		fault := ""
		if c.Fault != "" {
			fault = ", fault: " + word(c.Fault)
		}
		fmt.Fprintf(w, "  - {part: %s%s%s}\n", quoted(c.Part), keyOf("state", c.State), fault)
	}
	s.submitted(w, sum)
	s.private(w)
	w.WriteString("---\n")
	return []byte(w.String())
}

// submitted writes how the example was received.
func (s *Submission) submitted(w *strings.Builder, sum string) {
	w.WriteString("submitted:\n  # Once you have looked it over, add the day here, as in: reviewed: 2026-11-30\n")
	fmt.Fprintf(w, "  on: %s\n  edition: %s\n  sum: %s\n", s.On, quoted(s.Edition), quoted(sum))
	switch {
	case s.Note == "":
	case strings.Contains(s.Note, "\n"):
		w.WriteString("  note: |-\n")
		for line := range strings.SplitSeq(s.Note, "\n") {
			w.WriteString(strings.TrimRight("    "+line, " ") + "\n")
		}
	default:
		fmt.Fprintf(w, "  note: %s\n", quoted(s.Note))
	}
}

// private writes what stays in the folder: who sent it, and what the
// photographs are called, which people name after persons and places.
func (s *Submission) private(w *strings.Builder) {
	begun := false
	for _, p := range s.privately() {
		if p.value == "" {
			continue
		}
		if !begun {
			w.WriteString("private:\n")
			begun = true
		}
		w.WriteString("  " + p.key + ": " + quoted(p.value) + "\n")
	}
}

type pair struct{ key, value string }

// privately gives what a record holds under private; a value may be empty.
func (s *Submission) privately() []pair {
	p := cmp.Or(s.Private, &Private{})
	return []pair{{"name", p.Name}, {"contact", p.Contact}, {"photographs", s.photographs()}}
}

// photographs lists the photographs in one text.
func (s *Submission) photographs() string {
	var all []string
	for _, p := range s.Photographs {
		if p.Shows != "" {
			all = append(all, p.File+" ("+p.Shows+")")
			continue
		}
		all = append(all, p.File)
	}
	return strings.Join(all, "; ")
}

// places puts the place of each mark where the record has it: a mark that is
// an observed feature by its place in the remark on that feature, any other as
// a line of the condition.
func (s *Submission) places() (notes []string, condition []Part) {
	notes = make([]string, len(s.Observed))
	for i, o := range s.Observed {
		notes[i] = o.Note
	}
	condition = slices.Clone(s.Condition)
	for _, m := range s.Marks {
		at := slices.IndexFunc(s.Observed, func(o Seen) bool { return o.Feature == m.Mark })
		switch {
		case at < 0:
			condition = append(condition, Part{Part: m.Place, State: "mark: " + m.Mark})
		case notes[at] == "":
			notes[at] = m.Place
		default:
			notes[at] = m.Place + "; " + notes[at]
		}
	}
	return notes, condition
}

func valuesOf(values []string) string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = word(v)
	}
	if len(words) == 1 {
		return words[0]
	}
	return "[" + strings.Join(words, ", ") + "]"
}

func sureOf(sure string) string {
	if sure == string(schema.Sure) {
		return ""
	}
	return ", sure: " + sure
}

func keyOf(key, text string) string {
	if text == "" {
		return ""
	}
	return ", " + key + ": " + quoted(text)
}

func quotedOrNone(text string) string {
	if text == "" {
		return ""
	}
	return quoted(text)
}

// word writes an identifier bare, and anything else in quotes: also what other
// readers of YAML take for a number.
func word(s string) string {
	if identifier.MatchString(s) {
		return editing.Word(s).String()
	}
	return quoted(s)
}

var identifier = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)

func quoted(s string) string { return editing.Quoted(s).String() }

// readBack reads the record as the checker will, and wants it to say what the
// submission said: what cannot be read again is never written.
func (in *Inbox) readBack(r *Receipt, record []byte) (*schema.Example, Problems) {
	read, problems := schema.ReadRecord(r.File(), record)
	e, ok := read.(*schema.Example)
	if !ok || len(problems) > 0 {
		return nil, fromReader(problems)
	}
	if !r.Submission.says(e) {
		return nil, whole("it cannot be written as a record that says the same", "The fault is Yearmark's: please report it with the file.")
	}
	// The model was looked up already; without models to tie, tying costs next to nothing.
	alone := *e
	alone.Model = schema.Text{}
	records := []schema.Record{&alone}
	for _, f := range in.ref.Features.All() {
		records = append(records, f)
	}
	_, problems = schema.Assemble("", in.ref.Settings, records, schema.Media{})
	return e, fromReader(slices.DeleteFunc(problems, func(p schema.Problem) bool { return p.Pos.File() != r.File() }))
}

func fromReader(list schema.Problems) Problems {
	var problems Problems
	for _, p := range list {
		problems = append(problems, Problem{Message: p.Message, Help: p.Help})
	}
	return problems.sorted()
}

// says holds the record as read against the submission.
func (s *Submission) says(e *schema.Example) bool {
	notes, condition := s.places()
	if e.Model.Value != s.Model || e.Seen.String() != s.On || e.By.Value != s.By || e.WeightMark.Value != s.WeightMark ||
		len(e.Observed) != len(s.Observed) || len(e.Condition) != len(condition) || e.Submitted == nil {
		return false
	}
	for i, o := range e.Observed {
		want := s.Observed[i]
		same := slices.EqualFunc(o.Value, want.Values, func(t schema.Text, v string) bool { return t.Value == v })
		if !same || o.Feature.Value != want.Feature || string(o.Sureness()) != want.Sure || o.Note.Value != notes[i] {
			return false
		}
	}
	for i, c := range e.Condition {
		if c.Part.Value != condition[i].Part || c.State.Value != condition[i].State || c.Fault.Value != condition[i].Fault {
			return false
		}
	}
	return e.Submitted.Note.Value == s.Note && e.Submitted.Edition.Value == s.Edition && s.kept(e.Private)
}

// kept holds the private part of the record against the submission's.
func (s *Submission) kept(private []schema.PrivateKey) bool {
	want := map[string]string{}
	for _, p := range s.privately() {
		want[p.key] = p.value
	}
	for _, k := range private {
		if k.Value.Value == "" || want[k.Key.Value] != k.Value.Value {
			return false
		}
		delete(want, k.Key.Value)
	}
	for _, left := range want {
		if left != "" {
			return false
		}
	}
	return true
}
