package desk

import (
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"yearmark/checks"
	"yearmark/schema"
	"yearmark/schema/english"
)

// Leaving is what an edition would let out of the folder, beside the last one.
type Leaving struct {
	First    bool     // no edition is remembered
	Changes  []string // what it says that the last one did not, in words
	Pictures []string // that are new
	Persons  []string // who are named by a key that names persons, and were not
	Breaking []string // addresses of records that are gone and lead to no other
	Personal []Personal
}

// Personal is a text in a record that is to be published and looks as if it
// told how a person is reached or where one lives.
type Personal struct {
	File, Text string
	Line       int
}

// Published is what came of publishing.
type Published struct {
	Folder  string
	Archive string // the same packed for upload, or empty
	Files   int
	Lost    []string // addresses of the last edition that lead nowhere now
}

// publishView is the page on which an edition is published.
type publishView struct {
	pageView
	Leaving
	Folder    string // proposed
	Wrong     string
	Published *Published
}

func (d *Desk) publishPage(w http.ResponseWriter, r *http.Request) error {
	return d.showPublish(w, r, publishView{Folder: d.lastTarget()})
}

func (d *Desk) showPublish(w http.ResponseWriter, r *http.Request, v publishView) error {
	ref, report, err := d.register.Newest(r.Context())
	if err != nil {
		return err
	}
	if v.Leaving, err = d.register.Leaving(r.Context()); err != nil {
		return err
	}
	v.pageView = d.withUndo(r, d.page(ref, report, "Publish", ""))
	if v.Wrong != "" {
		w.WriteHeader(http.StatusUnprocessableEntity)
	}
	render(w, publishForm(v))
	return nil
}

// publish writes the site to the folder named, which the person confirmed.
func (d *Desk) publish(w http.ResponseWriter, r *http.Request) error {
	v := publishView{Folder: strings.TrimSpace(r.PostFormValue("folder"))}
	published, err := d.publishTo(r, v.Folder, r.PostFormValue("pack") != "")
	if err != nil {
		v.Wrong = schema.Sentence(err.Error())
	} else {
		v.Published = published
	}
	return d.showPublish(w, r, v)
}

func (d *Desk) publishTo(r *http.Request, to string, pack bool) (*Published, error) {
	if to == "" {
		return nil, errors.New("name the folder for the site")
	}
	if !filepath.IsAbs(to) {
		to = filepath.Join(filepath.Dir(d.folder), to)
	}
	_, report, err := d.register.Newest(r.Context())
	if err != nil {
		return nil, err
	}
	if n := report.Counts.Error; n > 0 {
		return nil, errors.New("nothing was published: " + english.Count(n, "error") + " must be mended first")
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	published, err := d.register.Publish(r.Context(), to, pack)
	if err != nil {
		return nil, err
	}
	return &published, d.rememberTarget(to)
}

// targetFile holds the folder that the site was last published to. It lies in
// the journal's folder, which is never published.
const targetFile = ".yearmark/published-to"

// lastTarget proposes a folder for the site.
func (d *Desk) lastTarget() string {
	if data, err := d.read(targetFile); err == nil {
		return strings.TrimSpace(string(data))
	}
	whole, err := filepath.Abs(d.folder)
	if err != nil {
		return ""
	}
	return whole + "-site"
}

func (d *Desk) rememberTarget(to string) error {
	root, err := os.OpenRoot(d.folder)
	if err != nil {
		return err
	}
	defer root.Close()
	return root.WriteFile(targetFile, []byte(to+"\n"), 0o644)
}

// PersonalIn finds what looks personal in the public part of a record's file:
// postal and electronic addresses and telephone numbers.
func PersonalIn(file string, source []byte) []Personal {
	var found []Personal
	n := 0
	for line := range strings.Lines(string(schema.MaskPrivate(file, source))) {
		n++
		for _, text := range checks.Reach(line) {
			found = append(found, Personal{File: file, Text: text, Line: n})
		}
	}
	return found
}
