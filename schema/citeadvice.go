package schema

import (
	"fmt"
	"regexp"
	"strings"
)

// maxAdvised bounds how many citations that cannot be read are wondered about,
// and how much of each.
const (
	maxAdvised = 1000
	maxCited   = 300
)

// adviseCitations says of citations that cannot be read what they should be,
// where the reference knows a source by the title or the name in them.
func (r *Reference) adviseCitations(problems Problems) {
	var titles map[string]string // by title in small letters
	advised := 0
	for i := range problems {
		p := &problems[i]
		if p.Written == "" || strings.ContainsAny(p.Written, "“”") || len(p.Written) > maxCited || advised == maxAdvised {
			continue
		}
		advised++
		if titles == nil {
			titles = r.sourceTitles()
		}
		if parts := r.severalSources(p.Written); len(parts) > 1 {
			p.Help = separated(parts)
		} else if mended := r.readAsTitle(p.Written, titles); mended != "" {
			p.Help = fmt.Sprintf("Cite a source by its file name, with the place after a comma: %q.", mended)
			p.Remedies = []Remedy{instead(p.Pos, p.Written, mended)}
		}
	}
}

func (r *Reference) sourceTitles() map[string]string {
	titles := make(map[string]string, r.Sources.Len())
	for _, s := range r.Sources.All() {
		titles[strings.ToLower(s.Name.Value)] = s.ID
	}
	return titles
}

// readAsTitle reads the longest beginning of a citation that is the title of a
// source or its name, and what follows as the place; "" where there is none.
func (r *Reference) readAsTitle(text string, titles map[string]string) string {
	for end := len(text); end > 0; end-- {
		if end < len(text) && !strings.ContainsRune(",;: ", rune(text[end])) {
			continue
		}
		begin := strings.Trim(text[:end], " \"'“”‘’„«»")
		id, known := titles[strings.ToLower(begin)]
		if _, isID := r.Sources.Get(begin); isID {
			id, known = begin, true
		}
		if known {
			return withPlace(id, text[end:])
		}
	}
	title, _, _ := strings.Cut(text, ",")
	known := make([]string, 0, len(titles))
	for _, s := range r.Sources.All() {
		known = append(known, s.Name.Value)
	}
	if near, ok := Nearest(title, known); ok {
		return withPlace(titles[strings.ToLower(near)], text[len(title):])
	}
	return ""
}

func withPlace(id, place string) string {
	if place = strings.TrimLeft(place, " ,;:"); place == "" {
		return id
	}
	return id + ", " + place
}

// pageRunIn is a place that was written into the name of its source.
var pageRunIn = regexp.MustCompile(`^(.+?)-?(pp?|page|sheet|fol|f)-?([0-9]+(?:-[0-9]+)?)$`)

// withPlaceRunIn parts "list-1958p2" into source and place, or is empty.
func (r *Reference) withPlaceRunIn(c Citation) string {
	m := pageRunIn.FindStringSubmatch(c.Source)
	if m == nil {
		return ""
	}
	if _, known := r.Sources.Get(m[1]); !known {
		return ""
	}
	abbreviation := m[2]
	if len(abbreviation) < len("page") {
		abbreviation += "."
	}
	return withPlace(m[1], strings.TrimSuffix(abbreviation+" "+m[3]+", "+c.Place, ", "))
}

var betweenSources = regexp.MustCompile(`\s*(?:;|&|\+|,|\band\b)\s*`)

// severalSources parts a text at the sources in it; it gives one part where
// there are not several.
func (r *Reference) severalSources(text string) []string {
	parts, begin := []string{}, 0
	for _, at := range betweenSources.FindAllStringIndex(text, -1) {
		word := text[at[1]:]
		if end := strings.IndexAny(word, ",;& "); end >= 0 {
			word = word[:end]
		}
		if _, known := r.Sources.Get(word); known && at[0] > begin {
			parts, begin = append(parts, text[begin:at[0]]), at[1]
		}
	}
	return append(parts, text[begin:])
}

func separated(parts []string) string {
	for i, p := range parts {
		parts[i] = fmt.Sprintf("%q", p)
	}
	return "Put each source in quotes of its own: " + strings.Join(parts, ", ") + "."
}

// secondSource says what to write where another source stands in the place of a
// citation; else it is empty.
func (l *linker) secondSource(c Citation) string {
	if !strings.ContainsAny(c.Place, ";&+,") && !strings.Contains(c.Place, " and ") {
		if _, known := l.ref.Sources.Get(c.Place); !known {
			return ""
		}
	}
	if parts := l.ref.severalSources(c.Source + ", " + c.Place); len(parts) > 1 {
		return separated(parts)
	}
	return ""
}
