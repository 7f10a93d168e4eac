package desk

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"yearmark/schema"
	"yearmark/testdata/need"
)

// TestEntriesAreToldInWords reads the folded entries of every model of the
// demonstration: orders and pointers name claims by what they say, conditions
// draw numbers as they are stamped, and nothing names a record by its file.
func TestEntriesAreToldInWords(t *testing.T) {
	folder := filepath.Join(need.Root(t), "content")
	ref, problems, err := schema.Read(folder)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	identifier := regexp.MustCompile(`(^| )[a-z0-9]+(-[a-z0-9]+)+( |$)`)
	told := 0
	for _, m := range ref.Models.All() {
		of := describe(schema.KindModel)
		source, err := os.ReadFile(filepath.Join(folder, "models", m.ID+".md"))
		if err != nil {
			t.Fatal(err)
		}
		v, err := fileValues(m.ID, source, of)
		if err != nil {
			t.Fatal(err)
		}
		form := former{ref: ref, of: m, values: v, outline: v.outline()}
		for _, f := range of.Fields {
			for _, i := range form.items(f.Name) {
				told++
				words := form.summary(join(f.Name, strconv.Itoa(i)), f)
				first, _, _ := strings.Cut(words, " · ")
				if f.Name == "related" && !strings.Contains(first, " ") {
					t.Errorf("%s: how it is related is not told: %q", m.ID, words)
				}
				if f.Name != "withdrawn" && identifier.MatchString(first) || strings.ContainsAny(first, "^\\") {
					t.Errorf("%s, %s %d is told as %q", m.ID, f.Name, i, words)
				}
			}
		}
	}
	if told < 100 {
		t.Errorf("%d entries were told", told)
	}
	pattern := former{ref: ref, values: values{"features/0/feature": "serial-number", "features/0/value": "^6[4-7]-[0-9]{3}$", "features/0/when": "serial-number: ^H-?[0-9]{2}$"}}
	f, _ := ref.Features.Get("serial-number")
	if got, want := pattern.summary("features/0", schema.Field{Name: "features"}), f.Title()+": 6[4–7]-### · only where "+schema.Lowered(f.Title())+": H-##"; got != want {
		t.Errorf("a pattern is told as %q, want %q", got, want)
	}
}
