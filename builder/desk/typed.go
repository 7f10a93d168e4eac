package desk

import (
	"net/url"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// placeSuffix ends the name of the box for the place of a citation, beside that
// of its source.
const placeSuffix = ":place"

// typed gives what a form holds as a record is to say it: sources by their
// identifiers, years in EDTF. Notes are questions and what is not understood,
// by path; where there is any, nothing may be saved.
func typed(form url.Values, of schema.Field, ref *schema.Reference) (values, map[string][]noteView) {
	v := postedValues(form)
	for path := range v {
		if strings.HasPrefix(path, "-") && path != bodyPath {
			delete(v, path)
		}
	}
	joinPlaces(v)
	notes := map[string][]noteView{}
	v.each("", of, func(path string, f schema.Field) {
		switch {
		case f.Type == schema.FieldSpan && isBounds(v[path]):
		case f.Type == schema.FieldSpan:
			if note := settleYears(v, path, ref); note != nil {
				notes[path] = append(notes[path], *note)
			}
		case f.Type == schema.FieldCitation:
			v[path] = withIdentifier(v[path], ref)
		case f.Name == "when":
			v[path] = premisesOf(v[path], ref)
		case names[f.Name] != "" && f.Type == schema.FieldText:
			v[path] = identifierOf(v[path], names[f.Name], ref)
		case f.Name == "value":
			if of, known := ref.Features.Get(identifierOf(v[siblingOf(path, "feature")], schema.KindFeature, ref)); known {
				if id, known := valueNamed(of, v[path]); known {
					v[path] = id
				}
			}
		case f.Name == "era":
			for at, name := range v {
				if strings.HasPrefix(at, "eras/") && strings.HasSuffix(at, "/name") && strings.EqualFold(name, v[path]) && v[siblingOf(at, "id")] != "" {
					v[path] = v[siblingOf(at, "id")]
				}
			}
		}
	})
	return v, notes
}

// siblingOf is the path of another key of the entry that a path leads to a key
// of, or to one of several words of it.
func siblingOf(path, name string) string {
	above, step := cutLast(path)
	if _, err := strconv.Atoi(step); err == nil {
		above, _ = cutLast(above)
	}
	return join(above, name)
}

// joinPlaces puts the place of every citation behind its source.
func joinPlaces(v values) {
	for path, place := range v {
		of, isPlace := strings.CutSuffix(path, placeSuffix)
		if !isPlace {
			continue
		}
		delete(v, path)
		if v[of] != "" {
			v[of] += ", " + place
		}
	}
}

// each calls do for every value that stands in a field of the group.
func (v values) each(path string, of schema.Field, do func(path string, f schema.Field)) {
	v.outlined().each(path, of, do)
}

func (v outlined) each(path string, of schema.Field, do func(path string, f schema.Field)) {
	for _, f := range of.Fields {
		v.eachOf(join(path, f.Name), f, do)
	}
}

func (v outlined) eachOf(path string, f schema.Field, do func(path string, f schema.Field)) {
	switch {
	case f.List:
		single := f
		single.List = false
		for _, i := range v.items(path) {
			v.eachOf(join(path, strconv.Itoa(i)), single, do)
		}
	case f.Type == schema.FieldGroup:
		v.each(path, f, do)
	case v.values[path] != "":
		do(path, f)
	}
}

// settleYears writes years in plain words as EDTF, or gives the question that
// they leave open.
func settleYears(v values, path string, ref *schema.Reference) *noteView {
	offers := ref.YearsInWords(v[path])
	if len(offers) == 1 {
		v[path] = offers[0].Write
		return nil
	}
	note := &noteView{Level: "question", Text: "These years are not understood.", Remedy: "Write them as in 1965, about 1965, early 60s, 1964-1967, before 1970, 1966 or 1968."}
	if len(offers) > 1 {
		note.Text, note.Remedy = "Which is meant?", ""
		for _, o := range offers {
			note.Choices, note.Whens = append(note.Choices, o.Write), append(note.Whens, choiceWords(o.Write, o.When))
		}
	}
	return note
}

// readingOf reads years out in a sentence; it is empty of what cannot be read.
func readingOf(text string, ref *schema.Reference) string {
	offers := ref.YearsInWords(text)
	if len(offers) != 1 {
		return ""
	}
	e, err := edtf.Parse(offers[0].Write)
	if err != nil {
		return ""
	}
	return e.Words()
}

// withIdentifier writes a citation with the source's identifier, where its
// title was typed.
func withIdentifier(text string, ref *schema.Reference) string {
	if id, _, _ := strings.Cut(text, ","); strings.TrimSpace(id) != "" {
		if _, ok := ref.Cited(strings.TrimSpace(id)); ok {
			return text
		}
	}
	for _, s := range ref.Sources.All() {
		if rest, ok := cutPrefixFold(text, s.Title()); ok && (rest == "" || strings.HasPrefix(rest, ",")) {
			return s.ID + rest
		}
	}
	return text
}

// identifierOf gives the identifier of a record that was named by its title.
func identifierOf(text string, kind schema.Kind, ref *schema.Reference) string {
	if _, ok := ref.Record(kind, text); ok {
		return text
	}
	for _, r := range ref.RecordsOf(kind) {
		if strings.EqualFold(r.Title(), text) {
			return r.Header().ID
		}
	}
	return text
}

func cutPrefixFold(text, prefix string) (rest string, ok bool) {
	if len(text) < len(prefix) || prefix == "" || !strings.EqualFold(text[:len(prefix)], prefix) {
		return text, false
	}
	return text[len(prefix):], true
}
