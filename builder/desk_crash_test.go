package builder

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"yearmark/exchange/journal"
	"yearmark/testdata/need"
)

// asDesk makes the test's binary serve a desk over a folder until it is killed.
const asDesk = "YEARMARK_TEST_DESK_FOLDER"

// AtEnd is done once all tests of the package have run.
var AtEnd []func()

func TestMain(m *testing.M) {
	if folder := os.Getenv(asDesk); folder != "" {
		opts := DeskOptions{Out: io.Discard, Open: func(way string) { fmt.Println(way) }}
		fmt.Fprintln(os.Stderr, Desk(context.Background(), folder, opts))
		os.Exit(1)
	}
	code := m.Run()
	for _, do := range AtEnd {
		do()
	}
	os.Exit(code)
}

// The text of a saved record is all of one of these.
var crashTexts = [2]string{strings.Repeat("a line of a record that is long enough to be torn\n", 800), strings.Repeat("A LINE OF ANOTHER LENGTH\n", 900)}

// TestTheDeskKilledWhileSaving kills the desk 100 times while two tabs save
// records: each file is whole, as before or as after; the journal opens, takes
// the last change back and does it again. The moments are drawn from a seed.
func TestTheDeskKilledWhileSaving(t *testing.T) {
	need.Long(t)
	folder := filepath.Join(t.TempDir(), "register")
	whole := map[string][2]string{}
	files := map[string]string{"reference.yaml": "name: A register\nyears: 1930/1985\n", "makers/halvane.md": "---\nrecord: maker\nname: Halvane\n---\n"}
	for _, id := range []string{"plover", "dunlin"} {
		head := "---\nrecord: model\nname: " + id + "\nmaker: halvane   # as the lists have it\n---\n\n"
		whole["models/"+id+".md"] = [2]string{head + crashTexts[0], head + crashTexts[1]}
		files["models/"+id+".md"] = head + crashTexts[0]
	}
	for name, text := range files {
		path := filepath.Join(folder, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	random := rand.New(rand.NewPCG(1, 7))
	saved, within := 0, 0
	for i := range 100 {
		most := 60 * time.Millisecond
		if i%2 == 1 { // as soon as a change is announced, or a little later
			most = 2 * time.Millisecond
		}
		saved += killedDesk(t, folder, i%2 == 1, time.Duration(random.Int64N(int64(most))))
		if announced(folder) {
			within++
		}
		before := crashFiles(t, folder, whole)
		j, err := journal.Open(t.Context(), folder, io.Discard)
		if err != nil {
			t.Fatal(err)
		}
		now := crashFiles(t, folder, whole)
		if undo, _, err := j.Next(); err != nil || undo == "" && saved > 0 {
			t.Fatalf("nothing can be taken back after %d saves: %v", saved, err)
		} else if undo != "" {
			back, err := j.Undo()
			if err != nil || crashFiles(t, folder, whole) == now {
				t.Fatalf("%q is not taken back: %v", undo, err)
			}
			if again, err := j.Redo(); err != nil || again.Command != back.Command || crashFiles(t, folder, whole) != now {
				t.Fatalf("%q is not done again: %v (before the journal was opened %s)", undo, err, before)
			}
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d saves were answered; %d of 100 kills left a change half-way", saved, within)
	if saved < 100 || within == 0 {
		t.Errorf("only %d saves were answered, and %d changes were left half-way", saved, within)
	}
}

// crashFiles says which of its two texts every record has: "01" for the first
// one's first and the second one's second.
func crashFiles(t *testing.T, folder string, whole map[string][2]string) string {
	t.Helper()
	var state strings.Builder
	for _, name := range []string{"models/dunlin.md", "models/plover.md"} {
		text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(name)))
		switch {
		case err != nil:
			t.Fatal(err)
		case string(text) == whole[name][0]:
			state.WriteString("0")
		case string(text) == whole[name][1]:
			state.WriteString("1")
		default:
			t.Fatalf("%s is torn: %d bytes", name, len(text))
		}
	}
	return state.String()
}

// announced says that the journal has put on the disk what is about to be written.
func announced(folder string) bool {
	left, _ := filepath.Glob(filepath.Join(folder, ".yearmark", "*", "pending*"))
	return len(left) > 0
}

// killedDesk starts a desk, saves both records in turns and kills it so long
// after the first save was answered, or after the next change is announced. It
// gives how many saves were answered.
func killedDesk(t *testing.T, folder string, amid bool, after time.Duration) int {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	places := t.TempDir()
	cmd.Env = append(os.Environ(), asDesk+"="+folder, "XDG_CACHE_HOME="+places, "XDG_CONFIG_HOME="+places)
	var wrong bytes.Buffer
	cmd.Stderr = &wrong
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = cmd.Process.Kill(); _ = cmd.Wait() }()
	way, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("%v: %s", err, wrong.String())
	}
	jar, _ := cookiejar.New(nil)
	browser := &http.Client{Jar: jar, CheckRedirect: func(r *http.Request, _ []*http.Request) error {
		if r.Response.Request.Method == http.MethodPost {
			return http.ErrUseLastResponse
		}
		return nil
	}}
	resp, err := browser.Get(strings.TrimSpace(way))
	if err != nil {
		t.Fatal(err)
	}
	_ = resp.Body.Close()
	home := *resp.Request.URL
	var tabs sync.WaitGroup
	var counts [2]int
	first := make(chan bool, 2)
	for i, id := range []string{"plover", "dunlin"} {
		tabs.Go(func() {
			counts[i] = saveForEver(browser, home, "edit/model/"+id, filepath.Join(folder, "models", id+".md"), first)
		})
	}
	select {
	case <-first:
	case <-time.After(time.Minute):
		t.Errorf("no save was answered: %s", wrong.String())
	}
	for until := time.Now().Add(time.Second); amid && !announced(folder) && time.Now().Before(until); {
		time.Sleep(20 * time.Microsecond)
	}
	time.Sleep(after)
	_ = cmd.Process.Kill()
	tabs.Wait()
	return counts[0] + counts[1]
}

// saveForEver fetches a record's form and saves it with its two texts in turn,
// until the desk is gone. It gives how many saves were answered; first hears of the first.
func saveForEver(browser *http.Client, home url.URL, way, file string, first chan<- bool) (saved int) {
	page, err := answered(browser.Get(home.String() + way))
	if err != nil {
		return 0
	}
	form, err := formIn(page)
	if err != nil {
		return 0
	}
	now := 0
	if strings.HasPrefix(form.Get("-text"), "A") {
		now = 1
	}
	for {
		now = 1 - now
		form.Set("-text", crashTexts[now])
		r, _ := http.NewRequest(http.MethodPost, home.String()+way, strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", home.Scheme+"://"+home.Host)
		if _, err := answered(browser.Do(r)); err != nil {
			return saved
		}
		if saved++; saved == 1 {
			first <- true
		}
		source, err := os.ReadFile(file)
		if err != nil {
			return saved
		}
		sum := sha256.Sum256(source)
		form.Set("-hash", hex.EncodeToString(sum[:16])) // as the next page would have it
	}
}

func answered(resp *http.Response, err error) (string, error) {
	if err != nil {
		return "", err
	}
	defer resp.Body.Close()
	data, err := io.ReadAll(resp.Body)
	if err == nil && resp.StatusCode != http.StatusOK && resp.StatusCode != http.StatusSeeOther {
		err = fmt.Errorf("answered with %d", resp.StatusCode)
	}
	return string(data), err
}
