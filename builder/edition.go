package builder

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"

	"yearmark/schema"
)

// Edition names one published state of a reference.
type Edition struct {
	Date string // as the reference gives it, or the newest date in its records
	Hash string // the first twelve hexadecimal digits of its content's SHA-256
}

// String gives the edition as it stands on pages and sheets.
func (e Edition) String() string {
	if e.Date == "" {
		return e.Hash
	}
	return e.Date + " " + e.Hash
}

// editionOf sums up every record and picture by path and content, so that the
// same records are the same edition on any machine and on any day. What is
// private is left out, or a short secret could be guessed from the sum.
func editionOf(ref *schema.Reference, files fs.FS) Edition {
	h := sha256.New()
	add := func(name string, data []byte) {
		fmt.Fprintf(h, "%s %d\n", name, len(data))
		_, _ = h.Write(data)
	}
	add("reference.yaml", ref.Settings.Source)
	for _, r := range ref.Records() {
		add(r.Header().File, published(r))
	}
	for _, name := range ref.Pictures {
		addPicture(h, files, name)
	}
	return Edition{Date: editionDate(ref), Hash: hex.EncodeToString(h.Sum(nil))[:12]}
}

// published gives a record's file without what is private. A file that cannot
// be taken apart is an error to the checks, and never published.
func published(r schema.Record) []byte {
	source, err := schema.MaskPrivate(r.Header().File, r.Header().Source)
	if err != nil {
		return nil
	}
	return source
}

func addPicture(h io.Writer, files fs.FS, name string) {
	f, err := files.Open("pictures/" + name)
	if err != nil {
		return
	}
	defer f.Close()
	fmt.Fprintf(h, "pictures/%s\n", name)
	_, _ = io.Copy(h, f)
}

// editionDate is the reference's own date, or the newest day that its records
// name: a bow seen, a dispute settled, a page copied.
func editionDate(ref *schema.Reference) string {
	if !ref.Settings.Edition.IsZero() {
		return ref.Settings.Edition.String()
	}
	newest := ""
	note := func(day schema.Span) {
		if text := day.String(); len(text) == len("2026-01-31") && text > newest {
			newest = text
		}
	}
	for _, e := range ref.Examples.All() {
		if !e.Unreviewed() {
			note(e.Seen)
		}
	}
	for _, s := range ref.Sources.All() {
		if s.Copied != nil {
			note(s.Copied.On)
		}
	}
	for _, m := range ref.Models.All() {
		for _, c := range m.Claims() {
			if c.Settled != nil {
				note(c.Settled.On)
			}
		}
	}
	return newest
}
