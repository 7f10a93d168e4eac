package editing

import (
	"io/fs"
	"strings"
	"testing"

	"yearmark/schema"
)

// What a remedy makes of slips of every kind is in testdata/remedies, which the
// tests of package checks read; here is what it refuses.
func TestMendRefuses(t *testing.T) {
	files := map[string]string{"models/p.md": model, "models/q.md": "no record"}
	read := func(file string) ([]byte, error) {
		if text, ok := files[file]; ok {
			return []byte(text), nil
		}
		return nil, fs.ErrNotExist
	}
	for _, c := range []struct {
		edit schema.Edit
		want string
	}{
		{schema.Edit{Pos: schema.At("models/p.md", 4, 7), Old: "Dunlin", New: "Plover"}, `models/p.md no longer says "Dunlin" in line 4`},
		{schema.Edit{Pos: schema.At("models/p.md", 0, 0), To: "models/q.md"}, "there is a file models/q.md already"},
		{schema.Edit{Pos: schema.At("models/gone.md", 4, 7), New: "x"}, "file does not exist"},
		{schema.Edit{Pos: schema.At("models/q.md", 1, 1), New: "x"}, "q.md"},
		{schema.Edit{Pos: schema.At("models/p.md", 4, 7), Keys: []string{"nothing"}}, "there is no such value"},
	} {
		if got, err := Mend(schema.Remedy{Edits: []schema.Edit{c.edit}}, "", read); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, %v; want %q", c.edit, got, err, c.want)
		}
	}
}
