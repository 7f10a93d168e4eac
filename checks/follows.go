package checks

import (
	"path"
	"strings"

	"yearmark/schema"
)

// follow says of each finding that misses something in a file that could not be
// read, or lies where it is not looked for, that it follows from that.
func follow(findings []Finding) {
	causes := map[string]string{}
	invisible := map[schema.Pos]bool{} // the lines with characters that cannot be seen
	for _, f := range findings {
		if f.Missing == "" && isCause(f) {
			causes[wouldSupply(f)] = f.Pos.File()
		}
		if f.Check == schema.CheckOddCharacters {
			invisible[lineOf(f.Pos)] = true
		}
	}
	if len(causes) == 0 {
		return
	}
	for i := range findings {
		f := &findings[i]
		if f.Missing == "" {
			continue
		}
		if invisible[lineOf(f.Pos)] {
			f.Follows = f.Pos.File()
			continue
		}
		file := intended(f.Missing)
		for _, name := range []string{file, path.Dir(file), "*/" + path.Base(file)} {
			if cause, ok := causes[name]; ok {
				f.Follows = cause
				break
			}
		}
	}
}

func lineOf(p schema.Pos) schema.Pos { return schema.At(p.File(), p.Line(), 1) }

// isCause says whether others may be found only because what f is about was
// not read, or not whole.
func isCause(f Finding) bool { return losesRecord(f.Check) || f.Check == schema.CheckStrayFile }

// wouldSupply is what would be there if what f is about were read: a record
// ("models/dunlin"), all of a folder ("models"), or a record of any kind ("*/dunlin").
func wouldSupply(f Finding) string {
	name := intended(f.Pos.File())
	switch {
	case f.Check == schema.CheckNestedFolder:
		return path.Dir(name)
	case f.Check == schema.CheckWrongFolder, strings.HasSuffix(name, ".md"):
		return "*/" + strings.TrimSuffix(path.Base(name), ".md")
	}
	return name
}

// intended is the record or folder that a path was meant for, without an ending:
// "models/dunlin" for "Model/Dunlin.md.txt".
func intended(file string) string {
	folder, name, isFile := strings.Cut(file, "/")
	if near, ok := schema.Nearest(folder, folders()); ok {
		folder = near
	}
	if !isFile {
		return folder
	}
	name, _, _ = strings.Cut(strings.ToLower(path.Base(name)), ".")
	return folder + "/" + strings.NewReplacer(" ", "-", "_", "-").Replace(name)
}

func folders() []string {
	names := make([]string, len(schema.Kinds))
	for i, k := range schema.Kinds {
		names[i] = k.Folder()
	}
	return names
}
