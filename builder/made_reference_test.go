package builder_test

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"yearmark/builder"
	"yearmark/checks"
	"yearmark/testdata/made"
)

func TestTheReferenceIsOfTheSizeAskedForAndHasNoErrors(t *testing.T) {
	for _, pages := range []int{made.Least, 100, 777} {
		for seed := range uint64(2) {
			study, err := builder.OpenFS(t.Context(), made.FS(made.Options{Pages: pages, Seed: seed}), "made")
			if err != nil {
				t.Fatal(err)
			}
			if got := len(study.Ref.Records()); got != pages {
				t.Errorf("%d records made, %d asked for", got, pages)
			}
			for _, f := range report(t, study).Findings {
				if f.Level == checks.Error {
					t.Errorf("seed %d, %d pages: %s: %s (%s)", seed, pages, f.Pos, f.Message, f.Check)
				}
			}
		}
	}
}

func TestTheReferenceIsLikeARealOne(t *testing.T) {
	study, err := builder.OpenFS(t.Context(), made.FS(made.Options{Pages: 1000, Seed: 1}), "made")
	if err != nil {
		t.Fatal(err)
	}
	ref := study.Ref
	models, claims, disputed, attested, documented, relying := 0, 0, 0, 0, 0, 0
	for _, m := range ref.Models.All() {
		models++
		for _, c := range m.Claims() {
			claims++
			disputed += min(len(c.Against), 1)
			attested += min(len(c.Attested), 1)
		}
	}
	for _, e := range ref.Examples.All() {
		if e.Documented != nil {
			documented++
		}
	}
	for _, s := range ref.Sources.All() {
		relying += min(len(s.ReliesOn), 1)
	}
	for what, count := range map[string]int{"models": models, "disputed claims": disputed, "attested claims": attested, "documented examples": documented, "sources that rely on others": relying} {
		if count < 20 {
			t.Errorf("only %d %s in 1,000 records", count, what)
		}
	}
	if per := float64(claims) / float64(models); per < 12 || per > 16 {
		t.Errorf("%.1f claims a model", per)
	}
	words := map[string]bool{}
	for _, r := range ref.Records() {
		for w := range strings.FieldsSeq(r.Header().Body.Text) {
			words[w] = true
		}
	}
	if len(words) < 3000 {
		t.Errorf("only %d different words in the prose", len(words))
	}
	if findings := len(report(t, study).Findings); findings == 0 {
		t.Error("a register of a thousand records has something to ask about")
	}
}

// sums gives a checksum of every file.
func sums(t *testing.T, files fs.FS) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := fs.WalkDir(files, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, path)
		all[path] = fmt.Sprintf("%x", sha256.Sum256(data))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestTheSameOptionsGiveTheSameBytes(t *testing.T) {
	options := made.Options{Pages: 300, Seed: 7}
	folder := t.TempDir()
	if err := made.Write(folder, options); err != nil {
		t.Fatal(err)
	}
	want := sums(t, made.FS(options))
	if got := sums(t, os.DirFS(folder)); !maps.Equal(got, want) {
		t.Error("the folder and the file system differ")
	}
	other := sums(t, made.FS(made.Options{Pages: 300, Seed: 8}))
	if slices.Equal(slices.Sorted(maps.Values(other)), slices.Sorted(maps.Values(want))) {
		t.Error("the seed changes nothing")
	}
}

func TestALargerReferenceBeginsAsASmallerOne(t *testing.T) {
	small, large := sums(t, made.FS(made.Options{Pages: 200, Seed: 3})), sums(t, made.FS(made.Options{Pages: 400, Seed: 3}))
	same := 0
	for file, sum := range small {
		if large[file] == sum {
			same++
		}
	}
	if same < 150 {
		t.Errorf("%d of %d files are the same", same, len(small))
	}
}

func TestTheFirstErrorEndsTheMaking(t *testing.T) {
	puts := 0
	err := made.Each(made.Options{Pages: 1000}, func(string, []byte) error {
		puts++
		return os.ErrClosed
	})
	if err != os.ErrClosed || puts != 1 {
		t.Errorf("%v after %d files", err, puts)
	}
}

// report checks a study and fails where that cannot be done.
func report(t *testing.T, s *builder.Study) checks.Report {
	t.Helper()
	r, err := s.Report(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return r
}
