package dating

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"yearmark/schema"
	"yearmark/schema/english"
)

// Wordings are the outcomes of a text feature: every value claimed in the
// reference, in alphabetical order, and something else.
type Wordings struct {
	Patterns []Pattern
	folded   map[string][]int // places in Patterns by folded text
	squeezed map[string][]int // the same by squeezed text
	matched  []int            // the places of those that are no plain words
}

// Pattern is one value of a text feature.
type Pattern struct {
	Text string // as claimed
	// Words is what is compared where a text is matched by its letters: the
	// text without "^" and "$" around it where nothing else is a pattern.
	Words string
	// Label is the value as people write it: "6[4–7]-###" for "^6[4-7]-[0-9]{3}$".
	Label string
	// RE2 is the pattern that the whole of what is seen must match, or "" for
	// plain words. It is written for text that is tidied but not folded.
	RE2 string
	// Loose is the pattern for squeezed text, or "" for plain words and where none is left.
	Loose     string
	re, loose *regexp.Regexp
}

func newWordings(claims []*schema.Claim) *Wordings {
	var texts []string
	for _, c := range claims {
		if c.Value.Value != "" {
			texts = append(texts, c.Value.Value)
		}
	}
	slices.Sort(texts)
	w := &Wordings{folded: map[string][]int{}, squeezed: map[string][]int{}}
	for i, text := range slices.Compact(texts) {
		p := newPattern(text)
		w.Patterns = append(w.Patterns, p)
		for _, folded := range slices.Compact([]string{Fold(text), Fold(p.Words)}) {
			w.folded[folded] = append(w.folded[folded], i)
		}
		squeezed := Squeeze(p.Words)
		w.squeezed[squeezed] = append(w.squeezed[squeezed], i)
		if p.re != nil {
			w.matched = append(w.matched, i)
		}
	}
	return w
}

func newPattern(text string) Pattern {
	p := Pattern{Text: text, Words: text, Label: text}
	if words := strings.TrimSuffix(strings.TrimPrefix(text, "^"), "$"); words != "" && regexp.QuoteMeta(words) == words {
		p.Words, p.Label = words, words
		return p
	}
	if _, err := regexp.Compile(text); err != nil {
		return p
	}
	whole := `(?i)\A(?:` + text + `)\z`
	if re, err := regexp.Compile(whole); err == nil {
		p.RE2, p.re, p.Label = whole, re, schema.PatternWords(text)
		if p.Loose = loosened(text); p.Loose != "" {
			if p.loose, err = regexp.Compile(p.Loose); err != nil {
				p.Loose = ""
			}
		}
	}
	return p
}

// Size is the number of values claimed, and one for something else.
func (w *Wordings) Size() int { return len(w.Patterns) + 1 }

// place is where a claimed value stands among the patterns, written as it is claimed, or -1.
func (w *Wordings) place(text string) int {
	i, known := slices.BinarySearchFunc(w.Patterns, text, func(p Pattern, text string) int { return strings.Compare(p.Text, text) })
	if !known {
		return -1
	}
	return i
}

// Claimed finds the value that a claim is about.
func (w *Wordings) Claimed(c *schema.Claim) (first, last int, ok bool) {
	i := w.place(c.Value.Value)
	return i, i, i >= 0
}

// Observed gives every value that the text matches; where it matches none as
// written, those that it matches squeezed; and something else where there are none.
func (w *Wordings) Observed(value string) ([]int, error) {
	if value == SomethingElse {
		return []int{len(w.Patterns)}, nil
	}
	tidy := Tidy(value)
	list := slices.Clone(w.folded[Fold(value)])
	for _, i := range w.matched {
		if w.Patterns[i].re.MatchString(tidy) {
			list = append(list, i)
		}
	}
	if list == nil {
		list = w.observedSqueezed(Squeeze(value))
	}
	if list == nil {
		return []int{len(w.Patterns)}, nil
	}
	slices.Sort(list)
	return slices.Compact(list), nil
}

// observedSqueezed gives the values that a squeezed text matches, rising.
func (w *Wordings) observedSqueezed(text string) []int {
	if text == "" {
		return nil
	}
	list := slices.Clone(w.squeezed[text])
	for _, i := range w.matched {
		if loose := w.Patterns[i].loose; loose != nil && loose.MatchString(text) {
			list = append(list, i)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// labels gives each value as people write it, in quotes.
func (w *Wordings) labels() []string {
	list := make([]string, len(w.Patterns))
	for i := range list {
		list[i] = w.Label([]int{i})
	}
	return list
}

// Label joins the values in quotes, as people write them.
func (w *Wordings) Label(outcomes []int) string {
	names := make([]string, len(outcomes))
	for i, o := range outcomes {
		names[i] = "something else"
		if o < len(w.Patterns) {
			names[i] = "\"" + w.Patterns[o].Label + "\""
		}
	}
	return english.Or(names)
}

// Tidy drops white space at both ends and makes one space of any other
// stretch of it. White space is ASCII's, and the no-break space.
func Tidy(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool {
		return r == ' ' || r >= '\t' && r <= '\r' || r == '\u00a0'
	}), " ")
}

// Fold makes texts alike that differ only in capitals and white space.
func Fold(s string) string {
	return strings.Map(func(r rune) rune {
		if r == 'İ' { // its small letter is two characters
			return r
		}
		return unicode.ToLower(r)
	}, Tidy(s))
}
