package desk

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/a-h/templ"

	"yearmark/checks"
	"yearmark/dating"
	"yearmark/exchange/compare"
	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/site/assets"
)

// Register is what the desk asks of the records and what follows from them.
// All of it is safe for concurrent use.
type Register interface {
	// Newest gives the records as they are in the folder, and what is found in them.
	Newest(ctx context.Context) (*schema.Reference, checks.Report, error)
	// With gives what would be found in the files that change, and errors anywhere,
	// with changes that are not written.
	With(ctx context.Context, changes []journal.Change) (checks.Report, error)
	// Moves says which years and which bows' dates such changes move.
	Moves(ctx context.Context, changes []journal.Change) ([]compare.Entry, error)
	// Engine gives the records and what dates bows by them.
	Engine(ctx context.Context) (*schema.Reference, *dating.Engine, error)
	// Leaving says what an edition published now would let out of the folder.
	Leaving(ctx context.Context) (Leaving, error)
	// Publish writes the site to a folder, all or nothing, packs it into one file
	// beside that folder if asked to, and remembers the edition.
	Publish(ctx context.Context, to string, pack bool) (Published, error)
}

//go:embed desk.js
var script []byte

//go:embed draw.js
var drawScript []byte

//go:embed prose.js
var proseScript []byte

//go:embed desk.css
var style []byte

// Desk answers for the records of one folder. A Front serves it.
type Desk struct {
	folder   string
	register Register
	site     string // the address at which the published pages are shown
	shown    string // the address below which pictures of the folder are shown
	access   *access
	writing  sync.Mutex // one change at a time
	mux      *http.ServeMux
}

// New makes a desk for the records in folder. site is the address at which
// their pages are shown, "http://localhost:8417/"; shown is served there too.
func (f *Front) New(folder string, register Register, site string, shown *Shown) *Desk {
	d := &Desk{folder: folder, register: register, site: site, shown: strings.TrimSuffix(site, "/") + shown.Path(), access: f.access, mux: http.NewServeMux()}
	d.routes()
	return d
}

func (d *Desk) routes() {
	at := func(pattern string, do func(http.ResponseWriter, *http.Request) error) {
		method, path, _ := strings.Cut(pattern, " ")
		d.mux.HandleFunc(method+" "+d.access.path+path, func(w http.ResponseWriter, r *http.Request) {
			if err := do(w, r); err != nil {
				d.fail(w, err)
			}
		})
	}
	at("GET {$}", d.home)
	at("GET records/{kind}", d.list)
	at("GET findings", d.findings)
	at("GET edit/{kind}/{id}", d.edit)
	at("POST edit/{kind}/{id}", d.save)
	at("POST check/{kind}/{id}", d.check)
	at("GET new/{kind}", d.blank)
	at("POST new/{kind}", d.create)
	at("POST check/{kind}/{$}", d.check)
	at("GET remove/{kind}/{id}", d.askRemoval)
	at("POST remove/{kind}/{id}", d.removal)
	at("GET inbox", d.inbox)
	at("POST inbox", d.takeIn)
	at("GET inbox/{name}", d.letter)
	at("POST inbox/{name}", d.decide)
	at("GET publish", d.publishPage)
	at("POST publish", d.publish)
	at("POST quick/{what}", d.quick)
	at("POST picture/{kind}", d.picture)
	at("POST mend", d.mend)
	at("POST undo", d.undo)
	at("POST redo", d.redo)
	at("POST preview/{kind}/{id}", d.preview)
	at("POST preview/{kind}/{$}", d.preview)
	at("GET desk.js", static("text/javascript; charset=utf-8", script))
	at("GET draw.js", static("text/javascript; charset=utf-8", drawScript))
	at("GET prose.js", static("text/javascript; charset=utf-8", proseScript))
}

// sheet is the site's style sheet and the desk's own after it.
func sheet() []byte { return append(slices.Clone(assets.Style().Data), style...) }

func static(kind string, data []byte) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, _ *http.Request) error {
		w.Header().Set("Content-Type", kind)
		_, err := w.Write(data)
		return err
	}
}

// render writes a page.
func (d *Desk) render(w http.ResponseWriter, page templ.Component) { render(w, page) }

func render(w http.ResponseWriter, page templ.Component) {
	var b bytes.Buffer
	if err := page.Render(context.Background(), &b); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(b.Bytes())
}

// missing is an address that leads nowhere.
type missing struct{ what string }

func (m missing) Error() string { return m.what }

func (d *Desk) fail(w http.ResponseWriter, err error) {
	status, title := http.StatusInternalServerError, "That did not work"
	if errors.As(err, new(missing)) {
		status, title = http.StatusNotFound, "Nothing is there"
	}
	if _, gone := os.Stat(d.folder); gone != nil {
		status, title = http.StatusInternalServerError, "The folder of this register is not there"
		err = fmt.Errorf("%s was moved, renamed or deleted, or its disk was taken out. Put it back, or open it where it is now. Nothing was changed", d.folder)
	}
	w.WriteHeader(status)
	render(w, messagePage(title, schema.Sentence(err.Error()), d.access.path))
}

// journal opens the records for one change.
func (d *Desk) journal(ctx context.Context) (*journal.Journal, error) {
	return journal.Open(ctx, d.folder, io.Discard)
}

// write makes changes, which undo can take back under the name given.
func (d *Desk) write(ctx context.Context, name string, changes []journal.Change) error {
	j, err := d.journal(ctx)
	if err != nil {
		return err
	}
	defer j.Close()
	return j.Write(name, changes)
}

// read reads a file of the reference; no path leads out of the folder.
func (d *Desk) read(file string) ([]byte, error) {
	root, err := os.OpenRoot(d.folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return root.ReadFile(filepath.FromSlash(file))
}

// hashOf names the state of a file that a form was made from.
func hashOf(source []byte) string {
	sum := sha256.Sum256(source)
	return hex.EncodeToString(sum[:16])
}

// kindOf is the kind that an address names.
func kindOf(r *http.Request) (schema.Kind, error) {
	kind := schema.Kind(r.PathValue("kind"))
	if kind == settings && r.PathValue("id") == "register" {
		return kind, nil
	}
	if !slices.Contains(schema.Kinds, kind) {
		return "", missing{fmt.Sprintf("there is no kind of record %q", kind)}
	}
	return kind, nil
}

// recordsOf lists the records of a kind by their titles.
func recordsOf(ref *schema.Reference, kind schema.Kind) []schema.Record {
	all := ref.RecordsOf(kind)
	slices.SortStableFunc(all, func(a, b schema.Record) int {
		return cmp.Compare(strings.ToLower(a.Title()), strings.ToLower(b.Title()))
	})
	return all
}
