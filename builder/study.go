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
	"yearmark/exchange/exports/iiif"
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

	engine      func() *dating.Engine
	leaveOneOut func() *dating.LeaveOneOut

	report      memo[checks.Report]
	calibration memo[dating.Calibration]
	index       memo[*search.Index]
}

// memo is worked out when it is first asked for, and again where that failed,
// as when its context ended.
type memo[T any] struct {
	mu    sync.Mutex
	known bool
	value T
}

func (m *memo[T]) get(make func() (T, error)) (T, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.known {
		return m.value, nil
	}
	value, err := make()
	if err == nil {
		m.value, m.known = value, true
	}
	return value, err
}

// Open reads the reference in folder and computes what follows from it.
// Problems in the records are in the study's Report; the error is for a folder
// that cannot be read at all, or for a context that ended.
func Open(ctx context.Context, folder string) (*Study, error) {
	ref, problems, err := schema.ReadContext(ctx, folder)
	if err != nil {
		return nil, err
	}
	return newStudy(ctx, ref, problems, schema.Files(folder), sums{})
}

// OpenFS is Open for a reference at the top of a file system, such as an
// earlier revision held in memory. name is what it is called in messages.
func OpenFS(ctx context.Context, files fs.FS, name string) (*Study, error) {
	ref, problems, err := schema.ReadFS(files, name)
	if err != nil {
		return nil, err
	}
	return newStudy(ctx, ref, problems, files, sums{})
}

// newStudy computes what is computed at once. before holds checksums of pictures
// that may be trusted. The error is ctx's.
func newStudy(ctx context.Context, ref *schema.Reference, problems schema.Problems, files fs.FS, before sums) (*Study, error) {
	s := &Study{Ref: ref, Problems: problems, files: files}
	for _, part := range []func(){
		func() { s.Timeline = chronology.Build(ref) },
		func() { s.Weighing = provenance.Weigh(ref, checks.Contradictory(ref, s.Timeline)...) },
		func() { s.Edition, s.sums = editionOf(ref, files, before) },
	} {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		part()
	}
	s.engine = sync.OnceValue(func() *dating.Engine { return dating.New(ref, s.Timeline, s.Weighing) })
	s.leaveOneOut = sync.OnceValue(func() *dating.LeaveOneOut { return dating.LeaveOneOutOf(s.Ref, s.Timeline, s.Weighing, s.engine) })
	return s, nil
}

// Engine dates bows.
func (s *Study) Engine() *dating.Engine { return s.engine() }

// LeaveOneOut dates the reference's own examples.
func (s *Study) LeaveOneOut() *dating.LeaveOneOut { return s.leaveOneOut() }

// Report is what the checks find. The error is ctx's.
func (s *Study) Report(ctx context.Context) (checks.Report, error) {
	return s.report.get(func() (checks.Report, error) {
		s.LeaveOneOut().All() // every example is dated
		return s.check(ctx, exampleDater{loo: s.LeaveOneOut(), trials: func() (dating.Calibration, error) { return s.Calibration(ctx) }}, nil)
	})
}

// reportOn is Report without what dating all examples and opening all pictures
// and recordings would find: only examples in files that are chosen are held
// against dating, and the temper is not tried. It is not remembered.
func (s *Study) reportOn(ctx context.Context, chosen func(file string) bool) (checks.Report, error) {
	return s.check(ctx, exampleDater{loo: s.LeaveOneOut(), chosen: func(e *schema.Example) bool { return chosen(e.File) }}, chosen)
}

// check makes the checks, which look into the pictures and recordings that are
// chosen; nil stands for all.
func (s *Study) check(ctx context.Context, dater exampleDater, chosen func(file string) bool) (checks.Report, error) {
	return checks.Run(ctx, checks.Input{
		Looked: chosen, Ref: s.Ref, Problems: s.Problems, Timeline: s.Timeline, Weighing: s.Weighing, Dater: dater, Files: s.files, Sound: pictures.UserCache().Sound,
	})
}

// Calibration is how the engine does on the examples with a documented year.
// The error is ctx's.
func (s *Study) Calibration(ctx context.Context) (dating.Calibration, error) {
	return s.calibration.get(func() (dating.Calibration, error) { return s.LeaveOneOut().Calibrate(ctx) })
}

// Suggest is the temper and the teaching that do best together on those
// examples; nil where they are too few. The error is ctx's.
func (s *Study) Suggest(ctx context.Context) (*dating.Together, error) {
	return s.LeaveOneOut().Suggest(ctx)
}

// Search is the index over the records.
func (s *Study) Search(ctx context.Context) (*search.Index, error) {
	return s.index.get(func() (*search.Index, error) { return search.Build(ctx, s.documents()) })
}

// Files is the folder of the reference.
func (s *Study) Files() fs.FS { return s.files }

func (s *Study) documents() []search.Document { return search.Documents(s.Ref, s.Timeline.Years) }

// Site is the published form of the study, whose files are rendered when they
// are asked for, which fails once ctx has ended. images remembers those of
// an earlier state; it may be nil.
func (s *Study) Site(ctx context.Context, images *pages.ImageCache) (*pages.Site, error) {
	report := func() checks.Report { r, _ := s.Report(ctx); return r }                // empty once ctx has ended:
	calibration := func() dating.Calibration { c, _ := s.Calibration(ctx); return c } // then no page is shown
	return pages.New(pages.Facts{
		Ref: s.Ref, Timeline: s.Timeline, Weighing: s.Weighing, Engine: s.engine, LeaveOneOut: s.leaveOneOut, Report: report, Calibration: calibration,
		Edition: pages.Edition{Date: s.Edition.Date, Hash: s.Edition.Hash}, Files: s.Files(),
		Search: s.searchFiles, Dating: s.datingFiles,
		Photos: pictures.UserCache(), Images: images, Data: s.data, Feed: s.exported(nil).HasFeed(), Changes: s.Changes,
	})
}

// searchFiles are the files from which the browser searches. The index is let
// go of once it is read out.
func (s *Study) searchFiles(ctx context.Context) ([]pages.File, error) {
	ix, err := search.Build(ctx, s.documents())
	if err != nil {
		return nil, fmt.Errorf("cannot write the search: %w", err)
	}
	defer ix.Close()
	shards, err := ix.Shards(ctx)
	if err != nil {
		return nil, fmt.Errorf("cannot write the search: %w", err)
	}
	files := make([]pages.File, len(shards))
	for i, f := range shards {
		files[i] = pages.File{Name: f.Name, Data: f.Data}
	}
	return files, nil
}

// datingFiles are the files from which the browser dates.
func (s *Study) datingFiles(ctx context.Context, quotes func(schema.Citation) []pages.Quote) ([]pages.File, error) {
	engine := s.Engine()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	list, manifest := tables.Build(engine, func(c schema.Citation) []tables.Quote {
		var list []tables.Quote
		for _, q := range quotes(c) {
			list = append(list, tables.Quote(q))
		}
		return list
	})
	manifest.Edition = s.Edition.String()
	list[len(list)-1] = manifest.File()
	files := make([]pages.File, len(list))
	for i, f := range list {
		files[i] = pages.File{Name: f.Name, Data: func() []byte { return f.Data }}
	}
	return files, nil
}

// data lists the files for people who reuse the data. Which files there are
// follows from the records alone; examples are dated when they are written.
func (s *Study) data(shown pages.Shown) []pages.DataFile {
	facts := s.exported(shown.Pages)
	facts.Published = publishedBy(shown)
	whole := sync.OnceValue(func() []exports.Entry {
		facts.LeaveOneOut = s.LeaveOneOut()
		return exports.Plan(facts)
	})
	plan := exports.Plan(facts)
	manifests := make(map[string]*schema.Source, s.Ref.Sources.Len())
	for _, source := range s.Ref.Sources.All() {
		manifests[iiif.ManifestPath(source)] = source
	}
	files := make([]pages.DataFile, 0, len(plan))
	for i, e := range plan {
		files = append(files, pages.DataFile{Name: e.Name, About: e.About, Of: manifests[e.Name], Write: func(w io.Writer) error { return whole()[i].Write(w) }})
	}
	if c := s.Changes; c != nil {
		files = append(files, pages.DataFile{Name: "data/changes.json", About: "What changed since the edition of " + c.Old.Edition + ", and which dates it moves.", Write: c.JSON})
	}
	return files
}

// publishedBy tells of sources what the site shows.
func publishedBy(shown pages.Shown) iiif.Published {
	return iiif.Published{
		Scans: func(place *schema.SourcePlace) (iiif.Scan, bool) {
			scan, ok := shown.Scan(place)
			out := iiif.Scan{Width: scan.Width, Height: scan.Height}
			for _, size := range scan.Sizes {
				out.Sizes = append(out.Sizes, iiif.Size{Path: size.Name, Width: size.Width, Height: size.Height})
			}
			return out, ok
		},
		Recordings: func(source *schema.Source) (iiif.Recording, bool) {
			path, length, ok := shown.Recording(source)
			return iiif.Recording{Path: path, Length: length}, ok
		},
	}
}

// exported is what those files are made from, but for what dates.
func (s *Study) exported(paths []string) exports.Facts {
	return exports.Facts{
		Ref: s.Ref, Timeline: s.Timeline, Weighing: s.Weighing, Pages: paths, Changes: s.feedChanges(),
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
	site, err := s.Site(ctx, nil)
	if err != nil {
		return 0, err
	}
	files := 0
	mark := output.Mark{Name: s.Ref.Settings.Name.Value, Edition: s.Edition.Date, Hash: s.Edition.Hash}
	err = output.Replace(ctx, to, mark, func(w *output.Writer) error {
		files, err = writeSite(ctx, w, site, step)
		return err
	})
	return files, err
}

// writeSite writes every file, last the list of them for reading without
// reception and the worker that knows it. The search and the dating tables are made and
// written while the pages are, and let go of: they take much memory.
func writeSite(ctx context.Context, w *output.Writer, site *pages.Site, step func(of int)) (files int, err error) {
	var of atomic.Int64
	var own, waiting [][]string
	for _, batch := range site.Batches() {
		of.Add(int64(len(batch)))
		if site.Pending(batch[0]) == "" {
			own = append(own, batch)
		} else { // what waits for the search comes last, or a processor would wait with it
			waiting = append(waiting, batch)
		}
	}
	own = append(own, waiting...)
	err = parallel.Each(ctx, 1+len(own), func(i int) error {
		if i > 0 {
			return writeBatch(w, site, own[i-1], func() { step(int(of.Load())) })
		}
		made, err := site.TakeMade(ctx)
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
	if err != nil {
		return int(of.Load()), err
	}
	last := site.Offline(written(w))
	for _, f := range last {
		if err := w.Put(f.Name, f.Data()); err != nil {
			return int(of.Load()), err
		}
	}
	return int(of.Load()) + len(last), nil
}

// written gives the files of a site as its worker is told of them.
func written(w *output.Writer) []pages.Written {
	files := w.Written()
	list := make([]pages.Written, len(files))
	for i, f := range files {
		list[i] = pages.Written{Path: f.Path, Size: f.Size, Sum: f.Sum}
	}
	return list
}

// writeBatch writes a batch of files, and calls step after each.
func writeBatch(w *output.Writer, site *pages.Site, paths []string, step func()) error {
	if write, ok := site.Large(paths[0]); ok {
		defer step()
		return w.PutFrom(paths[0], write)
	}
	var put error
	err := site.Write(paths, func(path string, data []byte) error {
		defer step()
		put = w.Put(path, data)
		return put
	})
	if err != nil && put == nil {
		return fmt.Errorf("cannot render %s: %w", paths[0], err)
	}
	return err
}
