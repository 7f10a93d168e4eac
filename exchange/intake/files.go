package intake

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"yearmark/schema/files"
)

// MaxFiles bounds the submissions of one call.
const MaxFiles = 20_000

// Files lists the submissions that a path names: the file itself, or every
// file below a folder whose name ends in .json, in order of name. Hidden files
// and folders are passed over, and links are not followed.
func Files(path string) ([]string, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("there is no file or folder %q", path)
	case err != nil:
		return nil, fmt.Errorf("%q cannot be opened: %w", path, files.WithoutPath(err))
	case !info.IsDir():
		return []string{path}, nil
	}
	var list []string
	err = filepath.WalkDir(path, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return fmt.Errorf("cannot look into %s: %w", name, files.WithoutPath(err))
		case name != path && strings.HasPrefix(e.Name(), "."):
			if e.IsDir() {
				return fs.SkipDir
			}
		case e.Type().IsRegular() && strings.EqualFold(filepath.Ext(name), ".json"):
			if len(list) == MaxFiles {
				return fmt.Errorf("%s holds more than %d submissions; receive them in several folders", path, MaxFiles)
			}
			list = append(list, name)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("no file in %q ends in .json, as submissions do", path)
	}
	return list, nil
}

// ReadFile reads the bytes of a submission, not many more than one may have.
// The error is a Problems where the file is at fault.
func ReadFile(name string) ([]byte, error) {
	data, err := files.Read(name, MaxBytes)
	switch {
	case errors.Is(err, files.ErrIrregular):
		return nil, whole("this is not a file", "Name the file that the visitor sent, or the folder that holds it.")
	case err != nil:
		return nil, whole("the file cannot be read: "+files.WithoutPath(err).Error(), "")
	case len(data) > MaxBytes:
		return nil, whole(fmt.Sprintf("the file has more than %d KB", MaxBytes>>10), "Photographs are sent beside the submission, not within it.")
	}
	return data, nil
}
