package desk

import (
	"crypto/rand"
	"crypto/subtle"
	"net/http"
	"strings"
	"sync"
	"time"

	"yearmark/builder/preview"
)

const (
	keyLasts   = 60 * time.Second // how long an address with a key can be opened
	cookieName = "desk"
	tokenField = "-token" // of every form that changes anything
)

// access lets one browser of this machine in and nobody else. An address with
// a key is good once; it is answered by a cookie that is bound to a path nobody
// can guess, since a browser sends a cookie of this machine to every port.
// What changes anything needs besides it a token that stands in the desk's own
// forms, and the desk's own origin.
type access struct {
	hosts  map[string]bool
	path   string // "/…/", under which all of the desk lies
	cookie string
	token  string

	mu   sync.Mutex
	keys map[string]time.Time // not yet used, and when each ends
	now  func() time.Time
}

func newAccess(port int) *access {
	return &access{hosts: preview.Hosts(port), path: "/" + rand.Text() + "/", cookie: rand.Text(), token: rand.Text(), keys: map[string]time.Time{}, now: time.Now}
}

// newKey makes a key that opens the desk once within the next minute.
func (a *access) newKey() string {
	a.mu.Lock()
	defer a.mu.Unlock()
	for k, ends := range a.keys {
		if a.now().After(ends) {
			delete(a.keys, k)
		}
	}
	key := rand.Text()
	a.keys[key] = a.now().Add(keyLasts)
	return key
}

// use takes a key, which is then gone, and says whether it was good.
func (a *access) use(key string) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	ends, known := a.keys[key]
	delete(a.keys, key)
	return known && !a.now().After(ends)
}

// enter answers an address with a key: a good one by the cookie and the way
// into the desk. It says whether the request was one.
func (a *access) enter(w http.ResponseWriter, r *http.Request) bool {
	if r.URL.Path != "/" || r.Method != http.MethodGet {
		return false
	}
	if !a.use(r.URL.Query().Get("key")) {
		return false
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: a.cookie, Path: a.path, HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, a.path, http.StatusSeeOther)
	return true
}

// ownHost says that a request names this machine and the desk's port.
func (a *access) ownHost(r *http.Request) bool { return a.hosts[strings.ToLower(r.Host)] }

// refuses says why a request may not pass; it is empty where it may.
func (a *access) refuses(r *http.Request) string {
	cookie, err := r.Cookie(cookieName)
	switch {
	case err != nil || !strings.HasPrefix(r.URL.Path, a.path) || !equal(cookie.Value, a.cookie):
		return "This desk is open in another browser, or was started anew. Start it again from the program to get in."
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		if from := r.Header.Get("Sec-Fetch-Site"); from == "cross-site" {
			return "Another site leads here. Open the desk from the program instead."
		}
		return ""
	case r.Method != http.MethodPost:
		return "The desk answers reading and saving only."
	case r.Header.Get("Origin") != "http://"+r.Host:
		return "This was not sent from one of the desk's own pages. Nothing was changed."
	case !equal(r.PostFormValue(tokenField), a.token):
		return "This page is of a desk that has ended. Open the record again; what you typed is still on this page, to be copied."
	}
	return ""
}

func equal(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// showFrom lets the desk's pages show pictures that come from an address too.
func showFrom(h http.Header, address string) {
	h.Set("Content-Security-Policy", strings.Replace(h.Get("Content-Security-Policy"), "img-src 'self'", "img-src 'self' "+address, 1))
}

// secure sets a policy under which the desk's pages run the desk's own script
// only, send forms to the desk only and stand in no other page.
func secure(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}
