package search

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// claimLine is what a reader of the claim would search for.
func (w *writer) claimLine(c *schema.Claim) string {
	switch c.About {
	case schema.AboutFeature:
		return w.valueLine(c.Feature.Value, c.Value.Value) + " " + c.Span.String() + w.ref.Conditions(c.When)
	case schema.AboutSpec:
		return w.valueLine(c.Spec.Value, c.Range.Written) + " " + c.Span.String() + w.ref.Conditions(c.When)
	case schema.AboutEra:
		return c.Name.Value + " " + c.Span.String()
	}
	return c.Span.String()
}

// valueLine names a feature and one of its values for people. A pattern is
// searched for by its letters, where it stands for one text only.
func (w *writer) valueLine(feature, value string) string {
	f, ok := w.ref.Features.Get(feature)
	if !ok {
		return value
	}
	if schema.FeatureKind(f.Kind.Value) == schema.Wording {
		value = literal(value)
	}
	return f.Title() + " " + f.ValueName(value)
}

// seenLine is valueLine of what was seen on a bow, whose letters and figures
// are no pattern; they are found however they are parted.
func (w *writer) seenLine(feature, value string) string {
	f, ok := w.ref.Features.Get(feature)
	if !ok || schema.FeatureKind(f.Kind.Value) != schema.Wording {
		return w.valueLine(feature, value)
	}
	line, together, parted := f.Title()+" "+value, "", ""
	for _, r := range value {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			continue
		}
		if before, _ := utf8.DecodeLastRuneInString(together); together != "" && unicode.IsDigit(before) != unicode.IsDigit(r) {
			parted += " "
		}
		together, parted = together+string(r), parted+string(r)
	}
	for _, other := range []string{together, parted} {
		if other != value {
			line += " " + other
		}
	}
	return line
}

// literal gives the one text that a pattern matches, or nothing where it matches more than one.
func literal(pattern string) string {
	plain := strings.TrimSuffix(strings.TrimPrefix(pattern, "^"), "$")
	if strings.ContainsAny(plain, `[](){}*+?|\.^$`) {
		return ""
	}
	return plain
}

// eachYear writes out the years of an era, so that each of them finds it.
func eachYear(r edtf.Range) string {
	if r == (edtf.Range{}) || r.Last-r.First > longestEra {
		return written(r)
	}
	var list []string
	for y := r.First; y <= r.Last; y++ {
		list = append(list, strconv.Itoa(y))
	}
	return strings.Join(list, " ")
}

// written gives years for people: 1964–1967, 1965, or nothing.
func written(r edtf.Range) string {
	if r == (edtf.Range{}) {
		return ""
	}
	return r.String()
}

// listed joins what there is with commas.
func listed(parts ...string) string { return join(parts, ", ") }

// joined joins what there is in lines.
func joined(lines []string) string { return join(lines, "\n") }

func join(parts []string, by string) string {
	some := make([]string, 0, len(parts))
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			some = append(some, p)
		}
	}
	return strings.Join(some, by)
}

func uses(list []schema.Text) string { return strings.Join(schema.Texts(list), " ") }

// alsoNames are further names of a record, which count as much as its own summary.
func alsoNames(list []schema.OtherName) string {
	var names []string
	for _, n := range list {
		names = append(names, strings.TrimSpace(n.Name.Value+" "+n.Span.String()))
	}
	return joined(names)
}

// rateLines says on how many bows values were found.
func (w *writer) rateLines(list []*schema.Rate) []string {
	var lines []string
	for _, r := range list {
		lines = append(lines, w.valueLine(r.Feature.Value, r.Value.Value)+" "+r.Words(), r.Note.Value)
	}
	return lines
}
