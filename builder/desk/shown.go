package desk

import (
	"bytes"
	"crypto/rand"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"

	"yearmark/schema"
	"yearmark/schema/files"
)

// Shown hands out what the desk's pages only show: the pictures of the records
// and those of the inbox. They come from another port than the desk, below a
// path that nobody can guess, and sandboxed, so that no file of a stranger can
// act as the desk.
type Shown struct {
	folder, path string
}

// NewShown hands out the pictures of a reference's folder.
func NewShown(folder string) *Shown { return &Shown{folder, "/" + rand.Text() + "/"} }

// Path is the path below which they lie.
func (s *Shown) Path() string { return s.path }

// shownTypes are the files that are handed out, and what a browser takes them for.
var shownTypes = map[string]string{".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png", ".svg": "image/svg+xml"}

// ServeHTTP answers a path below the reference's folder.
func (s *Shown) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	kind := shownTypes[strings.ToLower(path.Ext(r.URL.Path))]
	ours := strings.HasPrefix(r.URL.Path, schema.PicturesFolder+"/") || strings.HasPrefix(r.URL.Path, schema.InboxFolder+"/pictures/")
	h := w.Header()
	h.Set("Content-Security-Policy", "sandbox; default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "cross-origin")
	h.Set("Cache-Control", "no-cache")
	if r.Method != http.MethodGet && r.Method != http.MethodHead || kind == "" || !ours {
		http.NotFound(w, r)
		return
	}
	data, err := fs.ReadFile(files.Below(s.folder), r.URL.Path)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	h.Set("Content-Type", kind)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(data))
}
