package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"yearmark/exchange/journal"
	"yearmark/schema"
)

func undoCommand() *cobra.Command {
	var in string
	cmd := &cobra.Command{
		Use:   "undo [--in FOLDER]",
		Short: "Take the last import, receive, rename or edit of the desk back",
		Long: `Undo puts the records back as they were before the last "yearmark import --write"
or "yearmark receive", byte for byte; once more takes the one before that back.
Where one of the files was changed since, nothing is touched and the file is named.`,
		Example: `  yearmark undo
  yearmark undo --in our-register`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return undo(cmd, in) },
	}
	cmd.Flags().StringVar(&in, "in", defaultFolder, "the folder of records")
	return cmd
}

func undo(cmd *cobra.Command, folder string) error {
	j, err := openJournal(cmd, folder)
	if err != nil {
		return withHint(err, "yearmark undo --in FOLDER")
	}
	defer j.Close()
	e, err := j.Undo()
	var changed *journal.ChangedSince
	if errors.As(err, &changed) {
		return fmt.Errorf("%w; save that file elsewhere and put it back as it was, or keep it and take the change back by hand", err)
	}
	if err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if e == nil {
		fmt.Fprintln(out, "nothing to take back")
		return nil
	}
	fmt.Fprintf(out, "taken back: %q of %s\n", e.Command, e.Time.Local().Format("2006-01-02 15:04"))
	for _, c := range e.Files {
		switch {
		case c.Before == nil:
			fmt.Fprintf(out, "  %s is gone\n", c.File)
		case c.After == nil:
			fmt.Fprintf(out, "  %s is there again\n", c.File)
		default:
			fmt.Fprintf(out, "  %s is as it was\n", c.File)
		}
	}
	return nil
}

// openJournal waits for the right to write to a folder of records.
func openJournal(cmd *cobra.Command, folder string) (*journal.Journal, error) {
	if _, err := os.Stat(filepath.Join(folder, schema.SettingsFile)); err != nil {
		if _, _, err := schema.Read(folder); err != nil { // nothing is left in a folder that is no reference
			return nil, err
		}
	}
	return journal.Open(cmd.Context(), folder, cmd.ErrOrStderr())
}
