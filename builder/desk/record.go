package desk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"yearmark/exchange/journal"
	"yearmark/schema"
)

// formView is the form of one record.
type formView struct {
	pageView
	Kind, ID, One string
	New           bool
	Hash          string // of the file that the form was made from
	Action        string // below the desk's own path
	Check         string // the address that says what is found, as one types
	Fields, More  []fieldView
	Body          string
	Said          []noteView // about the record as a whole
	Moves         []string   // what the change would move, once asked
	Asked         bool       // Moves was asked
	Lists         []listView
	Quick         []quickView
	Page          string // the published page
	Shown         string // the address below which pictures are shown
}

// listView is a list from which fields are completed.
type listView struct {
	ID      string
	Options []optionView
}

// draft is a record as it stands in a form.
type draft struct {
	kind   schema.Kind
	id     string
	values values
	opened []string // as former's
	began  string   // as former's
	whole  []string
	notes  map[string][]noteView
	said   []noteView
	hash   string
	moves  []string
	asked  bool
	isNew  bool
}

// show writes the form of a draft.
func (d *Desk) show(w http.ResponseWriter, r *http.Request, status int, of draft) error {
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	title := "New " + kindWords[of.kind][0]
	v := formView{Kind: string(of.kind), ID: of.id, One: kindWords[of.kind][0], New: of.isNew, Hash: of.hash, Said: of.said, Moves: of.moves, Asked: of.asked, Body: of.values[bodyPath], Quick: quickForms(ref)}
	rec, known := ref.Record(of.kind, of.id)
	v.Lists = listsOf(ref, rec)
	v.Action, v.Check = "new/"+v.Kind, "check/"+v.Kind+"/"
	if of.kind == settings {
		title, v.Action, v.Check = "The register itself", "edit/settings/register", "check/settings/register"
	} else if !of.isNew {
		v.Action, v.Check = "edit/"+v.Kind+"/"+of.id, "check/"+v.Kind+"/"+of.id
		title = of.id
		if known {
			title = rec.Title()
			v.Page = d.site + rec.Address()
		}
	}
	v.pageView, v.Shown = d.withUndo(r, d.page(ref, report, title, of.kind)), d.shown
	f := former{ref: ref, of: rec, values: of.values, outline: of.values.outline(), opened: of.opened, began: of.began, whole: of.whole, notes: of.notes}
	v.Fields, v.More = f.record(describe(of.kind))
	w.WriteHeader(status)
	d.render(w, formPage(v))
	return nil
}

// settings stands for the register's settings where a kind is named.
const settings schema.Kind = "settings"

// file is the path of a record's file, or of the settings.
func file(kind schema.Kind, id string) string {
	if kind == settings {
		return schema.SettingsFile
	}
	return kind.FileOf(id)
}

// describe gives the keys of a kind of record, or of the settings.
func describe(kind schema.Kind) schema.Field {
	if kind == settings {
		return schema.DescribeSettings()
	}
	return schema.Describe(kind)
}

func (d *Desk) edit(w http.ResponseWriter, r *http.Request) error {
	kind, err := kindOf(r)
	if err != nil {
		return err
	}
	of, err := d.stored(kind, r.PathValue("id"))
	if err != nil {
		return err
	}
	_, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	name := file(kind, of.id)
	source, err := d.read(name)
	if err != nil {
		return err
	}
	of.notes, of.said = notesOf(report, name, source, false)
	return d.show(w, r, http.StatusOK, of)
}

// stored is a record as its file says it.
func (d *Desk) stored(kind schema.Kind, id string) (draft, error) {
	name := file(kind, id)
	source, err := d.read(name)
	if errors.Is(err, fs.ErrNotExist) {
		return draft{}, missing{fmt.Sprintf("there is no %s %q", kindWords[kind][0], id)}
	}
	if err != nil {
		return draft{}, err
	}
	v, err := fileValues(name, source, describe(kind))
	if err != nil {
		return draft{}, fmt.Errorf("%s cannot be shown as a form until it can be read: %w", name, err)
	}
	return draft{kind: kind, id: id, values: v, hash: hashOf(source)}, nil
}

// posted is a record as a form holds it.
func posted(r *http.Request, kind schema.Kind, id string, ref *schema.Reference) draft {
	of := draft{kind: kind, id: id, hash: r.PostForm.Get("-hash"), opened: r.PostForm["-open"], whole: r.PostForm["-whole"], isNew: id == ""}
	of.values, of.notes = typed(r.PostForm, describe(kind), ref)
	return of
}

// sent reads what a form of a kind of record sends.
func (d *Desk) sent(r *http.Request) (kind schema.Kind, ref *schema.Reference, err error) {
	if kind, err = kindOf(r); err != nil {
		return kind, nil, err
	}
	if err = r.ParseForm(); err != nil {
		return kind, nil, err
	}
	ref, _, err = d.register.Newest(r.Context())
	return kind, ref, err
}

// reshaped carries out a press on "add" or "remove" and says whether there was one.
func (of *draft) reshaped(r *http.Request) bool {
	do, path, _ := strings.Cut(r.PostForm.Get("-do"), " ")
	switch do {
	case "add":
		next := 0
		for _, i := range (former{outline: of.values.outline(), opened: of.opened}).shown(path) {
			next = i + 1
		}
		of.began = join(path, strconv.Itoa(next))
		of.opened = append(of.opened, of.began)
	case "whole":
		of.began, of.whole = path, append(of.whole, path)
	case "remove":
		of.began, _ = cutLast(path)
		of.values.remove(path)
		of.opened = slices.DeleteFunc(of.opened, func(at string) bool { return at == path })
	default:
		return false
	}
	return true
}

// unfinished gives the status of the answer to a form that is not to be saved
// yet: a button changed its shape, or a question is open in it; else 0.
func (of *draft) unfinished(r *http.Request) int {
	switch {
	case of.reshaped(r):
		return http.StatusOK
	case len(of.notes) > 0:
		of.said = append(of.said, noteView{Level: "question", Text: "Nothing is saved yet: a question is open below."})
		return http.StatusUnprocessableEntity
	}
	return 0
}

// refuse shows the form again and says why it was not saved.
func (d *Desk) refuse(w http.ResponseWriter, r *http.Request, of draft, why error) error {
	of.said = append(of.said, noteView{Level: "error", Text: schema.Sentence(why.Error())})
	return d.show(w, r, http.StatusUnprocessableEntity, of)
}

func (d *Desk) save(w http.ResponseWriter, r *http.Request) error {
	kind, ref, err := d.sent(r)
	if err != nil {
		return err
	}
	of := posted(r, kind, r.PathValue("id"), ref)
	if answer := of.unfinished(r); answer != 0 {
		return d.show(w, r, answer, of)
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	change, err := d.changeOf(&of)
	if err != nil {
		return d.refuse(w, r, of, err)
	}
	key, mends := strings.CutPrefix(r.PostForm.Get("-do"), "mend ")
	switch {
	case change == nil: // changed elsewhere: the draft says where
		return d.show(w, r, http.StatusConflict, of)
	case mends:
		return d.mendForm(w, r, of, *change, key)
	case r.PostForm.Get("-do") == "moves":
		return d.showMoves(w, r, of, *change)
	case bytes.Equal(change.Before, change.After):
	default:
		if err := d.write(r.Context(), "change "+change.File, []journal.Change{*change}); err != nil {
			return d.refuse(w, r, of, err)
		}
	}
	http.Redirect(w, r, d.access.path+"edit/"+string(kind)+"/"+of.id+"#saved", http.StatusSeeOther)
	return nil
}

// changeOf is what a draft makes of its file, or nil where the file is not the
// one that the form was made from: what it says now stands beside the fields then.
func (d *Desk) changeOf(of *draft) (*journal.Change, error) {
	name := file(of.kind, of.id)
	source, err := d.read(name)
	if err != nil {
		return nil, err
	}
	if hashOf(source) != of.hash {
		return nil, of.compare(name, source)
	}
	after, err := applied(name, source, describe(of.kind), of.values)
	if err != nil {
		return nil, err
	}
	return &journal.Change{File: name, Before: source, After: after}, nil
}

// compare notes at every field what the file says by now where that differs,
// and makes the draft one of the file as it is.
func (of *draft) compare(name string, source []byte) error {
	now, err := fileValues(name, source, describe(of.kind))
	if err != nil {
		return err
	}
	of.notes = map[string][]noteView{}
	differ := func(path, text string) {
		of.notes[path] = append(of.notes[path], noteView{Level: "question", Text: "Changed elsewhere meanwhile. The record now says: " + text})
	}
	for path, text := range now {
		if of.values[path] != text {
			differ(path, text)
		}
	}
	for path := range of.values {
		if now[path] == "" && of.values[path] != "" {
			differ(path, "nothing")
		}
	}
	of.hash = hashOf(source)
	of.said = append(of.said, noteView{Level: "question", Text: "Nothing is saved yet: this record was changed elsewhere while it stood here. Where the two differ, what it says now stands at the field; save once more to keep what stands in this form."})
	return nil
}

// showMoves shows what a change would move, before it is kept.
func (d *Desk) showMoves(w http.ResponseWriter, r *http.Request, of draft, change journal.Change) error {
	of.asked = true
	entries, err := d.register.Moves(r.Context(), []journal.Change{change})
	if err != nil {
		of.said = append(of.said, noteView{Level: "error", Text: schema.Sentence(err.Error())})
		return d.show(w, r, http.StatusOK, of)
	}
	for _, e := range entries {
		of.moves = append(of.moves, strings.TrimSpace(e.Title+": "+e.Words))
	}
	report, err := d.register.With(r.Context(), []journal.Change{change})
	if err != nil {
		return err
	}
	of.notes, of.said = notesOf(report, change.File, change.After, of.isNew)
	return d.show(w, r, http.StatusOK, of)
}

// found is what is said at the fields of a form while one types.
type found struct {
	Notes    map[string][]noteView `json:"notes"`
	Said     []noteView            `json:"said"`
	Readings map[string]string     `json:"readings"` // of years, by path
	Words    map[string]string     `json:"words"`    // that stand at a cited place, by path
}

// check says what is found in a form as it stands, without writing anything.
func (d *Desk) check(w http.ResponseWriter, r *http.Request) error {
	kind, ref, err := d.sent(r)
	if err != nil {
		return err
	}
	out := found{Readings: map[string]string{}, Words: map[string]string{}}
	raw := postedValues(r.PostForm)
	joinPlaces(raw)
	of := posted(r, kind, r.PathValue("id"), ref)
	rec, _ := ref.Record(kind, of.id)
	named := former{ref: ref, of: rec, values: of.values, outline: of.values.outline()}
	raw.each("", describe(kind), func(path string, f schema.Field) {
		switch f.Type {
		case schema.FieldSpan:
			if words := readingOf(raw[path], ref); words != "" {
				out.Readings[path] = words
			}
		case schema.FieldCitation:
			if words := saysAt(ref, raw[path]); words != "" {
				out.Words[path] = words
			}
		default:
			if words := named.called(path, f); words != "" && !strings.EqualFold(words, raw[path]) {
				out.Words[path] = "= " + words
			}
		}
	})
	out.Notes = of.notes
	if change, err := d.wouldBe(&of); err == nil && change != nil {
		report, err := d.register.With(r.Context(), []journal.Change{*change})
		if err != nil {
			return err
		}
		was, err := fileValues(change.File, change.Before, describe(kind))
		if err != nil && !of.isNew {
			return err
		}
		filed := was.outline()
		notes, said := notesOf(report, change.File, change.After, of.isNew)
		out.Said = said
		for path, list := range notes {
			if of.begun(path, filed) { // what is still to come is no mistake
				list = slices.DeleteFunc(list, func(n noteView) bool { return n.unfinished })
			}
			if len(of.notes[path]) == 0 { // a question about years is asked first
				out.Notes[path] = list
			}
		}
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(out)
}

// wouldBe is the change of a draft, or nil where it cannot be made yet.
func (d *Desk) wouldBe(of *draft) (*journal.Change, error) {
	if !of.isNew {
		return d.changeOf(of)
	}
	source, err := newRecord(of.kind, describe(of.kind), of.values)
	return &journal.Change{File: file(of.kind, "a-new-record"), After: source}, err
}

// saysAt gives the words that stand at a cited place.
func saysAt(ref *schema.Reference, citation string) string {
	id, place, _ := strings.Cut(citation, ",")
	s, ok := ref.Sources.Get(strings.TrimSpace(id))
	if !ok {
		return ""
	}
	var words []string
	for _, p := range s.PlacesAt(strings.TrimSpace(place)) {
		if p.Says.Value != "" {
			words = append(words, strings.TrimPrefix(s.SpeakerAt(p)+": ", ": ")+"“"+p.Says.Value+"”")
		}
	}
	return strings.Join(append([]string{s.Title()}, words...), " ")
}
