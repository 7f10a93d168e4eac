package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/exchange/intake"
)

// receiveFlags are what `receive` is asked.
type receiveFlags struct {
	in, format string
	dryRun     bool
}

func receiveCommand() *cobra.Command {
	var f receiveFlags
	cmd := &cobra.Command{
		Use:   "receive FILE|FOLDER [--in FOLDER]",
		Short: "Check what a visitor of the site sent, date it, and file it as an example",
		Long: `Receive reads a submission that a visitor saved from the dating form, or every
one in a folder. It checks it strictly, shows what it says and how it dates,
names bows on record that it may be, and files it as an example that waits to be
looked over. What was filed before is not filed again. A bad file changes
nothing and is told with the reason; the status is then 1.`,
		Example: `  yearmark receive bow.json
  yearmark receive inbox --in our-register
  yearmark receive inbox --dry-run          show everything, write nothing`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("format", f.format, "text", "json"); err != nil {
				return err
			}
			files, err := intake.Gather(args[0])
			if err != nil {
				return withHint(err, "yearmark receive bow.json")
			}
			return receive(cmd, files, f)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.in, "in", defaultFolder, "the folder of records")
	flags.BoolVar(&f.dryRun, "dry-run", false, "show what would be filed and write nothing")
	flags.StringVar(&f.format, "format", "text", "how to write the answer: text or json")
	return cmd
}

func receive(cmd *cobra.Command, files []string, f receiveFlags) error {
	study, err := builder.Open(f.in)
	if err != nil {
		return withHint(err, "yearmark receive FILE --in FOLDER")
	}
	if n := study.Report().Counts.Error; n > 0 {
		fmt.Fprintf(cmd.ErrOrStderr(), "the records hold %d errors; what could not be read counts as unknown here\n", n)
	}
	root, err := os.OpenRoot(f.in)
	if err != nil {
		return err
	}
	defer root.Close()
	r := &receiver{
		desk: intake.NewDesk(study.Ref, study.Engine(), time.Now()), root: root, out: cmd.OutOrStdout(), flags: f, alone: len(files) == 1,
		sum: intake.Summary{Version: intake.JSONVersion, Edition: study.Edition.String(), DryRun: f.dryRun, Received: []intake.Received{}},
	}
	bar := newProgress(cmd.ErrOrStderr(), "receiving")
	for _, name := range files {
		if err := cmd.Context().Err(); err != nil {
			bar.end()
			return fmt.Errorf("stopped after %d of %d submissions; those filed stay filed", len(r.sum.Received), len(files))
		}
		if err := r.one(name); err != nil {
			bar.end()
			return err
		}
		bar.step(len(files))
	}
	bar.end()
	return r.end()
}

// receiver takes in one submission after another.
type receiver struct {
	desk  *intake.Desk
	root  *os.Root
	out   io.Writer
	flags receiveFlags
	alone bool // one submission is told at length
	sum   intake.Summary
}

// one takes in one file. The error is for a folder that cannot be written; a
// bad file is noted.
func (r *receiver) one(name string) error {
	receipt, err := r.take(name)
	var why intake.Problems
	if errors.As(err, &why) {
		r.sum.Refused(name, why)
		r.refused(name, why)
		return nil
	}
	if err != nil {
		return err
	}
	before := receipt.Before()
	if r.flags.dryRun {
		if !before {
			r.desk.Keep(receipt)
		}
	} else if err := r.desk.File(r.root, receipt); err != nil {
		return err
	}
	r.sum.Took(name, receipt)
	return r.tell(name, receipt)
}

func (r *receiver) take(name string) (*intake.Receipt, error) {
	data, err := intake.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return r.desk.Take(data)
}

func (r *receiver) refused(name string, why intake.Problems) {
	if r.flags.format == "json" {
		return
	}
	fmt.Fprintf(r.out, "%s: not filed\n", name)
	help := ""
	for _, p := range why {
		fmt.Fprintf(r.out, "  - %s\n", p)
		if p.Help != "" && p.Help != help {
			fmt.Fprintf(r.out, "    %s\n", p.Help)
		}
		help = p.Help
	}
}

func (r *receiver) tell(name string, receipt *intake.Receipt) error {
	what := "filed as " + receipt.File()
	switch {
	case receipt.Before():
		what = "filed before, as " + receipt.File()
	case r.flags.dryRun:
		what = "would be filed as " + receipt.File()
	}
	switch {
	case r.flags.format == "json":
		return nil
	case !r.alone:
		_, err := fmt.Fprintf(r.out, "%s: %s: %s\n", name, what, r.desk.Line(receipt))
		return err
	}
	if err := r.desk.Tell(r.out, receipt, r.sum.Edition); err != nil {
		return err
	}
	_, err := fmt.Fprintf(r.out, "\n%s: %s\n", name, what)
	return err
}

// end sums up, and gives the status.
func (r *receiver) end() error {
	c := r.sum.Counts
	switch {
	case r.flags.format == "json":
		encoder := json.NewEncoder(r.out)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("", "  ")
		if err := encoder.Encode(r.sum); err != nil {
			return err
		}
	case !r.alone:
		filed := "filed"
		if r.flags.dryRun {
			filed = "would be filed"
		}
		fmt.Fprintf(r.out, "\n%d submissions: %d %s, %d filed before, %d refused\n", len(r.sum.Received), c.Filed, filed, c.Before, c.Refused)
	}
	if c.Refused > 0 {
		return foundErrors()
	}
	return nil
}
