package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/exchange/intake"
	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/schema/english"
	"yearmark/schema/files"
)

// fileKnowledge puts what visitors know into the inbox, where it waits for the
// editor. A bad file changes nothing and is named with the reason.
func fileKnowledge(cmd *cobra.Command, names []string, f receiveFlags) error {
	out := cmd.OutOrStdout()
	var changes []journal.Change
	refused := false
	for _, name := range names {
		data, err := intake.ReadFile(name)
		var k *intake.Knowledge
		if err == nil {
			k, err = intake.ReadKnowledge(data)
		}
		var why intake.Problems
		if errors.As(err, &why) {
			refused = true
			fmt.Fprintf(out, "%s: not filed\n", name)
			for _, p := range why {
				fmt.Fprintf(out, "  - %s\n", p)
			}
			continue
		}
		if err != nil {
			return err
		}
		c := k.Filed()
		fmt.Fprintf(out, "%s%s: filed as %s; nothing of it is public before you accept it:\n  yearmark receive --in %s --accept %s\n", k.Text(), name, c.File, f.in, path.Base(c.File))
		if _, err := os.Lstat(filepath.Join(f.in, filepath.FromSlash(c.File))); errors.Is(err, fs.ErrNotExist) && !slices.ContainsFunc(changes, func(o journal.Change) bool { return o.File == c.File }) {
			changes = append(changes, c)
		}
	}
	if !f.dryRun && len(changes) > 0 {
		if err := writeToInbox(cmd, f.in, "receive "+strings.Join(names, " "), changes); err != nil {
			return err
		}
	}
	if refused {
		return foundErrors()
	}
	return nil
}

// writeToInbox writes through the journal.
func writeToInbox(cmd *cobra.Command, folder, command string, changes []journal.Change) error {
	j, err := openJournal(cmd, folder)
	if err != nil {
		return err
	}
	defer j.Close()
	return intake.Write(j, command, changes)
}

// inboxFlags are what is asked of the inbox.
type inboxFlags struct {
	list            bool
	accept, decline string
}

func (i inboxFlags) asked() bool { return i.list || i.accept != "" || i.decline != "" }

func (i inboxFlags) run(cmd *cobra.Command, folder string) error {
	list, err := intake.Waiting(files.Below(folder))
	if err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if i.list {
		for _, l := range list {
			fmt.Fprintf(out, "%s: %s\n", l.Name, letterWords(l))
		}
		fmt.Fprintf(out, "%s in the inbox of %s\n", english.Count(len(list), "letter"), folder)
		return nil
	}
	name := i.accept + i.decline
	at := slices.IndexFunc(list, func(l *intake.Letter) bool { return l.Name == name })
	if at < 0 {
		return withHint(fmt.Errorf("there is no %q in the inbox of %s", name, folder), "yearmark receive --in "+folder+" --list")
	}
	if i.decline == "" {
		return accept(cmd, folder, list[at])
	}
	if err := writeToInbox(cmd, folder, "receive --decline "+name, list[at].Decline(takenIn(folder))); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s is put aside, in %s/declined\n", name, schema.InboxFolder)
	return nil
}

// letterWords says what a letter of the inbox is.
func letterWords(l *intake.Letter) string {
	switch {
	case l.Knowledge != nil:
		return l.Knowledge.Text()
	case l.Bow != nil:
		return fmt.Sprintf("a bow, edition %s, %s\n", l.Bow.Edition, l.Bow.On)
	}
	return fmt.Sprintf("cannot be read: %v\n", l.Wrong)
}

// takenIn says of a folder's paths whether a file is there.
func takenIn(folder string) func(file string) bool {
	return func(file string) bool {
		_, err := os.Lstat(filepath.Join(folder, filepath.FromSlash(file)))
		return err == nil
	}
}

// accept takes a letter into the records and says what that moves.
func accept(cmd *cobra.Command, folder string, l *intake.Letter) error {
	study, err := builder.Open(cmd.Context(), folder)
	if err != nil {
		return err
	}
	changes, as, err := accepted(study, l, takenIn(folder))
	if err != nil {
		return err
	}
	after, err := builder.OpenFS(cmd.Context(), journal.Over(study.Files(), changes), folder)
	if err != nil {
		return err
	}
	moved, err := builder.Compare(cmd.Context(), study, "the records as they are", after, "the records with the letter")
	if err != nil {
		return err
	}
	if err := writeToInbox(cmd, folder, "receive --accept "+l.Name, changes); err != nil {
		return err
	}
	var text bytes.Buffer
	if err := moved.Text(&text, 40); err != nil {
		return err
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s\naccepted as %s; to take it back: yearmark undo --in %s\n", text.String(), as, folder)
	return nil
}

// accepted gives the changes that take a letter into the records, and the record
// that it becomes.
func accepted(study *builder.Study, l *intake.Letter, taken func(file string) bool) (changes []journal.Change, as string, err error) {
	if l.Knowledge != nil {
		if changes, err = intake.AcceptKnowledge(study.Ref, l, nil, taken); err != nil {
			return nil, "", err
		}
		return changes, changes[0].File, nil
	}
	r, changes, err := intake.NewInbox(study.Ref, study.Engine(), time.Now(), taken).Accept(l, nil)
	if err != nil {
		return nil, "", err
	}
	return changes, r.File(), nil
}
