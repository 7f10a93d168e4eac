package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/exchange/journal"
	"yearmark/exchange/rename"
	"yearmark/schema"
	"yearmark/schema/english"
)

func renameCommand() *cobra.Command {
	var in string
	cmd := &cobra.Command{
		Use:   "rename KIND OLD NEW [--in FOLDER]",
		Short: "Give a record another name, and mend all that names it",
		Long: `Rename gives the record of a kind (maker, model, feature, source, example or
page) another file name, and with it another address. Every citation, order
statement and link in prose that names it is mended in its own place; remarks and
what is private are left as they are. Pictures and recordings that it names and
that are called as it is (bows/plover.svg, examples/0007-mark.jpg) take the new
name too. The old name is kept in the record under
formerly, and a page stays at the old address that leads on, its claims too.

Nothing is written where the records would hold errors that they do not hold now.
"yearmark undo" takes it back.`,
		Example: `  yearmark rename model plover golden-plover
  yearmark rename source list-1964 halvane-list-1964 --in our-register`,
		Args: cobra.ExactArgs(3),
		RunE: func(cmd *cobra.Command, args []string) error {
			kind, err := kindNamed(args[0], "yearmark rename model plover golden-plover")
			if err != nil {
				return err
			}
			return renameRecord(cmd, in, renaming{kind, args[1], args[2]})
		},
	}
	cmd.Flags().StringVar(&in, "in", defaultFolder, "the folder of records")
	return cmd
}

type renaming struct {
	kind     schema.Kind
	old, new string
}

func (r renaming) String() string { return fmt.Sprintf("rename %s %s %s", r.kind, r.old, r.new) }

func renameRecord(cmd *cobra.Command, folder string, r renaming) error {
	j, err := openJournal(cmd, folder)
	if err != nil {
		return withHint(err, "yearmark "+r.String()+" --in FOLDER")
	}
	defer j.Close()
	study, err := builder.Open(cmd.Context(), folder)
	if err != nil {
		return err
	}
	changes, err := rename.Prepare(study.Ref, study.Files(), r.kind, r.old, r.new)
	if err != nil {
		return fmt.Errorf("nothing was renamed: %w", err)
	}
	after, err := builder.OpenFS(cmd.Context(), journal.Over(study.Files(), changes), folder)
	if err != nil {
		return err
	}
	before, err := study.Report(cmd.Context())
	if err != nil {
		return err
	}
	now, err := after.Report(cmd.Context())
	if err != nil {
		return err
	}
	if now.Counts.Error > before.Counts.Error {
		if err := reportGained(cmd, before, after, nil); err != nil {
			return fmt.Errorf("nothing was renamed: errors would follow")
		}
	}
	if err := j.Write(r.String(), changes); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	var mended []string
	for i, c := range changes {
		switch {
		case c.Before != nil && c.After != nil:
			mended = append(mended, c.File)
		case c.After == nil: // what it becomes stands next
			fmt.Fprintf(out, "%s is %s now\n", c.File, changes[i+1].File)
		}
	}
	fmt.Fprintf(out, "%s mended\n", english.Count(len(mended), "other record"))
	for _, file := range mended {
		fmt.Fprintf(out, "  %s\n", file)
	}
	fmt.Fprintf(out, "its old address leads on from the next publish; to take it back: yearmark undo --in %s\n", folder)
	return nil
}
