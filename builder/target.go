package builder

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"yearmark/schema"
)

// amongRecords refuses a site that would lie in a folder of records or
// pictures, where the next reading would take it for some of them.
func amongRecords(folder, to string) error {
	records, err := filepath.Abs(folder)
	if err != nil {
		return nil // whoever writes says so
	}
	target, err := filepath.Abs(to)
	if err != nil {
		return nil
	}
	below, err := filepath.Rel(records, target)
	if err != nil || !filepath.IsLocal(below) {
		return nil
	}
	first, _, _ := strings.Cut(filepath.ToSlash(below), "/")
	if first != schema.PicturesFolder && !slices.ContainsFunc(schema.Kinds, func(k schema.Kind) bool { return k.Folder() == first }) {
		return nil
	}
	return fmt.Errorf("%s lies among the records; name a folder outside %s", to, folder)
}
