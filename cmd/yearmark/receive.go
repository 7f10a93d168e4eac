package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/exchange/intake"
	"yearmark/exchange/journal"
)

// receiveFlags are what `receive` is asked.
type receiveFlags struct {
	in, format string
	dryRun     bool
}

func receiveCommand() *cobra.Command {
	var f receiveFlags
	var in inboxFlags
	cmd := &cobra.Command{
		Use:   "receive FILE|FOLDER [--in FOLDER]",
		Short: "Check what a visitor of the site sent, date it, and file it as an example",
		Long: `Receive reads a submission that a visitor saved from the dating form, or every
one in a folder. It checks it strictly, shows what it says and how it dates,
names bows on record that it may be, and files it as an example that waits to be
looked over. What was filed before is not filed again; where it says something
new of its sender or its photographs, that is added to the record under private,
beside what was there. A bad file changes nothing and is named with the reason;
the status is then 1. "yearmark undo" takes it all back.

What a visitor knows of a claim, an open question or a source, saved from the page
"I know something about this", goes into the folder inbox, which is never published.
--list shows what waits there; --accept NAME makes it a source, cites it where it
agrees or disagrees with a claim, and says which dates that moves; --decline NAME
puts it aside.`,
		Example: `  yearmark receive bow.json
  yearmark receive inbox --in our-register
  yearmark receive inbox --dry-run          show everything, write nothing`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("format", f.format, "text", "json"); err != nil {
				return err
			}
			if in.asked() {
				return in.run(cmd, f.in)
			}
			if len(args) == 0 {
				return withHint(fmt.Errorf("say which file a visitor sent"), "yearmark receive bow.json")
			}
			files, err := intake.Files(args[0])
			if err != nil {
				return withHint(err, "yearmark receive bow.json")
			}
			knowledge, bows := sorted(files)
			if len(knowledge) > 0 {
				err = fileKnowledge(cmd, knowledge, f)
			}
			if len(bows) > 0 {
				err = errors.Join(err, receive(cmd, bows, f))
			}
			return err
		},
	}
	flags := cmd.Flags()
	flags.BoolVar(&in.list, "list", false, "show what waits in the inbox")
	flags.StringVar(&in.accept, "accept", "", "take a letter of the inbox into the records")
	flags.StringVar(&in.decline, "decline", "", "put a letter of the inbox aside")
	flags.StringVar(&f.in, "in", defaultFolder, "the folder of records")
	flags.BoolVar(&f.dryRun, "dry-run", false, "show what would be filed and write nothing")
	flags.StringVar(&f.format, "format", "text", "how to write the answer: text or json")
	return cmd
}

// sorted parts files by what they state that they are; whatever is none of
// ours counts as a bow, which says what is wrong with it.
func sorted(names []string) (knowledge, bows []string) {
	for _, name := range names {
		if data, err := intake.ReadFile(name); err == nil && intake.KindOf(data) == intake.KnowledgeKind {
			knowledge = append(knowledge, name)
			continue
		}
		bows = append(bows, name)
	}
	return knowledge, bows
}

func receive(cmd *cobra.Command, files []string, f receiveFlags) error {
	var j *journal.Journal
	var err error
	if !f.dryRun {
		if j, err = openJournal(cmd, f.in); err != nil {
			return withHint(err, "yearmark receive FILE --in FOLDER")
		}
		defer j.Close()
	}
	study, err := builder.Open(cmd.Context(), f.in)
	if err != nil {
		return withHint(err, "yearmark receive FILE --in FOLDER")
	}
	report, err := study.Report(cmd.Context())
	if err != nil {
		return err
	}
	if n := report.Counts.Error; n > 0 {
		fmt.Fprintf(cmd.ErrOrStderr(), "the records hold %d errors; what could not be read counts as unknown here\n", n)
	}
	r := &receiver{
		inbox: intake.NewInbox(study.Ref, study.Engine(), time.Now(), takenIn(f.in)), flags: f, alone: len(files) == 1,
		sum: intake.Summary{Version: intake.JSONVersion, Edition: study.Edition.String(), DryRun: f.dryRun, Received: []intake.Received{}},
	}
	bar := newProgress(cmd.ErrOrStderr(), "receiving")
	for _, name := range files {
		if cmd.Context().Err() != nil {
			bar.end()
			return fmt.Errorf("stopped after %d of %d submissions; nothing was filed", len(r.sum.Received), len(files))
		}
		if err := r.one(name); err != nil {
			bar.end()
			return err
		}
		bar.step(len(files))
	}
	bar.end()
	if changes := r.inbox.Changes(); j != nil && len(changes) > 0 {
		if err := j.Write("receive "+strings.Join(cmd.Flags().Args(), " "), changes); err != nil {
			return err
		}
	}
	return r.end(cmd.OutOrStdout())
}

// receiver takes in one submission after another. What it says of them is
// written once all are filed.
type receiver struct {
	inbox *intake.Inbox
	out   bytes.Buffer
	flags receiveFlags
	alone bool // one submission is shown at length
	sum   intake.Summary
}

// one takes in one file; a bad one is noted.
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
	r.sum.Took(name, receipt)
	return r.report(name, receipt)
}

func (r *receiver) take(name string) (*intake.Receipt, error) {
	data, err := intake.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return r.inbox.Take(data)
}

func (r *receiver) refused(name string, why intake.Problems) {
	if r.flags.format == "json" {
		return
	}
	fmt.Fprintf(&r.out, "%s: not filed\n", name)
	help := ""
	for _, p := range why {
		fmt.Fprintf(&r.out, "  - %s\n", p)
		if p.Help != "" && p.Help != help {
			fmt.Fprintf(&r.out, "    %s\n", p.Help)
		}
		help = p.Help
	}
}

func (r *receiver) report(name string, receipt *intake.Receipt) error {
	would := ""
	if r.flags.dryRun {
		would = "would be "
	}
	what := would + "filed as " + receipt.File()
	switch {
	case len(receipt.Adds) > 0:
		what = fmt.Sprintf("filed before, as %s; what is new %sadded under private: %s", receipt.File(), cmp.Or(would, "is "), strings.Join(receipt.Adds, ", "))
	case receipt.Before:
		what = "filed before, as " + receipt.File()
	}
	switch {
	case r.flags.format == "json":
		return nil
	case !r.alone:
		fmt.Fprintf(&r.out, "%s: %s: %s\n", name, what, r.inbox.Line(receipt))
		return nil
	}
	if err := r.inbox.Report(&r.out, receipt, r.sum.Edition); err != nil {
		return err
	}
	fmt.Fprintf(&r.out, "\n%s: %s\n", name, what)
	return nil
}

// end sums up, and gives the status.
func (r *receiver) end(out io.Writer) error {
	c := r.sum.Counts
	switch {
	case r.flags.format == "json":
		encoder := json.NewEncoder(&r.out)
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
		amended := ""
		if c.Amended > 0 {
			amended = fmt.Sprintf("%d added to what was filed before, ", c.Amended)
		}
		fmt.Fprintf(&r.out, "\n%d submissions: %d %s, %s%d filed before, %d refused\n", len(r.sum.Received), c.Filed, filed, amended, c.Before, c.Refused)
	}
	if _, err := out.Write(r.out.Bytes()); err != nil {
		return err
	}
	if c.Refused > 0 {
		return foundErrors()
	}
	return nil
}
