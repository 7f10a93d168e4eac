// Package builder turns a folder of records into a published site. A Study is
// a reference read, weighed, checked and ready to date a bow; everything that
// is computed from the records is computed once, here, and shared.
package builder

import (
	"fmt"
	"io/fs"
	"os"
	"runtime"
	"sync"
	"sync/atomic"

	"yearmark/builder/exports"
	"yearmark/builder/output"
	"yearmark/builder/pages"
	"yearmark/builder/pictures"
	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/search"
)

// Study is one reference and all that follows from it.
type Study struct {
	Ref      *schema.Reference
	Problems schema.Problems
	Timeline *chronology.Timeline
	Weighing *provenance.Weighing
	Engine   *dating.Engine
	Edition  Edition

	files fs.FS

	reportOnce sync.Once
	report     checks.Report

	searchOnce sync.Once
	index      *search.Index
	searchErr  error

	calibrateOnce sync.Once
	calibration   dating.Calibration
}

// Open reads the reference in folder and computes what follows from it.
// Problems in the records are in the study's Report; the error is for a folder
// that cannot be read at all.
func Open(folder string) (*Study, error) {
	ref, problems, err := schema.Read(folder)
	if err != nil {
		return nil, err
	}
	return newStudy(ref, problems, os.DirFS(folder)), nil
}

// OpenFS is Open for a reference at the top of a file system, such as an
// earlier revision held in memory. name is what it is called in messages.
func OpenFS(files fs.FS, name string) (*Study, error) {
	ref, problems, err := schema.ReadFS(files, name)
	if err != nil {
		return nil, err
	}
	return newStudy(ref, problems, files), nil
}

func newStudy(ref *schema.Reference, problems schema.Problems, files fs.FS) *Study {
	s := &Study{Ref: ref, Problems: problems, files: files}
	s.Timeline = chronology.Build(ref)
	s.Weighing = provenance.Weigh(ref)
	s.Engine = dating.New(ref, s.Timeline, s.Weighing)
	s.Edition = editionOf(ref, files)
	return s
}

// Report is what the checks find, worked out when it is first asked for: who
// only dates a bow or searches does not wait for it.
func (s *Study) Report() checks.Report {
	s.reportOnce.Do(func() {
		s.report = checks.Run(checks.Input{
			Ref: s.Ref, Problems: s.Problems, Timeline: s.Timeline, Weighing: s.Weighing,
			Judge: judge{dating.NewApart(s.Engine, s.Timeline, s.Weighing)}, Files: s.files,
		})
	})
	return s.report
}

// Calibration is how the engine does on the examples with a documented year.
func (s *Study) Calibration() dating.Calibration {
	s.calibrateOnce.Do(func() { s.calibration = dating.Calibrate(s.Ref, s.Timeline, s.Weighing) })
	return s.calibration
}

// Files is the folder of the reference.
func (s *Study) Files() fs.FS { return s.files }

// Search is the index over the records, built when it is first asked for.
func (s *Study) Search() (*search.Index, error) {
	s.searchOnce.Do(func() {
		s.index, s.searchErr = search.Build(search.Documents(s.Ref, s.Timeline.Years))
	})
	return s.index, s.searchErr
}

// Site is the published form of the study, whose files are rendered when they
// are asked for. looked remembers pictures from an earlier state; it may be nil.
func (s *Study) Site(looked *pages.Looked) (*pages.Site, error) {
	ix, err := s.Search()
	if err != nil {
		return nil, fmt.Errorf("cannot build the search: %w", err)
	}
	shards, err := ix.Shards()
	if err != nil {
		return nil, fmt.Errorf("cannot write the search: %w", err)
	}
	dated, _ := tables.Build(s.Engine)
	extra := make([]pages.File, 0, len(shards)+len(dated))
	for _, f := range shards {
		extra = append(extra, pages.File{Name: "search/" + f.Name, Data: f.Data})
	}
	for _, f := range dated {
		extra = append(extra, pages.File{Name: "dating/" + f.Name, Data: f.Data})
	}
	return pages.New(pages.Facts{
		Ref: s.Ref, Timeline: s.Timeline, Weighing: s.Weighing, Engine: s.Engine, Report: s.Report(),
		Edition: pages.Edition{Date: s.Edition.Date, Hash: s.Edition.Hash}, Files: s.Files(), Extra: extra,
		Photos: pictures.UserCache(), Looked: looked, Data: s.data(),
	})
}

// data lists the files for people who reuse the data.
func (s *Study) data() []pages.DataFile {
	plan := exports.Plan(exports.Facts{
		Ref: s.Ref, Timeline: s.Timeline, Weighing: s.Weighing, Engine: s.Engine,
		Edition: exports.Edition{Date: s.Edition.Date, Hash: s.Edition.Hash},
	})
	files := make([]pages.DataFile, 0, len(plan))
	for _, e := range plan {
		files = append(files, pages.DataFile{Name: e.Name, About: e.About, Write: e.Write})
	}
	return files
}

// Publish writes the site to a folder, all or nothing, and gives the number of
// its files. After each file step is called with how many there are.
func (s *Study) Publish(to string, step func(of int)) (int, error) {
	site, err := s.Site(nil)
	if err != nil {
		return 0, err
	}
	paths := site.Paths()
	mark := output.Mark{Name: s.Ref.Settings.Name.Value, Edition: s.Edition.Date, Hash: s.Edition.Hash}
	err = output.Replace(to, mark, func(w *output.Writer) error {
		return each(paths, func(path string) error {
			defer step(len(paths))
			data, err := site.Render(path)
			if err != nil {
				return fmt.Errorf("cannot render %s: %w", path, err)
			}
			return w.Put(path, data)
		})
	})
	return len(paths), err
}

// each calls do for every path, as many at once as there are processors, and
// gives the error of the first path in order that failed.
func each(paths []string, do func(path string) error) error {
	errs := make([]error, len(paths))
	var next atomic.Int64
	var failed atomic.Bool
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(paths) || failed.Load() {
					return
				}
				if errs[i] = do(paths[i]); errs[i] != nil {
					failed.Store(true)
				}
			}
		})
	}
	workers.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
