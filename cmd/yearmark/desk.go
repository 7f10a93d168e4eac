package main

import (
	"fmt"
	"os/exec"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/builder/desk"
	"yearmark/site/guide"
)

func deskCommand() *cobra.Command {
	opts := builder.DeskOptions{}
	quiet := false
	cmd := &cobra.Command{
		Use:   "desk [FOLDER]",
		Short: "Read and change the records in the browser",
		Long: `Desk opens the records in the browser of this machine, as forms: everything that
a record can say is made, changed and taken back there, and the same Markdown is
written, one value at a time. Its address is good once and for this machine only.
The pages as readers will see them are served beside it. A desk that is open
already is joined. Without a folder it opens the register used last, or offers to
open one or to begin one; yearmark without a command does the same.

` + strings.TrimSpace(guide.Desk),
		Example: `  yearmark desk
  yearmark desk our-register`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			folder := desk.LastUsed()
			if len(args) > 0 {
				folder = args[0]
			}
			if !quiet {
				opts.Open = func(address string) {
					if err := openBrowser(address); err != nil {
						fmt.Fprintln(opts.Out, "no browser could be opened from here: open the address above in one yourself")
					}
				}
			}
			opts.Out = cmd.OutOrStdout()
			if way, ok := desk.Join(folder); ok {
				fmt.Fprintf(opts.Out, "a desk is running already; it opens at %s\n", way)
				if opts.Open != nil {
					opts.Open(way)
				}
				return nil
			}
			if err := builder.Desk(cmd.Context(), folder, opts); err != nil {
				return withHint(err, "yearmark begin "+folder)
			}
			fmt.Fprintln(cmd.OutOrStdout(), "the desk is closed")
			return nil
		},
	}
	cmd.Flags().IntVar(&opts.Port, "port", 0, "the port of the desk; 0 means any that is free")
	cmd.Flags().IntVar(&opts.PreviewPort, "preview-port", 0, "the port of the pages; 0 means any that is free")
	cmd.Flags().BoolVar(&quiet, "no-browser", false, "print the address and open no browser")
	return cmd
}

// openBrowser asks the system to show an address. The error is for a system
// that has nothing to show it with.
func openBrowser(address string) error {
	program := map[string][]string{"windows": {"rundll32", "url.dll,FileProtocolHandler"}, "darwin": {"open"}}[runtime.GOOS]
	if program == nil {
		program = []string{"xdg-open"}
	}
	return exec.Command(program[0], append(program[1:], address)...).Start()
}
