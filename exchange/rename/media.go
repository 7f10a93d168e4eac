package rename

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"yearmark/exchange/journal"
	"yearmark/schema"
)

// moves gives the changes that rename the record's own pictures and recordings:
// those that it names and that are called as it is (bows/plover.svg,
// examples/0007-mark.jpg), and all that lies in a folder of its name beside one
// of these. A file stays where its new name is taken, or where it is called as
// another record that is there too.
func (t *task) moves(ref *schema.Reference, record schema.Record, files fs.FS) ([]journal.Change, error) {
	head := record.Header()
	top, err := schema.Locate(head.File, head.Source)
	if err != nil {
		return nil, err
	}
	known := slices.Concat(in(schema.PicturesFolder, ref.Pictures), in(schema.RecordingsFolder, ref.Recordings))
	var changes []journal.Change
	for _, named := range mediaNamed(nil, top, "", "") {
		for _, file := range known {
			to, ok := t.movedTo(file)
			beside := t.inFolder(file) && path.Dir(file) == path.Dir(named)
			if !ok || t.moved[file] || file != named && !beside || slices.Contains(known, to) || t.anothers(ref, file) {
				continue
			}
			data, err := fs.ReadFile(files, file)
			if err != nil {
				return nil, err
			}
			t.moved[file] = true
			changes = append(changes, journal.Change{File: file, Before: data}, journal.Change{File: to, After: data})
		}
	}
	return changes, nil
}

func in(folder string, names []string) []string {
	all := make([]string, len(names))
	for i, name := range names {
		all[i] = folder + "/" + name
	}
	return all
}

// mediaNamed lists the files that a record names, below the reference's folder.
func mediaNamed(files []string, l *schema.Located, key, above string) []string {
	switch l.Kind {
	case schema.LocatedText:
		if folder := mediaFolder(key, above); folder != "" && l.Text != "" {
			files = append(files, folder+"/"+l.Text)
		}
	case schema.LocatedList:
		for _, item := range l.Items {
			files = mediaNamed(files, item, key, above)
		}
	default:
		for _, k := range l.Keys {
			if !isPrivate(k.Name) {
				files = mediaNamed(files, k.Value, k.Name, key)
			}
		}
	}
	return files
}

// mediaFolder is the folder below which a key names a file; "" of other keys.
func mediaFolder(key, above string) string {
	switch {
	case key == "transcript", key == "file" && above == "recording":
		return schema.RecordingsFolder
	case key == "picture", key == "file", key == "scan":
		return schema.PicturesFolder
	}
	return ""
}

// calledAs says whether a file or folder is called as a record: "plover",
// "plover.svg", "plover-2.jpg".
func calledAs(name, id string) bool {
	rest, ok := strings.CutPrefix(name, id)
	return ok && (rest == "" || rest[0] == '-' || rest[0] == '.')
}

// element is the first part of a file's path, below its top folder, that is
// called as the record, by its number; -1 where none is.
func (t *task) element(parts []string) int {
	for i, part := range parts[1:] {
		if last := i+1 == len(parts)-1; part == t.old || last && calledAs(part, t.old) {
			return i + 1
		}
	}
	return -1
}

// inFolder says whether a file lies in a folder of the record's name.
func (t *task) inFolder(file string) bool {
	parts := strings.Split(file, "/")
	at := t.element(parts)
	return at >= 0 && at < len(parts)-1
}

// movedTo gives the name that a file of the record gets.
func (t *task) movedTo(file string) (string, bool) {
	parts := strings.Split(file, "/")
	at := t.element(parts)
	if at < 0 {
		return "", false
	}
	parts[at] = t.new + strings.TrimPrefix(parts[at], t.old)
	return strings.Join(parts, "/"), true
}

// anothers says whether a file is called as another record of the kind, one
// with a longer name.
func (t *task) anothers(ref *schema.Reference, file string) bool {
	return slices.ContainsFunc(ref.Records(), func(r schema.Record) bool {
		head := r.Header()
		return head.Kind == t.kind && len(head.ID) > len(t.old) && calledAs(path.Base(file), head.ID)
	})
}

// movedFile finds the record's name in a path that a key names, where that file
// moves; lead is what stands before it.
func (t *task) movedFile(key, above, text string) (lead string, moves bool) {
	folder := mediaFolder(key, above)
	if folder == "" || !t.moved[folder+"/"+text] {
		return "", false
	}
	parts := strings.Split(folder+"/"+text, "/")
	if at := t.element(parts); at > 1 {
		lead = strings.Join(parts[1:at], "/") + "/"
	}
	return lead, true
}
