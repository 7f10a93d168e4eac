package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/builder/output"
	"yearmark/checks"
)

func publishCommand() *cobra.Command {
	var p publication
	cmd := &cobra.Command{
		Use:   "publish [FOLDER] --to DIR [--since FOLDER|REVISION]",
		Short: "Check the records and write the site, all or nothing",
		Long: `Publish checks the records and, if they hold no errors, writes the site beside
DIR and swaps it in. Whatever goes wrong, the site that stood there stays whole.
A folder that Yearmark did not write is never replaced. What you put into the
site's folder yourself, such as .git, CNAME or .well-known, stays there.

Each record stands on its page as it was written, remarks included. Only what
stands below the key private, and remarks beside it, never leaves the folder.

Each edition is remembered in the folder editions beside the records, without
what is private, so that the page of editions and the feed say what changed since
the last one and which dates that moves. --since OTHER compares with another
state: a folder with the records as they were, or a revision of the folder's git
repository; --since nothing compares with none.`,
		Example: `  yearmark publish our-register --to public
  yearmark publish our-register --archive site.zip
  yearmark publish our-register --to public --since HEAD~1`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			p.folder = folderOf(args)
			if p.to == "" && p.archive == "" {
				return withHint(fmt.Errorf("say where the site is to be written"), "yearmark publish "+p.folder+" --to site")
			}
			return p.run(cmd)
		},
	}
	cmd.Flags().StringVar(&p.to, "to", "", "the folder for the site")
	cmd.Flags().StringVar(&p.archive, "archive", "", "a file for the site packed for upload, as in site.zip; alone or beside --to")
	cmd.Flags().StringVar(&p.since, "since", sinceLast, "an earlier state of the records, to tell what changed: last (the edition published last), nothing, a folder or a revision")
	return cmd
}

// publication is what publish is asked for.
type publication struct{ folder, to, archive, since string }

func (p publication) run(cmd *cobra.Command) error {
	study, err := builder.Open(cmd.Context(), p.folder)
	if err != nil {
		return withHint(err, "yearmark begin "+p.folder)
	}
	report, err := study.Report(cmd.Context())
	if err != nil {
		return err
	}
	if report.Counts.Error > 0 {
		w := cmd.ErrOrStderr()
		if err := checks.Text(w, report.Only(checks.Error), study.Ref, checks.TextOptions{Color: coloured(w), Files: study.Files()}); err != nil {
			return err
		}
		return &failure{status: exitErrors, err: fmt.Errorf("nothing was published: the records hold errors")}
	}
	earlier, err := earlierState(cmd, study, p.since)
	if err != nil {
		return withHint(fmt.Errorf("the earlier state cannot be read: %w", err), "yearmark publish "+p.folder+" --to "+cmp.Or(p.to, "site")+" --since last")
	}
	if earlier != nil {
		if err := study.Since(cmd.Context(), earlier); err != nil {
			return err
		}
	}
	return p.write(cmd, study)
}

// write writes the site, its archive where one is asked for, and remembers the edition.
func (p publication) write(cmd *cobra.Command, study *builder.Study) error {
	to := p.to
	if to == "" {
		scratch, err := os.MkdirTemp(filepath.Dir(p.archive), ".yearmark-site-*")
		if err != nil {
			return fmt.Errorf("cannot write beside %s: %w", p.archive, err)
		}
		defer os.RemoveAll(scratch)
		to = filepath.Join(scratch, "site")
	}
	bar := newProgress(cmd.ErrOrStderr(), "publishing")
	before := output.Pages(to)
	done, err := study.Publish(cmd.Context(), to, bar.step)
	bar.end()
	if err != nil {
		return err
	}
	if p.archive != "" {
		if err := output.Archive(to, p.archive); err != nil {
			return err
		}
	}
	fmt.Fprintf(cmd.OutOrStdout(), "published %d files in %s, edition %s\n", done, cmp.Or(p.to, p.archive), study.Edition)
	warnOfLost(cmd.ErrOrStderr(), output.Lost(to, before))
	if _, err := study.Remember(); err != nil {
		fmt.Fprintf(cmd.ErrOrStderr(), "warning: this edition is not remembered, so that the next one cannot say what changed: %v\n", err)
	}
	return nil
}

// What --since takes besides folders and revisions.
const (
	sinceLast    = "last"
	sinceNothing = "nothing"
)

// withSince gives "--since" its value where it stands without one.
func withSince(args []string) []string {
	args = slices.Clone(args)
	for i, arg := range args {
		if arg == "--since" && (i == len(args)-1 || strings.HasPrefix(args[i+1], "-")) {
			args[i] = "--since=" + sinceLast
		}
	}
	return args
}

// earlierState opens what the study is to be compared with, or nothing.
func earlierState(cmd *cobra.Command, study *builder.Study, since string) (*builder.Study, error) {
	switch {
	case since == sinceNothing:
		return nil, nil
	case since == sinceLast && !isFolder(since):
		return study.Previous(cmd.Context())
	}
	earlier, _, err := opened(cmd.Context(), since, study.Ref.Folder)
	return earlier, err
}

// warnOfLost names the addresses that an earlier edition had and this one has not.
func warnOfLost(w io.Writer, lost []string) {
	if len(lost) == 0 {
		return
	}
	const most = 20
	fmt.Fprintf(w, "warning: no longer there, of the addresses of the last edition: %d\n", len(lost))
	for i, page := range lost {
		if i == most {
			fmt.Fprintf(w, "  and %d more\n", len(lost)-most)
			break
		}
		fmt.Fprintf(w, "  %s\n", page)
	}
	fmt.Fprintln(w, "Where the record only has another name now, add its old name: formerly: [old-name]. \"yearmark rename\" does so by itself.")
}
