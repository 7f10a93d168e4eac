package main

import (
	"context"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/exchange/compare"
)

func compareCommand() *cobra.Command {
	var format string
	var all bool
	cmd := &cobra.Command{
		Use:   "compare OLD [NEW]",
		Short: "Say what changed between two states of the records, and which dates it moves",
		Long: `Compare says which claims were added, withdrawn and moved, what changed in the
sources and other records, which findings came and went, which examples and
which rows of the dating keys now answer otherwise, and which published
addresses would break. OLD and NEW are each a folder of records, or a revision
of the other one's git repository. Without NEW, "content" is meant.`,
		Example: `  yearmark compare HEAD~1                   the last commit against the folder as it is
  yearmark compare v2 our-register --format json
  yearmark compare last-year/register our-register`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			changes, err := compared(cmd.Context(), args[0], folderOf(args[1:]))
			if err != nil {
				return withHint(err, "yearmark compare HEAD~1 content")
			}
			if format == "json" {
				return changes.JSON(cmd.OutOrStdout())
			}
			most := 40
			if all {
				most = 0
			}
			return changes.Text(cmd.OutOrStdout(), most)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "how to write the changes: text or json")
	cmd.Flags().BoolVar(&all, "all", false, "write every change, however many there are")
	return cmd
}

// compared compares two states, each named by a folder or by a revision of the other.
func compared(ctx context.Context, before, after string) (*compare.Changes, error) {
	if !isFolder(before) && !isFolder(after) {
		return nil, fmt.Errorf("neither %q nor %q is a folder; name the folder of records as the second", before, after)
	}
	old, oldName, err := opened(ctx, before, after)
	if err != nil {
		return nil, err
	}
	now, nowName, err := opened(ctx, after, before)
	if err != nil {
		return nil, err
	}
	return builder.Compare(ctx, old, oldName, now, nowName)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// opened opens a folder, or a revision of the other folder, and says what it
// is called.
func opened(ctx context.Context, name, other string) (study *builder.Study, label string, err error) {
	if isFolder(name) {
		study, err = builder.Open(ctx, name)
		return study, name, err
	}
	files, commit, err := compare.Revision(ctx, other, name)
	if err != nil {
		return nil, "", err
	}
	study, err = builder.OpenFS(ctx, files, other)
	if err != nil {
		return nil, "", fmt.Errorf("at the revision %q: %w", name, err)
	}
	return study, name + " (" + commit + ")", nil
}
