package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/builder/output"
	"yearmark/dating"
	"yearmark/schema/files"
)

// dateList dates a CSV file of bows. What its columns are taken for and which
// rows could not be dated goes to stderr, the answers to stdout.
func dateList(cmd *cobra.Command, study *builder.Study, f dateFlags) error {
	file, err := files.Open(f.list)
	if err != nil {
		return fmt.Errorf("cannot read the list: %w", err)
	}
	defer file.Close()
	list, err := study.Engine().OpenList(file)
	if err != nil {
		return fmt.Errorf("%s: %w", f.list, err)
	}
	stderr := cmd.ErrOrStderr()
	if list.Warnings, err = warnings(cmd.Context(), study, f.in); err != nil {
		return err
	}
	for _, warning := range list.Warnings {
		fmt.Fprintln(stderr, "Warning: "+warning)
	}
	showColumns(stderr, list.Columns())
	bar := newProgress(stderr, "dating")
	tally, err := writeList(output.Until(cmd.Context(), cmd.OutOrStdout()), list, study.Edition.String(), f.format, func(int) { bar.step(-1) })
	bar.end()
	if err != nil {
		return fmt.Errorf("%s: %w", f.list, err)
	}
	for _, fault := range tally.Faults {
		fmt.Fprintf(stderr, "%s: %v\n", f.list, fault)
	}
	fmt.Fprintf(stderr, "%d of %d bows dated\n", tally.Dated, tally.Rows)
	if tally.Bad > 0 {
		return foundErrors()
	}
	return nil
}

func writeList(w io.Writer, list *dating.List, edition, format string, done func(int)) (dating.Tally, error) {
	if format == "json" {
		return list.JSON(w, edition, done)
	}
	return list.CSV(w, done)
}

func showColumns(w io.Writer, columns []dating.Column) {
	for _, c := range columns {
		switch {
		case c.Use == "kept" && c.Near != "":
			fmt.Fprintf(w, "  %-24s kept as it is; rename it if it is the feature %s\n", c.Name, c.Near)
		case c.Use == "kept":
			fmt.Fprintf(w, "  %-24s kept as it is\n", c.Name)
		case c.Use == "sure":
			fmt.Fprintf(w, "  %-24s how sure of the feature %s\n", c.Name, c.Feature)
		case c.Use == "feature":
			fmt.Fprintf(w, "  %-24s the feature %s\n", c.Name, c.Feature)
		default:
			fmt.Fprintf(w, "  %-24s the %s\n", c.Name, c.Use)
		}
	}
}
