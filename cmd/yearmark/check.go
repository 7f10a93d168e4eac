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
	cmd := &cobra.Command{
		Use:   "check [FOLDER]",
		Short: "Say what is wrong with the records, where, and what to do",
		Long: `Check reads every record, follows every citation to its origin, and proves that
all claims can be true together. It ends with status 0 if there are no errors,
1 if there are some, and 2 if it could not run.`,
		Example: `  yearmark check
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
			return check(cmd, folderOf(args), format)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "how to write the findings: text, json or sarif")
	cmd.Flags().StringVar(&explain, "explain", "", "tell what a check means, with an example and the remedy; \"all\" lists them")
	return cmd
}

func check(cmd *cobra.Command, folder, format string) error {
	study, err := builder.Open(cmd.Context(), folder)
	if err != nil {
		return withHint(err, "yearmark begin "+folder)
	}
	report, err := study.Report(cmd.Context())
	if err != nil {
		return err
	}
	if err := writeFindings(cmd.OutOrStdout(), study, report, format); err != nil {
		return err
	}
	if report.Counts.Error > 0 {
		return foundErrors()
	}
	return nil
}

func writeFindings(w io.Writer, study *builder.Study, report checks.Report, format string) error {
	switch format {
	case "json":
		return checks.JSON(w, report)
	case "sarif":
		return checks.SARIF(w, report)
	}
	return checks.Text(w, report, study.Ref, checks.TextOptions{Color: coloured(w), Files: study.Files()})
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
