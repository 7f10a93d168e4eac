package desk

import (
	"cmp"
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"yearmark/schema"
)

// Opener opens a folder of records: where it succeeds the Front shows the desk.
type Opener func(folder string) (*Desk, error)

// Front is the way in: it lets one browser in, offers registers where none is
// open, and hands the rest to the desk of the one that is.
type Front struct {
	access  *access
	greeter *greeter
	open    Opener
	begin   func(folder string, empty bool) error // makes a new register

	mu   sync.Mutex
	desk *Desk // nil until one is open
}

// NewFront makes a way in for a port. open opens a register, begin makes a new
// one, empty or with the small example.
func NewFront(port int, open Opener, begin func(folder string, empty bool) error) *Front {
	a := newAccess(port)
	return &Front{access: a, greeter: &greeter{secret: a.token + a.cookie, access: a}, open: open, begin: begin}
}

// Way gives what has to follow the host in an address that opens the desk, once.
func (f *Front) Way() string { return "/?key=" + f.access.newKey() }

// LeaveWord lets another start of the program for this folder, or for none if
// it is empty, find the desk, until undo.
func (f *Front) LeaveWord(folder, address string) (undo func()) {
	return leaveWord(folder, running{Address: address, Secret: f.greeter.secret})
}

// Open shows the register in a folder from now on.
func (f *Front) Open(folder string) error {
	d, err := f.open(folder)
	if err != nil {
		return err
	}
	remember(folder)
	f.mu.Lock()
	f.desk = d
	f.mu.Unlock()
	return nil
}

// maxForm bounds what a form may send.
const maxForm = 4 << 20

// ServeHTTP answers the one browser that was let in.
func (f *Front) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	secure(w.Header())
	way := strings.TrimPrefix(r.URL.Path, f.access.path)
	r.Body = http.MaxBytesReader(w, r.Body, mostOf(way))
	if !f.access.ownHost(r) {
		http.Error(w, "the desk answers this machine's own browser only", http.StatusForbidden)
		return
	}
	if f.greeter.serve(w, r) || f.access.enter(w, r) {
		return
	}
	if why := f.access.refuses(r); why != "" {
		w.WriteHeader(http.StatusForbidden)
		render(w, messagePage("This page does not open", why, ""))
		return
	}
	f.mu.Lock()
	d := f.desk
	f.mu.Unlock()
	if d != nil {
		showFrom(w.Header(), d.site)
	}
	switch {
	case way == "start" || strings.HasPrefix(way, "start/"), d == nil && way == "":
		f.start(w, r, strings.TrimPrefix(strings.TrimPrefix(way, "start"), "/"))
	case way == "desk.css":
		_ = static("text/css; charset=utf-8", sheet())(w, r)
	case d == nil:
		http.Redirect(w, r, f.access.path, http.StatusSeeOther)
	default:
		d.mux.ServeHTTP(w, r)
	}
}

// startView is the page on which a register is chosen.
type startView struct {
	Path, Token, Wrong string
	Recent             []string // folders of registers opened before, newest first
	At, Above          string   // the folder that is shown, and the one above it
	Folders            []folderView
	IsRegister         bool // the folder that is shown is a register
}

type folderView struct {
	Name, Path string
	Register   bool
}

// start answers the pages on which a register is opened or begun.
func (f *Front) start(w http.ResponseWriter, r *http.Request, way string) {
	v := startView{Path: f.access.path, Token: f.access.token, Recent: recent()}
	if r.Method == http.MethodPost {
		err := f.chosen(r, way)
		if err == nil {
			http.Redirect(w, r, f.access.path, http.StatusSeeOther)
			return
		}
		v.Wrong = schema.Sentence(err.Error())
		w.WriteHeader(http.StatusUnprocessableEntity)
	}
	v.look(cmp.Or(r.FormValue("at"), home()))
	render(w, startPage(v))
}

// chosen opens or begins what a form of the start page names.
func (f *Front) chosen(r *http.Request, way string) error {
	folder := strings.TrimSpace(r.PostFormValue("folder"))
	if folder == "" {
		return errors.New("name a folder")
	}
	if !filepath.IsAbs(folder) {
		folder = filepath.Join(cmp.Or(r.PostFormValue("at"), home()), folder)
	}
	if way == "begin" {
		if err := f.begin(folder, r.PostFormValue("with") == "nothing"); err != nil {
			return err
		}
	}
	return f.Open(folder)
}

// look shows the folders in a folder.
func (v *startView) look(at string) {
	list, err := os.ReadDir(at)
	if err != nil {
		at = home()
		list, _ = os.ReadDir(at)
	}
	v.At, v.Above, v.IsRegister = at, filepath.Dir(at), isRegister(at)
	for _, e := range list {
		path := filepath.Join(at, e.Name())
		if info, err := os.Stat(path); err == nil && info.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			v.Folders = append(v.Folders, folderView{e.Name(), path, isRegister(path)})
		}
	}
	slices.SortStableFunc(v.Folders, func(a, b folderView) int {
		if a.Register != b.Register {
			return map[bool]int{true: -1, false: 1}[a.Register]
		}
		return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
}

func isRegister(folder string) bool {
	info, err := os.Stat(filepath.Join(folder, schema.SettingsFile))
	return err == nil && info.Mode().IsRegular()
}

func home() string {
	at, err := os.UserHomeDir()
	if err != nil {
		return string(filepath.Separator)
	}
	return at
}
