package dating

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"yearmark/dating/odds"
	"yearmark/schema/edtf"
)

// inHundred gives a chance in words: "81 in 100".
func inHundred(chance float64) string {
	switch n := math.Round(chance * 100); {
	case n < 1:
		return "less than 1 in 100"
	case n > 99:
		return "more than 99 in 100"
	default:
		return fmt.Sprintf("%.0f in 100", n)
	}
}

// howSure puts a chance into one word or two.
func howSure(chance float64) string {
	switch {
	case chance >= .95:
		return "as good as certain"
	case chance >= .80:
		return "very likely"
	case chance >= .50:
		return "more likely than not"
	}
	return "the likeliest of several"
}

// signed gives decibans with their sign, if they are any at the figures given.
func signed(decibans float64) string {
	text := fmt.Sprintf("%+.1f", decibans)
	if text == "+0.0" || text == "-0.0" {
		return "0.0"
	}
	return text
}

// plain gives a figure in as few digits as tell it from others.
func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func times(ratio float64) string {
	if ratio < 10 {
		return plain(math.Round(ratio*10) / 10)
	}
	return fmt.Sprintf("%.0f", ratio)
}

// maxNamed is how many models a sentence names before it counts the others.
const maxNamed = 6

// modelYears puts years of models into words: "Plover 1964–1967; Dunlin 1966".
func (e *Engine) modelYears(list []ModelYears) string {
	var parts []string
	for i, m := range list {
		if i == maxNamed && len(list) > maxNamed+1 {
			parts = append(parts, fmt.Sprintf("and %d other models", len(list)-maxNamed))
			break
		}
		parts = append(parts, e.nameOf(m.Model, m.Maker)+" "+strings.Join(edtf.Stretches(m.Years), ", "))
	}
	if parts == nil {
		return "no year"
	}
	return strings.Join(parts, "; ")
}

// nameOf is BowName in the engine's reference.
func (e *Engine) nameOf(model, maker string) string { return BowName(e.ref, model, maker) }

// theBow names a bow within a sentence: "the Plover", "another model of Halvane Archery".
func (e *Engine) theBow(model, maker string) string {
	if model == "" {
		return e.nameOf(model, maker)
	}
	return "the " + e.nameOf(model, maker)
}

// longName is the model's name with its maker's.
func (e *Engine) longName(model, maker string) string {
	if e.ref != nil {
		if m, ok := e.ref.Models.Get(model); ok {
			if maker, ok := e.ref.Makers.Get(m.Maker.Value); ok {
				return m.Title() + " by " + maker.Title()
			}
		}
	}
	return e.nameOf(model, maker)
}

// feature finds a feature by its identifier; it must be there.
func (e *Engine) feature(id string) *Feature {
	for i := range e.features {
		if e.features[i].ID == id {
			return &e.features[i]
		}
	}
	return &Feature{ID: id}
}

// wrap breaks words into lines of at most width characters. The first line
// begins with first, the others with rest.
func wrap(text, first, rest string, width int) string {
	var b strings.Builder
	line, used := first, 0
	for word := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ' ' || r == '\n' }) {
		if used > 0 && len([]rune(line))+1+len([]rune(word)) > width {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line, used = rest, 0
		}
		if used > 0 {
			line += " "
		}
		line += word
		used++
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	return strings.ReplaceAll(b.String(), noBreak, " ")
}

// noBreak holds two words together.
const noBreak = "\u00a0"

// pow2 is 2 to the power of bits.
func pow2(bits float64) float64 { return math.Exp2(bits) }

// opening names a bow at the beginning of a sentence.
func (e *Engine) opening(model, maker string) string {
	if model == "" {
		return raised(e.nameOf(model, maker))
	}
	return e.nameOf(model, maker)
}

// bowAt gives the place in the table of what an answer names, or -1.
func (e *Engine) bowAt(model, maker string) int {
	return slices.IndexFunc(e.table.Models, func(m odds.Model) bool { return m.ID == model && m.Maker == maker })
}

// OnRecord gives the part of a set that is of models on record.
func OnRecord(list []ModelYears) []ModelYears {
	return slices.DeleteFunc(slices.Clone(list), func(m ModelYears) bool { return m.Model == "" })
}
