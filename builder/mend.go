package builder

import (
	"io/fs"

	"yearmark/checks"
	"yearmark/exchange/editing"
	"yearmark/schema"
)

// Mend gives what a remedy that asks nothing makes of the records' files. None
// is written.
func (s *Study) Mend(r schema.Remedy) ([]checks.Rewritten, error) {
	list, err := editing.Mend(r, "", func(file string) ([]byte, error) { return fs.ReadFile(s.files, file) })
	all := make([]checks.Rewritten, len(list))
	for i, m := range list {
		all[i] = checks.Rewritten(m)
	}
	return all, err
}
