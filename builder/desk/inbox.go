package desk

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"yearmark/exchange/intake"
	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/schema/files"
)

// letterView is a letter of the inbox as a page shows it.
type letterView struct {
	Name, Hash, Title, On string
	Text                  string        // what it says in a line, in the list
	About                 string        // the page of the site that it is about; may be empty
	Lines, Private        []intake.Line // what was sent; the second is for the editor alone
	Pictures              []letterPictureView
	Missing               []string // pictures that it names and that do not lie with it
	Wrong                 []string // why it cannot be accepted
	Dates                 []string // how the bow dates
	Alike                 []string
	Moves                 []string
	Known                 bool // what somebody knows, and no bow
}

type letterPictureView struct{ Src, File, Shows string }

// inboxView is the page of the inbox.
type inboxView struct {
	pageView
	Letters []letterView
	Said    []noteView // of what was just taken in
}

func (d *Desk) inbox(w http.ResponseWriter, r *http.Request) error {
	return d.showInbox(w, r, http.StatusOK, nil)
}

func (d *Desk) showInbox(w http.ResponseWriter, r *http.Request, status int, said []noteView) error {
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	letters, err := intake.Waiting(files.Below(d.folder))
	if err != nil {
		return err
	}
	v := inboxView{pageView: d.withUndo(r, d.page(ref, report, "Inbox", "")), Said: said}
	for _, l := range letters {
		v.Letters = append(v.Letters, d.letterView(ref, l))
	}
	w.WriteHeader(status)
	d.render(w, inboxPage(v))
	return nil
}

// waiting finds a letter of the inbox.
func (d *Desk) waiting(r *http.Request) (*intake.Letter, error) {
	letters, err := intake.Waiting(files.Below(d.folder))
	if err != nil {
		return nil, err
	}
	name := r.PathValue("name")
	if i := slices.IndexFunc(letters, func(l *intake.Letter) bool { return l.Name == name }); i >= 0 {
		return letters[i], nil
	}
	return nil, missing{fmt.Sprintf("no letter %q waits in the inbox; it may have been accepted or declined", name)}
}

func (d *Desk) letter(w http.ResponseWriter, r *http.Request) error {
	l, err := d.waiting(r)
	if err != nil {
		return err
	}
	return d.showLetter(w, r, l, nil)
}

func (d *Desk) showLetter(w http.ResponseWriter, r *http.Request, l *intake.Letter, why error) error {
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	v := d.letterView(ref, l)
	if err := d.foresee(r, l, &v); err != nil {
		v.Wrong = append(v.Wrong, problemWords(err)...)
	}
	if why != nil {
		v.Wrong = append(v.Wrong, problemWords(why)...)
		w.WriteHeader(http.StatusUnprocessableEntity)
	}
	d.render(w, letterPage(d.withUndo(r, d.page(ref, report, v.Title, "")), v))
	return nil
}

// letterView shows what stands in a letter.
func (d *Desk) letterView(ref *schema.Reference, l *intake.Letter) letterView {
	v := letterView{Name: l.Name, Hash: hashOf(l.Data), Title: "A letter that cannot be read"}
	for _, p := range l.Pictures {
		v.Pictures = append(v.Pictures, letterPictureView{d.shown + p.File, p.File, p.Shows})
	}
	switch {
	case l.Bow != nil:
		v.bow(ref, l.Bow)
	case l.Knowledge != nil:
		v.knowledge(ref, d.site, l.Knowledge)
	default:
		v.Wrong = problemWords(l.Wrong)
	}
	for _, p := range l.Named() {
		at := l.PictureFile(p.File)
		if !slices.ContainsFunc(l.Pictures, func(has intake.LetterPicture) bool { return strings.TrimSuffix(has.File, path.Ext(has.File)) == at }) {
			v.Missing = append(v.Missing, p.File)
		}
	}
	return v
}

func (v *letterView) bow(ref *schema.Reference, s *intake.Submission) {
	v.Title, v.On, v.Text = "A bow", s.On, s.Note
	if m, ok := ref.Models.Get(s.Model); ok {
		v.Title = "A bow: " + m.Title()
	}
	v.private(s.Private)
}

// stanceWords say how what a visitor knows stands to what it is about.
var stanceWords = map[string]string{"agrees": "agrees with what stands there", "disagrees": "disagrees with what stands there", "adds": "adds something"}

func (v *letterView) knowledge(ref *schema.Reference, site string, k *intake.Knowledge) {
	about := k.Subject(ref)
	v.Title, v.On, v.Text, v.Known, v.About = "Somebody knows something about "+about, k.On, k.Knows, true, site+k.About
	v.Lines = []intake.Line{{Name: "about", Words: about}, {Name: "stance", Words: stanceWords[k.Stance]}, {Name: "knows", Words: k.Knows}}
	if k.Source != nil {
		v.Lines = append(v.Lines, intake.Line{Name: "it stands in", Words: k.Source.String()})
	}
	if k.By != "" {
		v.Lines = append(v.Lines, intake.Line{Name: "may be named", Words: k.By})
	}
	v.private(k.Private)
}

func (v *letterView) private(p *intake.Private) {
	if p == nil {
		return
	}
	for _, l := range []intake.Line{{Name: "name", Words: p.Name}, {Name: "how to reach them", Words: p.Contact}} {
		if l.Words != "" {
			v.Private = append(v.Private, l)
		}
	}
}

// problemWords puts an error into sentences; each problem of a letter with what to do.
func problemWords(err error) []string {
	var all intake.Problems
	if !errors.As(err, &all) {
		return []string{schema.Sentence(err.Error())}
	}
	var words []string
	for _, p := range all {
		words = append(words, strings.TrimSpace(schema.Sentence(p.String())+" "+p.Help))
	}
	return words
}

// foresee says how the bow of a letter dates, which bows on record it may be,
// and what accepting the letter would move.
func (d *Desk) foresee(r *http.Request, l *intake.Letter, v *letterView) error {
	if l.Wrong != nil {
		return nil
	}
	a, err := d.acceptance(r, l, nil)
	if err != nil {
		return err
	}
	if a.receipt != nil {
		v.Lines = a.inbox.Said(l.Bow)
		said := a.receipt.Answer.Sentences()
		v.Dates = append([]string{schema.Sentence(said.Headline)}, said.Balance...)
		for _, like := range a.receipt.Alike {
			v.Alike = append(v.Alike, fmt.Sprintf("%s, %s: %s", schema.Sentence(like.Words()), like.Name, like.Because))
		}
		if a.receipt.Before {
			v.Alike = append(v.Alike, "The same was sent before and is on record as "+a.receipt.ID+"; accepting adds what is new.")
		}
	}
	moves, err := d.register.Moves(r.Context(), a.changes)
	for _, e := range moves {
		v.Moves = append(v.Moves, strings.TrimSpace(e.Title+": "+e.Words))
	}
	return err
}

// acceptance is what accepting a letter does.
type acceptance struct {
	way     string // to the form of the record that it becomes
	changes []journal.Change
	inbox   *intake.Inbox
	receipt *intake.Receipt // of a bow
}

func (d *Desk) acceptance(r *http.Request, l *intake.Letter, pictures []intake.Picture) (acceptance, error) {
	ref, engine, err := d.register.Engine(r.Context())
	if err != nil {
		return acceptance{}, err
	}
	if l.Knowledge != nil {
		changes, err := intake.AcceptKnowledge(ref, l, pictures, d.there)
		if err != nil {
			return acceptance{}, err
		}
		return acceptance{way: wayTo(changes[0].File), changes: changes}, nil
	}
	in := intake.NewInbox(ref, engine, time.Now(), d.there)
	receipt, changes, err := in.Accept(l, pictures)
	if err != nil {
		return acceptance{}, err
	}
	return acceptance{wayTo(receipt.File()), changes, in, receipt}, nil
}

// there says whether a file is in the reference's folder.
func (d *Desk) there(file string) bool {
	_, err := fs.Stat(files.Below(d.folder), filepath.ToSlash(file))
	return err == nil
}

// decide accepts or declines a letter, as its page says.
func (d *Desk) decide(w http.ResponseWriter, r *http.Request) error {
	d.writing.Lock()
	defer d.writing.Unlock()
	l, err := d.waiting(r)
	if err != nil {
		return err
	}
	if r.PostForm.Get("-hash") != hashOf(l.Data) {
		return d.showLetter(w, r, l, errors.New("the letter is another than the one you saw; look at it once more. Nothing was changed"))
	}
	switch r.PostForm.Get("-do") {
	case "decline":
		err := d.writeInbox(r, "decline "+l.Name, l.Decline(d.there))
		if err != nil {
			return d.showLetter(w, r, l, err)
		}
		http.Redirect(w, r, d.access.path+"inbox", http.StatusSeeOther)
	case "accept":
		way, err := d.accept(r, l)
		if err != nil {
			return d.showLetter(w, r, l, err)
		}
		http.Redirect(w, r, d.access.path+way+"#saved", http.StatusSeeOther)
	default:
		http.Redirect(w, r, d.access.path+"inbox", http.StatusSeeOther)
	}
	return nil
}

// accept takes a letter into the records with the pictures that were chosen,
// and gives the way to the record's form.
func (d *Desk) accept(r *http.Request, l *intake.Letter) (way string, err error) {
	if l.Wrong != nil {
		return "", l.Wrong
	}
	var pictures []intake.Picture
	for _, p := range l.Pictures {
		if slices.Contains(r.PostForm["picture"], p.File) {
			data, err := d.read(p.File)
			if err != nil {
				return "", err
			}
			pictures = append(pictures, intake.Picture{LetterPicture: p, Data: data})
		}
	}
	a, err := d.acceptance(r, l, pictures)
	if err != nil {
		return "", err
	}
	return cmp.Or(a.way, "inbox"), d.writeInbox(r, "accept "+l.Name, a.changes)
}

func (d *Desk) writeInbox(r *http.Request, name string, changes []journal.Change) error {
	j, err := d.journal(r.Context())
	if err != nil {
		return err
	}
	defer j.Close()
	return intake.Write(j, name, changes)
}

// countWaiting counts the letters of the inbox, without reading them.
func (d *Desk) countWaiting() int {
	list, _ := fs.ReadDir(files.Below(d.folder), schema.InboxFolder)
	n := 0
	for _, e := range list {
		if e.Type().IsRegular() && path.Ext(e.Name()) == ".json" {
			n++
		}
	}
	return n
}
