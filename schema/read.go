package schema

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

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
