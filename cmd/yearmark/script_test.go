package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"yearmark/testdata/need"
)

var update = flag.Bool("update", false, "rewrite the expected output in the command scripts")

// TestMain lets the scripts run this test binary as the command, and others
// run it as a process of its own.
func TestMain(m *testing.M) {
	if os.Getenv(asCommand) != "" {
		fmt.Fprintln(os.Stderr, "started")
		main()
	}
	testscript.Main(m, map[string]func(){"yearmark": main})
}

// TestCommands runs the scripts in testdata/commands. Beside the usual
// commands they have `status N ARGS…`, which runs yearmark and asks for that
// exit status; `big FILE BYTES`; and `deep FILE LEVELS`.
func TestCommands(t *testing.T) {
	root := need.Root(t)
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join(root, "testdata", "commands"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", filepath.Join(root, "content"))
			e.Setenv("NO_COLOR", "1")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": wantStatus, "big": writeBig, "deep": writeDeep, "bytes": writeBytes,
		},
	})
}

func wantStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N ARGS…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec("yearmark", args[1:]...); err != nil {
		got = exitStatus(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// exitStatus reads the status out of the error of a command that ran.
func exitStatus(err error) int {
	if e, ok := err.(interface{ ExitCode() int }); ok {
		return e.ExitCode()
	}
	return -1
}

func writeBig(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte("---\nrecord: model\nname: \""+strings.Repeat("x", n)+"\"\n---\n"), 0o644))
}

func writeDeep(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	text := "---\nrecord: model\nname: " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n---\n"
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o644))
}

// writeBytes writes a file from a quoted Go string, for bytes that a script cannot hold.
func writeBytes(ts *testscript.TestScript, _ bool, args []string) {
	text, err := strconv.Unquote(`"` + args[1] + `"`)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o644))
}
