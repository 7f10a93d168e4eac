package builder_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/builder"
	"yearmark/exchange/journal"
	"yearmark/exchange/rename"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// TestARenamedRecordIsTheSame: of a model and a source that got other names
// nothing is told but that; no claim, date, finding or address of theirs counts
// as gone or new.
func TestARenamedRecordIsTheSame(t *testing.T) {
	files := os.DirFS(filepath.Join(need.Root(t), "content"))
	before, err := builder.OpenFS(t.Context(), files, "before")
	if err != nil {
		t.Fatal(err)
	}
	now := before
	for _, to := range []struct {
		kind     schema.Kind
		old, new string
	}{{schema.KindModel, "gimmer", "gimmer-lad"}, {schema.KindSource, "stang-day-book", "brathe-day-book"}, {schema.KindModel, "gimmer-lad", "gimmer-lass"}} {
		changes, err := rename.Prepare(now.Ref, now.Files(), to.kind, to.old, to.new)
		if err != nil {
			t.Fatal(err)
		}
		if now, err = builder.OpenFS(t.Context(), journal.Over(now.Files(), changes), "now"); err != nil {
			t.Fatal(err)
		}
	}
	moved, err := builder.Compare(t.Context(), before, "before", now, "now")
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	for _, e := range moved.Entries() {
		told = append(told, e.Title+": "+e.Words)
	}
	if len(told) != 2 || !strings.Contains(told[0], "called brathe-day-book now, was stang-day-book; the old address leads on") ||
		!strings.Contains(told[1], "Gimmer: called gimmer-lass now, was gimmer; the old address leads on") {
		t.Errorf("it is told:\n%s", strings.Join(told, "\n"))
	}
}
