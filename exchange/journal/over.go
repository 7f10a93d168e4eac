package journal

import (
	"bytes"
	"cmp"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"
)

// Over gives a reference's folder as it would be with changes, new files and
// without those that go, so that it can be checked before anything is written.
func Over(folder fs.FS, changes []Change) fs.FS {
	o := &overlay{FS: folder, after: map[string][]byte{}}
	for _, c := range changes {
		o.after[c.File] = c.After
	}
	return o
}

// overlay is a folder with some of its files exchanged and others added.
type overlay struct {
	fs.FS
	after map[string][]byte
}

// Open opens a file as it would be.
func (o *overlay) Open(name string) (fs.File, error) {
	if data, ok := o.after[name]; ok {
		if data == nil {
			return nil, gone("open", name)
		}
		return &afterFile{Reader: bytes.NewReader(data), info: afterInfo{path.Base(name), int64(len(data))}}, nil
	}
	return o.FS.Open(name)
}

// Stat describes a file as it would be.
func (o *overlay) Stat(name string) (fs.FileInfo, error) {
	if data, ok := o.after[name]; ok {
		if data == nil {
			return nil, gone("stat", name)
		}
		return afterInfo{path.Base(name), int64(len(data))}, nil
	}
	return fs.Stat(o.FS, name)
}

func gone(do, name string) error {
	return &fs.PathError{Op: do, Path: name, Err: fs.ErrNotExist}
}

// ReadDir lists a folder with the files that would be new. Folders that would
// be new themselves are listed too.
func (o *overlay) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(o.FS, name)
	there := map[string]bool{}
	for _, e := range list {
		there[e.Name()] = true
	}
	list = slices.DeleteFunc(list, func(e fs.DirEntry) bool {
		data, changed := o.after[path.Join(name, e.Name())]
		return changed && data == nil
	})
	added := false
	for file, data := range o.after {
		below, within := strings.CutPrefix(file, name+"/")
		if name == "." {
			below, within = file, true
		}
		first, _, nested := strings.Cut(below, "/")
		switch {
		case data == nil || !within || there[first]:
			continue
		case nested:
			list = append(list, newFolder(first))
		default:
			list = append(list, fs.FileInfoToDirEntry(afterInfo{first, int64(len(data))}))
		}
		there[first], added = true, true
	}
	if added {
		err = nil
	}
	slices.SortFunc(list, func(a, b fs.DirEntry) int { return cmp.Compare(a.Name(), b.Name()) })
	return list, err
}

type afterFile struct {
	*bytes.Reader
	info afterInfo
}

func (f *afterFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *afterFile) Close() error               { return nil }

type afterInfo struct {
	name string
	size int64
}

func (i afterInfo) Name() string       { return i.name }
func (i afterInfo) Size() int64        { return i.size }
func (i afterInfo) Mode() fs.FileMode  { return 0o644 }
func (i afterInfo) ModTime() time.Time { return time.Time{} }
func (i afterInfo) IsDir() bool        { return false }
func (i afterInfo) Sys() any           { return nil }

// newFolder is a folder that is not there yet.
type newFolder string

func (n newFolder) Name() string               { return string(n) }
func (n newFolder) IsDir() bool                { return true }
func (n newFolder) Type() fs.FileMode          { return fs.ModeDir }
func (n newFolder) Info() (fs.FileInfo, error) { return nil, fs.ErrNotExist }
