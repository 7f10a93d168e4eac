package desk

import (
	"regexp"
	"slices"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// A key whose keys are a person's own (what must hold for a claim to, the signs
// of a stamp, what is private) stands in a form as lines, one to a key, with a
// colon between: "draw-weight: ..39 lb".

// linesOf gives such a value as lines; what is more than words and lists of
// words stays as it is written.
func linesOf(at *schema.Located) string {
	if at.Kind != schema.LocatedKeys || len(at.Keys) == 0 {
		return editing.Written(at)
	}
	var lines []string
	for _, k := range at.Keys {
		text := k.Value.Text
		if k.Value.Kind != schema.LocatedText {
			if isList := k.Value.Kind == schema.LocatedList; !isList || slices.ContainsFunc(k.Value.Items, func(i *schema.Located) bool { return i.Kind != schema.LocatedText }) {
				return editing.Written(at)
			}
			text = editing.Written(k.Value)
		}
		if k.Name == "" || strings.Contains(k.Name, ":") || strings.ContainsAny(text, "\r\n") || strings.TrimSpace(text) != text || isList(text) != (k.Value.Kind == schema.LocatedList) {
			return editing.Written(at)
		}
		lines = append(lines, k.Name+": "+text)
	}
	return strings.Join(lines, "\n")
}

func isList(text string) bool { return strings.HasPrefix(text, "[") && strings.HasSuffix(text, "]") }

// mapped is a value that stands as lines, key by key; ok is false of what is
// written otherwise.
func mapped(text string) (names []string, all map[string]*editing.Value, ok bool) {
	all = map[string]*editing.Value{}
	for line := range strings.SplitSeq(text, "\n") {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		name, value, two := strings.Cut(line, ":")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if _, twice := all[name]; !two || twice || name == "" || strings.ContainsAny(name, "{[") {
			return nil, nil, false
		}
		names = append(names, name)
		switch {
		case isList(value), figure.MatchString(value), value == "true", value == "false":
			all[name] = editing.Literal(value)
		default:
			all[name] = editing.Word(value)
		}
	}
	return names, all, len(names) > 0
}

// figure is a figure or a range with its unit, which YAML reads as it stands:
// "..39 lb", "-1 lb", "0.80".
var figure = regexp.MustCompile(`^[-+]?(\.\.)?[0-9][0-9./ ]*[A-Za-z]*$`)

// otherValue is what is to be written of lines, or of what is written as it is.
func otherValue(text string) *editing.Value {
	names, all, ok := mapped(text)
	if !ok {
		return editing.Literal(text)
	}
	value := editing.Mapping()
	for _, name := range names {
		value.With(name, all[name])
	}
	return value
}

// otherEdits gives the edits of the lines that differ, so that the other keys
// stay as they are written.
func otherEdits(keys []string, old, new string) []editing.Edit {
	before, was, hadLines := mapped(old)
	after, is, hasLines := mapped(new)
	stays := func(name string) bool { return is[name] != nil }
	if !hadLines || !hasLines || !slices.ContainsFunc(before, stays) {
		e := editing.Edit{Keys: keys}
		if old != "" {
			e.Old = otherValue(old)
		}
		if new != "" {
			e.New = otherValue(new)
		}
		return []editing.Edit{e}
	}
	var edits []editing.Edit
	for _, name := range before {
		if is[name] == nil {
			edits = append(edits, editing.Edit{Keys: append(slices.Clone(keys), name), Old: was[name]})
		}
	}
	for _, name := range after {
		if was[name] == nil || !was[name].Equal(is[name]) {
			edits = append(edits, editing.Edit{Keys: append(slices.Clone(keys), name), Old: was[name], New: is[name]})
		}
	}
	return edits
}

// disputeText is a dispute as a form says it: yes, no, or the claims that it is
// with, with commas between.
func disputeText(at *schema.Located) string {
	if at.Kind == schema.LocatedText {
		return map[string]string{"true": "yes", "false": "no"}[at.Text]
	}
	with := at.Key("with")
	if with == nil || len(at.Keys) != 1 {
		return editing.Written(at)
	}
	if with.Kind == schema.LocatedText {
		return with.Text
	}
	var all []string
	for _, item := range with.Items {
		all = append(all, item.Text)
	}
	return strings.Join(all, ", ")
}

func disputeValue(text string) *editing.Value {
	switch strings.ToLower(text) {
	case "yes", "true":
		return editing.Literal("true")
	case "no", "false":
		return editing.Literal("false")
	}
	if strings.HasPrefix(text, "{") {
		return editing.Literal(text)
	}
	var with []string
	for claim := range strings.SplitSeq(text, ",") {
		if claim = strings.TrimSpace(claim); claim != "" {
			with = append(with, claim)
		}
	}
	return editing.Mapping().With("with", editing.Words(with))
}

// isBounds says that years are written by what each end lies between:
// "{from: 1964..1965, to: 1966}".
func isBounds(text string) bool { return bounds.MatchString(text) }

var bounds = regexp.MustCompile(`^\{\s*(from|to)\s*:`)
