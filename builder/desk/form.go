package desk

import (
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
)

// fieldView is one field of a form with what stands in it.
type fieldView struct {
	Path, Name, Label, About string
	Field                    schema.Field
	Value                    string
	Options                  []optionView
	Datalist                 string // of what may be typed
	Makes                    string // what can be made on the spot, or empty
	Place                    string // of a citation, the place in the source
	Notes                    []noteView
	Items                    []fieldView // of a list; of a list of words one more, empty
	Fields                   []fieldView // of a group
	More                     []fieldView // of the record: seldom used and empty
	MoreNames                string      // of a group, those that a press shows
	Expanded                 bool        // a group that shows all of its keys
	Summary                  string      // of a group in a list
	Open                     bool
	Focus                    bool // where one goes on typing
}

// optionView is one word that may be chosen.
type optionView struct {
	Value, Label string
	Chosen       bool
}

// noteView is something said at a field: a finding, or a question about years.
type noteView struct {
	Level, Text, Remedy string
	Choices             []string // expressions to choose from
	Whens               []string // what each stands for, or else why it is said
	Remedies            []remedyView
	unfinished          bool // it says that something is still to be written
}

// former makes the view of a form.
type former struct {
	ref    *schema.Reference
	of     schema.Record // as it was read last, nil for a new one
	values values
	outline
	opened []string // paths of entries that are shown though they are empty
	began  string   // path of the entry, group or list whose first box, or button, is gone on with
	whole  []string // paths of groups that show all of their keys
	notes  map[string][]noteView
}

// fields gives the keys of a group that are usual, needed or written, and the others.
func (m former) fields(path string, of schema.Field) (open []fieldView, more []schema.Field) {
	for _, f := range of.Fields {
		at := join(path, f.Name)
		if f.Required || usual[f.Name] || slices.Contains(m.whole, path) || m.any(at) || m.noted(at) || m.isOpened(at) {
			open = append(open, m.field(at, f))
		} else {
			more = append(more, f)
		}
	}
	return open, more
}

// record gives the keys of a whole record, and those seldom used.
func (m former) record(of schema.Field) (open, more []fieldView) {
	open, rest := m.fields("", of)
	for _, f := range rest {
		more = append(more, m.field(f.Name, f))
	}
	return open, more
}

func (m former) field(path string, f schema.Field) fieldView {
	v := fieldView{Path: path, Name: f.Name, Label: labelAt(path), About: hint(path, f), Field: f, Notes: m.notes[path], Value: m.values[path], Makes: m.makes(path, f)}
	if f.Name == "features" && f.Type == schema.FieldText { // that customers could choose
		v.Label = "Features"
	}
	switch {
	case f.List && f.Type == schema.FieldGroup:
		v.Focus = path == m.began
		for _, i := range m.shown(path) {
			v.Items = append(v.Items, m.entry(join(path, strconv.Itoa(i)), f))
		}
	case f.List:
		single, next := f, 0
		single.List = false
		for _, i := range m.items(path) {
			v.Items, next = append(v.Items, m.field(join(path, strconv.Itoa(i)), single)), i+1
		}
		for enough := false; !enough; next++ {
			v.Items = append(v.Items, m.field(join(path, strconv.Itoa(next)), single))
			enough = !isPointer(v) || len(v.Items) >= 2
		}
		v.Items[0].Focus = path == m.began
		if isPointer(v) {
			v.Label, v.Items = "Where on the picture, in per cent", v.Items[:2]
		}
	case f.Type == schema.FieldGroup:
		fields, more := m.fields(path, f)
		v.Fields, v.MoreNames, v.Expanded = fields, moreNames(more), slices.Contains(m.whole, path)
		if len(v.Fields) > 0 {
			v.Fields[0].Focus = path == m.began
		}
	case f.Type == schema.FieldCitation:
		v.Value, v.Place, _ = strings.Cut(m.values[path], ",")
		v.Place, v.Datalist = strings.TrimSpace(v.Place), "list-source"
	case f.Name == "when" && f.Type == schema.FieldOther:
		v.Value = premiseWords(v.Value, m.ref)
	default:
		v.Datalist = m.datalist(path, f)
		v.Options = m.options(f, v.Value)
	}
	return v
}

// entry is one group of a list.
func (m former) entry(path string, f schema.Field) fieldView {
	single := f
	single.List = false
	v := m.field(path, single)
	v.Summary = m.summary(path, f)
	v.Open = m.isOpened(path) || m.noted(path) || v.Expanded
	return v
}

// shown are the numbers of a list's entries on the page.
func (m former) shown(path string) []int {
	numbers := slices.Clone(m.items(path))
	for _, at := range m.opened {
		rest, below := strings.CutPrefix(at, path+"/")
		if n, err := strconv.Atoi(rest); below && err == nil && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	return numbers
}

func (m former) isOpened(path string) bool {
	return slices.ContainsFunc(m.opened, func(at string) bool { return at == path || strings.HasPrefix(at, path+"/") })
}

func (m former) noted(path string) bool {
	for at := range m.notes {
		if at == path || strings.HasPrefix(at, path+"/") {
			return true
		}
	}
	return false
}

func (m former) options(f schema.Field, value string) []optionView {
	words := f.Options
	if f.Type == schema.FieldFlag {
		words = []string{"true", "false"}
	}
	var all []optionView
	for _, w := range words {
		text := optionLabel(f.Name, w)
		if f.Type == schema.FieldFlag {
			text = map[string]string{"true": "yes", "false": "no"}[w]
		}
		all = append(all, optionView{w, text, w == value})
	}
	if len(all) > 0 && value != "" && !slices.Contains(words, value) {
		all = append(all, optionView{value, value + " (not known)", true})
	}
	return all
}

// names says which records a key names.
var names = map[string]schema.Kind{"maker": schema.KindMaker, "model": schema.KindModel, "feature": schema.KindFeature, "spec": schema.KindFeature, "relies-on": schema.KindSource,
	"except": schema.KindModel, "either": schema.KindModel, "from": schema.KindFeature, "features": schema.KindFeature}

// datalist is the list from which a field is completed, or empty.
func (m former) datalist(path string, f schema.Field) string {
	if ownValue(path) {
		return ownValues
	}
	if f.Name == "value" {
		if f, ok := m.ref.Features.Get(m.values[siblingOf(path, "feature")]); ok && (len(f.Values) > 0 || schema.FeatureKind(f.Kind.Value) == schema.Presence) {
			return "values-" + f.ID
		}
	}
	if f.Type != schema.FieldText {
		return ""
	}
	if kind, ok := names[f.Name]; ok {
		return "list-" + string(kind)
	}
	switch f.Name {
	case "first", "second", "of", "over", "claim":
		return "list-claim"
	case "era":
		return "list-era"
	}
	return ""
}

// ownValue says that a path is that of a value of the very feature that the form is of.
func ownValue(path string) bool {
	above, name := cutLast(path)
	if _, err := strconv.Atoi(name); err == nil {
		above, name = cutLast(above)
	}
	in := parent(above)
	return name == "value" && (in == "means" || in == "like") || name == "to" && in == "altered"
}

// summary says in a few words what an entry holds.
func (m former) summary(path string, f schema.Field) string {
	v := func(name string) string { return m.values[join(path, name)] }
	var parts []string
	switch {
	case v("feature") != "" || v("spec") != "":
		parts = append(parts, m.featureWords(v("feature")+v("spec"), m.firstOf(path, "value"), v("range")))
	case v("first") != "":
		parts = append(parts, m.claimWords(v("first"))+" "+optionLabel("how", v("how"))+" "+m.claimWords(v("second")))
	case v("lasts") != "":
		parts = append(parts, m.claimWords(v("of"))+" lasted "+v("lasts")+" years")
	case f.Name == "related" && v("how") != "":
		parts = append(parts, optionLabel("how", v("how"))+" "+m.nameWords("model", v("model")))
	case v("with") != "":
		parts = append(parts, v("year")+": "+v("with")+" of "+v("of"))
	case f.Name == "means", f.Name == "like":
		parts = append(parts, m.ownValueName(v("value")))
	case f.Name == "points" && v("claim") != "":
		parts = append(parts, m.claimWords(v("claim")))
	default:
		for _, name := range []string{"name", "at", "part", "file", "what", "model", "maker", "of", "claim", "id", "year", "by", "on"} {
			if v(name) != "" {
				parts = append(parts, m.nameWords(name, v(name)))
				break
			}
		}
	}
	for _, name := range []string{"span", "era", "when", "state", "fault", "says", "tell", "because", "price"} {
		if text := v(name); text != "" {
			parts = append(parts, english.Clip(m.partWords(name, text), summaryLength))
		}
	}
	if f.Name == "never-seen" && v("of") != "" {
		parts = append(parts, v("of")+" looked at")
	}
	if n := len(m.items(join(path, "cites"))); n > 0 {
		parts = append(parts, english.Count(n, "source"))
	}
	if parts = slices.DeleteFunc(parts, func(part string) bool { return part == "" }); len(parts) == 0 {
		return "New: " + noun(f)
	}
	return strings.Join(parts, " · ")
}

// nameWords is what the record or claim that a key names is called.
func (m former) nameWords(key, named string) string {
	if key == "claim" {
		return m.claimWords(named)
	}
	if kind, ok := names[key]; ok {
		if r, known := m.ref.Record(kind, named); known {
			return r.Title()
		}
	}
	return named
}

// called is what the identifier in a field stands for, or empty where it says so itself.
func (m former) called(path string, f schema.Field) string {
	text, words := m.values[path], ""
	switch of := m.datalist(path, f); {
	case text == "" || of == "":
	case of == "list-claim":
		words = m.claimWords(text)
	case of == "list-era":
		words = m.claimWords("era-" + text)
	case of == ownValues:
		words = m.ownValueName(text)
	case f.Name == "value":
		if f, known := m.ref.Features.Get(m.values[siblingOf(path, "feature")]); known {
			words = f.ValueName(text)
		}
	default:
		words = m.nameWords(f.Name, text)
	}
	if strings.EqualFold(words, text) || words == "era-"+text {
		return ""
	}
	return words
}

// claimWords says what a claim of the form's record, or of another, is about.
func (m former) claimWords(name string) string {
	for _, list := range []string{"features", "specs"} {
		for _, i := range m.items(list) {
			at := join(list, strconv.Itoa(i))
			if m.values[join(at, "id")] == name {
				return m.featureWords(m.values[join(at, "feature")]+m.values[join(at, "spec")], m.values[join(at, "value")], m.values[join(at, "range")])
			}
		}
	}
	if c, known := m.ref.ClaimNamed(name, m.of); known {
		return m.ref.Statement(c)
	}
	return name
}

// ownValueName is what the feature that the form is of calls one of its values.
func (m former) ownValueName(id string) string {
	for _, i := range m.items("values") {
		at := join("values", strconv.Itoa(i))
		if name := m.values[join(at, "name")]; id != "" && m.values[join(at, "id")] == id && name != "" {
			return name
		}
	}
	return id
}

func (m former) firstOf(path, name string) string {
	if v := m.values[join(path, name)]; v != "" {
		return v
	}
	return m.values[join(join(path, name), "0")]
}

func (m former) featureWords(id, value, figures string) string {
	feature, ok := m.ref.Features.Get(id)
	if !ok {
		return id + ": " + value + figures
	}
	if value != "" {
		value = feature.ClaimedName(value)
	}
	if value+figures == "" {
		return feature.Title()
	}
	return feature.Title() + ": " + value + figures
}

// partWords puts a part of a summary into words.
func (m former) partWords(name, text string) string {
	switch name {
	case "span":
		if words := readingOf(text, m.ref); words != "" {
			return words
		}
	case "era":
		return m.claimWords("era-" + text)
	case "when":
		lines := strings.Split(text, "\n")
		for i, line := range lines {
			lines[i] = conditionWords(line, m.ref, valueWords)
		}
		return "only where " + schema.Lowered(english.And(lines))
	}
	return text
}

const summaryLength = 80

func cutLast(path string) (above, step string) {
	if i := strings.LastIndexByte(path, '/'); i >= 0 {
		return path[:i], path[i+1:]
	}
	return "", path
}
