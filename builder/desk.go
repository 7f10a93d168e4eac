package builder

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"yearmark/builder/desk"
	"yearmark/builder/output"
	"yearmark/builder/preview"
	"yearmark/builder/starter"
	"yearmark/checks"
	"yearmark/dating"
	"yearmark/exchange/compare"
	"yearmark/exchange/journal"
	"yearmark/schema"
)

// DeskOptions says how to serve a desk.
type DeskOptions struct {
	Port, PreviewPort int          // 0 means any that is free
	Out               io.Writer    // where addresses and findings are written
	Open              func(string) // opens an address in a browser; may be nil
}

// Desk serves forms over the reference in folder on loopback, and its pages on
// a port of their own, until the context ends. Without a folder it offers the
// registers opened before, to open another and to begin one.
func Desk(ctx context.Context, folder string, opts DeskOptions) error {
	listeners, address, err := preview.Listen(opts.Port)
	if err != nil {
		return err
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	s := &deskServer{ctx: ctx, opts: opts, failed: make(chan error, 1), close: func() {}}
	s.front = desk.NewFront(listeners[0].Addr().(*net.TCPAddr).Port, s.open, starter.Begin)
	defer func() { s.close() }()
	if folder != "" {
		if err := s.front.Open(folder); err != nil {
			closeAll(listeners)
			return err
		}
	}
	defer s.front.LeaveWord(folder, "http://"+address)()
	web := &http.Server{Handler: s.front, ReadHeaderTimeout: 10 * time.Second}
	ended := make(chan error, len(listeners))
	for _, l := range listeners {
		go func() { ended <- web.Serve(l) }()
	}
	way := "http://" + address + s.front.Way()
	fmt.Fprintf(opts.Out, "the desk is at %s (this address opens it once, within a minute; for another start the desk again; end with Ctrl-C)\n", way)
	if opts.Open != nil {
		opts.Open(way)
	}
	select {
	case err = <-s.failed:
	case err = <-ended:
	case <-ctx.Done():
		err = nil
	}
	stop()
	closeServer(web)
	return err
}

// deskServer opens one register after another, each with its preview.
type deskServer struct {
	ctx    context.Context // ends with the desk
	opts   DeskOptions
	front  *desk.Front
	failed chan error // of a preview that ended by itself

	mu    sync.Mutex
	close func() // ends the preview of the register that is open
}

// open makes the desk of a folder and serves its pages beside it.
func (s *deskServer) open(folder string) (*desk.Desk, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	register, err := newRegister(s.ctx, folder)
	if err != nil {
		return nil, err
	}
	s.close()
	s.close = func() {}
	ctx, stop := context.WithCancel(s.ctx)
	at, ended := make(chan string, 1), make(chan error, 1)
	shown := desk.NewShown(folder)
	go func() {
		ended <- Preview(ctx, folder, PreviewOptions{
			Port: s.opts.PreviewPort, Out: s.opts.Out, ready: func(address string) { at <- address }, beside: preview.Beside{Path: shown.Path(), Handler: shown},
		})
	}()
	select {
	case err := <-ended:
		stop()
		return nil, err
	case site := <-at:
		go func() {
			if err := <-ended; err != nil {
				select {
				case s.failed <- err:
				default:
				}
			}
			close(ended)
		}()
		s.close = func() { stop(); <-ended }
		return s.front.New(folder, register, site, shown), nil
	}
}

func closeAll(listeners []net.Listener) {
	for _, l := range listeners {
		_ = l.Close()
	}
}

// register answers what the desk asks of the records.
type register struct {
	folder string

	mu       sync.Mutex
	followed *Followed
}

func newRegister(ctx context.Context, folder string) (*register, error) {
	followed, err := Follow(ctx, folder)
	return &register{folder: folder, followed: followed}, err
}

// newest studies the folder again, as far as anything changed.
func (r *register) newest(ctx context.Context) (*Study, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	_, err := r.followed.Renew(ctx, nil, nil)
	return r.followed.Study(), err
}

// with studies the records as they would be. Changes are of records alone:
// pictures and recordings are taken to rest.
func (r *register) with(ctx context.Context, changes []journal.Change) (*Study, error) {
	changed := make(map[string][]byte, len(changes))
	for _, c := range changes {
		changed[c.File] = c.After
	}
	r.mu.Lock()
	before := r.followed.Study().sums
	ref, problems, ok := r.followed.folder.With(changed)
	r.mu.Unlock()
	before.resting = true
	files := journal.Over(schema.Files(r.folder), changes)
	if !ok {
		var err error
		if ref, problems, err = schema.ReadFS(files, r.folder); err != nil {
			return nil, err
		}
	}
	return newStudy(ctx, ref, problems, files, before)
}

func (r *register) Newest(ctx context.Context) (*schema.Reference, checks.Report, error) {
	s, err := r.newest(ctx)
	if err != nil {
		return nil, checks.Report{}, err
	}
	report, err := s.Report(ctx)
	return s.Ref, report, err
}

// With dates only the examples that change, and looks only into pictures and
// recordings that a changed record names: what is found in others the form does
// not show.
func (r *register) With(ctx context.Context, changes []journal.Change) (checks.Report, error) {
	s, err := r.with(ctx, changes)
	if err != nil {
		return checks.Report{}, err
	}
	return s.reportOn(ctx, func(file string) bool {
		_, name, _ := strings.Cut(file, "/")
		return slices.ContainsFunc(changes, func(c journal.Change) bool { return c.File == file || bytes.Contains(c.After, []byte(name)) })
	})
}

func (r *register) Moves(ctx context.Context, changes []journal.Change) ([]compare.Entry, error) {
	before, err := r.newest(ctx)
	if err != nil {
		return nil, err
	}
	after, err := r.with(ctx, changes)
	if err != nil {
		return nil, err
	}
	moved, err := Compare(ctx, before, "as it is", after, "as it would be")
	if err != nil {
		return nil, err
	}
	return moved.Entries(), nil
}

func (r *register) Engine(ctx context.Context) (*schema.Reference, *dating.Engine, error) {
	s, err := r.newest(ctx)
	if err != nil {
		return nil, nil, err
	}
	return s.Ref, s.Engine(), nil
}

// Leaving compares the records with the last remembered edition.
func (r *register) Leaving(ctx context.Context) (desk.Leaving, error) {
	study, err := r.newest(ctx)
	if err != nil {
		return desk.Leaving{}, err
	}
	var out desk.Leaving
	earlier, err := study.Previous(ctx)
	if err != nil {
		return out, err
	}
	out.First = earlier == nil
	before, known := map[string][]byte{}, []string{}
	if earlier != nil {
		if err := study.Since(ctx, earlier); err != nil {
			return out, err
		}
		for _, part := range study.Changes.Published() {
			for _, e := range part.Entries {
				out.Changes = append(out.Changes, e.Title+": "+e.Words)
			}
		}
		for _, rec := range earlier.Ref.Records() {
			before[rec.Header().File] = rec.Header().Source
		}
		known = schema.Persons(earlier.Ref)
		out.Breaking = brokenBy(study.Ref, earlier.Ref)
		for _, name := range study.Ref.Pictures {
			if !slices.Contains(earlier.Ref.Pictures, name) {
				out.Pictures = append(out.Pictures, name)
			}
		}
	}
	for _, name := range schema.Persons(study.Ref) {
		if !slices.Contains(known, name) {
			out.Persons = append(out.Persons, name)
		}
	}
	for _, rec := range study.Ref.Records() {
		h := rec.Header()
		if !bytes.Equal(before[h.File], h.PublicSource()) {
			out.Personal = append(out.Personal, desk.PersonalIn(h.File, h.Source)...)
		}
	}
	return out, nil
}

// brokenBy lists the addresses of records of an earlier edition that are gone and
// whose names lead to no other.
func brokenBy(now, earlier *schema.Reference) (gone []string) {
	leads := map[string]bool{}
	for _, rec := range now.Records() {
		leads[rec.Header().File] = true
		for _, name := range schema.Formerly(rec) {
			leads[rec.Header().Kind.FileOf(name.Value)] = true
		}
	}
	for _, rec := range earlier.Records() {
		if !leads[rec.Header().File] {
			gone = append(gone, rec.Address())
		}
	}
	return gone
}

// Publish writes the site of the records as they are now.
func (r *register) Publish(ctx context.Context, to string, pack bool) (desk.Published, error) {
	study, err := Open(ctx, r.folder)
	if err != nil {
		return desk.Published{}, err
	}
	earlier, err := study.Previous(ctx)
	if err == nil && earlier != nil {
		err = study.Since(ctx, earlier)
	}
	if err != nil {
		return desk.Published{}, err
	}
	before := output.Pages(to)
	files, err := study.Publish(ctx, to, func(int) {})
	if err != nil {
		return desk.Published{}, err
	}
	published := desk.Published{Folder: to, Files: files, Lost: output.Lost(to, before)}
	if pack {
		published.Archive = filepath.Clean(to) + ".zip"
		err = output.Archive(to, published.Archive)
	}
	_, remembered := study.Remember()
	return published, errors.Join(err, remembered)
}
