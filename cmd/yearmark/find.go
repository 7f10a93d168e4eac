package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/dating"
	"yearmark/schema/edtf"
	"yearmark/search"
)

func findCommand() *cobra.Command {
	var in, format, years string
	var q search.Query
	cmd := &cobra.Command{
		Use:   "find [--in FOLDER] WORDS",
		Short: "Search the records from the terminal",
		Long: `Search the records from the terminal. A number, as it is stamped on a bow, is
answered above the hits: which recorded values it fits, or which are near.

With --format json, version 1: total and hits (kind, id, title, address, score),
and where the words are a number, number: its text; fits, and where there are
none near, each with feature, value, model, maker, claim, years, cites and, if
near, what it would read; marks, how it reads as a weight mark; and recorded,
the values on record.`,
		Example: `  yearmark find padauk riser
  yearmark find '"oval mark"' --kind model
  yearmark find --feature riser-wood=padauk --years 1960..1965`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			q.Words = strings.Join(args, " ")
			if err := readYears(years, &q); err != nil {
				return err
			}
			if q.Words == "" && len(q.Features) == 0 && years == "" && len(q.Kinds) == 0 && q.Maker == "" {
				return withHint(fmt.Errorf("say what to look for"), "yearmark find padauk riser")
			}
			study, err := builder.Open(cmd.Context(), in)
			if err != nil {
				return withHint(err, "yearmark find --in FOLDER WORDS")
			}
			return find(cmd, study, q, format)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&in, "in", defaultFolder, "the folder of records")
	flags.StringVar(&format, "format", "text", "how to write the answer: text or json")
	flags.StringSliceVar(&q.Kinds, "kind", nil, "only records of this kind: maker, model, feature, source, place, example, page …")
	flags.StringVar(&q.Maker, "maker", "", "only what belongs to this maker")
	flags.StringArrayVar(&q.Features, "feature", nil, "only what has this value: riser-wood=padauk")
	flags.StringVar(&years, "years", "", "only what falls in these years: 1960..1965")
	flags.IntVar(&q.Limit, "limit", 10, "how many to show")
	return cmd
}

// readYears reads 1960..1965 or 1960; empty text means all years.
func readYears(text string, q *search.Query) error {
	if text == "" {
		return nil
	}
	first, last, ok := strings.Cut(text, "..")
	if !ok {
		last = first
	}
	var r edtf.Range
	if _, err := fmt.Sscanf(first+" "+last, "%4d %4d", &r.First, &r.Last); err != nil || r.First > r.Last {
		return fmt.Errorf("--years %q is not a span of years; write it like 1960..1965", text)
	}
	q.Years = r
	return nil
}

func find(cmd *cobra.Command, study *builder.Study, q search.Query, format string) error {
	ix, err := study.Search(cmd.Context())
	if err != nil {
		return err
	}
	result, err := ix.Find(q)
	if err != nil {
		return err
	}
	out, horizon := cmd.OutOrStdout(), study.Ref.Horizon()
	isNumber := dating.LooksLikeNumber(q.Words, func(year int) bool { return horizon.First <= year && year <= horizon.Last })
	switch {
	case format == "json" && isNumber:
		return search.WriteJSON(out, result, study.Engine().Number(q.Words))
	case format == "json":
		return search.WriteJSON(out, result, nil)
	case isNumber:
		if _, err := fmt.Fprintln(out, strings.Join(study.Engine().Number(q.Words).Words(study.Ref), "\n")+"\n"); err != nil {
			return err
		}
	}
	return search.WriteText(out, q, result)
}
