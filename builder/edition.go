package builder

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"io/fs"
	"os"
	"slices"
	"sync"
	"time"

	"yearmark/schema"
	"yearmark/schema/parallel"
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

// editionOf sums up every record, picture and recording by path and content, so that the
// same records are the same edition on any machine and on any day. What is
// private is left out, or a short secret could be guessed from the sum. Sums
// of earlier states are taken over where record and picture are the same.
func editionOf(ref *schema.Reference, files fs.FS, earlier sums) (Edition, sums) {
	now := sums{records: ref.Records(), pictures: make(map[string]pictureSum, len(ref.Pictures))}
	whole := sha256.New()
	add := func(name string, one sum) {
		_, _ = whole.Write(one[:])
		_, _ = io.WriteString(whole, name+"\n")
	}
	add(schema.SettingsFile, sha256.Sum256(schema.MaskPrivate(schema.SettingsFile, ref.Settings.Source)))
	now.of = earlier.ofRecords(now.records)
	for i, r := range now.records {
		add(r.Header().File, now.of[i])
	}
	for _, name := range mediaOf(ref) {
		one := earlier.ofPicture(files, name)
		now.pictures[name] = one
		add(name, one.sum)
	}
	return Edition{Date: editionDate(ref), Hash: hex.EncodeToString(whole.Sum(nil))[:12]}, now
}

// mediaOf gives the paths of a reference's pictures, recordings and transcripts,
// but for what is heard or read of sources of which nothing may be shown.
func mediaOf(ref *schema.Reference) []string {
	kept := map[string]bool{}
	for _, s := range ref.Sources.All() {
		if s.MayShow() == schema.ShowsNone {
			kept[s.Transcript.Value] = true
			if s.Recording != nil {
				kept[s.Recording.File.Value] = true
			}
		}
	}
	var list []string
	for _, name := range ref.Pictures {
		list = append(list, schema.PicturesFolder+"/"+name)
	}
	for _, name := range ref.Recordings {
		if !kept[name] {
			list = append(list, schema.RecordingsFolder+"/"+name)
		}
	}
	return list
}

// sum is the SHA-256 of one file as it is published.
type sum = [sha256.Size]byte

// sums are those of the files of one state.
type sums struct {
	records  []schema.Record
	of       []sum                 // of each record
	pictures map[string]pictureSum // and recordings, by path
	resting  bool                  // it is known that no picture changed since
}

// pictureSum is the sum of a picture or a recording, and the file that it is of.
type pictureSum struct {
	sum
	info    fs.FileInfo // nil where it is not known
	settled bool        // it was old enough then that a later change shows in its time
}

// unsettled is how young a file may be for a change to escape its time of
// change, which some systems count in steps of two seconds.
const unsettled = 2 * time.Second

// ofPicture sums up a picture, anew unless it is the file that it was.
func (s sums) ofPicture(files fs.FS, name string) pictureSum {
	was, known := s.pictures[name]
	if known && s.resting {
		return was
	}
	now := pictureSum{}
	if info, err := fs.Stat(files, name); err == nil {
		now.info, now.settled = info, time.Since(info.ModTime()) > unsettled
	}
	if known && was.settled && now.info != nil && os.SameFile(was.info, now.info) && was.info.Size() == now.info.Size() && was.info.ModTime().Equal(now.info.ModTime()) {
		return was
	}
	now.sum = sumPicture(files, name)
	return now
}

// ofRecords sums up records, those anew that are not found where they were.
func (s sums) ofRecords(records []schema.Record) []sum {
	list := make([]sum, len(records))
	var anew []int
	moved := 0 // how much further on the records before were
	for i, r := range records {
		at := s.find(r, i+moved)
		if at < 0 {
			anew = append(anew, i)
			continue
		}
		moved = at - i
		list[i] = s.of[at]
	}
	parallel.For(len(anew), func(k int) { list[anew[k]] = sha256.Sum256(public(records[anew[k]])) })
	return list
}

// find looks for a record at a place and beside it: one record more or less
// before it moves it by one. It gives -1 where it is not there.
func (s sums) find(r schema.Record, near int) int {
	for _, at := range [...]int{near, near + 1, near - 1} {
		if at >= 0 && at < len(s.records) && s.records[at] == r {
			return at
		}
	}
	return -1
}

// public gives what is published of a record, and of its transcript.
func public(r schema.Record) []byte {
	text := r.Header().PublicSource()
	if s, ok := r.(*schema.Source); ok && s.TranscriptText() != nil && s.MayShow() != schema.ShowsNone {
		return slices.Concat(text, s.TranscriptText())
	}
	return text
}

// copyBuffers are used again from picture to picture.
var copyBuffers = sync.Pool{New: func() any { return new([32 << 10]byte) }}

func sumPicture(files fs.FS, name string) (one sum) {
	h := sha256.New()
	if f, err := files.Open(name); err == nil {
		defer f.Close()
		buffer := copyBuffers.Get().(*[32 << 10]byte)
		defer copyBuffers.Put(buffer)
		_, _ = io.CopyBuffer(h, struct{ io.Reader }{f}, buffer[:]) // an *os.File would allocate a buffer of its own
	}
	h.Sum(one[:0])
	return one
}

// editionDate is the reference's own date, or the newest day that its records
// name: a bow seen, a dispute settled, a page copied.
func editionDate(ref *schema.Reference) string {
	if !ref.Settings.Edition.IsZero() {
		return ref.Settings.Edition.String()
	}
	newest := ""
	for r, day := range ref.Days() {
		if e, ok := r.(*schema.Example); ok && e.Unreviewed() {
			continue
		}
		if text := day.String(); len(text) == len("2026-01-31") && text > newest {
			newest = text
		}
	}
	return newest
}
