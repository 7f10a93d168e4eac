package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"yearmark/builder"
)

func trialCommand() *cobra.Command {
	var format string
	cmd := &cobra.Command{
		Use:   "trial [FOLDER]",
		Short: "Say how often the dates are right, tried on bows whose papers give the year",
		Long: `Trial dates every example with a documented year from its features alone,
without what rests on it or on the sources that give its year, and says how
often the sets of 50 and 95 in 100 held the year beside how often the odds
themselves expected it, how far the best year was off, which bows were missed
worst and why, and what temper and teaching would have scored best.`,
		Example: "  yearmark trial our-register",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			study, err := builder.Open(cmd.Context(), folderOf(args))
			if err != nil {
				return withHint(err, "yearmark begin "+folderOf(args))
			}
			report, err := study.Report(cmd.Context())
			if err != nil {
				return err
			}
			if n := report.Counts.Error; n > 0 {
				return withHint(fmt.Errorf("the records hold %s, so that a trial would say nothing of them", errorsCounted(n)), "yearmark check "+folderOf(args))
			}
			calibration, err := study.Calibration(cmd.Context())
			if err != nil {
				return err
			}
			together, err := study.Suggest(cmd.Context())
			if err != nil {
				return err
			}
			if format == "json" {
				return calibration.JSON(cmd.OutOrStdout(), together)
			}
			return calibration.Text(cmd.OutOrStdout(), together)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "how to write the figures: text or json")
	return cmd
}
