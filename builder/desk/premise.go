package desk

import (
	"regexp"
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
)

// The conditions of a claim stand in a form as people say them, one to a line:
// "Draw weight: up to 39 lb", "Riser wood: Walnut or Beech". In the record they
// are "draw-weight: ..39 lb" and "riser-wood: [walnut, beech]".

// premiseWords puts conditions into words that are read back to the letter: a
// line keeps as much as the record has of it as that needs.
func premiseWords(text string, ref *schema.Reference) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		named := conditionWords(line, ref, func(_ *schema.Feature, value string) string { return value })
		for _, words := range []string{conditionWords(line, ref, valueWords), named} {
			if premiseOf(words, ref) == premiseOf(line, ref) {
				lines[i] = words
				break
			}
		}
	}
	return strings.Join(lines, "\n")
}

// conditionWords puts one condition into words, its values by the function given.
func conditionWords(line string, ref *schema.Reference, values func(f *schema.Feature, value string) string) string {
	name, value, two := strings.Cut(line, ":")
	f, known := ref.Features.Get(strings.TrimSpace(name))
	if !two || !known {
		return line
	}
	return f.Title() + ": " + values(f, strings.TrimSpace(value))
}

func valueWords(f *schema.Feature, value string) string {
	if !isList(value) {
		return f.ConditionWords(value)
	}
	values := strings.Split(strings.Trim(value, "[]"), ",")
	for i, v := range values {
		values[i] = f.ConditionWords(strings.TrimSpace(v))
	}
	return english.Or(values)
}

// premisesOf gives conditions as the record has them, where they are said in words.
func premisesOf(text string, ref *schema.Reference) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = premiseOf(line, ref)
	}
	return strings.Join(lines, "\n")
}

var (
	atMost  = regexp.MustCompile(`(?i)^(?:up to|at most|no more than) (.+)$|^(.+?) (?:or|and) (?:less|under|below)$`)
	atLeast = regexp.MustCompile(`(?i)^(?:from|at least|no less than) ([0-9][0-9 ./]*?) ?([a-z]*)$|^([0-9][0-9 ./]*?) ?([a-z]*) (?:or|and) (?:more|over|above|up)$`)
	between = regexp.MustCompile(`(?i)^(?:between |from )?([0-9][0-9 ./]*?) ?(?:to|and|-|–) ?([0-9].*)$`)
	orElse  = regexp.MustCompile(`(?i)\s*,\s*(?:or\s+)?|\s+or\s+`)
)

func premiseOf(line string, ref *schema.Reference) string {
	name, value, two := strings.Cut(line, ":")
	if !two {
		return line
	}
	name, value = identifierOf(strings.TrimSpace(name), schema.KindFeature, ref), strings.TrimSpace(value)
	f, known := ref.Features.Get(name)
	switch {
	case !known, value == "", isList(value):
	case schema.FeatureKind(f.Kind.Value) == schema.Figure:
		value = figuresOf(value)
	case schema.FeatureKind(f.Kind.Value) != schema.Wording: // a pattern may hold anything
		value = valuesOf(f, value)
	}
	return name + ": " + value
}

// figuresOf writes a range in words as the record has it.
func figuresOf(text string) string {
	if m := atMost.FindStringSubmatch(text); m != nil {
		return ".." + m[1] + m[2]
	}
	if m := between.FindStringSubmatch(text); m != nil {
		return m[1] + ".." + m[2]
	}
	if m := atLeast.FindStringSubmatch(text); m != nil {
		return strings.TrimSpace(m[1] + m[3] + ".. " + m[2] + m[4])
	}
	return text
}

// valuesOf gives the identifiers of values that were named as people say them.
func valuesOf(f *schema.Feature, text string) string {
	if id, known := valueNamed(f, text); known {
		return id
	}
	var all []string
	for _, word := range orElse.Split(text, -1) {
		id, known := valueNamed(f, word)
		if !known {
			return text
		}
		all = append(all, id)
	}
	return "[" + strings.Join(all, ", ") + "]"
}

func valueNamed(f *schema.Feature, name string) (id string, known bool) {
	if v, ok := f.Value(name); ok {
		return v.ID.Value, true
	}
	if strings.EqualFold(name, f.ValueName(schema.SomethingElse)) {
		return schema.SomethingElse, true
	}
	for _, v := range f.Values {
		if strings.EqualFold(name, v.Name.Value) {
			return v.ID.Value, true
		}
		if slices.ContainsFunc(schema.OtherNames(v.Also), func(also string) bool { return strings.EqualFold(name, also) }) {
			return v.ID.Value, true
		}
	}
	return "", false
}
