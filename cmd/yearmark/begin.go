package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"yearmark/builder/starter"
)

func beginCommand() *cobra.Command {
	var empty bool
	cmd := &cobra.Command{
		Use:   "begin DIR",
		Short: "Write a small reference to start from",
		Long: `Begin writes a reference of one invented maker, with a record of every kind, that
passes every check. With --empty it holds no record, only its name and years.`,
		Example: `  yearmark begin our-register
  yearmark begin our-register --empty`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if empty {
				if err := starter.Begin(args[0], true); err != nil {
					return err
				}
				fmt.Fprintf(cmd.OutOrStdout(), "%s holds reference.yaml alone: write its name, editor and years there.\nThen add a record: yearmark add maker our-maker --in %s\n", args[0], args[0])
				return nil
			}
			written, err := starter.Write(args[0])
			if err != nil {
				return err
			}
			out := cmd.OutOrStdout()
			for _, name := range written {
				fmt.Fprintln(out, "  "+name)
			}
			fmt.Fprintf(out, "\n%d files are in %s. See it with: yearmark preview %s\n", len(written), args[0], args[0])
			return nil
		},
	}
	cmd.Flags().BoolVar(&empty, "empty", false, "no records, only the register's name and years")
	return cmd
}
