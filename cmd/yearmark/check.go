package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/checks"
)

func checkCommand() *cobra.Command {
	var format, explain string
	var notes bool
	cmd := &cobra.Command{
		Use:   "check [FOLDER]",
		Short: "Say what is wrong with the records, where, and what to do",
		Long: `Check reads every record, follows every citation to its origin, and proves that
all claims can be true together. It ends with status 0 if there are no errors,
1 if there are some, and 2 if it could not run.

What could not be read comes first, for much of the rest may follow from it.
Errors and warnings are written in full. Notes say that something is worth
knowing, not that it is wrong: they are counted, and --notes lists them. JSON and
SARIF hold every finding.`,
		Example: `  yearmark check
  yearmark check our-register --notes
  yearmark check our-register --format sarif > findings.sarif
  yearmark check --explain one-origin`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if explain != "" {
				return explainCheck(cmd.OutOrStdout(), explain)
			}
			if err := oneOf("format", format, "text", "json", "sarif"); err != nil {
				return err
			}
			return check(cmd, folderOf(args), findingsForm{format, notes})
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "how to write the findings: text, json or sarif")
	cmd.Flags().BoolVar(&notes, "notes", false, "list the notes too, each with its line")
	cmd.Flags().StringVar(&explain, "explain", "", "tell what a check means, with an example and the remedy; \"all\" lists them")
	return cmd
}

// findingsForm is how findings are written.
type findingsForm struct {
	format string // text, json or sarif
	notes  bool   // in text: notes in full
}

func check(cmd *cobra.Command, folder string, form findingsForm) error {
	study, err := builder.Open(cmd.Context(), folder)
	if err != nil {
		return withHint(err, "yearmark begin "+folder)
	}
	report, err := study.Report(cmd.Context())
	if err != nil {
		return err
	}
	if err := writeFindings(cmd.OutOrStdout(), study, report, form); err != nil {
		return err
	}
	if report.Counts.Error > 0 {
		return foundErrors()
	}
	return nil
}

func writeFindings(w io.Writer, study *builder.Study, report checks.Report, form findingsForm) error {
	switch form.format {
	case "json":
		return checks.JSON(w, report)
	case "sarif":
		return checks.SARIF(w, report, study.Mend)
	}
	options := checks.TextOptions{Color: coloured(w), Files: study.Files()}
	if !form.notes {
		options.Notes = builder.NotesCommand(study.Ref.Folder)
	}
	return checks.Text(w, report, study.Ref, options)
}

func explainCheck(w io.Writer, name string) error {
	if name == "all" {
		for _, c := range checks.Registry() {
			fmt.Fprintf(w, "%-24s %-8s %s\n", c.Name, c.Level, c.Meaning)
		}
		return nil
	}
	c, nearest, ok := checks.Lookup(name)
	if !ok {
		return withHint(fmt.Errorf("there is no check named %q", name), "yearmark check --explain "+nearest)
	}
	return checks.Explain(w, c)
}
