package builder

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"yearmark/schema"
)

// maxEdition bounds a remembered edition, in bytes.
const maxEdition = 1 << 30

// pictureNames is a file of a remembered edition that lists the pictures there
// were. It is hidden, so that it is no part of the reference.
const pictureNames = ".pictures"

// Remember keeps what this edition is compared with later, in the folder
// editions beside the records: their files without what is private, packed. An
// edition that is the last one already is not kept again. It gives the path
// below the reference's folder, or an empty one where nothing was written.
func (s *Study) Remember() (string, error) {
	root, err := os.OpenRoot(s.Ref.Folder)
	if err != nil {
		return "", err
	}
	defer root.Close()
	list := remembered(root.FS())
	if len(list) > 0 && hashOf(list[len(list)-1]) == s.Edition.Hash {
		return "", nil
	}
	packed, err := s.pack()
	if err != nil {
		return "", err
	}
	if err := root.Mkdir(schema.EditionsFolder, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return "", err
	}
	date := s.Edition.Date
	if date != "" {
		date += "-"
	}
	name := fmt.Sprintf("%s/%04d-%s%s.zip", schema.EditionsFolder, 1+lastNumber(list), date, s.Edition.Hash)
	unfinished := name + ".part"
	if err := errors.Join(root.WriteFile(unfinished, packed, 0o644), root.Rename(unfinished, name)); err != nil {
		return "", errors.Join(err, root.Remove(unfinished))
	}
	return name, nil
}

// pack makes the archive: the same records give the same bytes.
func (s *Study) pack() ([]byte, error) {
	var packed bytes.Buffer
	archive := zip.NewWriter(&packed)
	add := func(name string, data []byte) error {
		w, err := archive.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err == nil {
			_, err = w.Write(data)
		}
		return err
	}
	err := add(pictureNames, []byte(strings.Join(s.Ref.Pictures, "\n")))
	err = errors.Join(err, add(schema.SettingsFile, schema.MaskPrivate(schema.SettingsFile, s.Ref.Settings.Source)))
	for _, r := range s.Ref.Records() {
		err = errors.Join(err, add(r.Header().File, r.Header().PublicSource()))
	}
	for _, source := range s.Ref.Sources.All() {
		if name := source.Transcript.Value; name != "" && source.MayShow() != schema.ShowsNone {
			if data, e := fs.ReadFile(s.files, schema.RecordingsFolder+"/"+name); e == nil && len(data) <= schema.MaxRecordBytes {
				err = errors.Join(err, add(schema.RecordingsFolder+"/"+name, data))
			}
		}
	}
	err = errors.Join(err, archive.Close())
	return packed.Bytes(), err
}

// Previous opens the last remembered edition that is not this one. There is
// none where the study is nil.
func (s *Study) Previous(ctx context.Context) (*Study, error) {
	list := remembered(s.files)
	for len(list) > 0 && hashOf(list[len(list)-1]) == s.Edition.Hash {
		list = list[:len(list)-1]
	}
	if len(list) == 0 {
		return nil, nil
	}
	name := schema.EditionsFolder + "/" + list[len(list)-1]
	earlier, err := s.openRemembered(ctx, name)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read as a remembered edition: %w; delete it, and an earlier one is taken", name, err)
	}
	return earlier, nil
}

func (s *Study) openRemembered(ctx context.Context, name string) (*Study, error) {
	f, err := s.files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxEdition))
	if err != nil {
		return nil, err
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	unpacked := uint64(0)
	for _, f := range archive.File {
		unpacked += f.UncompressedSize64
		if f.UncompressedSize64 > schema.MaxRecordBytes || unpacked > maxEdition {
			return nil, fmt.Errorf("%s in it is larger than any record", f.Name)
		}
	}
	study, err := OpenFS(ctx, withPictures{archive, s.files}, s.Ref.Folder)
	if err != nil {
		return nil, err
	}
	if names, err := fs.ReadFile(archive, pictureNames); err == nil { // older ones have none
		study.Ref.Pictures = strings.Split(string(names), "\n")
	}
	study.Edition.Hash = hashOf(name) // its pictures are not remembered, of which it is a sum too
	return study, nil
}

// remembered lists the remembered editions, the oldest first.
func remembered(folder fs.FS) []string {
	entries, err := fs.ReadDir(folder, schema.EditionsFolder)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if e.Type().IsRegular() && strings.HasSuffix(e.Name(), ".zip") && number(e.Name()) > 0 {
			names = append(names, e.Name())
		}
	}
	slices.SortFunc(names, func(a, b string) int { return number(a) - number(b) })
	return names
}

// number is that with which the name of a remembered edition begins, or 0.
func number(name string) (n int) {
	_, _ = fmt.Sscanf(name, "%d-", &n)
	return n
}

func lastNumber(list []string) int {
	if len(list) == 0 {
		return 0
	}
	return number(list[len(list)-1])
}

// hashOf is the content hash in the name of a remembered edition.
func hashOf(name string) string {
	name = strings.TrimSuffix(name, ".zip")
	return name[strings.LastIndex(name, "-")+1:]
}

// withPictures is a remembered edition with the pictures as they are now: they
// are not remembered, and comparing needs none.
type withPictures struct{ records, now fs.FS }

func (w withPictures) Open(name string) (fs.File, error) {
	if name == schema.PicturesFolder || strings.HasPrefix(name, schema.PicturesFolder+"/") {
		return w.now.Open(name)
	}
	return w.records.Open(name)
}

// ReadDir lists the pictures beside the records.
func (w withPictures) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == schema.PicturesFolder || strings.HasPrefix(name, schema.PicturesFolder+"/") {
		return fs.ReadDir(w.now, name)
	}
	list, err := fs.ReadDir(w.records, name)
	if info, e := fs.Stat(w.now, schema.PicturesFolder); name == "." && err == nil && e == nil && info.IsDir() {
		list = append(list, fs.FileInfoToDirEntry(info))
	}
	return list, err
}
