package schema

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"yearmark/schema/english"
	"yearmark/schema/files"
)

// listing is the files of a reference, found without opening any.
type listing struct {
	fsys     fs.FS
	records  []string
	media    Media
	problems Problems
	most     int // of records, of pictures and of recordings
}

func (l *listing) stray(check, file, message, help string) {
	l.problems = append(l.problems, Problem{Check: check, Pos: At(file, 0, 0), Message: message, Help: help})
}

// list looks through the folder. The error is for a folder that is no reference.
func (l *listing) list(name string) error {
	entries, err := inOrder(l.fsys, ".")
	if err != nil {
		return fmt.Errorf("the folder %q cannot be listed: %w", name, files.WithoutPath(err))
	}
	if len(entries) == 0 {
		return fmt.Errorf("the folder %q is empty: make a reference in it with \"yearmark begin %s\"", name, name)
	}
	found := false
	for _, e := range entries {
		if e.Name() == SettingsFile {
			found = true
		}
	}
	if !found {
		return l.noSettings(name, entries)
	}
	for _, e := range entries {
		l.top(e)
	}
	return nil
}

// noSettings says that a folder is no reference, and where one may be.
func (l *listing) noSettings(name string, entries []fs.DirEntry) error {
	for _, e := range entries {
		if _, near := Nearest(e.Name(), []string{SettingsFile, "reference.yml"}); near && !e.IsDir() {
			return fmt.Errorf("there is no %s in %q, but a file %q: rename it to %s", SettingsFile, name, e.Name(), SettingsFile)
		}
	}
	for _, e := range entries {
		if info, err := fs.Stat(l.fsys, path.Join(e.Name(), SettingsFile)); e.IsDir() && err == nil && info.Mode().IsRegular() {
			return fmt.Errorf("there is no %s in %q, but in its folder %q: name that folder", SettingsFile, name, e.Name())
		}
	}
	return fmt.Errorf("there is no %s in %q: name the folder that holds it, or make a reference with \"yearmark begin\"", SettingsFile, name)
}

// top looks at one entry at the top of the reference.
func (l *listing) top(e fs.DirEntry) {
	name := e.Name()
	known := append(kindFolders(), PicturesFolder, RecordingsFolder)
	isDir, ok := l.isDir(name, e)
	switch {
	case isHidden(name) || !ok:
	case isDir && (name == EditionsFolder || name == InboxFolder):
	case isDir && name == PicturesFolder:
		l.media.Pictures = l.filesBelow(pictureFiles)
	case isDir && name == RecordingsFolder:
		l.media.Recordings = l.filesBelow(recordingFiles)
	case isDir && placeOfFolder(name) != "":
		l.listRecords(name)
	case isDir:
		l.stray(CheckStrayFile, name, fmt.Sprintf("the folder %q is no part of a reference", name), didYouMean(name, known, "The folders are "+orList(known)+". Move it elsewhere, or begin its name with a full stop."))
	case name == SettingsFile || isHousekeeping(name):
	case strings.HasSuffix(name, ".md"):
		l.stray(CheckStrayFile, name, fmt.Sprintf("the file %q lies outside the folders of records", name), "Move it to the folder of its kind: "+orList(kindFolders())+".")
	default:
		l.stray(CheckStrayFile, name, fmt.Sprintf("the file %q is no part of a reference", name), "Move it elsewhere, or begin its name with a full stop.")
	}
}

func isHidden(name string) bool { return strings.HasPrefix(name, ".") }

// isHousekeeping says that a file is one that people keep beside any work.
func isHousekeeping(name string) bool {
	base, _, _ := strings.Cut(strings.ToUpper(name), ".")
	switch base {
	case "README", "LICENSE", "LICENCE", "COPYING", "CHANGES", "CHANGELOG", "CONTRIBUTING", "AUTHORS", "MAKEFILE":
		return true
	}
	return false
}

func placeOfFolder(name string) Kind {
	for _, k := range Kinds {
		if k.Folder() == name {
			return k
		}
	}
	return ""
}

// isDir says whether an entry is a folder, seen through links that stay
// within the reference; ok is false where that cannot be told, which is reported.
func (l *listing) isDir(file string, e fs.DirEntry) (dir, ok bool) {
	if e.Type()&fs.ModeSymlink == 0 {
		return e.IsDir(), true
	}
	info, err := fs.Stat(l.fsys, file)
	if err != nil {
		if !isHidden(path.Base(file)) {
			l.problems = append(l.problems, *cannotOpen(l.fsys, file, err))
		}
		return false, false
	}
	return info.IsDir(), true
}

// oddName names the first thing in a file's name that would make it read
// otherwise than it looks, or that some systems cannot keep; else it is empty.
func oddName(name string) string {
	if !utf8.ValidString(name) {
		return "a byte that is not UTF-8"
	}
	for _, r := range name {
		switch what, odd := oddCharacter(r, true); {
		case odd:
			return what
		case r == '\n' || r == '\t':
			return "a control character"
		case r == '\\':
			return "a backslash"
		}
	}
	return ""
}

// isPlain says that an entry is a file, seen through links that stay within the
// reference: a pipe or a device might never answer whoever opens it.
func (l *listing) isPlain(file string, e fs.DirEntry) bool {
	if e.Type()&fs.ModeSymlink == 0 {
		return e.Type().IsRegular()
	}
	info, err := fs.Stat(l.fsys, file)
	return err == nil && info.Mode().IsRegular()
}

// entriesOf lists a folder, or reports why it cannot be listed.
func (l *listing) entriesOf(folder string) []fs.DirEntry {
	entries, err := inOrder(l.fsys, folder)
	if err != nil {
		l.problems = append(l.problems, *cannotOpen(l.fsys, folder, err))
	}
	return entries
}

// inOrder lists a folder by name, also where a file system does not.
func inOrder(fsys fs.FS, folder string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(fsys, folder)
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return entries, err
}

// listRecords lists the files of a folder of records.
func (l *listing) listRecords(folder string) {
	for _, e := range l.entriesOf(folder) {
		file := folder + "/" + e.Name()
		if isHidden(e.Name()) {
			continue
		}
		isDir, ok := l.isDir(file, e)
		switch {
		case !ok:
		case isDir:
			l.stray(CheckNestedFolder, file, fmt.Sprintf("a folder lies in the folder %s", folder), fmt.Sprintf("Move its records up into %s: every record of a kind lies in one folder.", folder))
		case oddName(e.Name()) != "":
			l.stray(CheckBadIdentifier, file, fmt.Sprintf("%s stands in the file name %q", oddName(e.Name()), english.Clip(e.Name(), 60)), "Rename the file with small letters a to z, digits and hyphens: until then it is not read.")
		case !strings.HasSuffix(e.Name(), ".md"):
			l.stray(CheckStrayFile, file, fmt.Sprintf("the file %q is no record", e.Name()), strayRemedy(e.Name()))
		case len(l.records) >= l.most:
			l.stray(CheckTooLarge, file, fmt.Sprintf("the reference has more than %d records", l.most), "Divide it into several references.")
			return
		default:
			l.records = append(l.records, file)
		}
	}
}

func strayRemedy(name string) string {
	ext := strings.ToLower(path.Ext(name))
	switch ext {
	case ".md", ".markdown", ".mdown", ".txt", "":
		base, _, _ := strings.Cut(name, ".")
		return fmt.Sprintf("If it is a record, rename it to %s.md. Where endings are hidden, have them shown first.", base)
	case ".heic", ".heif":
		return "Save it as JPEG and move it to the folder pictures."
	case ".jpg", ".jpeg", ".png", ".svg", ".gif", ".webp":
		return "Move pictures to the folder pictures."
	case ".mp3", ".ogg", ".oga", ".opus", ".wav", ".m4a", ".flac", ".vtt", ".srt":
		return "Move recordings and transcripts to the folder recordings."
	}
	return "The names of records end in .md; move other files elsewhere."
}

// fileKind is a folder of files that are no records, and what people call one.
type fileKind struct{ folder, noun, plural string }

var (
	pictureFiles   = fileKind{PicturesFolder, "picture", "pictures"}
	recordingFiles = fileKind{RecordingsFolder, "recording", "recordings"}
)

// filesBelow lists the files of a kind, in folders of any depth.
func (l *listing) filesBelow(kind fileKind) []string {
	var found []string
	l.filesIn(kind, kind.folder, 1, &found)
	return found
}

func (l *listing) filesIn(kind fileKind, folder string, depth int, found *[]string) {
	for _, e := range l.entriesOf(folder) {
		file := folder + "/" + e.Name()
		if isHidden(e.Name()) {
			continue
		}
		isDir, ok := l.isDir(file, e)
		isLink := e.Type()&fs.ModeSymlink != 0
		switch {
		case !ok:
		case isDir && isLink:
			l.stray(CheckOutsideFolder, file, "a link stands for a folder of "+kind.plural, "Put the folder itself here: links to folders are not followed.")
		case isDir && depth >= MaxDepth:
			l.stray(CheckTooDeep, file, fmt.Sprintf("folders stand more than %d deep in each other", MaxDepth), "Move the "+kind.plural+" up.")
		case isDir:
			l.filesIn(kind, file, depth+1, found)
		case oddName(e.Name()) != "":
			l.stray(CheckOddCharacters, file, fmt.Sprintf("%s stands in the file name %q", oddName(e.Name()), english.Clip(e.Name(), 60)), "Rename the "+kind.noun+" with plain letters, digits and hyphens: until then it is not shown.")
		case !l.isPlain(file, e):
			l.stray(CheckUnreadable, file, "this is not a file", "Delete it, or put a "+kind.noun+" in its place.")
		case len(*found) >= l.most:
			l.stray(CheckTooLarge, file, fmt.Sprintf("the reference has more than %d %s", l.most, kind.plural), "Divide it into several references.")
			return
		default:
			*found = append(*found, strings.TrimPrefix(file, kind.folder+"/"))
		}
	}
}
