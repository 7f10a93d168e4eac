package preview

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// policy is what every answer carries, refusals among them.
var policy = map[string]string{
	"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
	"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
}

func carriesPolicy(t *testing.T, what string, header http.Header) {
	t.Helper()
	for name, want := range policy {
		if !strings.Contains(header.Get(name), want) {
			t.Errorf("%s: the answer has %s %q", what, name, header.Get(name))
		}
	}
	for _, name := range []string{"Access-Control-Allow-Origin", "Access-Control-Allow-Private-Network", "Set-Cookie", "Server"} {
		if header.Get(name) != "" {
			t.Errorf("%s: the answer has %s", what, name)
		}
	}
}

// raw sends a request as it stands, byte for byte, and gives the status and
// all of the answer.
func raw(t *testing.T, h *httptest.Server, request string) (status int, header http.Header, body string) {
	t.Helper()
	c, err := net.Dial("tcp", h.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(20 * time.Second))
	if _, err := io.WriteString(c, request); err != nil {
		t.Fatal(err)
	}
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		return 0, http.Header{}, "" // closed without an answer
	}
	defer r.Body.Close()
	data, _ := io.ReadAll(r.Body)
	return r.StatusCode, r.Header, string(data)
}

// TestStrangersGetNothing asks as pages of other sites and other machines
// would, DNS rebinding among them: a name that the attacker owns and that has
// come to mean 127.0.0.1 still stands in the header Host.
func TestStrangersGetNothing(t *testing.T) {
	_, h := testServer(t)
	own := h.Listener.Addr().String()
	_, port, _ := net.SplitHostPort(own)
	for name, lines := range map[string]string{
		"a rebound name":                   "GET / HTTP/1.1\r\nHost: rebound.example:" + port,
		"a rebound name without port":      "GET / HTTP/1.1\r\nHost: rebound.example",
		"no host":                          "GET / HTTP/1.0",
		"an empty host":                    "GET / HTTP/1.1\r\nHost:",
		"two hosts":                        "GET / HTTP/1.1\r\nHost: " + own + "\r\nHost: evil.example",
		"its name as a part":               "GET / HTTP/1.1\r\nHost: localhost:" + port + ".evil.example",
		"its name before another":          "GET / HTTP/1.1\r\nHost: localhost.evil.example:" + port,
		"a name and word before it":        "GET / HTTP/1.1\r\nHost: evil.example@" + own,
		"its name with a full stop":        "GET / HTTP/1.1\r\nHost: localhost.:" + port,
		"another loopback address":         "GET / HTTP/1.1\r\nHost: 127.0.0.2:" + port,
		"all addresses":                    "GET / HTTP/1.1\r\nHost: 0.0.0.0:" + port,
		"its address as one number":        "GET / HTTP/1.1\r\nHost: 2130706433:" + port,
		"its address mapped":               "GET / HTTP/1.1\r\nHost: [::ffff:127.0.0.1]:" + port,
		"another host in the address":      "GET http://evil.example/ HTTP/1.1\r\nHost: " + own,
		"the port alone":                   "GET / HTTP/1.1\r\nHost: :" + port,
		"without its port":                 "GET / HTTP/1.1\r\nHost: localhost",
		"an origin of another port":        "GET / HTTP/1.1\r\nHost: " + own + "\r\nOrigin: http://127.0.0.1:1",
		"an origin with https":             "GET / HTTP/1.1\r\nHost: " + own + "\r\nOrigin: https://" + own,
		"an origin without one":            "GET / HTTP/1.1\r\nHost: " + own + "\r\nOrigin: null",
		"an origin that begins like it":    "GET / HTTP/1.1\r\nHost: " + own + "\r\nOrigin: http://" + own + ".evil.example",
		"localhost's origin for 127.0.0.1": "GET / HTTP/1.1\r\nHost: " + own + "\r\nOrigin: http://localhost:" + port,
		"a page of the same site":          "GET / HTTP/1.1\r\nHost: " + own + "\r\nSec-Fetch-Site: same-site",
		"a page of another site":           "GET /-preview/changes HTTP/1.1\r\nHost: " + own + "\r\nSec-Fetch-Site: cross-site",
		"a fetch site that is none":        "GET / HTTP/1.1\r\nHost: " + own + "\r\nSec-Fetch-Site: NONE",
		"a post":                           "POST / HTTP/1.1\r\nHost: " + own + "\r\nContent-Length: 0",
		"a put":                            "PUT /index.html HTTP/1.1\r\nHost: " + own + "\r\nContent-Length: 0",
		"a delete":                         "DELETE /index.html HTTP/1.1\r\nHost: " + own,
		"a question of options":            "OPTIONS / HTTP/1.1\r\nHost: " + own + "\r\nAccess-Control-Request-Method: GET\r\nAccess-Control-Request-Private-Network: true",
		"a question of all options":        "OPTIONS * HTTP/1.1\r\nHost: " + own,
		"a tunnel":                         "CONNECT " + own + " HTTP/1.1\r\nHost: " + own,
		"a trace":                          "TRACE / HTTP/1.1\r\nHost: " + own,
		"a method of its own":              "GOT / HTTP/1.1\r\nHost: " + own,
	} {
		status, header, body := raw(t, h, lines+"\r\nConnection: close\r\n\r\n")
		if status >= 200 && status < 300 && !(strings.HasPrefix(lines, "OPTIONS *") && body == "") || strings.Contains(body, "<title>") {
			t.Errorf("%s got %d and %q", name, status, body)
		}
		if status == http.StatusForbidden {
			carriesPolicy(t, name, header)
		}
	}
}

// TestItsOwnNamesAreAnswered: the three names of loopback at its own port, in
// whatever case, get pages; an offer to change the protocol is not taken up.
func TestItsOwnNamesAreAnswered(t *testing.T) {
	_, h := testServer(t)
	_, port, _ := net.SplitHostPort(h.Listener.Addr().String())
	for _, host := range []string{"127.0.0.1:", "localhost:", "LOCALHOST:", "[::1]:"} {
		if status, header, body := raw(t, h, "GET / HTTP/1.1\r\nHost: "+host+port+"\r\nConnection: close\r\n\r\n"); status != http.StatusOK || !strings.Contains(body, "<title>") {
			t.Errorf("%s got %d", host, status)
		} else {
			carriesPolicy(t, host, header)
		}
	}
	for _, offer := range []string{"websocket", "h2c"} {
		request := "GET / HTTP/1.1\r\nHost: 127.0.0.1:" + port + "\r\nConnection: Upgrade\r\nUpgrade: " + offer + "\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Version: 13\r\n\r\n"
		if status, _, _ := raw(t, h, request); status == http.StatusSwitchingProtocols {
			t.Errorf("the protocol was changed to %s", offer)
		}
	}
}

// TestNoWayOutOfTheSite asks for what lies outside, in every spelling, and for
// addresses of the preview that do not exist: nothing is there, and the answer
// carries the policy.
func TestNoWayOutOfTheSite(t *testing.T) {
	_, h := testServer(t)
	own := h.Listener.Addr().String()
	for _, path := range []string{
		"/../../etc/passwd", "/..", "/./../x", "//etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/..%2f..%2fetc%2fpasswd", "/%2e%2e%5c%2e%2e%5cx", "/..\\..\\x", "/models/..\\..\\..\\x",
		"/models/%00", "/index.html%00.png", "/models/plover.html%00", "/models/plover.html/", "/models/plover.html/../../../x", "/%252e%252e/x", "/C:/x", "/C:%5cx", "/file:///etc/passwd",
		"/-preview/", "/-preview", "/-preview/x", "/-preview/../../etc/passwd", "/-preview/follow.js/x", "/-preview/%2e%2e/%2e%2e/etc/passwd", "/-PREVIEW/changes", "/.git/config", "/reference.yaml", "/examples/0007.md",
		"/" + strings.Repeat("a/", 5000) + "x", "/\u202e", "/%ff%fe", "/?x=/../../etc/passwd/none", "/models/plover.html;x",
	} {
		status, header, body := raw(t, h, fmt.Sprintf("GET %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", path, own))
		if strings.HasPrefix(path, "/?") || path == "/.." || path == "/models/plover.html/" {
			if status == http.StatusOK && body != page {
				t.Errorf("%q got %q", path, body)
			}
			continue
		}
		if status == http.StatusOK || strings.Contains(body, "root:") || strings.Contains(body, "<title>") {
			t.Errorf("%q got %d and %.60q", path, status, body)
		}
		if status == http.StatusNotFound {
			carriesPolicy(t, path, header)
			if kind := header.Get("Content-Type"); !strings.HasPrefix(kind, "text/plain") {
				t.Errorf("%q: what was asked comes back as %q", path, kind)
			}
		}
	}
}

// TestListensOnLoopbackOnly: no other address of this machine reaches it.
func TestListensOnLoopbackOnly(t *testing.T) {
	listeners, _, err := Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range listeners {
		defer l.Close()
		if at := l.Addr().(*net.TCPAddr); !at.IP.IsLoopback() {
			t.Fatalf("it listens at %s", at)
		}
	}
	at := listeners[0].Addr().(*net.TCPAddr)
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range addresses {
		n, ok := a.(*net.IPNet)
		if !ok || n.IP.IsLoopback() {
			continue
		}
		c, err := net.DialTimeout("tcp", net.JoinHostPort(n.IP.String(), fmt.Sprint(at.Port)), time.Second)
		if err == nil {
			_ = c.Close()
			t.Errorf("it answers at %s", n.IP)
		}
	}
}
