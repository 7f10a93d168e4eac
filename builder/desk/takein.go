package desk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"path"
	"slices"
	"strings"

	"yearmark/exchange/intake"
	"yearmark/exchange/journal"
	"yearmark/schema/english"
	"yearmark/schema/files"
	"yearmark/site/pictures"
)

const (
	maxLetters     = 256 << 20 // bytes of letters and their pictures that are taken in at once
	maxLetterFiles = 200
)

// takeIn puts files that visitors sent into the inbox: letters, and pictures
// beside the letter that names them. It says of each what became of it.
func (d *Desk) takeIn(w http.ResponseWriter, r *http.Request) error {
	d.writing.Lock()
	defer d.writing.Unlock()
	t, err := d.newTaking()
	if err != nil {
		return err
	}
	var sent []*multipart.FileHeader
	if r.MultipartForm != nil {
		sent = r.MultipartForm.File["file"]
	}
	switch {
	case len(sent) == 0:
		t.refuse("Nothing was taken in", errors.New("choose the file that the visitor sent, and the pictures that came with it"))
	case len(sent) > maxLetterFiles:
		t.refuse("Nothing was taken in", fmt.Errorf("these are %d files; take in at most %d at once", len(sent), maxLetterFiles))
	default:
		t.all(sent)
	}
	if len(t.changes) > 0 {
		if err := d.writeInbox(r, "take in "+english.Count(len(t.changes), "file"), t.changes); err != nil {
			t.said, t.refused = nil, true
			t.refuse("Nothing was taken in", err)
		}
	}
	status := http.StatusOK
	if t.refused {
		status = http.StatusUnprocessableEntity
	}
	return d.showInbox(w, r, status, t.said)
}

// taking is files on their way into the inbox.
type taking struct {
	desk    *Desk
	waiting []*intake.Letter // by now
	sent    []*intake.Letter // of these, those that came now
	changes []journal.Change
	said    []noteView
	refused bool
}

func (d *Desk) newTaking() (*taking, error) {
	letters, err := intake.Waiting(files.Below(d.folder))
	return &taking{desk: d, waiting: letters}, err
}

func (t *taking) refuse(name string, why error) {
	t.refused = true
	for _, words := range problemWords(why) {
		t.said = append(t.said, noteView{Level: "error", Text: name + ": " + words})
	}
}

func (t *taking) say(text string) {
	t.said = append(t.said, noteView{Level: "question", Text: text})
}

// all takes in letters first, so that their pictures find them.
func (t *taking) all(sent []*multipart.FileHeader) {
	isLetter := func(h *multipart.FileHeader) bool { return strings.EqualFold(path.Ext(h.Filename), ".json") }
	for _, letters := range []bool{true, false} {
		for _, h := range sent {
			if isLetter(h) != letters {
				continue
			}
			name := path.Base(strings.ReplaceAll(h.Filename, `\`, "/"))
			data, err := readSent(h, letters)
			if err == nil && letters {
				err = t.letter(name, data)
			} else if err == nil {
				err = t.picture(name, data)
			}
			if err != nil {
				t.refuse(name, err)
			}
		}
	}
}

func readSent(h *multipart.FileHeader, letter bool) ([]byte, error) {
	if most := int64(maxPicture); h.Size > most {
		return nil, fmt.Errorf("it has more than %d MB", most>>20)
	}
	if letter && h.Size > intake.MaxBytes {
		return nil, fmt.Errorf("it has more than %d KB, more than a visitor's file can have", intake.MaxBytes>>10)
	}
	f, err := h.Open()
	if err != nil {
		return nil, errors.New("it did not arrive whole; choose it again")
	}
	defer f.Close()
	return io.ReadAll(f)
}

// letter takes in a visitor's file.
func (t *taking) letter(name string, data []byte) error {
	l := intake.Open(data)
	if l.Wrong != nil {
		return l.Wrong
	}
	c := l.Filed()
	l.Name, l.Data = path.Base(c.File), c.After
	accepted, declined := l.Past()
	switch {
	case slices.ContainsFunc(t.waiting, func(o *intake.Letter) bool { return o.Name == l.Name }):
		t.say(name + " waits in the inbox already.")
	case t.desk.there(accepted):
		t.say(name + " was accepted before; it is in the records. Nothing was done.")
		return nil
	case t.desk.there(declined):
		before, err := t.desk.read(declined)
		if err != nil {
			return err
		}
		t.say(name + " was declined before; it waits once more.")
		t.changes = append(t.changes, c, journal.Change{File: declined, Before: before})
	default:
		t.say(name + " waits in the inbox. Nothing of it is public.")
		t.changes = append(t.changes, c)
	}
	if !slices.ContainsFunc(t.waiting, func(o *intake.Letter) bool { return o.Name == l.Name }) {
		t.waiting = append(t.waiting, l)
	}
	t.sent = append(t.sent, l)
	return nil
}

// picture takes in a picture beside the letter that it came with: upright,
// without tags, and drawn anew from its pixels.
func (t *taking) picture(name string, data []byte) error {
	l, err := t.letterOf(name)
	if err != nil {
		return err
	}
	fitted, ending, err := pictures.Fit(name, data, longestSide)
	if err != nil {
		return err
	}
	at := l.PictureFile(name) + ending
	for n := 2; ; n++ {
		same := slices.ContainsFunc(t.changes, func(c journal.Change) bool { return c.File == at && bytes.Equal(c.After, fitted) })
		if now, err := t.desk.read(at); same || err == nil && bytes.Equal(now, fitted) {
			t.say(name + " lies with its letter already.")
			return nil
		}
		if !t.desk.there(at) && !slices.ContainsFunc(t.changes, func(c journal.Change) bool { return c.File == at }) {
			break
		}
		at = fmt.Sprintf("%s-%d%s", l.PictureFile(name), n, ending)
	}
	t.changes = append(t.changes, journal.Change{File: at, After: fitted})
	t.say(name + " lies with its letter: upright, and without what the camera wrote into it.")
	return nil
}

// letterOf finds the letter that names a picture: one that came with it, or
// else one that waits; a picture that none names goes with the only one that came.
func (t *taking) letterOf(name string) (*intake.Letter, error) {
	naming := func(all []*intake.Letter) []*intake.Letter {
		return slices.DeleteFunc(slices.Clone(all), func(l *intake.Letter) bool {
			return !slices.ContainsFunc(l.Named(), func(p intake.Photograph) bool { return strings.EqualFold(p.File, name) })
		})
	}
	sent, waiting := naming(t.sent), naming(t.waiting)
	switch {
	case len(sent) == 1:
		return sent[0], nil
	case len(waiting) == 1:
		return waiting[0], nil
	case len(waiting) == 0 && len(t.sent) == 1:
		return t.sent[0], nil
	case len(waiting) == 0:
		return nil, errors.New("no letter in the inbox names this picture; take it in together with the letter that it came with")
	}
	return nil, errors.New("several letters name a picture so; take it in together with the letter that it came with")
}

// mostOf says how much a request may send.
func mostOf(way string) int64 {
	switch {
	case way == "inbox":
		return maxLetters
	case strings.HasPrefix(way, "picture/"):
		return maxPicture
	}
	return maxForm
}
