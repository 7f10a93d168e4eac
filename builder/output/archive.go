package output

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
)

// Archive packs what Yearmark wrote of a site into one file for upload, a ZIP
// archive; the same site gives the same bytes. What stood at that path is
// replaced once the new file is whole.
func Archive(site, file string) (err error) {
	mark, ok, err := readMark(site)
	if err != nil {
		return err
	}
	if !ok {
		return fmt.Errorf("%s is no site that Yearmark wrote", site)
	}
	part, err := os.CreateTemp(filepath.Dir(file), ".yearmark-*.zip")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", file, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("cannot write %s: %w", file, err), os.Remove(part.Name()))
		}
	}()
	err = errors.Join(pack(part, site, append(slices.Clone(mark.Files), MarkFile)), part.Chmod(0o644), part.Close())
	if err != nil {
		return err
	}
	return os.Rename(part.Name(), file)
}

func pack(to io.Writer, site string, names []string) error {
	slices.Sort(names)
	archive := zip.NewWriter(to)
	for _, name := range names {
		if err := packOne(archive, filepath.Join(site, filepath.FromSlash(name)), name); err != nil {
			return err
		}
	}
	return archive.Close()
}

func packOne(archive *zip.Writer, path, name string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	w, err := archive.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err == nil {
		_, err = io.Copy(w, f)
	}
	return err
}
