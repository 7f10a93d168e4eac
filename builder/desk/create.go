package desk

import (
	"fmt"
	"net/http"
	"strings"

	"yearmark/checks"
	"yearmark/exchange/journal"
	"yearmark/schema"
)

func (d *Desk) blank(w http.ResponseWriter, r *http.Request) error {
	kind, err := kindOf(r)
	if err != nil {
		return err
	}
	v := values{bodyPath: ""}
	for _, f := range schema.Describe(kind).Fields { // an address may fill in what is known: a model's maker
		if text := r.URL.Query().Get(f.Name); text != "" {
			v[f.Name] = text
		}
	}
	return d.show(w, r, http.StatusOK, draft{kind: kind, values: v, isNew: true})
}

func (d *Desk) create(w http.ResponseWriter, r *http.Request) error {
	kind, ref, err := d.sent(r)
	if err != nil {
		return err
	}
	of := posted(r, kind, "", ref)
	if answer := of.unfinished(r); answer != 0 {
		return d.show(w, r, answer, of)
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	if key, mends := strings.CutPrefix(r.PostForm.Get("-do"), "mend "); mends {
		change, err := d.wouldBe(&of)
		if err != nil {
			return d.refuse(w, r, of, err)
		}
		return d.mendForm(w, r, of, *change, key)
	}
	id, err := newID(r, ref, kind, of.values)
	if err == nil {
		var source []byte
		if source, err = newRecord(kind, schema.Describe(kind), of.values); err == nil {
			err = d.write(r.Context(), "new "+file(kind, id), []journal.Change{{File: file(kind, id), After: source}})
		}
	}
	if err != nil {
		return d.refuse(w, r, of, err)
	}
	http.Redirect(w, r, d.access.path+"edit/"+string(kind)+"/"+id+"#saved", http.StatusSeeOther)
	return nil
}

// newID is the identifier of a new record: the one typed, or one made of its
// name that is still free; an example gets the next number.
func newID(r *http.Request, ref *schema.Reference, kind schema.Kind, v values) (string, error) {
	there := func(id string) bool { _, ok := ref.Record(kind, id); return ok }
	if id := strings.TrimSpace(r.PostForm.Get("-id")); id != "" {
		switch {
		case schema.Slug(id) != id:
			return "", fmt.Errorf("the permanent name %q needs small letters a to z, digits and hyphens, as in %q", id, schema.Slug(id))
		case there(id):
			return "", fmt.Errorf("there is a %s %q already; choose another permanent name", kindWords[kind][0], id)
		}
		return id, nil
	}
	name := schema.Slug(strings.NewReplacer("'", "", "’", "").Replace(v["name"] + v["title"]))
	if kind == schema.KindExample && name == "" {
		name = "bow"
	}
	if name == "" {
		return "", fmt.Errorf("a %s needs a name", kindWords[kind][0])
	}
	id := name
	for n := 2; there(id) || id == "index"; n++ {
		id = fmt.Sprintf("%s-%d", name, n)
	}
	return id, nil
}

func (d *Desk) askRemoval(w http.ResponseWriter, r *http.Request) error {
	kind, err := kindOf(r)
	if err != nil {
		return err
	}
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	rec, ok := ref.Record(kind, r.PathValue("id"))
	if !ok {
		return missing{fmt.Sprintf("there is no %s %q", kindWords[kind][0], r.PathValue("id"))}
	}
	h := rec.Header()
	after, err := d.register.With(r.Context(), []journal.Change{{File: h.File, Before: h.Source}})
	if err != nil {
		return err
	}
	missed := 0
	for _, f := range after.Findings {
		if f.Level == checks.Error && f.Missing == h.File {
			missed++
		}
	}
	d.render(w, removalPage(d.page(ref, report, "Delete "+rec.Title(), kind), string(kind), h.ID, rec.Title(), missed))
	return nil
}

func (d *Desk) removal(w http.ResponseWriter, r *http.Request) error {
	kind, err := kindOf(r)
	if err != nil {
		return err
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	name := file(kind, r.PathValue("id"))
	source, err := d.read(name)
	if err != nil {
		return missing{fmt.Sprintf("there is no %s %q", kindWords[kind][0], r.PathValue("id"))}
	}
	if err := d.write(r.Context(), "delete "+name, []journal.Change{{File: name, Before: source}}); err != nil {
		return err
	}
	http.Redirect(w, r, d.access.path+"records/"+string(kind), http.StatusSeeOther)
	return nil
}

func (d *Desk) undo(w http.ResponseWriter, r *http.Request) error {
	return d.history(w, r, (*journal.Journal).Undo)
}

func (d *Desk) redo(w http.ResponseWriter, r *http.Request) error {
	return d.history(w, r, (*journal.Journal).Redo)
}

func (d *Desk) history(w http.ResponseWriter, r *http.Request, move func(*journal.Journal) (*journal.Entry, error)) error {
	d.writing.Lock()
	defer d.writing.Unlock()
	j, err := d.journal(r.Context())
	if err != nil {
		return err
	}
	defer j.Close()
	entry, err := move(j)
	if err != nil {
		return err
	}
	to := d.access.path
	if entry != nil && len(entry.Files) == 1 {
		if way := wayTo(entry.Files[0].File); way != "" && j.Exists(entry.Files[0].File) {
			to += way
		}
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}
