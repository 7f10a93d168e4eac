package desk

import (
	"cmp"
	"net/http"
	"regexp"
	"strings"

	"yearmark/checks"
	"yearmark/schema"
)

// pageView is what every page of the desk shows.
type pageView struct {
	Title, Register string
	Path            string // the desk's own, before every address
	Token           string
	Site            string
	Kinds           []kindView
	Locked          string // why nothing can be saved; empty where it can
	Undo, Redo      string // what would be taken back or done again; empty for nothing
	Errors, Warns   int
	Waiting         int // letters in the inbox
	ref             *schema.Reference
}

type kindView struct {
	Kind, Name, One string
	Count           int
	Here            bool
}

// recordView is one record in a list.
type recordView struct {
	Kind, ID, Title, About string
	Errors, Warns          int
}

func (d *Desk) page(ref *schema.Reference, report checks.Report, title string, here schema.Kind) pageView {
	v := pageView{Title: title, Register: ref.Settings.Name.Value, Path: d.access.path, Token: d.access.token, Site: d.site, Errors: report.Counts.Error, Warns: report.Counts.Warning, Waiting: d.countWaiting(), ref: ref}
	for _, k := range schema.Kinds {
		v.Kinds = append(v.Kinds, kindView{string(k), kindWords[k][1], kindWords[k][0], len(ref.RecordsOf(k)), k == here})
	}
	return v
}

// records is how many records the register has.
func (v pageView) records() (n int) {
	for _, k := range v.Kinds {
		n += k.Count
	}
	return n
}

// withUndo adds what can be taken back, which takes the lock of the records.
func (d *Desk) withUndo(r *http.Request, v pageView) pageView {
	j, err := d.journal(r.Context())
	if err != nil {
		v.Locked = "Nothing can be saved here. " + schema.Sentence(err.Error()) + " Give yourself the right to write there, or copy the folder to a place of your own and open it there."
		return v
	}
	v.Undo, v.Redo, _ = j.Next()
	_ = j.Close()
	v.Undo, v.Redo = withTitles(v.Undo, v.ref), withTitles(v.Redo, v.ref)
	return v
}

// fileNamed is the path of a record's file in what the journal says of a change.
var fileNamed = regexp.MustCompile(`[a-z]+/[a-z0-9-]+\.md\b`)

// withTitles names records by their titles in place of their files; one that is
// gone keeps its file's name.
func withTitles(change string, ref *schema.Reference) string {
	return fileNamed.ReplaceAllStringFunc(change, func(file string) string {
		kind, id, _ := schema.RecordAt(file)
		if r, known := ref.Record(kind, id); known {
			return "“" + r.Title() + "”"
		}
		return file
	})
}

func (d *Desk) home(w http.ResponseWriter, r *http.Request) error {
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	d.render(w, homePage(d.withUndo(r, d.page(ref, report, "Desk", "")), findingsOf(ref, report, mostOnHome)))
	return nil
}

// mostOnHome is how many findings stand on the first page.
const mostOnHome = 12

func (d *Desk) findings(w http.ResponseWriter, r *http.Request) error {
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	d.render(w, findingsPage(d.withUndo(r, d.page(ref, report, "What was found", "")), findingsOf(ref, report, 0)))
	return nil
}

func (d *Desk) list(w http.ResponseWriter, r *http.Request) error {
	kind, err := kindOf(r)
	if err != nil {
		return err
	}
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	errors, warns := map[string]int{}, map[string]int{}
	for _, f := range report.Findings {
		switch f.Level {
		case checks.Error:
			errors[f.Pos.File()]++
		case checks.Warning:
			warns[f.Pos.File()]++
		}
	}
	var rows []recordView
	for _, rec := range recordsOf(ref, kind) {
		h := rec.Header()
		rows = append(rows, recordView{string(kind), h.ID, rec.Title(), aboutOf(ref, rec), errors[h.File], warns[h.File]})
	}
	d.render(w, listPage(d.withUndo(r, d.page(ref, report, kindWords[kind][1], kind)), kindWords[kind][0], string(kind), rows))
	return nil
}

// aboutOf says in a few words what a record is, beside its title.
func aboutOf(ref *schema.Reference, r schema.Record) string {
	switch r := r.(type) {
	case *schema.Model:
		about := ""
		if m, ok := ref.Makers.Get(r.Maker.Value); ok {
			about = m.Title()
		}
		if r.Made != nil && !r.Made.Span.IsZero() {
			about += ", " + r.Made.Span.Words()
		}
		return strings.TrimPrefix(about, ", ")
	case *schema.Source:
		return strings.TrimSuffix(optionLabel("kind", r.Kind.Value)+", "+r.Issued.Words(), ", ")
	case *schema.Example:
		if m, ok := ref.Models.Get(r.Model.Value); ok {
			return m.Title()
		}
	case *schema.Feature:
		return r.Ask.Value
	case *schema.Maker:
		return r.Place.Value
	case *schema.Page:
		return r.About.Value
	}
	return ""
}

// findingView is one finding with the way to where it is mended.
type findingView struct {
	Level, Text, Remedy, Where, Href string
	Why                              []string
	Remedies                         []remedyView
}

// findingsOf lists errors and warnings, at most so many where most is above 0.
func findingsOf(ref *schema.Reference, report checks.Report, most int) []findingView {
	titles := map[string]string{}
	for _, r := range ref.Records() {
		titles[r.Header().File] = r.Title()
	}
	var list []findingView
	for _, level := range []checks.Level{checks.Error, checks.Warning} {
		for _, f := range report.Findings {
			if f.Level != level {
				continue
			}
			if most > 0 && len(list) == most {
				return list
			}
			v := findingView{Level: string(f.Level), Text: schema.Sentence(f.Message), Remedy: inForms(f.Help), Where: cmp.Or(titles[f.Pos.File()], f.Pos.File()), Href: wayTo(f.Pos.File()), Remedies: remediesOf(f, "")}
			for _, p := range f.Why {
				v.Why = append(v.Why, p.Message)
			}
			list = append(list, v)
		}
	}
	return list
}

// wayTo is the address of a record's form below the desk's own, or empty.
func wayTo(file string) string {
	if file == schema.SettingsFile {
		return "edit/settings/register"
	}
	if kind, id, ok := schema.RecordAt(file); ok {
		return "edit/" + string(kind) + "/" + id
	}
	return ""
}
