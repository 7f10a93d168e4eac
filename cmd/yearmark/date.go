package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/dating"
	"yearmark/schema"
)

// dateFlags are what `date` is asked.
type dateFlags struct {
	in, format     string
	models         []string
	fairly, unsure []string
	list           string
}

func dateCommand() *cobra.Command {
	var f dateFlags
	cmd := &cobra.Command{
		Use:   "date [--in FOLDER] [--model ID] [FEATURE=VALUE …]",
		Short: "Date one bow by what is seen on it, or a list of them",
		Long: `Date says when a bow was made, how sure that is and on whose word, whether its
features agree, and what to look at next. Each argument is a feature and what
was seen: riser-wood=padauk. Several values with commas between them mean that
it is one of these and you cannot tell which.`,
		Example: `  yearmark date --model plover riser-wood=padauk maker-mark=oval,script
  yearmark date riser-wood=padauk --unsure stabiliser-socket=present
  yearmark date --list bows.csv --format csv > dated.csv`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("format", f.format, "text", "json", "csv"); err != nil {
				return err
			}
			if f.list != "" && len(args)+len(f.models)+len(f.fairly)+len(f.unsure) > 0 {
				return withHint(fmt.Errorf("--list dates the bows of a file, and nothing beside it"), "yearmark date --list "+f.list)
			}
			study, err := builder.Open(cmd.Context(), f.in)
			if err != nil {
				return withHint(err, "yearmark date --in FOLDER …")
			}
			if f.list != "" {
				return dateList(cmd, study, f)
			}
			return dateOne(cmd, study, f, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.in, "in", defaultFolder, "the folder of records")
	flags.StringSliceVar(&f.models, "model", nil, "the model, where it is known; several with commas if it is one of them")
	flags.StringArrayVar(&f.fairly, "fairly", nil, "a feature seen fairly well: FEATURE=VALUE")
	flags.StringArrayVar(&f.unsure, "unsure", nil, "a feature that you are not sure of: FEATURE=VALUE")
	flags.StringVar(&f.list, "list", "", "a CSV file of bows, one a row, whose columns are features")
	flags.StringVar(&f.format, "format", "text", "how to write the answer: text or json; csv for a list")
	return cmd
}

func dateOne(cmd *cobra.Command, study *builder.Study, f dateFlags, seen []string) error {
	if f.format == "csv" {
		return fmt.Errorf("--format csv goes with --list")
	}
	q := dating.Question{Models: f.models}
	for _, group := range []struct {
		seen []string
		sure schema.Sureness
	}{{seen, schema.Sure}, {f.fairly, schema.Fairly}, {f.unsure, schema.Unsure}} {
		for _, text := range group.seen {
			o, err := observation(text, group.sure)
			if err != nil {
				return err
			}
			q.Observed = append(q.Observed, o)
		}
	}
	answer, err := study.Engine().Date(q)
	if err != nil {
		return err
	}
	if answer.Warnings, err = warnings(cmd.Context(), study, f.in); err != nil {
		return err
	}
	if f.format == "json" {
		return dating.JSON(cmd.OutOrStdout(), answer, study.Edition.String())
	}
	calibration, err := study.Calibration(cmd.Context())
	if err != nil {
		return err
	}
	return dating.Text(cmd.OutOrStdout(), answer, dating.TextOptions{Edition: study.Edition.String(), Calibration: &calibration})
}

// warnings says that the records hold errors, or nothing.
func warnings(ctx context.Context, study *builder.Study, folder string) ([]string, error) {
	report, err := study.Report(ctx)
	if err != nil || report.Counts.Error == 0 {
		return nil, err
	}
	return []string{fmt.Sprintf("the records hold %s, and this is what the rest of them says; see yearmark check %s.", errorsCounted(report.Counts.Error), folder)}, nil
}

func errorsCounted(n int) string {
	if n == 1 {
		return "an error"
	}
	return fmt.Sprintf("%d errors", n)
}

// observation reads FEATURE=VALUE or FEATURE=VALUE,VALUE.
func observation(text string, sure schema.Sureness) (dating.Observation, error) {
	feature, values, ok := strings.Cut(text, "=")
	if !ok || feature == "" || values == "" {
		return dating.Observation{}, withHint(fmt.Errorf("%q is not a feature and what was seen", text), "yearmark date riser-wood=padauk")
	}
	return dating.Observation{Feature: feature, Values: strings.Split(values, ","), Sure: sure}, nil
}
