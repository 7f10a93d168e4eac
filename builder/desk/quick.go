package desk

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/exchange/journal"
	"yearmark/schema"
)

// quickView is a short form in which a record is made without leaving another.
type quickView struct {
	What, Title string // "source", "New source"
	Fields      []quickField
}

type quickField struct {
	fieldView
	Key string
}

// quickFields are the keys of the short forms. A feature's values are typed in
// one box, with commas between them; a value is added to the feature named.
var quickFields = map[string][]string{
	"maker":   {"name", "place"},
	"feature": {"name", "kind", "ask", "values"},
	"source":  {"name", "kind", "issued", "by", "kept", "link"},
	"model":   {"name", "maker"},
	"value":   {"name", "tell"},
}

// quickForms gives the short forms of a page.
func quickForms(ref *schema.Reference) []quickView {
	var all []quickView
	for _, what := range []string{"maker", "feature", "source", "model", "value"} {
		v := quickView{What: what, Title: "New " + what}
		of := quickGroup(what)
		f := former{ref: ref, values: values{}}
		for _, name := range quickFields[what] {
			field := f.field("quick-"+what+"/"+name, *of.Field(name))
			field.Path = "quick-" + what + "-" + name
			if what == "feature" && name == "values" {
				field = fieldView{Path: field.Path, Name: name, Label: "Values, with commas between", About: "As people say them: walnut, beech, padauk. Only of a choice."}
			}
			v.Fields = append(v.Fields, quickField{field, name})
		}
		all = append(all, v)
	}
	return all
}

// quickGroup describes what a short form makes.
func quickGroup(what string) schema.Field {
	if what == "value" {
		feature := schema.Describe(schema.KindFeature)
		return *feature.Field("values")
	}
	return schema.Describe(schema.Kind(what))
}

// made is what a short form answers: the identifier to be put in, or why not.
type made struct {
	ID    string `json:"id,omitempty"`
	Title string `json:"title,omitempty"`
	Error string `json:"error,omitempty"`
}

// quick makes a record, or a feature's value, by its short form.
func (d *Desk) quick(w http.ResponseWriter, r *http.Request) error {
	what := r.PathValue("what")
	if quickFields[what] == nil {
		return missing{fmt.Sprintf("there is no short form %q", what)}
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	var m made
	var err error
	if what == "value" {
		m, err = d.quickValue(r)
	} else {
		m, err = d.quickRecord(r, schema.Kind(what))
	}
	w.Header().Set("Content-Type", "application/json")
	if err != nil {
		m.Error = schema.Sentence(err.Error())
		w.WriteHeader(http.StatusUnprocessableEntity)
	}
	return json.NewEncoder(w).Encode(m)
}

func (d *Desk) quickRecord(r *http.Request, kind schema.Kind) (made, error) {
	ref, _, err := d.register.Newest(r.Context())
	if err != nil {
		return made{}, err
	}
	of := schema.Describe(kind)
	values, notes := typed(quickValues(r.PostForm), of, ref)
	for _, list := range notes {
		return made{}, errors.New(list[0].Text + " " + list[0].Remedy + strings.Join(list[0].Choices, " or "))
	}
	for _, f := range of.Fields {
		if f.Required && values[f.Name] == "" && f.Type != schema.FieldGroup {
			return made{}, fmt.Errorf("%s is needed", lowered(label(f.Name)))
		}
	}
	id, err := newID(r, ref, kind, values)
	if err != nil {
		return made{}, err
	}
	source, err := newRecord(kind, of, values)
	if err != nil {
		return made{}, err
	}
	return made{ID: id, Title: values["name"]}, d.write(r.Context(), "new "+file(kind, id), []journal.Change{{File: file(kind, id), After: source}})
}

// quickValues gives the values typed with commas between as entries of a list,
// each with an identifier.
func quickValues(form map[string][]string) map[string][]string {
	list, ok := form["values"]
	if !ok {
		return form
	}
	delete(form, "values")
	n := 0
	for name := range strings.SplitSeq(list[0], ",") {
		if name = strings.TrimSpace(name); schema.Slug(name) == "" {
			continue
		}
		at := "values/" + strconv.Itoa(n)
		form[at+"/id"], form[at+"/name"] = []string{schema.Slug(name)}, []string{name}
		n++
	}
	return form
}

// quickValue adds a value to a choice.
func (d *Desk) quickValue(r *http.Request) (made, error) {
	name, feature := strings.TrimSpace(r.PostForm.Get("name")), r.PostForm.Get("feature")
	id := schema.Slug(name)
	if id == "" {
		return made{}, errors.New("a value needs a name")
	}
	path := file(schema.KindFeature, feature)
	source, err := d.read(path)
	if err != nil {
		return made{}, errors.New("choose the feature first")
	}
	value := editing.Mapping().With("id", editing.Word(id)).With("name", editing.Word(name))
	if tell := strings.TrimSpace(r.PostForm.Get("tell")); tell != "" {
		value.With("tell", editing.Word(tell))
	}
	after, err := editing.Add(path, source, []string{"values"}, value)
	if err != nil {
		return made{}, err
	}
	return made{ID: id, Title: name}, d.write(r.Context(), "new value "+id+" of "+feature, []journal.Change{{File: path, Before: source, After: after}})
}

// makes is what can be made on the spot at a field, or empty.
func (m former) makes(path string, f schema.Field) string {
	switch {
	case f.Type == schema.FieldCitation:
		return "source"
	case f.Type != schema.FieldText:
	case f.Name == "value":
		return m.makesValue(path)
	case f.Name == "spec":
		return "feature"
	case f.Name == "except", f.Name == "either": // of models that are there
	case quickFields[string(names[f.Name])] != nil:
		return string(names[f.Name])
	}
	return ""
}

// makesValue says whether a value of the feature beside it can be made: of a
// choice, and of a feature that is still to be chosen.
func (m former) makesValue(path string) string {
	if ownValue(path) {
		return ""
	}
	if f, known := m.ref.Features.Get(m.values[siblingOf(path, "feature")]); known && schema.FeatureKind(f.Kind.Value) != schema.Choice {
		return ""
	}
	return "value"
}
