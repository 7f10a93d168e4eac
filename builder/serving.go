package builder

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"sync"
	"time"

	"yearmark/builder/preview"
	"yearmark/checks"
	"yearmark/schema/english"
	"yearmark/site/pages"
)

// Pauses of the serving loop: how often a file that cannot be read is tried
// again before that is said, in case it was only half written; how long the
// page is given before search and form are made; and how long records must rest
// before they are checked, so that neither holds up the next edit.
const (
	tryAgain   = 40 * time.Millisecond
	tries      = 2
	pageFirst  = 200 * time.Millisecond
	restBefore = 500 * time.Millisecond
)

// servingLoop shows one state of the records after another: the pages at once,
// search and form when they are made, the findings when it is checked.
type servingLoop struct {
	ctx      context.Context // ends with the preview
	server   *preview.Server
	followed *Followed
	images   *pages.ImageCache // from one state to the next
	shown    shownState        // the newest

	mu     sync.Mutex
	out    io.Writer
	last   string             // what was last said of the findings
	cancel context.CancelFunc // ends the work in the background

	background sync.WaitGroup
}

// shownState is a study and its site; both are nil where there is none.
type shownState struct {
	study *Study
	site  *pages.Site
}

func newServingLoop(ctx context.Context, server *preview.Server, followed *Followed, out io.Writer) *servingLoop {
	return &servingLoop{ctx: ctx, server: server, followed: followed, images: &pages.ImageCache{}, out: out, cancel: func() {}}
}

// close ends the work in the background and waits until none is left. Nothing
// may be shown after it.
func (s *servingLoop) close() {
	s.interrupt()
	s.background.Wait()
}

// interrupt ends the work in the background: there may be a newer state.
func (s *servingLoop) interrupt() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.cancel()
}

// prepare makes the search and the form of the state shown, and checks its
// records where they are the newest, all in the background.
func (s *servingLoop) prepare(check bool) {
	state := s.shown
	if state.site == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.cancel()
	ctx, cancel := context.WithCancel(s.ctx)
	s.cancel = cancel
	s.background.Go(func() {
		defer cancel()
		if !rest(ctx, pageFirst) {
			return
		}
		_ = state.site.Make(ctx) // where it fails, asking for a file says why
		if check && rest(ctx, restBefore-pageFirst) {
			s.check(ctx, state.study)
		}
	})
}

// rest waits, and says whether the context still stands.
func rest(ctx context.Context, d time.Duration) bool {
	pause := time.NewTimer(d)
	defer pause.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-pause.C:
		return true
	}
}

// check says what is found in a study, unless ctx ends before.
func (s *servingLoop) check(ctx context.Context, study *Study) {
	if report, err := study.Report(ctx); err == nil {
		s.report(ctx, finding{report, study, "They cannot be published as they are."})
	}
}

func (s *servingLoop) line(format string, args ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	fmt.Fprintf(s.out, format+"\n", args...)
}

// open shows the first state.
func (s *servingLoop) open() { s.prepare(s.show(s.followed.Study())) }

// follow shows the folder again after every change.
func (s *servingLoop) follow(ctx context.Context, folder string, poll bool) error {
	if poll {
		return preview.Poll(ctx, folder, s.changed)
	}
	return preview.Watch(ctx, folder, s.changed, func(text string) { s.line("%s", text) })
}

// changed shows the records as they now are. What cannot be read may be half
// written: it is tried again before it is told.
func (s *servingLoop) changed(c preview.Changes) {
	began := time.Now()
	files := c.Files
	if c.All {
		files = nil
	}
	s.interrupt()
	if anyPicture(files) {
		s.server.PicturesChange()
	}
	anyNew, err := s.followed.Renew(s.ctx, files, s.server.Coming)
	for try := 0; try < tries && (err != nil || anyNew && s.broken(files)); try++ {
		if !rest(s.ctx, tryAgain) {
			return
		}
		var more bool
		more, err = s.followed.Renew(s.ctx, files, s.server.Coming)
		anyNew = anyNew || more
	}
	if s.ctx.Err() != nil {
		return
	}
	study := s.followed.Study()
	switch {
	case err != nil:
		s.fail(err)
		s.prepare(false)
	case !anyNew:
		s.prepare(s.shown.study == study)
	case s.show(study):
		s.line("%s read again, shown after %d ms", named(c), time.Since(began).Milliseconds())
		s.prepare(true)
	default:
		s.prepare(false)
	}
}

// broken says that one of these files could not be read.
func (s *servingLoop) broken(files []string) bool { return concern(s.followed.Study().Problems, files) }

// named names what changed, in a few words.
func named(c preview.Changes) string {
	if c.All || len(c.Files) != 1 {
		return english.Count(max(len(c.Files), 2), "file")
	}
	return c.Files[0]
}

// show makes a study the newest state. Where records could not be read that is
// said instead, and the state before them stays.
func (s *servingLoop) show(study *Study) bool {
	if len(study.Problems) > 0 {
		report, _ := checks.RunReading(s.ctx, checks.Input{
			Ref: study.Ref, Problems: study.Problems, Timeline: study.Timeline, Weighing: study.Weighing, Files: study.Files(),
		})
		if report.Counts.Error > 0 {
			s.report(s.ctx, finding{report, study, "This page shows the last state that could be read."})
			return false
		}
	}
	site, err := study.Site(s.ctx, s.images)
	if err != nil {
		s.fail(err)
		return false
	}
	s.shown = shownState{study, site}
	s.server.Show(site)
	return true
}

// fail says why there is nothing newer to show.
func (s *servingLoop) fail(err error) {
	s.server.Announce(err.Error(), err.Error())
	s.line("%v", err)
}

// finding is what was found in a study, and what follows from errors.
type finding struct {
	report  checks.Report
	study   *Study
	follows string
}

// report says what was found, unless ctx has ended.
func (s *servingLoop) report(ctx context.Context, f finding) {
	options := checks.TextOptions{Files: f.study.Files(), Notes: NotesCommand(f.study.Ref.Folder)}
	var findings bytes.Buffer
	if err := checks.Text(&findings, f.report, f.study.Ref, options); err != nil {
		findings.WriteString(err.Error())
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if ctx.Err() != nil {
		return
	}
	trouble := ""
	if n := f.report.Counts.Error; n > 0 {
		trouble = "The records hold " + english.Count(n, "error") + ". " + f.follows
	}
	s.server.Announce(trouble, findings.String())
	if text := findings.String(); f.report.Counts.Error > 0 || text != s.last {
		fmt.Fprint(s.out, text)
		s.last = text
	}
}

// NotesCommand is what to type to see the notes on a folder of records in full.
func NotesCommand(folder string) string { return "yearmark check " + folder + " --notes" }
