//go:build unix

package main

import (
	"bufio"
	"bytes"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"yearmark/schema"
	"yearmark/testdata/made"
	"yearmark/testdata/need"
)

// stopping is a made register of some size, with its site and its tables.
type stopping struct {
	*apart
	folder, changed, tables string
}

func newStopping(t *testing.T) *stopping {
	a := newApart(t)
	s := &stopping{a, filepath.Join(a.root, "register"), filepath.Join(a.root, "changed"), filepath.Join(a.root, "tables")}
	for _, folder := range []string{s.folder, s.changed} {
		if err := made.Write(folder, made.Options{Pages: 1500, Seed: 1}); err != nil {
			t.Fatal(err)
		}
	}
	rewrite(t, filepath.Join(s.changed, "reference.yaml"), func(text string) string {
		return strings.Replace(text, "name: ", "name: New ", 1)
	})
	if out, err := s.command("tables", s.folder, "--to", s.tables).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	s.mustPublish(s.folder, s.site)
	return s
}

// stands is the sum of all that a command must leave as it was.
func (s *stopping) stands() string {
	var all strings.Builder
	for _, folder := range []string{s.folder, s.changed, s.tables, filepath.Dir(s.site), s.temp} {
		all.WriteString(state(s.t, folder))
	}
	return all.String()
}

// restore makes what a command that was not stopped has changed as it was.
func (s *stopping) restore(args []string) {
	s.t.Helper()
	switch args[0] {
	case "publish":
		if err := os.RemoveAll(filepath.Join(s.changed, schema.EditionsFolder)); err != nil { // which it remembered
			s.t.Fatal(err)
		}
		s.mustPublish(s.folder, s.site)
	case "tables":
		if out, err := s.command("tables", s.folder, "--to", s.tables, "--replace").CombinedOutput(); err != nil {
			s.t.Fatalf("%v: %s", err, out)
		}
	}
}

// ended is how a command ended that was sent a signal.
type ended struct {
	status int // what a shell would give: 128 and more where the signal ended it
	took   time.Duration
	said   string
}

// after starts a command, sends it a signal after a while, more than once if
// asked, and waits for its end.
func (s *stopping) after(wait time.Duration, sig syscall.Signal, times int, args ...string) ended {
	s.t.Helper()
	cmd := s.command(args...)
	var said bytes.Buffer
	pipe, err := cmd.StderrPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		s.t.Fatal(err)
	}
	lines := bufio.NewReader(pipe)
	if _, err := lines.ReadString('\n'); err != nil {
		s.t.Fatalf("the command did not start: %v", err)
	}
	over, rest := make(chan error, 1), make(chan struct{})
	go func() { _, _ = io.Copy(&said, lines); close(rest) }()
	go func() { <-rest; over <- cmd.Wait() }()
	var e ended
	select {
	case err = <-over:
	case <-time.After(wait):
		began := time.Now()
		for range times {
			_ = cmd.Process.Signal(sig)
		}
		select {
		case err = <-over:
		case <-time.After(20 * time.Second): // a guard against hanging, no measure
			_ = cmd.Process.Kill()
			err = <-over
			s.t.Errorf("%v did not end", args)
		}
		e.took = time.Since(began)
	}
	e.said, e.status = said.String(), statusOf(s.t, err)
	return e
}

func statusOf(t *testing.T, err error) int {
	t.Helper()
	if err == nil {
		return 0
	}
	exit, ok := err.(*exec.ExitError)
	if !ok {
		t.Fatal(err)
	}
	if w, ok := exit.Sys().(syscall.WaitStatus); ok && w.Signaled() {
		return 128 + int(w.Signal())
	}
	return exit.ExitCode()
}

// TestASignalEndsEveryCommand sends each command that can take long a signal at
// moments spread over its run: it ends with the usual status and one line, what
// stood before stands byte for byte, and nothing is left lying about.
func TestASignalEndsEveryCommand(t *testing.T) {
	need.Long(t)
	s := newStopping(t)
	for name, args := range map[string][]string{
		"publish": {"publish", s.changed, "--to", s.site},
		"since":   {"publish", s.changed, "--to", s.site, "--since", s.folder},
		"check":   {"check", s.folder},
		"tables":  {"tables", s.changed, "--to", s.tables, "--replace"},
		"trial":   {"trial", s.folder},
		"compare": {"compare", s.folder, s.changed},
		"import":  {"import", filepath.Join(s.tables, "claims.csv"), "--in", s.folder},
		"find":    {"find", "--in", s.folder, "padauk"},
	} {
		t.Run(name, func(t *testing.T) { s.stops(t, args) })
	}
}

func (s *stopping) stops(t *testing.T, args []string) {
	before := s.stands()
	random := rand.New(rand.NewPCG(7, uint64(len(args[0]))))
	whole, stopped := 400*time.Millisecond, 0
	const moments = 3
	for tries := 0; stopped < moments && tries < 40; tries++ {
		sig, want := syscall.SIGINT, 130
		if tries%2 == 1 {
			sig, want = syscall.SIGTERM, 143
		}
		wait := time.Duration(random.Float64() * float64(whole))
		e := s.after(wait, sig, 1, args...)
		if e.status != want {
			// It was done before the signal came, or as it came.
			if whole = whole / 2; e.status > 1 {
				t.Fatalf("status %d after %v: %s", e.status, wait, e.said)
			}
			s.restore(args)
			continue
		}
		stopped++
		t.Logf("%v after %v: ended in %v", sig, wait, e.took)
		if strings.Count(e.said, "\n") != 1 || !strings.HasPrefix(e.said, "yearmark: stopped ") {
			t.Errorf("said %q", e.said)
		}
		if s.stands() != before {
			t.Fatalf("stopped after %v, something is not as it was", wait)
		}
	}
	if stopped < moments {
		t.Errorf("stopped only %d times", stopped)
	}
}

// TestASecondSignalEndsAtOnce sends two: the old site is whole, and the next
// publish clears what is left.
func TestASecondSignalEndsAtOnce(t *testing.T) {
	need.Long(t)
	s := newStopping(t)
	before := state(t, s.site)
	e := s.after(300*time.Millisecond, syscall.SIGINT, 2, "publish", s.changed, "--to", s.site)
	if e.status != 130 || state(t, s.site) != before {
		t.Errorf("status %d, %q", e.status, e.said)
	}
	s.mustPublish(s.folder, s.site)
	s.clean("site")
	if state(t, s.site) != before {
		t.Error("the same records make another site")
	}
}
