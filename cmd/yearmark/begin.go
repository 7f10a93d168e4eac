package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"yearmark/builder/starter"
)

func beginCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "begin DIR",
		Short:   "Write a small reference to start from",
		Long:    "Begin writes a reference of one invented maker, with a record of every kind, that passes every check.",
		Example: "  yearmark begin our-register",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
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
}
