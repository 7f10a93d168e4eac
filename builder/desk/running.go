package desk

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"time"
)

// Paths at which a desk that runs answers another start of the program.
const (
	helloPath = "/-hello"
	keyPath   = "/-key"
)

// running is what a desk leaves for another start of the program, in a file
// that only its owner can read, outside of the reference.
type running struct {
	Address string `json:"address"`
	Secret  string `json:"secret"`
}

// runningFile is where the desk of a folder leaves word.
func runningFile(folder string) (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	whole := "" // of a desk without a register
	if folder != "" {
		if whole, err = filepath.Abs(folder); err != nil {
			return "", err
		}
	}
	sum := sha256.Sum256([]byte(whole))
	return filepath.Join(base, "yearmark", "desks", hex.EncodeToString(sum[:12])+".json"), nil
}

// leaveWord writes where a desk runs; undo takes it away again. A system that
// has no place for it goes without.
func leaveWord(folder string, r running) (undo func()) {
	name, err := runningFile(folder)
	if err != nil || os.MkdirAll(filepath.Dir(name), 0o700) != nil {
		return func() {}
	}
	data, _ := json.Marshal(r)
	_ = os.Remove(name) // a file of other rights would keep them
	if os.WriteFile(name, data, 0o600) != nil {
		return func() {}
	}
	return func() { _ = os.Remove(name) }
}

// proof shows that its maker knows the secret, for one purpose and one number.
func proof(secret, purpose, nonce string) string {
	m := hmac.New(sha256.New, []byte(secret))
	fmt.Fprintf(m, "%s %s", purpose, nonce)
	return hex.EncodeToString(m.Sum(nil))
}

// hello is what a running desk answers to a greeting.
type hello struct {
	Proof string `json:"proof"`
	Nonce string `json:"nonce"`
}

// greeter answers another start of the program: it proves that it is the desk,
// and gives a key to whoever proves to know its secret.
type greeter struct {
	secret string
	access *access
	nonce  string // of the last greeting, good once
}

func (g *greeter) serve(w http.ResponseWriter, r *http.Request) bool {
	switch {
	case r.URL.Path == helloPath && r.Method == http.MethodGet:
		g.access.mu.Lock()
		g.nonce = rand.Text()
		answer := hello{proof(g.secret, "desk", r.URL.Query().Get("nonce")), g.nonce}
		g.access.mu.Unlock()
		_ = json.NewEncoder(w).Encode(answer)
	case r.URL.Path == keyPath && r.Method == http.MethodPost:
		g.access.mu.Lock()
		nonce := g.nonce
		g.nonce = ""
		g.access.mu.Unlock()
		if nonce == "" || !equal(r.PostFormValue("proof"), proof(g.secret, "key", nonce)) {
			http.Error(w, "no", http.StatusForbidden)
			return true
		}
		_, _ = io.WriteString(w, g.access.newKey())
	default:
		return false
	}
	return true
}

// errNone says that no desk runs for a folder.
var errNone = errors.New("no desk is running")

// Join asks a desk that runs for the folder already to open once more, and gives
// the address to open. ok is false where none runs.
func Join(folder string) (address string, ok bool) {
	address, err := askForKey(folder)
	return address, err == nil
}

func askForKey(folder string) (string, error) {
	name, err := runningFile(folder)
	if err != nil {
		return "", err
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return "", err
	}
	var r running
	if err := json.Unmarshal(data, &r); err != nil || r.Secret == "" {
		return "", errNone
	}
	client := &http.Client{Timeout: 2 * time.Second}
	nonce := rand.Text()
	answer, err := client.Get(r.Address + helloPath + "?nonce=" + nonce)
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	var h hello
	if err := json.NewDecoder(io.LimitReader(answer.Body, 4096)).Decode(&h); err != nil || !equal(h.Proof, proof(r.Secret, "desk", nonce)) {
		return "", errNone // another program has the port by now
	}
	given, err := client.PostForm(r.Address+keyPath, url.Values{"proof": {proof(r.Secret, "key", h.Nonce)}})
	if err != nil {
		return "", err
	}
	defer given.Body.Close()
	key, err := io.ReadAll(io.LimitReader(given.Body, 4096))
	if err != nil || given.StatusCode != http.StatusOK {
		return "", errNone
	}
	return r.Address + "/?key=" + string(key), nil
}
