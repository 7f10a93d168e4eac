package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"
)

// Exit statuses.
const (
	exitClean  = 0 // all is well
	exitErrors = 1 // it ran, and the records hold errors
	exitFailed = 2 // it could not run
)

// defaultFolder is the reference meant where none is named.
const defaultFolder = "content"

// stdio is where a command reads and writes.
type stdio struct {
	in       io.Reader
	out, err io.Writer
}

// failure ends a command with a status other than exitFailed, or with a hint.
type failure struct {
	status int
	err    error // nil where everything has been said already
	hint   string
}

func (f *failure) Error() string {
	if f.err == nil {
		return "failed"
	}
	return f.err.Error()
}

func (f *failure) Unwrap() error { return f.err }

// foundErrors ends a command whose findings have been shown and hold errors.
func foundErrors() error { return &failure{status: exitErrors} }

// withHint adds a line that says what to type next.
func withHint(err error, hint string) error {
	return &failure{status: exitFailed, err: err, hint: hint}
}

// run carries out one command line and gives the exit status. Errors go to
// stderr as one sentence and, where there is one, a line that says what to do.
func run(args []string, std stdio) int {
	ctx, stop := untilSignal(std.err)
	defer stop()
	root := rootCommand(std)
	root.SetArgs(withSince(args))
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitClean
	}
	var s stopped
	if errors.As(context.Cause(ctx), &s) {
		if !errors.Is(err, context.Canceled) {
			return s.say(std.err, err)
		}
		return s.say(std.err, s)
	}
	var f *failure
	if !errors.As(err, &f) {
		f = &failure{status: exitFailed, err: err}
	}
	if f.err != nil {
		fmt.Fprintf(std.err, "yearmark: %s\n", strings.TrimSpace(f.err.Error()))
	}
	if f.hint != "" {
		fmt.Fprintf(std.err, "try: %s\n", f.hint)
	}
	return f.status
}

func rootCommand(std stdio) *cobra.Command {
	root := &cobra.Command{
		Use:   "yearmark",
		Short: "Keep what a club knows of when bows were made: checked, published, and ready to date one",
		Long: `Yearmark reads a folder of Markdown records in which every claim names its
source, proves that the claims can all be true together, and publishes them as
a site on which a visitor can date the bow in their hands.

Without a folder, "content" in the present folder is meant.`,
		Example: `  yearmark begin our-register              a small reference to start from
  yearmark check our-register              what is wrong, where, and what to do
  yearmark preview our-register            see the site while you write
  yearmark date --model plover riser-wood=padauk maker-mark=oval,script
  yearmark publish our-register --to site`,
		Version:       version(),
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	desk := deskCommand()
	root.RunE = desk.RunE
	root.SetIn(std.in)
	root.SetOut(std.out)
	root.SetErr(std.err)
	root.CompletionOptions.HiddenDefaultCmd = true
	cobra.MousetrapHelpText = "" // a double click opens the desk
	root.AddCommand(
		checkCommand(), publishCommand(), previewCommand(), dateCommand(), findCommand(), beginCommand(), trialCommand(), tablesCommand(), importCommand(), renameCommand(), undoCommand(),
		receiveCommand(), compareCommand(), addCommand(), desk,
	)
	root.AddCommand(guideTopics()...)
	return root
}

// version says which program this is: that of the module it was built from, and
// the system that it was built for.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of an unknown version"
	}
	return strings.Join([]string{info.Main.Version, runtime.GOOS, runtime.GOARCH}, " ")
}

// folderOf is the reference named on the command line, or the usual one.
func folderOf(args []string) string {
	if len(args) == 0 {
		return defaultFolder
	}
	return args[0]
}

// onTerminal says whether a writer is a terminal, where colour and progress make sense.
func onTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// coloured says whether to colour what is written, after the NO_COLOR convention.
func coloured(w io.Writer) bool {
	return onTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// oneOf refuses a flag's value that is not among those allowed.
func oneOf(flag, value string, allowed ...string) error {
	for _, a := range allowed {
		if value == a {
			return nil
		}
	}
	return fmt.Errorf("--%s %q is not known; it is one of %s", flag, value, strings.Join(allowed, ", "))
}
