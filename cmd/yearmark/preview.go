package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"yearmark/builder"
)

func previewCommand() *cobra.Command {
	opts := builder.PreviewOptions{}
	cmd := &cobra.Command{
		Use:   "preview [FOLDER]",
		Short: "Check, publish and serve the records on this machine, and follow edits",
		Long: `Preview serves the site at an address of this machine that nobody else can
reach. When a record is saved, the browser shows the new state at once, and says
a moment later where the records hold errors that stand in the way of
publishing. A record that cannot be read leaves the state before it.`,
		Example: `  yearmark preview
  yearmark preview our-register --port 8090`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.Out = cmd.OutOrStdout()
			err := builder.Preview(cmd.Context(), folderOf(args), opts)
			if err != nil {
				return withHint(err, "yearmark check "+folderOf(args))
			}
			fmt.Fprintln(cmd.OutOrStdout(), "preview ended")
			return nil
		},
	}
	cmd.Flags().IntVar(&opts.Port, "port", 8417, "the port to serve on; 0 means any that is free")
	cmd.Flags().BoolVar(&opts.Poll, "poll", false, "look at the folder twice a second instead of being told of changes")
	return cmd
}
