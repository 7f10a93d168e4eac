package schema

import (
	"bytes"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"yearmark/schema/files"
	"yearmark/schema/parallel"
)

// Folder is a reference's folder that is read again and again while people
// write in it. It keeps what it read, and reads again only files that changed:
// an unchanged record is the very same Record from one Reference to the next.
// What it gives is what Read would. It is not safe for concurrent use, but the
// references that it gave may be used, from several goroutines, while it reads.
type Folder struct {
	path     string
	listing  *listing
	settings *keptFile
	of       Settings
	records  map[string]*keptFile // by file
	ref      *Reference
	linked   bool     // the last records were tied without a problem
	strays   Problems // of the listing that the last reference was made from
	problems Problems
	behind   bool // reading failed, so that what is kept may miss a change
}

// keptFile is a file as it was last read.
type keptFile struct {
	source   []byte
	info     fs.FileInfo // names the file itself: a backup may have its size and time
	size     int64
	changed  time.Time
	settled  bool // it was old enough when it was read that a later change shows in its time
	record   Record
	problems Problems

	transcript *keptFile // that the record names
	name       string    // of a transcript: its path below the reference's folder
}

// hasTranscript says that the transcript that the record names still says what
// it did, and notes when it was looked at.
func (k *keptFile) hasTranscript(fsys fs.FS) bool {
	if k.transcript == nil {
		return true
	}
	now := transcriptOf(fsys, k.record)
	if now == nil || !bytes.Equal(now.source, k.transcript.source) {
		return false
	}
	k.transcript = now
	return true
}

// unsettled is how young a file may be for a change to escape its time of
// change, which some systems count in steps of two seconds.
const unsettled = 2 * time.Second

// NewFolder prepares to read the reference in a folder.
func NewFolder(folder string) *Folder {
	return &Folder{path: folder, records: map[string]*keptFile{}}
}

// Read looks at every file and reads again those whose size or time of change
// is another. It fails as Read does, and keeps what it has.
func (f *Folder) Read() (*Reference, Problems, error) {
	return f.again(func(root fs.FS) (map[string]*keptFile, error) {
		l := &listing{fsys: root, most: MaxFiles}
		if err := l.list(f.path); err != nil {
			return nil, err
		}
		f.listing = l
		return f.look(root), nil
	})
}

// Renew reads again the files named, relative to the folder and with forward
// slashes, and trusts that nothing else changed. Where a name is not a plain
// record's it looks at every file, as Read does.
func (f *Folder) Renew(files []string) (*Reference, Problems, error) {
	if f.ref == nil || f.behind || len(f.listing.records) >= f.listing.most || !f.relist(files) {
		return f.Read()
	}
	return f.again(func(fsys fs.FS) (map[string]*keptFile, error) {
		records := maps.Clone(f.records)
		for _, file := range files {
			delete(records, file)
			if _, listed := f.listing.find(file); listed {
				records[file] = reread(fsys, file, f.records[file])
			}
		}
		return records, nil
	})
}

// knows says that a file or folder has a part in what was listed, or was told
// of as a stray.
func (f *Folder) knows(file string) bool {
	below := func(listed string) bool { return listed == file || strings.HasPrefix(listed, file+"/") }
	media := f.listing.media
	return placeOfFolder(file) != "" || file == PicturesFolder || file == RecordingsFolder ||
		slices.ContainsFunc(media.Pictures, func(name string) bool { return below(PicturesFolder + "/" + name) }) ||
		slices.ContainsFunc(media.Recordings, func(name string) bool { return below(RecordingsFolder + "/" + name) }) ||
		slices.ContainsFunc(f.listing.problems, func(p Problem) bool { return below(p.Pos.File()) })
}

// refused says that the listing holds a problem of just this file, as where a
// link stood in a record's place.
func (f *Folder) refused(file string) bool {
	return slices.ContainsFunc(f.listing.problems, func(p Problem) bool { return p.Pos.File() == file })
}

func isRecordFile(file string) bool {
	_, _, ok := RecordAt(file)
	return ok && !isHidden(path.Base(file))
}

// find gives the place of a file in the list of records, or where it would stand.
func (l *listing) find(file string) (int, bool) {
	return slices.BinarySearchFunc(l.records, file, compareFiles)
}

// compareFiles orders files as a listing does: by folder, then by name.
func compareFiles(a, b string) int {
	folderA, nameA := path.Split(a)
	folderB, nameB := path.Split(b)
	if folderA != folderB {
		return strings.Compare(folderA, folderB)
	}
	return strings.Compare(nameA, nameB)
}

// relist enters new files in the list of records and takes out those that are
// gone. It gives up where one of them is anything but a plain record; a passing
// file of an editor's that is gone again is nothing.
func (f *Folder) relist(files []string) bool {
	for _, file := range files {
		info, err := os.Lstat(filepath.Join(f.path, filepath.FromSlash(file)))
		at, listed := f.listing.find(file)
		switch {
		case file == SettingsFile:
		case f.refused(file):
			return false
		case !isRecordFile(file):
			if err == nil || f.knows(file) {
				return false
			}
		case err == nil && !info.Mode().IsRegular():
			return false
		case err == nil && !listed:
			f.listing.records = slices.Insert(slices.Clone(f.listing.records), at, file)
		case err != nil && listed:
			f.listing.records = slices.Delete(slices.Clone(f.listing.records), at, at+1)
		}
	}
	return true
}

// again assembles the reference from the settings and the records that read gives.
func (f *Folder) again(read func(fs.FS) (map[string]*keptFile, error)) (*Reference, Problems, error) {
	if f.ref == nil {
		if _, err := os.Stat(f.path); err != nil {
			return Read(f.path) // which says it in a sentence
		}
	}
	root, err := os.OpenRoot(f.path)
	if err != nil {
		return Read(f.path)
	}
	defer root.Close()
	f.behind = true
	fsys := files.In(root)
	records, err := read(fsys)
	if err != nil {
		return nil, nil, err
	}
	if err := f.readSettings(fsys); err != nil {
		return nil, nil, err
	}
	f.behind = false
	if f.ref != nil && f.sameAs(records) {
		return f.ref, slices.Clone(f.problems), nil
	}
	return f.assemble(records)
}

// readSettings reads reference.yaml, and keeps the settings where it is the same.
func (f *Folder) readSettings(fsys fs.FS) error {
	l := &listing{fsys: fsys}
	source, err := l.settings(f.path)
	if err != nil {
		return err
	}
	if f.settings == nil || !bytes.Equal(f.settings.source, source) {
		f.settings = &keptFile{source: source}
		f.of, f.settings.problems = ReadSettings(source)
	}
	return nil
}

// look gives every record listed, those anew that changed.
func (f *Folder) look(fsys fs.FS) map[string]*keptFile {
	names := f.listing.records
	kept := make([]*keptFile, len(names))
	parallel.For(len(names), func(i int) {
		old := f.records[names[i]]
		if kept[i] = old; old == nil || !old.isStill(f.path, names[i]) {
			kept[i] = reread(fsys, names[i], old)
		}
	})
	records := make(map[string]*keptFile, len(names))
	for i, k := range kept {
		records[names[i]] = k
	}
	return records
}

// isStill says that a plain file is the one kept, and its size and time of
// change are.
func (k *keptFile) isStill(folder, file string) bool {
	if k.transcript != nil && !k.transcript.isStill(folder, k.transcript.name) {
		return false
	}
	info, err := os.Lstat(filepath.Join(folder, filepath.FromSlash(file)))
	return k.settled && err == nil && info.Mode().IsRegular() && os.SameFile(info, k.info) && info.Size() == k.size && info.ModTime().Equal(k.changed)
}

// reread reads a record's file; where its bytes are the same the old one stays.
func reread(fsys fs.FS, file string, old *keptFile) *keptFile {
	k := &keptFile{}
	if info, err := fs.Stat(fsys, file); err == nil {
		k.info, k.size, k.changed = info, info.Size(), info.ModTime()
		k.settled = time.Since(k.changed) > unsettled
	}
	source, problem := readFile(fsys, file)
	switch {
	case problem != nil:
		k.problems, k.settled = Problems{*problem}, false
	case old != nil && old.source != nil && bytes.Equal(old.source, source) && old.hasTranscript(fsys):
		old.info, old.size, old.changed, old.settled = k.info, k.size, k.changed, k.settled
		return old
	default:
		k.source = source
		k.record, k.problems = readWith(fsys, file, source)
		k.transcript = transcriptOf(fsys, k.record)
	}
	return k
}

// transcriptOf is the file of the transcript that a record names, as it is now; nil of
// one that names none.
func transcriptOf(fsys fs.FS, r Record) *keptFile {
	s, ok := r.(*Source)
	if !ok || s.Transcript.Value == "" {
		return nil
	}
	k := &keptFile{name: RecordingsFolder + "/" + s.Transcript.Value}
	if info, err := fs.Stat(fsys, k.name); err == nil {
		k.info, k.size, k.changed = info, info.Size(), info.ModTime()
		k.settled = time.Since(k.changed) > unsettled
	}
	k.source, _ = readFile(fsys, k.name)
	return k
}

// sameAs says that nothing differs from what the last reference was made from.
func (f *Folder) sameAs(records map[string]*keptFile) bool {
	if !bytes.Equal(f.ref.Settings.Source, f.of.Source) || !slices.Equal(f.ref.Pictures, f.listing.media.Pictures) || !slices.Equal(f.ref.Recordings, f.listing.media.Recordings) {
		return false
	}
	return slices.EqualFunc(f.strays, f.listing.problems, sameProblem) && maps.Equal(records, f.records)
}

func sameProblem(a, b Problem) bool { return a.compare(b) == 0 }
