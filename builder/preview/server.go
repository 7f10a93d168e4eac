// Package preview serves a site while its records are being written: on
// loopback only, to its own host name only, and always what a publish of the
// same records would write. A browser's page is told when a newer state is
// ready, and a moment later when what was found in it stands in the way of
// publishing it.
package preview

import (
	"bytes"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"mime"
	"net"
	"net/http"
	"path"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/a-h/templ"
)

// Site is what the preview serves: one finished state.
type Site interface {
	// Render gives the bytes of one file of the site, or an error that wraps
	// fs.ErrNotExist where the site has no such file.
	Render(path string) ([]byte, error)
}

// lasting is a site that knows which of its files are named by what they hold,
// so that a browser may keep them.
type lasting interface {
	Lasting(path string) bool
}

// pending is a site some of whose files are still being made.
type pending interface {
	// Pending names what must be made before the file can be rendered, as "the
	// search", or is empty.
	Pending(path string) string
}

// ownPaths begins the addresses that are the preview's and not the site's.
const ownPaths = "/-preview/"

//go:embed follow.js
var followScript []byte

// Server hands out the newest state of a site.
type Server struct {
	Beside Beside // set before it serves; may be empty

	hosts map[string]bool

	mu       sync.Mutex
	site     Site
	state    state
	pictures int           // rises where pictures may have changed
	coming   chan struct{} // closed when the newer state that was announced stands; nil where none was
	waiting  map[chan state]bool
	finished chan struct{}
}

// state is what a browser is told of the newest records.
type state struct {
	Number   int    // of the site shown: rises by one with every newer one
	Pictures int    // of its pictures: differs where one may be another under the same name
	Trouble  string // a line or two, where the records cannot be published; else empty
	Findings string // the findings as text
}

// name is what a browser calls the state that its page is of.
func (s state) name() string { return fmt.Sprintf("%d-%d", s.Number, s.Pictures) }

// Beside is what a server hands out that is no part of the site, below a path
// that nobody can guess: pages of other ports may show it.
type Beside struct {
	Path    string // "/…/"
	Handler http.Handler
}

// NewServer answers requests for the given port.
func NewServer(port int) *Server {
	return &Server{hosts: Hosts(port), waiting: map[chan state]bool{}, finished: make(chan struct{})}
}

// Hosts are the names by which a browser of this machine asks for a port.
func Hosts(port int) map[string]bool {
	hosts := map[string]bool{}
	for _, name := range []string{"127.0.0.1", "localhost", "[::1]"} {
		hosts[fmt.Sprintf("%s:%d", name, port)] = true
	}
	return hosts
}

// Listen opens a port of this machine's own addresses, of the fourth version of
// the Internet protocol and, where the machine has it, of the sixth, and gives
// what a browser is to ask for. Port 0 means any free one.
func Listen(port int) (listeners []net.Listener, address string, err error) {
	four, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		return nil, "", fmt.Errorf("cannot serve on port %d: %w; name another with --port", port, err)
	}
	port = four.Addr().(*net.TCPAddr).Port
	six, err := net.Listen("tcp", fmt.Sprintf("[::1]:%d", port))
	switch {
	case err == nil:
		return []net.Listener{four, six}, fmt.Sprintf("localhost:%d", port), nil
	case errors.Is(err, syscall.EADDRINUSE): // "localhost" may lead to another program
		return []net.Listener{four}, four.Addr().String(), nil
	}
	return []net.Listener{four}, fmt.Sprintf("localhost:%d", port), nil
}

// PicturesChange says that of what is shown from now on pictures may be others
// than before, so that browsers load them anew.
func (s *Server) PicturesChange() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.pictures++
}

// Coming announces a newer state, so that browsers ask for it while it is made:
// what they ask for is answered when Show or Announce was called.
func (s *Server) Coming() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.coming == nil {
		s.coming = make(chan struct{})
		s.say(state{Number: s.state.Number + 1, Findings: "The records are being read.\n"})
	}
}

// arrived lets those go who asked for what was announced, and gives the number
// of the state that is there now; the caller holds the lock.
func (s *Server) arrived(newer bool) int {
	if s.coming == nil {
		if newer {
			return s.state.Number + 1
		}
		return s.state.Number
	}
	close(s.coming)
	s.coming = nil
	return s.state.Number
}

// Show makes a site the newest state, and takes back what was told of the one before.
func (s *Server) Show(site Site) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.site = site
	s.say(state{Number: s.arrived(true), Findings: "The records are being checked.\n"})
}

// Announce says what was found in the newest state, or why the records cannot be
// shown and the state before them stays. trouble is for the page, and empty
// where nothing stands in the way of publishing.
func (s *Server) Announce(trouble, findings string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.say(state{Number: s.arrived(false), Trouble: trouble, Findings: findings})
}

// say lets every browser know; the caller holds the lock.
func (s *Server) say(now state) {
	now.Pictures = s.pictures
	s.state = now
	for c := range s.waiting {
		select {
		case <-c:
		default:
		}
		c <- now
	}
}

// Close lets waiting browsers go.
func (s *Server) Close() { close(s.finished) }

// ServeHTTP answers only its own host name and only pages of its own origin.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if s.Beside.Handler != nil && strings.HasPrefix(r.URL.Path, s.Beside.Path) && s.hosts[strings.ToLower(r.Host)] {
		http.StripPrefix(s.Beside.Path, s.Beside.Handler).ServeHTTP(w, r)
		return
	}
	secure(w.Header())
	if !s.allowed(r) {
		http.Error(w, "the preview answers only this machine's own browser", http.StatusForbidden)
		return
	}
	switch r.URL.Path {
	case ownPaths + "changes":
		s.serveChanges(w, r)
	case ownPaths + "follow.js":
		serve(w, r, "follow.js", followScript)
	case ownPaths + "findings":
		s.mu.Lock()
		text := s.state.Findings
		s.mu.Unlock()
		serve(w, r, "findings.txt", []byte(text))
	default:
		s.serveSite(w, r)
	}
}

func (s *Server) allowed(r *http.Request) bool {
	if r.Method != http.MethodGet && r.Method != http.MethodHead || !s.hosts[strings.ToLower(r.Host)] {
		return false
	}
	if origin := r.Header.Get("Origin"); origin != "" && origin != "http://"+r.Host {
		return false
	}
	from := r.Header.Get("Sec-Fetch-Site")
	return from == "" || from == "same-origin" || from == "none"
}

// secure sets the site's own policy as headers, so that the preview is as
// strict as the published pages.
func secure(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; media-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cache-Control", "no-cache")
}

// newest gives the newest state, once one that was announced stands.
func (s *Server) newest(r *http.Request) (Site, state) {
	s.mu.Lock()
	coming := s.coming
	s.mu.Unlock()
	if coming != nil {
		select {
		case <-coming:
		case <-r.Context().Done():
		case <-s.finished:
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.site, s.state
}

func (s *Server) serveSite(w http.ResponseWriter, r *http.Request) {
	site, state := s.newest(r)
	name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
	if name == "" || strings.HasSuffix(r.URL.Path, "/") {
		name = path.Join(name, "index.html")
	}
	data := rendered(troublePage(state.Trouble, state.Findings))
	if site != nil {
		if p, ok := site.(pending); ok && p.Pending(name) != "" {
			w.Header().Set("Retry-After", "1")
			w.Header().Set("Content-Type", types[".html"])
			w.WriteHeader(http.StatusServiceUnavailable)
			_, _ = w.Write(rendered(pendingPage(p.Pending(name))))
			return
		}
		var err error
		if data, err = site.Render(name); err != nil {
			http.Error(w, "there is no page at "+r.URL.Path, http.StatusNotFound)
			return
		}
		if l, ok := site.(lasting); ok && l.Lasting(name) {
			w.Header().Set("Cache-Control", "max-age=31536000, immutable")
		}
	} else {
		name = "trouble.html"
	}
	if strings.HasSuffix(name, ".html") && r.Header.Get("Sec-Fetch-Dest") == "document" {
		data = withFollower(data, state)
	}
	serve(w, r, name, data)
}

// withFollower adds the script that follows edits, told which state the page
// is of. Only a browser's own page gets it; whoever fetches a file gets the
// bytes that a publish would write.
func withFollower(page []byte, of state) []byte {
	const end = "</body>"
	tag := rendered(follower(ownPaths + "follow.js?" + of.name()))
	return bytes.Replace(page, []byte(end), append(tag, end...), 1)
}

func rendered(c templ.Component) []byte {
	var b bytes.Buffer
	_ = c.Render(context.Background(), &b) // a Buffer takes everything
	return b.Bytes()
}

// types are fixed here, since systems disagree on them.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".json": "application/json", ".svg": "image/svg+xml", ".txt": "text/plain; charset=utf-8", ".xml": "application/xml",
	".csv": "text/csv; charset=utf-8", ".bin": "application/octet-stream", ".jsonld": "application/ld+json", ".atom": "application/atom+xml", ".webmanifest": "application/manifest+json",
}

func serve(w http.ResponseWriter, r *http.Request, name string, data []byte) {
	kind := types[path.Ext(name)]
	if kind == "" {
		kind = mime.TypeByExtension(path.Ext(name))
	}
	if kind == "" {
		kind = "application/octet-stream"
	}
	sum := sha256.Sum256(data)
	w.Header().Set("Content-Type", kind)
	w.Header().Set("ETag", `"`+hex.EncodeToString(sum[:12])+`"`)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(data))
}

// serveChanges tells a browser of every newer state, as server-sent events.
func (s *Server) serveChanges(w http.ResponseWriter, r *http.Request) {
	flusher, ok := w.(http.Flusher)
	if !ok {
		http.Error(w, "cannot follow changes", http.StatusNotImplemented)
		return
	}
	messages := make(chan state, 1)
	s.mu.Lock()
	s.waiting[messages] = true
	messages <- s.state
	s.mu.Unlock()
	defer func() {
		s.mu.Lock()
		delete(s.waiting, messages)
		s.mu.Unlock()
	}()
	w.Header().Set("Content-Type", "text/event-stream")
	for {
		select {
		case <-r.Context().Done():
			return
		case <-s.finished:
			return
		case now := <-messages:
			fmt.Fprintf(w, "id: %s\ndata: %s\n\n", now.name(), strings.ReplaceAll(now.Trouble, "\n", " "))
			flusher.Flush()
		}
	}
}
