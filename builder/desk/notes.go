package desk

import (
	"regexp"
	"slices"
	"strings"

	"yearmark/checks"
	"yearmark/exchange/editing"
	"yearmark/schema"
)

// unfinished are the checks that find something still to be written.
var unfinished = []string{schema.CheckMissingKey, schema.CheckNoYears, "uncited-claim", "uncited-statement"}

// keyMissing is how a finding names a key that is not there.
var keyMissing = regexp.MustCompile(`has no key "([a-z-]+)"$`)

// notesOf gives what is found in a file by the path of the field, and what
// concerns the record as a whole. A new record is offered remedies of its own
// file alone.
func notesOf(report checks.Report, name string, source []byte, isNew bool) (map[string][]noteView, []noteView) {
	notes := map[string][]noteView{}
	var said []noteView
	alone := ""
	if isNew {
		alone = name
	}
	whole := fenced(name, source)
	top, err := schema.Locate(name, whole)
	for _, f := range report.Findings {
		if f.Pos.File() != name || f.Level == checks.Note {
			continue
		}
		note := noteView{Level: string(f.Level), Text: schema.Sentence(f.Message), Remedy: inForms(f.Help), Remedies: remediesOf(f, alone)}
		if f.Check == schema.CheckDangling && len(f.Remedies) == 0 {
			note.Remedy = "Choose one that is there, or make it with the button beside the box."
		}
		for _, p := range f.Why {
			note.Whens = append(note.Whens, p.Message)
		}
		path := ""
		if err == nil && f.Pos.Line() > 0 {
			at := editing.Offset(source, f.Pos)
			if len(whole) > len(source) { // the settings
				at += len(fence)
			}
			path = strings.Join(editing.PathAt(top, at), "/")
		}
		if m := keyMissing.FindStringSubmatch(f.Message); m != nil && f.Check == schema.CheckMissingKey {
			path, note.Text, note.Remedy = join(path, m[1]), "This is still needed.", ""
		}
		note.unfinished = slices.Contains(unfinished, f.Check)
		if path == "" {
			said = append(said, note)
			continue
		}
		notes[path] = append(notes[path], note)
	}
	return notes, said
}

// begun says whether a path leads to an entry of the form that its file does not hold yet.
func (of *draft) begun(path string, filed outline) bool {
	return of.isNew || slices.ContainsFunc(of.opened, func(entry string) bool {
		return !filed.any(entry) && (path == entry || strings.HasPrefix(path, entry+"/"))
	})
}
