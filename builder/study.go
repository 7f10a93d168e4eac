// Package builder turns a folder of records into a published site. A Study is
// a reference read, weighed, checked and ready to date a bow; everything that
// is computed from the records is computed once, here, and shared.
package builder

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"sync"
	"sync/atomic"

	"yearmark/builder/output"
	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/exchange/compare"
	"yearmark/exchange/exports"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/parallel"
	"yearmark/search"
	"yearmark/site/pages"
	"yearmark/site/pictures"
)

// Study is one reference and all that follows from it. What takes long is
// worked out when it is first asked for, once. A study does not change and is
// safe for concurrent use.
type Study struct {
	Ref      *schema.Reference
	Problems schema.Problems
	Timeline *chronology.Timeline
	Weighing *provenance.Weighing
	Edition  Edition
	// Changes is what changed since an earlier edition, for the page of editions
	// and the feed. Nil where none was named; set before Site is called.
	Changes *compare.Changes

	files fs.FS
	sums  sums

	checked sync.Mutex
	report  *checks.Report // nil until it is worked out

	engine      func() *dating.Engine
	apart       func() *dating.Apart
	index       func() (*search.Index, error)
	calibration func() dating.Calibration
}

// Open reads the reference in folder and computes what follows from it.
// Problems in the records are in the study's Report; the error is for a folder
// that cannot be read at all.
func Open(folder string) (*Study, error) {
	ref, problems, err := schema.Read(folder)
	if err != nil {
		return nil, err
	}
	return newStudy(ref, problems, schema.Files(folder), sums{}), nil
}

// OpenFS is Open for a reference at the top of a file system, such as an
// earlier revision held in memory. name is what it is called in messages.
func OpenFS(files fs.FS, name string) (*Study, error) {
	ref, problems, err := schema.ReadFS(files, name)
	if err != nil {
		return nil, err
	}
	return newStudy(ref, problems, files, sums{}), nil
}

// newStudy computes what is computed at once. before holds checksums of pictures
// that may be trusted.
func newStudy(ref *schema.Reference, problems schema.Problems, files fs.FS, before sums) *Study {
	s := &Study{Ref: ref, Problems: problems, files: files, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref)}
	s.Edition, s.sums = editionOf(ref, files, before)
	s.engine = sync.OnceValue(func() *dating.Engine { return dating.New(ref, s.Timeline, s.Weighing) })
	s.apart = sync.OnceValue(func() *dating.Apart { return dating.ApartOf(s.Ref, s.Timeline, s.Weighing, s.engine) })
	s.index = sync.OnceValues(func() (*search.Index, error) { return search.Build(s.documents()) })
	s.calibration = sync.OnceValue(func() dating.Calibration { return s.Apart().Calibrate() })
	return s
}

// Engine dates bows.
func (s *Study) Engine() *dating.Engine { return s.engine() }

// Apart dates the reference's own examples.
func (s *Study) Apart() *dating.Apart { return s.apart() }

// Report is what the checks find.
func (s *Study) Report() checks.Report {
	s.checked.Lock()
	defer s.checked.Unlock()
	if s.report == nil {
		report := s.check(nil)
		s.report = &report
	}
	return *s.report
}

// Check works the report out without haste, and gives up once stop says so.
func (s *Study) Check(stop func() bool) (checks.Report, bool) {
	s.checked.Lock()
	known := s.report
	s.checked.Unlock()
	if known != nil {
		return *known, true
	}
	report := s.check(stop)
	if stop() {
		return checks.Report{}, false
	}
	s.checked.Lock()
	defer s.checked.Unlock()
	s.report = &report
	return report, true
}

// Calibration is how the engine does on the examples with a documented year.
func (s *Study) Calibration() dating.Calibration { return s.calibration() }

// Search is the index over the records.
func (s *Study) Search() (*search.Index, error) { return s.index() }

// Files is the folder of the reference.
func (s *Study) Files() fs.FS { return s.files }

func (s *Study) documents() []search.Document { return search.Documents(s.Ref, s.Timeline.Years) }

func (s *Study) check(stop func() bool) checks.Report {
	return checks.Run(checks.Input{
		Ref: s.Ref, Problems: s.Problems, Timeline: s.Timeline, Weighing: s.Weighing, Judge: newJudge(s.Apart()), Files: s.files,
		Sound: pictures.UserCache().Sound, Stop: stop,
	})
}

// Site is the published form of the study, whose files are rendered when they
// are asked for. looked remembers pictures from an earlier state; it may be nil.
func (s *Study) Site(looked *pages.Looked) (*pages.Site, error) {
	return pages.New(pages.Facts{
		Ref: s.Ref, Timeline: s.Timeline, Weighing: s.Weighing, Engine: s.engine, Apart: s.apart, Report: s.Report,
		Edition: pages.Edition{Date: s.Edition.Date, Hash: s.Edition.Hash}, Files: s.Files(),
		Search: s.searchFiles, Dating: s.datingFiles,
		Photos: pictures.UserCache(), Looked: looked, Data: s.data, Feed: s.exported(nil).HasFeed(), Changes: s.Changes,
	})
}

// searchFiles are the files from which the browser searches.
func (s *Study) searchFiles() ([]pages.File, error) {
	sharder := search.Sharder{Once: true}
	shards, err := sharder.Shards(s.Ref, s.Timeline)
	if err != nil {
		return nil, fmt.Errorf("cannot write the search: %w", err)
	}
	files := make([]pages.File, len(shards.Names()))
	for i, name := range shards.Names() {
		files[i] = pages.File{Name: name, Data: func() []byte { return shards.Pack(name) }}
	}
	return files, nil
}

// datingFiles are the files from which the browser dates.
func (s *Study) datingFiles() ([]pages.File, error) {
	list, _ := tables.Build(s.Engine())
	files := make([]pages.File, len(list))
	for i, f := range list {
		files[i] = pages.File{Name: f.Name, Data: func() []byte { return f.Data }}
	}
	return files, nil
}

// data lists the files for people who reuse the data. Which files there are
// follows from the records alone; examples are dated when they are written.
func (s *Study) data(paths []string) []pages.DataFile {
	facts := s.exported(paths)
	whole := sync.OnceValue(func() []exports.Entry {
		facts.Apart = s.Apart()
		return exports.Plan(facts)
	})
	plan := exports.Plan(facts)
	files := make([]pages.DataFile, 0, len(plan))
	for i, e := range plan {
		files = append(files, pages.DataFile{Name: e.Name, About: e.About, Write: func(w io.Writer) error { return whole()[i].Write(w) }})
	}
	if c := s.Changes; c != nil {
		files = append(files, pages.DataFile{Name: "data/changes.json", About: "What changed since the edition of " + c.Old.Edition + ", and which dates it moves.", Write: c.JSON})
	}
	return files
}

// exported is what those files are made from, but for what dates.
func (s *Study) exported(paths []string) exports.Facts {
	return exports.Facts{
		Ref: s.Ref, Timeline: s.Timeline, Weighing: s.Weighing, Pages: paths, Changes: s.news(),
		Edition: exports.Edition{Date: s.Edition.Date, Hash: s.Edition.Hash},
	}
}

// Publish writes the site to a folder, all or nothing, and gives the number of
// its files. After each file step is called with how many there are. Where ctx
// ends before the site is in place, what stood there stays.
func (s *Study) Publish(ctx context.Context, to string, step func(of int)) (int, error) {
	if err := amongRecords(s.Ref.Folder, to); err != nil {
		return 0, err
	}
	site, err := s.Site(nil)
	if err != nil {
		return 0, err
	}
	files := 0
	mark := output.Mark{Name: s.Ref.Settings.Name.Value, Edition: s.Edition.Date, Hash: s.Edition.Hash}
	err = output.Replace(ctx, to, mark, func(w *output.Writer) error {
		files, err = writeSite(w, site, step)
		return err
	})
	return files, err
}

// writeSite writes every file. The search and the dating tables are made and
// written while the pages are, and let go of: they take much room.
func writeSite(w *output.Writer, site *pages.Site, step func(of int)) (files int, err error) {
	var of atomic.Int64
	own := site.Own()
	of.Store(int64(len(own)))
	err = each(1+len(own), func(i int) error {
		if i > 0 {
			defer func() { step(int(of.Load())) }()
			return writeFile(w, site, own[i-1])
		}
		made, err := site.TakeMade()
		if err != nil {
			return err
		}
		of.Add(int64(len(made)))
		for n := range made {
			if err := w.Put(made[n].Name, made[n].Data()); err != nil {
				return err
			}
			made[n].Data = nil
			step(int(of.Load()))
		}
		return nil
	})
	return int(of.Load()), err
}

func writeFile(w *output.Writer, site *pages.Site, path string) error {
	if write, ok := site.Large(path); ok {
		return w.PutFrom(path, write)
	}
	var put error
	err := site.Write(path, func(data []byte) error {
		put = w.Put(path, data)
		return put
	})
	if err != nil && put == nil {
		return fmt.Errorf("cannot render %s: %w", path, err)
	}
	return err
}

// each calls do for every number below n, as many at once as there are
// processors, and gives the error of the first number that failed.
func each(n int, do func(i int) error) error {
	errs := make([]error, n)
	var failed atomic.Bool
	parallel.For(n, func(i int) {
		if failed.Load() {
			return
		}
		if errs[i] = do(i); errs[i] != nil {
			failed.Store(true)
		}
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
