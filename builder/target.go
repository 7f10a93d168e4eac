package builder

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"yearmark/schema"
)

// keptFolders are folders of a reference that hold what is never published.
var keptFolders = []string{schema.PicturesFolder, schema.InboxFolder, schema.EditionsFolder, ".yearmark", ".git"}

// amongRecords refuses a site that would lie in a folder of records or
// pictures, where the next reading would take it for some of them, or would
// take the place of the reference. It goes by the folders themselves, however
// they are spelled or linked to.
func amongRecords(folder, to string) error {
	records, err := os.Stat(folder)
	if err != nil {
		return nil // whoever reads says so
	}
	target, err := filepath.Abs(to)
	if err != nil {
		return nil // whoever writes says so
	}
	below := "" // of the reference, once that is found above the target
	for at := resolved(target); ; at = filepath.Dir(at) {
		if info, err := os.Stat(at); err == nil && os.SameFile(info, records) {
			if below == "" || isKept(folder, below) {
				return fmt.Errorf("%s lies among the records; name a folder outside %s", to, folder)
			}
			return nil
		}
		if at == filepath.Dir(at) {
			return nil
		}
		below = filepath.Base(at)
	}
}

// resolved follows the links in as much of a path as is there.
func resolved(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	if path == filepath.Dir(path) {
		return path
	}
	return filepath.Join(resolved(filepath.Dir(path)), filepath.Base(path))
}

// isKept says whether a name in the reference is that of a folder of records or
// of one that is never published, also where case makes no difference.
func isKept(reference, name string) bool {
	names := slices.Clone(keptFolders)
	for _, k := range schema.Kinds {
		names = append(names, k.Folder())
	}
	there, errThere := os.Stat(filepath.Join(reference, name))
	return slices.ContainsFunc(names, func(kept string) bool {
		is, err := os.Stat(filepath.Join(reference, kept))
		return strings.EqualFold(kept, name) || err == nil && errThere == nil && os.SameFile(is, there)
	})
}
