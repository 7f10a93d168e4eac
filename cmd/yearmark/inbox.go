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

	"github.com/spf13/cobra"

	"yearmark/builder"
	"yearmark/exchange/compare"
	"yearmark/exchange/intake"
	"yearmark/exchange/journal"
	"yearmark/schema"
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

// writeToInbox writes through the journal, and has git leave the inbox out.
func writeToInbox(cmd *cobra.Command, folder, command string, changes []journal.Change) error {
	j, err := openJournal(cmd, folder)
	if err != nil {
		return err
	}
	defer j.Close()
	if err := j.Write(command, changes); err != nil {
		return err
	}
	ignore := filepath.Join(folder, schema.InboxFolder, ".gitignore")
	if _, err := os.Lstat(ignore); errors.Is(err, fs.ErrNotExist) {
		return os.WriteFile(ignore, []byte(journal.IgnoreAll), 0o644)
	}
	return nil
}

// waiting reads what is in the inbox, by file name.
func waiting(folder string) (map[string]*intake.Knowledge, map[string][]byte, error) {
	list, data := map[string]*intake.Knowledge{}, map[string][]byte{}
	names, err := filepath.Glob(filepath.Join(folder, schema.InboxFolder, "*.json"))
	for _, name := range names {
		text, err := intake.ReadFile(name)
		if err != nil {
			continue
		}
		if k, err := intake.ReadKnowledge(text); err == nil {
			list[filepath.Base(name)], data[filepath.Base(name)] = k, text
		}
	}
	return list, data, err
}

// inboxFlags are what is asked of the inbox.
type inboxFlags struct {
	list            bool
	accept, decline string
}

func (i inboxFlags) asked() bool { return i.list || i.accept != "" || i.decline != "" }

func (i inboxFlags) run(cmd *cobra.Command, folder string) error {
	list, data, err := waiting(folder)
	if err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	name := i.accept + i.decline
	switch {
	case i.list:
		for _, name := range sortedNames(list) {
			fmt.Fprintf(out, "%s: %s\n", name, list[name].Text())
		}
		fmt.Fprintf(out, "%s in the inbox of %s\n", several(len(list), "letter"), folder)
		return nil
	case list[name] == nil:
		return withHint(fmt.Errorf("there is no %q in the inbox of %s", name, folder), "yearmark receive --in "+folder+" --list")
	case i.decline != "":
		kept := schema.InboxFolder + "/" + name
		err := writeToInbox(cmd, folder, "receive --decline "+name, []journal.Change{
			{File: kept, Before: data[name]}, {File: schema.InboxFolder + "/declined/" + name, After: data[name]},
		})
		if err == nil {
			fmt.Fprintf(out, "%s is put aside, in %s/declined\n", name, schema.InboxFolder)
		}
		return err
	}
	return accept(cmd, folder, name, list[name], data[name])
}

func sortedNames(list map[string]*intake.Knowledge) []string {
	names := make([]string, 0, len(list))
	for name := range list {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// accept takes a letter into the records and says what that moves.
func accept(cmd *cobra.Command, folder, name string, k *intake.Knowledge, data []byte) error {
	study, err := builder.Open(cmd.Context(), folder)
	if err != nil {
		return err
	}
	changes, err := intake.Accept(study.Ref, k, schema.InboxFolder+"/"+name, data)
	if err != nil {
		return err
	}
	after, err := builder.OpenFS(cmd.Context(), journal.Over(study.Files(), changes), folder)
	if err != nil {
		return err
	}
	old, err := study.State(cmd.Context(), "the records as they are")
	if err != nil {
		return err
	}
	now, err := after.State(cmd.Context(), "the records with the letter")
	if err != nil {
		return err
	}
	moved, err := compare.Between(cmd.Context(), old, now)
	if err != nil {
		return err
	}
	if err := writeToInbox(cmd, folder, "receive --accept "+name, changes); err != nil {
		return err
	}
	var text bytes.Buffer
	if err := moved.Text(&text, 40); err != nil {
		return err
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s\naccepted as %s; to take it back: yearmark undo --in %s\n", text.String(), changes[0].File, folder)
	return nil
}
