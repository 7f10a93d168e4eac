package schema

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"yearmark/schema/english"
	"yearmark/schema/files"
	"yearmark/schema/parallel"
)

// MaxFiles bounds the files of one reference, records and pictures each.
const MaxFiles = 200_000

// PicturesFolder holds a reference's pictures, in folders of any depth.
const PicturesFolder = "pictures"

// RecordingsFolder holds a reference's recordings and their transcripts.
const RecordingsFolder = "recordings"

// EditionsFolder holds what earlier editions are compared by; InboxFolder what
// visitors sent. Neither is read as records or published.
const (
	EditionsFolder = "editions"
	InboxFolder    = "inbox"
)

// Read reads the reference in a folder. It gives whatever could be read and
// every problem found, sorted. The error is for a folder that cannot be read
// at all: it is missing, is no folder, is empty or has no reference.yaml; it
// says so in a sentence, with the remedy. Symbolic links that lead out of the
// folder are problems and are not followed.
func Read(folder string) (*Reference, Problems, error) {
	return ReadContext(context.Background(), folder)
}

// ReadContext is Read that fails once ctx ends.
func ReadContext(ctx context.Context, folder string) (*Reference, Problems, error) {
	info, err := os.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil, fmt.Errorf("there is no folder %q: name the folder that holds reference.yaml, or make one with \"yearmark begin %s\"", folder, folder)
	case err != nil:
		return nil, nil, fmt.Errorf("the folder %q cannot be opened: %w", folder, files.WithoutPath(err))
	case !info.IsDir():
		return nil, nil, fmt.Errorf("%q is a file, not a folder: name the folder that holds reference.yaml", folder)
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, nil, fmt.Errorf("the folder %q cannot be opened: %w", folder, files.WithoutPath(err))
	}
	defer root.Close()
	return readFS(ctx, files.In(root), folder)
}

// Files is the file system of a reference's folder, looked up anew at each call.
// It opens files only, no pipes nor devices, and no links that lead out of it.
func Files(folder string) fs.FS { return files.Below(folder) }

// ReadFS reads the reference at the top of a file system, as Read does; name
// is what it is called in messages. Whether links may lead out of it is for
// the file system to decide.
func ReadFS(fsys fs.FS, name string) (*Reference, Problems, error) {
	return readFS(context.Background(), fsys, name)
}

func readFS(ctx context.Context, fsys fs.FS, name string) (*Reference, Problems, error) {
	l := &listing{fsys: fsys, most: MaxFiles}
	if err := l.list(name); err != nil {
		return nil, nil, err
	}
	settingsSource, err := l.settings(name)
	if err != nil {
		return nil, nil, err
	}
	settings, problems := ReadSettings(settingsSource)
	records, more, err := readAll(ctx, fsys, l.records)
	if err != nil {
		return nil, nil, err
	}
	problems = append(append(problems, l.problems...), more...)
	ref, linked := Assemble(name, settings, records, l.media)
	ref.adviseCitations(problems)
	return ref, append(problems, linked...).sorted(), nil
}

// settings reads reference.yaml.
func (l *listing) settings(name string) ([]byte, error) {
	source, problem := readFile(l.fsys, SettingsFile)
	if problem != nil {
		return nil, fmt.Errorf("%s in %q cannot be read: %s; %s", SettingsFile, name, problem.Message, problem.Help)
	}
	return source, nil
}

// readAll reads record files, several at once; the result does not depend on how
// many. The error is ctx's.
func readAll(ctx context.Context, fsys fs.FS, names []string) ([]Record, Problems, error) {
	read := make([]Record, len(names))
	reported := make([]Problems, len(names))
	err := parallel.Each(ctx, len(names), func(i int) error {
		read[i], reported[i] = readOne(fsys, names[i])
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	var records []Record
	var problems Problems
	for i, r := range read {
		if r != nil {
			records = append(records, r)
		}
		problems = append(problems, reported[i]...)
	}
	return records, problems, nil
}

func readOne(fsys fs.FS, file string) (Record, Problems) {
	source, problem := readFile(fsys, file)
	if problem != nil {
		return nil, Problems{*problem}
	}
	return readWith(fsys, file, source)
}

// readWith reads a record and the transcript that it names.
func readWith(fsys fs.FS, file string, source []byte) (Record, Problems) {
	r, problems := ReadRecord(file, source)
	if s, ok := r.(*Source); ok {
		problems = append(problems, s.transcribe(fsys)...)
	}
	return r, problems
}

// readFile reads a file of at most MaxRecordBytes.
func readFile(fsys fs.FS, file string) ([]byte, *Problem) {
	f, err := fsys.Open(file)
	if err != nil {
		return nil, cannotOpen(fsys, file, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = files.ErrIrregular
	}
	if err != nil {
		return nil, cannotOpen(fsys, file, err)
	}
	size := info.Size()
	var source []byte
	if size <= MaxRecordBytes {
		if source, err = readBounded(f, size); err != nil {
			return nil, cannotOpen(fsys, file, err)
		}
		size = int64(len(source))
	}
	if size > MaxRecordBytes {
		d := &decoder{file: file}
		d.tooLarge(size)
		return nil, &d.problems[0]
	}
	return source, nil
}

// readBounded reads a file of about that size, and not much beyond MaxRecordBytes.
func readBounded(f io.Reader, size int64) ([]byte, error) {
	buffer := make([]byte, 0, size+1)
	for len(buffer) <= MaxRecordBytes {
		if len(buffer) == cap(buffer) {
			buffer = append(buffer, 0)[:len(buffer)]
		}
		n, err := f.Read(buffer[len(buffer):cap(buffer)])
		buffer = buffer[:len(buffer)+n]
		if err == io.EOF {
			return buffer, nil
		}
		if err != nil {
			return nil, err
		}
	}
	return buffer, nil
}

// cannotOpen tells why a file or folder stayed shut.
func cannotOpen(fsys fs.FS, file string, err error) *Problem {
	p := &Problem{Check: CheckUnreadable, Pos: At(file, 0, 0)}
	isLink := false
	if info, e := fs.Lstat(fsys, file); e == nil {
		isLink = info.Mode()&fs.ModeSymlink != 0
	}
	switch {
	case errors.Is(err, files.ErrIrregular):
		p.Message, p.Help = "this is not a file", "Delete it, or put a text file in its place."
	case isLink && errors.Is(err, fs.ErrNotExist):
		p.Message, p.Help = "the link leads to nothing", "Put the file itself here in place of the link."
	case isLink && !errors.Is(err, fs.ErrPermission):
		p.Check, p.Message, p.Help = CheckOutsideFolder, "the link leads out of the reference's folder", "Put the file itself here in place of the link."
	case errors.Is(err, fs.ErrPermission):
		p.Message, p.Help = "the file may not be opened", "Give yourself the right to read it."
	default:
		p.Message, p.Help = "the file cannot be opened: "+files.WithoutPath(err).Error(), "Check the file and the disk."
	}
	return p
}

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
