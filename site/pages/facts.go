// Package pages makes the pages of the published site. Each kind of page has a
// view, a typed struct with the words that its template prints, and each view
// embeds one base. A page is rendered on demand, from facts that do not
// change: the same facts give the same bytes, in whatever order and by however
// many at once they are asked for.
package pages

import (
	"context"
	"io"
	"io/fs"
	"strings"
	"time"

	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/exchange/compare"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/site/pictures"
)

// Facts is everything a page may need. What is a function is worked out when a
// page first asks for it, and must give the same each time.
type Facts struct {
	Ref      *schema.Reference
	Timeline *chronology.Timeline
	Weighing *provenance.Weighing
	Engine   func() *dating.Engine
	// LeaveOneOut dates the examples with Engine; where it is nil the site makes its own.
	LeaveOneOut func() *dating.LeaveOneOut
	Report      func() checks.Report
	Edition     Edition
	// Calibration is how the engine did on the examples with a documented
	// year; where it is nil the site works that out.
	Calibration func() dating.Calibration
	// Files is the folder of the reference; pictures are read from it. Without
	// it the site has no pictures.
	Files fs.FS
	// Photos keeps finished photographs from one publication to the next; the
	// zero Cache keeps none.
	Photos pictures.Cache
	// Images remembers pictures from one state of the records to the next; nil
	// where there is no next.
	Images *ImageCache
	// Search and Dating are the files from which the browser searches and dates,
	// relative to data/search and data/dating, where each is published as a
	// script; nil where there are none. The search's first file is its root, and
	// the dating's begin at manifest.json.
	// What dates is told what the page opens for a citation; that is safe for
	// concurrent use.
	Search func(context.Context) ([]File, error)
	Dating func(ctx context.Context, quotes func(schema.Citation) []Quote) ([]File, error)
	// Data lists files for people who reuse the data, given what else the site
	// has. The files are written when they are asked for; their names are
	// relative to the site's root. Nil where there are none.
	Data func(Shown) []DataFile
	// Feed says that feed.atom is among the data.
	Feed bool
	// Changes is what changed since an earlier edition; nil where none was named.
	Changes *compare.Changes
}

// Shown is what a site shows, for files about it.
type Shown struct {
	Pages []string // the paths of all pages
	// Scan gives the scan of a place; ok is false where none is shown or its size is not known.
	Scan func(*schema.SourcePlace) (s Scan, ok bool)
	// Recording gives the path of a source's recording and how long it plays; ok
	// is false where none can be heard or its length is not known.
	Recording func(*schema.Source) (path string, length time.Duration, ok bool)
}

// Scan is a scan that the site shows.
type Scan struct {
	Width, Height int             // of the upright original, in pixels or in a drawing's units
	Sizes         []pictures.Size // by path below the site's root, narrowest first
}

// Quote is what one place in a source says and shows, as far as it may be shown.
// The paths are below the site's root.
type Quote struct {
	Words         []string // paragraphs
	Cut           string   // the path of the picture of them, or empty
	Width, Height int      // of that picture, in pixels
	Alt           string   // what it shows
	Sound         string   // the path of the recording, with the time as a media fragment, or empty
	Remarks       []string // who saw it, how sure they were
}

// DataFile is one file for people who reuse the data.
type DataFile struct {
	Name  string
	About string // one sentence; empty where another file leads to it
	Write func(io.Writer) error
	Of    *schema.Source // the one source that it is about, or nil
}

// Edition names one published state.
type Edition struct {
	Date string // as people write it in records: 2026-11-14
	Hash string // the first digits of the content's SHA-256
}

// String gives the edition as pages and their scripts name it.
func (e Edition) String() string { return strings.TrimSpace(e.Date + " " + e.Hash) }

// File is one file made elsewhere.
type File struct {
	Name string
	Data func() []byte // safe for concurrent use
}
