package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/checks"
	"yearmark/exchange/compare"
	"yearmark/exchange/journal"
	"yearmark/exchange/sheets"
	"yearmark/schema"
	"yearmark/schema/english"
	"yearmark/schema/files"
)

func importCommand() *cobra.Command {
	var i importing
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Take in a table's changes, sources from CSL-JSON, or a transcript",
		Long: `Import reads a table that "yearmark tables" wrote and somebody changed since, and
says in sentences what would change in the records; --diff shows their lines.
With --write it changes them: only the values that differ are touched, and
comments, order and layout stay. Rows that a table lacks change nothing; a new
row makes a new maker, model, claim, source, bow, feature, value, place, sale and so on. Its
first cell is what the record's file is to be called. Makers come before their
models, and models before their claims.

What spreadsheets do to a table is taken as it is meant: other columns and
another order of them, blank rows, semicolons or tabs, UTF-16, decimal commas,
numbers without their zeros, dates that it shows in its own way.

A file of JSON is read as CSL-JSON, which reference managers write, and makes
records of the sources that are not there yet.

A transcript (.vtt, .srt, or .txt with a time at the beginning of each line) is
kept in the folder recordings and makes a source; each of its pieces can be
cited by its time. "yearmark check --notes" then lists the pieces that name
years or features and that no claim cites.

If any row cannot be taken over, nothing is written, and each such row is named.
What the checks find that they did not find before is shown either way. It ends
with status 1 if a row cannot be taken over or an error is found.`,
		Example: `  yearmark import claims.csv
  yearmark import claims.csv --in our-register --write
  yearmark import library.json --in our-register --write
  yearmark import talk-2019.vtt --in our-register --write`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return withHint(fmt.Errorf("say which table to read"), "yearmark import claims.csv")
			}
			i.file = args[0]
			return i.run(cmd)
		},
	}
	cmd.Flags().StringVar(&i.folder, "in", defaultFolder, "the folder of records")
	cmd.Flags().BoolVar(&i.diff, "diff", false, "show the lines of the records that change, in place of sentences")
	cmd.Flags().BoolVar(&i.write, "write", false, "change the records; without it the changes are shown only")
	return cmd
}

// importing is what import is asked for.
type importing struct {
	file, folder string
	write, diff  bool
}

func (i importing) run(cmd *cobra.Command) error {
	file, folder := i.file, i.folder
	data, err := files.Read(file, sheets.MaxTableBytes)
	if err != nil {
		return err
	}
	var j *journal.Journal
	if i.write {
		if j, err = openJournal(cmd, folder); err != nil {
			return withHint(err, "yearmark import FILE --in FOLDER --write")
		}
		defer j.Close()
	}
	study, err := builder.Open(cmd.Context(), folder)
	if err != nil {
		return withHint(err, "yearmark import FILE --in FOLDER")
	}
	plan, err := prepareImport(study.Ref, file, data)
	var wrong sheets.Problems
	if errors.As(err, &wrong) {
		return reportProblems(cmd.ErrOrStderr(), wrong)
	}
	if err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	after, err := builder.OpenFS(cmd.Context(), journal.Over(study.Files(), plan.Changes), folder)
	if err != nil {
		return err
	}
	if err := i.show(cmd, plan.Changes, study, after); err != nil {
		return err
	}
	for _, n := range plan.Notes {
		fmt.Fprintf(out, "note: %s\n", n)
	}
	if len(plan.Changes) == 0 {
		fmt.Fprintf(out, "nothing to change: the records say what %s says\n", file)
		return nil
	}
	if !i.write {
		fmt.Fprintf(out, "%s in %s would change; nothing was written\n", planned(plan), english.Count(len(plan.Changes), "record"))
		fmt.Fprintf(out, "try: yearmark import %s --in %s --write\n", file, folder)
	}
	before, err := study.Report(cmd.Context()) // of the folder as it was
	if err != nil {
		return err
	}
	if !i.write {
		return reportGained(cmd, before, after, nil)
	}
	if err := j.Write("import "+file, plan.Changes); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s in %s changed\nto take it back: yearmark undo --in %s\n", planned(plan), english.Count(len(plan.Changes), "record"), folder)
	after, err = builder.Open(cmd.Context(), folder)
	return reportGained(cmd, before, after, err)
}

// prepareImport reads a file as what it is: a transcript, sources as CSL-JSON, or a table.
func prepareImport(ref *schema.Reference, file string, data []byte) (*sheets.Plan, error) {
	switch {
	case sheets.IsTranscript(file):
		return sheets.PrepareTranscript(ref, file, data)
	case strings.EqualFold(filepath.Ext(file), ".json") || bytes.HasPrefix(bytes.TrimSpace(data), []byte("[")):
		return sheets.PrepareCSL(ref, file, data)
	}
	return sheets.Prepare(ref, file, data)
}

// show says what would change: in sentences, as compare does, or as the
// lines of the records.
func (i importing) show(cmd *cobra.Command, changes []journal.Change, study, after *builder.Study) error {
	out := cmd.OutOrStdout()
	if i.diff {
		for _, c := range changes {
			if !sheets.IsTranscript(c.File) { // a note says what it holds
				fmt.Fprint(out, paintDiff(c.Diff(), coloured(out)))
			}
		}
		return nil
	}
	if len(changes) == 0 {
		return nil
	}
	reported, err := builder.Compare(cmd.Context(), study, "the records as they are", after, "the records as they become")
	if err != nil {
		return err
	}
	said := false
	for _, p := range reported.Parts() {
		switch p.Name {
		case compare.PartClaims, compare.PartSources, compare.PartRecords, compare.PartExamples:
			for _, e := range p.Entries {
				said = true
				fmt.Fprintln(out, sentence(p.Name, e))
			}
		}
	}
	if !said { // what comparing passes over, such as a remark's layout
		return importing{diff: true}.show(cmd, changes, study, after)
	}
	return nil
}

// sentence tells one change: "Plover, riser wood: 1965–1966, was 1965", or "New
// model Wren, made by Halvane 1961–1966, with 1 claim".
func sentence(part string, e compare.Entry) string {
	about, isNew := strings.CutPrefix(e.Words, "new ")
	switch {
	case part == compare.PartExamples:
		return "dates otherwise: " + e.Title + ": " + e.Words
	case isNew && e.Sign == "+":
		kind, more, _ := strings.Cut(about, ",")
		if more != "" {
			more = "," + more
		}
		return "New " + kind + " " + e.Title + more
	}
	return e.Title + ": " + e.Words
}

// reportProblems lists what is wrong with a table, each with what to do.
func reportProblems(w io.Writer, wrong sheets.Problems) error {
	for _, p := range wrong {
		fmt.Fprintln(w, p)
		if p.Help != "" {
			fmt.Fprintf(w, "  %s\n", p.Help)
		}
	}
	return &failure{status: exitErrors, err: fmt.Errorf("nothing was written: the table cannot be taken over as it is")}
}

// reportGained shows what the checks find in the records as they are or would be
// by now, and did not find before.
func reportGained(cmd *cobra.Command, before checks.Report, after *builder.Study, err error) error {
	if err != nil {
		return err
	}
	now, err := after.Report(cmd.Context())
	if err != nil {
		return err
	}
	w, gained := cmd.OutOrStdout(), gainedSince(before, now)
	if len(gained.Findings) == 0 {
		fmt.Fprintln(w, "the checks find nothing new")
		return nil
	}
	fmt.Fprintf(w, "\nthe checks find what they did not find before:\n\n")
	if err := checks.Text(w, gained, after.Ref, checks.TextOptions{Color: coloured(w), Files: after.Files()}); err != nil {
		return err
	}
	if gained.Counts.Error > 0 {
		return foundErrors()
	}
	return nil
}

// gainedSince gives the findings that a report did not have before; where a
// finding stands in its file is of no account.
func gainedSince(before, now checks.Report) checks.Report {
	name := func(f checks.Finding) string { return f.Check + "\x00" + f.Pos.File() + "\x00" + f.Message }
	known := map[string]int{}
	for _, f := range before.Findings {
		known[name(f)]++
	}
	gained := now
	gained.Findings = nil
	for _, f := range now.Findings {
		if known[name(f)]--; known[name(f)] < 0 {
			gained.Findings = append(gained.Findings, f)
		}
	}
	return gained.Only(checks.Levels...)
}

// planned counts the rows that change something.
func planned(p *sheets.Plan) string {
	one := strings.TrimSuffix(p.Table, "s")
	switch {
	case p.Added == 0:
		return english.Count(p.Edited, one)
	case p.Edited == 0:
		return english.Count(p.Added, "new "+one)
	}
	return english.Count(p.Edited, one) + " and " + english.Count(p.Added, "new "+one)
}

// paintDiff colours what goes and what comes.
func paintDiff(text string, colour bool) string {
	if !colour {
		return text
	}
	lines := strings.SplitAfter(text, "\n")
	for i, line := range lines {
		switch {
		case strings.HasPrefix(line, "-"):
			lines[i] = "\x1b[31m" + strings.TrimSuffix(line, "\n") + "\x1b[0m\n"
		case strings.HasPrefix(line, "+"):
			lines[i] = "\x1b[32m" + strings.TrimSuffix(line, "\n") + "\x1b[0m\n"
		}
	}
	return strings.Join(lines, "")
}
