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
	"yearmark/site/pages"
)

// Pauses of the stage: how often a file that cannot be read is tried again
// before it is told, in case it was only half written, and how long records
// must rest before they are checked, so that checking does not hold up the next edit.
const (
	tryAgain   = 40 * time.Millisecond
	tries      = 2
	restBefore = 500 * time.Millisecond
)

// stage is where one state of the records after another is shown: the pages at
// once, what was found in them when they were checked.
type stage struct {
	server   *preview.Server
	followed *Followed
	images   *pages.ImageCache // pictures, from one state to the next
	shown    *pages.Site       // the newest; nil where there is none

	mu     sync.Mutex
	out    io.Writer
	last   string             // what was last said of the findings
	newest *Study             // nil where the folder could not be read
	halt   context.CancelFunc // ends the checking of an earlier one

	toCheck chan *Study
	checked sync.WaitGroup
}

func newStage(server *preview.Server, followed *Followed, out io.Writer) *stage {
	s := &stage{server: server, followed: followed, images: &pages.ImageCache{}, out: out, toCheck: make(chan *Study, 1), halt: func() {}}
	s.checked.Go(s.check)
	return s
}

// close ends the checking.
func (s *stage) close() {
	s.setNewest(nil)
	close(s.toCheck)
	s.checked.Wait()
}

func (s *stage) line(format string, args ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	fmt.Fprintf(s.out, format+"\n", args...)
}

// open shows the first state.
func (s *stage) open() {
	if s.show(s.followed.Study()) {
		s.toCheck <- s.followed.Study()
	}
}

// follow shows the folder again after every change.
func (s *stage) follow(ctx context.Context, folder string, poll bool) error {
	if poll {
		return preview.Poll(ctx, folder, s.changed)
	}
	return preview.Watch(ctx, folder, s.changed, func(text string) { s.line("%s", text) })
}

// changed shows the records as they now are. What cannot be read may be half
// written: it is tried again before it is told.
func (s *stage) changed(c preview.Changes) {
	began := time.Now()
	files := c.Files
	if c.All {
		files = nil
	}
	s.setNewest(nil) // no use in checking it further
	if anyPicture(files) {
		s.server.PicturesChange()
	}
	news, err := s.followed.Renew(files, s.server.Coming)
	for try := 0; try < tries && (err != nil || news && s.broken(files)); try++ {
		time.Sleep(tryAgain)
		var more bool
		more, err = s.followed.Renew(files, s.server.Coming)
		news = news || more
	}
	switch {
	case err != nil:
		s.fail(err)
	case !news:
		if s.setNewest(s.followed.Study()); len(s.followed.Study().Problems) == 0 {
			s.checkLater(s.followed.Study())
		}
	case s.show(s.followed.Study()):
		s.line("%s read again, shown after %d ms", named(c), time.Since(began).Milliseconds())
		s.checkLater(s.followed.Study())
	}
}

// broken says that one of these files could not be read.
func (s *stage) broken(files []string) bool { return concern(s.followed.Study().Problems, files) }

// named names what changed, in a few words.
func named(c preview.Changes) string {
	if c.All || len(c.Files) != 1 {
		return count(max(len(c.Files), 2), "file")
	}
	return c.Files[0]
}

// show makes a study the newest state. Records that could not be read are told
// of instead, and the state before them stays.
func (s *stage) show(study *Study) bool {
	s.setNewest(study)
	if len(study.Problems) > 0 {
		report, _ := checks.RunReading(context.Background(), checks.Input{
			Ref: study.Ref, Problems: study.Problems, Timeline: study.Timeline, Weighing: study.Weighing, Files: study.Files(),
		})
		if report.Counts.Error > 0 {
			s.tell(report, study, "This page shows the last state that could be read.")
			return false
		}
	}
	site, err := study.Site(context.Background(), s.images)
	if err != nil {
		s.fail(err)
		return false
	}
	s.server.Show(site)
	go site.Warm(s.shown)
	s.shown = site
	return true
}

// fail tells why there is nothing newer to show.
func (s *stage) fail(err error) {
	s.setNewest(nil)
	s.server.Tell(err.Error(), err.Error())
	s.line("%v", err)
}

// whileNewest is a context that ends when there is a newer study than this.
func (s *stage) whileNewest(study *Study) context.Context {
	s.mu.Lock()
	defer s.mu.Unlock()
	ctx, cancel := context.WithCancel(context.Background())
	s.halt()
	if s.halt = cancel; s.newest != study {
		cancel()
	}
	return ctx
}

func (s *stage) setNewest(study *Study) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.newest != study {
		s.halt()
	}
	s.newest = study
}

// checkLater has a study checked once the records rest; only the newest is.
func (s *stage) checkLater(study *Study) {
	select {
	case <-s.toCheck:
	default:
	}
	s.toCheck <- study
}

// check tells what is found in the newest study, one after another.
func (s *stage) check() {
	for study := range s.toCheck {
		rest := time.NewTimer(restBefore)
		for waiting := true; waiting; {
			select {
			case newer, ok := <-s.toCheck:
				if !ok {
					return
				}
				study = newer
				rest.Reset(restBefore)
			case <-rest.C:
				waiting = false
			}
		}
		ctx := s.whileNewest(study)
		if report, err := study.Report(ctx); err == nil {
			s.tell(report, study, "They cannot be published as they are.")
		}
	}
}

// tell says what is found in a study, unless there is a newer one by now, and
// of errors what follows from them.
func (s *stage) tell(report checks.Report, study *Study, follows string) {
	var findings bytes.Buffer
	if err := checks.Text(&findings, report, study.Ref, checks.TextOptions{Files: study.Files()}); err != nil {
		findings.WriteString(err.Error())
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.newest != study {
		return
	}
	trouble := ""
	if n := report.Counts.Error; n > 0 {
		trouble = "The records hold " + count(n, "error") + ". " + follows
	}
	s.server.Tell(trouble, findings.String())
	switch summary := report.Summary(); {
	case report.Counts.Error > 0:
		_ = checks.Text(s.out, report.Only(checks.Error), study.Ref, checks.TextOptions{Files: study.Files()})
		s.last = ""
	case summary != s.last:
		fmt.Fprintln(s.out, summary)
		s.last = summary
	}
}
