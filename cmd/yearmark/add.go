package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"yearmark/exchange/intake/blank"
	"yearmark/exchange/journal"
	"yearmark/schema"
)

func addCommand() *cobra.Command {
	var in string
	cmd := &cobra.Command{
		Use:   "add KIND ID [--in FOLDER]",
		Short: "Write a blank record with the questions that it answers",
		Long: `Add writes a record of a kind (maker, model, feature, source, example or page)
with its keys in order and what each asks for as a comment. What must be filled
in stands there empty, and "yearmark check" lists it; all else is a comment to
take the # off. Its first line lets editors complete keys. ID becomes the file
name and the address, for good; an example without one gets the next number.
Nothing is ever written over: of a model or example that is there already, add
lists the features that its record says nothing of, such as those added since.`,
		Example: `  yearmark add model grey-plover
  yearmark add source halvane-list-1962 --in our-register
  yearmark add example`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			kind, err := kindNamed(args[0], "yearmark add model grey-plover")
			if err != nil {
				return err
			}
			if len(args) == 1 && kind != schema.KindExample {
				return withHint(fmt.Errorf("say what the %s is to be called: small letters, digits and hyphens", kind), fmt.Sprintf("yearmark add %s …", kind))
			}
			return add(cmd, in, kind, strings.Join(args[1:], ""))
		},
	}
	cmd.Flags().StringVar(&in, "in", defaultFolder, "the folder of records")
	return cmd
}

// kindNamed gives the kind of record of that name; hint is what to type instead
// where there is none.
func kindNamed(name, hint string) (schema.Kind, error) {
	names := make([]string, len(schema.Kinds))
	for i, k := range schema.Kinds {
		if names[i] = string(k); string(k) == name {
			return k, nil
		}
	}
	return "", withHint(fmt.Errorf("there is no kind of record %q; the kinds are %s", name, strings.Join(names, ", ")), hint)
}

func add(cmd *cobra.Command, folder string, kind schema.Kind, id string) error {
	j, err := openJournal(cmd, folder)
	if err != nil {
		return withHint(err, "yearmark begin "+folder)
	}
	defer j.Close()
	ref, _, err := schema.Read(folder)
	if err != nil {
		return withHint(err, "yearmark begin "+folder)
	}
	out := cmd.OutOrStdout()
	written, err := blank.Write(j, ref, kind, id)
	if err != nil {
		if lines := blank.Unsaid(ref, kind, id); len(lines) > 0 {
			fmt.Fprintf(out, "%s says nothing yet of these; copy the lines that it needs below their key:\n", kind.FileOf(id))
			for _, line := range lines {
				fmt.Fprintln(out, "  "+line)
			}
		}
		return err
	}
	fmt.Fprintf(out, "%s is written; fill in its blanks, then: yearmark check %s\n", filepath.Join(folder, written.Record), folder)
	if n := written.Schemas; n > 0 {
		fmt.Fprintf(out, "%d schemas by which editors complete keys are in %s\n", n, filepath.Join(folder, journal.Folder))
	}
	return nil
}
