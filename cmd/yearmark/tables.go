package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/builder/output"
	"yearmark/exchange/sheets"
	"yearmark/schema/english"
)

func tablesCommand() *cobra.Command {
	var to string
	var replace bool
	cmd := &cobra.Command{
		Use:   "tables [FOLDER] --to DIR",
		Short: "Write the records as tables for a spreadsheet",
		Long: `Tables writes makers.csv, models.csv, claims.csv, sources.csv, examples.csv and
features.csv; places.csv, what stands where in the sources; attributed.csv,
history.csv and sales.csv, what is told of bows; people.csv, special-orders.csv
and says-nothing.csv, what is told of makers. Any spreadsheet opens them;
"yearmark import" takes each in again, with what was changed and added in it.
What is private is in none of them.

A cell that a spreadsheet would take for a formula has an apostrophe before it,
which import takes off again. Several things in one cell are parted by " | ".`,
		Example: `  yearmark tables our-register --to tables
  yearmark import tables/claims.csv --in our-register`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if to == "" {
				return withHint(fmt.Errorf("say where the tables are to be written"), "yearmark tables "+folderOf(args)+" --to tables")
			}
			return writeTables(cmd, folderOf(args), to, replace)
		},
	}
	cmd.Flags().StringVar(&to, "to", "", "the folder for the tables")
	cmd.Flags().BoolVar(&replace, "replace", false, "write over tables that are there already")
	return cmd
}

func writeTables(cmd *cobra.Command, folder, to string, replace bool) error {
	if within(to, folder) {
		return withHint(fmt.Errorf("%s lies in the reference's own folder, where only records belong", to), "yearmark tables "+folder+" --to tables")
	}
	study, err := builder.Open(cmd.Context(), folder)
	if err != nil {
		return withHint(err, "yearmark begin "+folder)
	}
	tables := sheets.Tables(sheets.Facts{Ref: study.Ref, Timeline: study.Timeline, Weighing: study.Weighing, LeaveOneOut: study.LeaveOneOut()})
	for _, t := range tables {
		file := filepath.Join(to, t.Name+".csv")
		if _, err := os.Lstat(file); err == nil && !replace {
			return withHint(fmt.Errorf("%s is there already and may hold changes of yours", file), "yearmark tables "+folder+" --to "+to+" --replace")
		} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	texts, rows := make([]bytes.Buffer, len(tables)), make([]int, len(tables))
	for i, t := range tables { // before any is written
		if rows[i], err = t.Write(output.Until(cmd.Context(), &texts[i]), true); err != nil {
			return err
		}
	}
	if err := errors.Join(cmd.Context().Err(), os.MkdirAll(to, 0o755)); err != nil {
		return err
	}
	for i, t := range tables {
		file := filepath.Join(to, t.Name+".csv")
		if err := writeWhole(file, texts[i].Bytes()); err != nil {
			return err
		}
		fmt.Fprintf(cmd.OutOrStdout(), "%s: %s\n", file, english.Count(rows[i], "row"))
	}
	return nil
}

// writeWhole writes a file, or leaves the one that is there as it is.
func writeWhole(file string, data []byte) error {
	part, err := os.CreateTemp(filepath.Dir(file), filepath.Base(file)+".part-*")
	if err != nil {
		return err
	}
	_, err = part.Write(data)
	err = errors.Join(err, part.Chmod(0o644), part.Close())
	if err == nil {
		err = os.Rename(part.Name(), file)
	}
	if err != nil {
		_ = os.Remove(part.Name())
	}
	return err
}

// within says whether a path lies in a folder, or is it.
func within(path, folder string) bool {
	a, errA := filepath.Abs(path)
	b, errB := filepath.Abs(folder)
	return errA == nil && errB == nil && (a == b || strings.HasPrefix(a, b+string(filepath.Separator)))
}
