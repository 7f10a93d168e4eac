package dating

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"yearmark/bench"
	"yearmark/schema"
	"yearmark/schema/edits"
)

// Number is what the records say of a number that is stamped or written on a
// bow: a serial, a model number, a weight mark, however it is punctuated.
type Number struct {
	Text  string
	Fits  []NumberFit
	Near  []NumberFit // where none fits: those that one slip of the eye or hand leads to
	Marks []string    // how it reads as a weight mark, a sentence each
	Names []string    // what it is another name of, a sentence each

	recorded []string // "serial number "K###", "HS####"", by feature
}

// NumberFit is one recorded value that a number fits.
type NumberFit struct {
	Feature, Value string // the feature's name, and the value as people write it
	Model, Maker   string // names
	Claim          ClaimEvidence
	Read           string // of what is near: what it would have to read
}

// MarshalJSON writes the number in the documented form; lists are never null.
func (n Number) MarshalJSON() ([]byte, error) {
	type fit struct {
		Feature string   `json:"feature"`
		Value   string   `json:"value"`
		Model   string   `json:"model"`
		Maker   string   `json:"maker"`
		Claim   string   `json:"claim"`
		Years   string   `json:"years"`
		Cites   []string `json:"cites"`
		Read    string   `json:"read,omitempty"`
	}
	fits := func(from []NumberFit) []fit {
		all := []fit{}
		for _, f := range from {
			c := f.Claim
			all = append(all, fit{f.Feature, f.Value, f.Model, f.Maker, c.Claim.Key(), c.Years.String(), written(c.Claim.Citations()), f.Read})
		}
		return all
	}
	return json.Marshal(struct {
		Text     string   `json:"text"`
		Fits     []fit    `json:"fits"`
		Near     []fit    `json:"near"`
		Marks    []string `json:"marks"`
		Recorded []string `json:"recorded"`
	}{n.Text, fits(n.Fits), fits(n.Near), list(n.Marks), list(n.recorded)})
}

// maxNumber is how long a number may be, in characters.
const maxNumber = 40

// Number reads a number against every recorded value of the text features, and
// as a weight mark by the makers' conventions.
func (e *Engine) Number(text string) Number {
	n := Number{Text: Tidy(text)}
	if e.ref == nil {
		return n
	}
	squeezed := Squeeze(text)
	readable := squeezed != "" && len([]rune(squeezed)) <= maxNumber
	for f := range e.features {
		w, ok := e.features[f].Domain.(*Wordings)
		if !ok || len(w.Patterns) == 0 {
			continue
		}
		n.recorded = append(n.recorded, schema.Lowered(e.features[f].Name())+" "+fewest(w.labels()))
		if list, err := w.Observed(n.Text); err == nil && readable && list[0] < len(w.Patterns) {
			n.Fits = append(n.Fits, e.fits(f, list, "")...)
		}
	}
	if readable {
		n.Marks = e.weightMarks(n.Text)
		for _, other := range OtherNames(e.ref) {
			if Squeeze(other.Name) == squeezed {
				n.Names = append(n.Names, other.Words)
			}
		}
	}
	if readable && len(n.Fits) == 0 {
		n.Near = e.near(squeezed)
	}
	return n
}

// fits gives the claims of models on record that hold one of a text feature's values.
func (e *Engine) fits(feature int, values []int, read string) (list []NumberFit) {
	f := &e.features[feature]
	for m, model := range e.table.Models {
		if model.ID == "" {
			continue
		}
		record, known := e.ref.Models.Get(model.ID)
		if !known {
			continue
		}
		maker, known := e.ref.Makers.Get(record.Maker.Value)
		if !known {
			continue
		}
		for _, c := range e.ClaimsAbout(m, feature) {
			if slices.Contains(values, c.First) {
				list = append(list, NumberFit{f.Name(), f.Domain.Label([]int{c.First}), record.Title(), maker.Title(), c, read})
			}
		}
	}
	return list
}

// near gives what one slip in a squeezed text would lead to: a letter or
// figure misread, left out, put in or swapped with its neighbour.
func (e *Engine) near(squeezed string) (list []NumberFit) {
	for f := range e.features {
		w, ok := e.features[f].Domain.(*Wordings)
		if !ok {
			continue
		}
		taken := map[int]bool{}
		take := func(value int, read string) {
			if !taken[value] {
				list = append(list, e.fits(f, []int{value}, read)...)
			}
			taken[value] = true
		}
		for _, slip := range slips(squeezed) {
			for _, i := range w.observedSqueezed(slip) {
				take(i, strings.ToUpper(slip))
			}
		}
		for i, p := range w.Patterns {
			if p.RE2 == "" && edits.Distance([]rune(Squeeze(p.Words)), []rune(squeezed), 1) == 1 {
				take(i, p.Words)
			}
		}
	}
	return list
}

// misread are signs that are taken for each other on worn wood.
var misread = [][2]rune{{'0', 'o'}, {'1', 'i'}, {'1', 'l'}, {'2', 'z'}, {'5', 's'}, {'6', 'g'}, {'8', 'b'}, {'1', '7'}, {'3', '8'}, {'6', '8'}, {'5', '6'}}

// slips gives the texts that one slip makes of a squeezed text: one sign
// misread, two swapped, one left out; in that order, from the left.
func slips(text string) []string {
	signs := []rune(text)
	var list []string
	for i := range signs {
		for _, pair := range misread {
			for k := range pair {
				if signs[i] == pair[k] {
					other := slices.Clone(signs)
					other[i] = pair[1-k]
					list = append(list, string(other))
				}
			}
		}
	}
	for i := 1; i < len(signs); i++ {
		other := slices.Clone(signs)
		other[i-1], other[i] = other[i], other[i-1]
		list = append(list, string(other))
	}
	for i := range signs {
		list = append(list, string(slices.Delete(slices.Clone(signs), i, i+1)))
	}
	return list
}

// weightMarks says how a text reads as a weight mark, by each maker whose sign it has.
func (e *Engine) weightMarks(text string) (list []string) {
	plain, err := bench.ReadWeightMark(text, bench.Convention{})
	if err == nil && plain.Sign == "" && strings.ContainsAny(text, "@#lL") {
		list = append(list, fmt.Sprintf("As a weight mark it reads %s.", reading(plain)))
	}
	for _, m := range e.ref.Makers.All() {
		if len(m.WeightMarks) == 0 {
			continue
		}
		if read, err := ReadStamp(m, text); err == nil && read[0].Sign != "" {
			list = append(list, fmt.Sprintf("As a weight mark it reads %s, as %s stamped its bows.", StampWords(read), m.Title()))
		}
	}
	return list
}

func reading(w bench.Weight) string {
	words := plain(w.Pounds) + " lb"
	if w.Draw > 0 {
		words += " at " + plain(w.Draw) + " in"
	}
	return words
}

// maxFits is how many recorded values are named.
const maxFits = 8

// Words says what the records say of the number, a sentence a line.
func (n Number) Words(ref *schema.Reference) []string {
	lines := slices.Concat(n.Names, n.Marks)
	say := func(list []NumberFit) {
		for i, f := range list {
			if i == maxFits {
				lines = append(lines, fmt.Sprintf("%d more claims fit.", len(list)-i))
				break
			}
			lines = append(lines, f.words(ref))
		}
	}
	say(n.Fits)
	if len(lines) > 0 {
		return lines
	}
	if len(n.recorded) == 0 {
		return append(lines, "No numbers are recorded.")
	}
	lines = append(lines, fmt.Sprintf("%q fits no recorded number.", n.Text))
	say(n.Near)
	return append(lines, "Recorded: "+strings.Join(n.recorded, "; ")+".")
}

// words says what a value is, of which model, when, and on whose word.
func (f NumberFit) words(ref *schema.Reference) string {
	near := ""
	if f.Read != "" {
		near = "If it reads " + f.Read + ": "
	}
	return fmt.Sprintf("%s%s %s: %s by %s %s, by %s.", near, f.Feature, f.Value, f.Model, f.Maker, f.Claim.Years, sourceNames(ref, f.Claim.Claim.Citations()))
}

// LooksLikeNumber says that a question is a number rather than words: it has a
// figure, at most one short word, and is more than a word and years, or a measure.
func LooksLikeNumber(text string, horizon func(year int) bool) bool {
	words, figures := 0, false
	for _, part := range strings.Fields(Tidy(text)) {
		year, err := strconv.Atoi(part)
		switch {
		case longWord.MatchString(part):
			return false
		case shortWord.MatchString(part):
			words++
		case err != nil || len(part) != 4 || !horizon(year):
			figures = true
		}
	}
	return figures && words < 2 && strings.ContainsAny(text, "0123456789") && !measure(text)
}

// What is a word rather than part of a number: letters alone, of which a number
// may have one such, as in "ser. no 172", or more together than any number has.
var (
	shortWord = regexp.MustCompile(`^\pL{3,}$`)
	longWord  = regexp.MustCompile(`\pL{5}`)
)

// measure says that a text is a figure or two with a unit, which the search knows.
func measure(text string) bool {
	r, err := schema.ParseRange(text)
	return err == nil && r.Unit != ""
}
