package builder

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"time"

	"yearmark/builder/pages"
	"yearmark/builder/preview"
	"yearmark/checks"
)

// PreviewOptions says how to serve.
type PreviewOptions struct {
	Port int       // 0 means any that is free
	Poll bool      // look at the folder instead of being told of changes
	Out  io.Writer // where the address and the findings are written
}

// Preview serves the reference in folder on loopback and follows edits until
// the context ends.
func Preview(ctx context.Context, folder string, opts PreviewOptions) error {
	study, err := Open(folder)
	if err != nil {
		return err
	}
	listener, err := preview.Listen(opts.Port)
	if err != nil {
		return err
	}
	port := listener.Addr().(*net.TCPAddr).Port
	server := preview.NewServer(port)
	s := stage{server: server, looked: &pages.Looked{}, out: opts.Out}
	s.show(study)
	fmt.Fprintf(opts.Out, "serving %s at http://localhost:%d/ (end with Ctrl-C)\n", folder, port)

	web := &http.Server{Handler: server, ReadHeaderTimeout: 10 * time.Second}
	served := make(chan error, 1)
	go func() { served <- web.Serve(listener) }()
	watched := make(chan error, 1)
	go func() { watched <- s.follow(ctx, folder, opts.Poll) }()
	select {
	case err = <-served:
	case err = <-watched:
	}
	server.Close()
	end, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	if stopped := web.Shutdown(end); stopped != nil && err == nil {
		err = web.Close()
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// stage is where one state of the records after another is shown.
type stage struct {
	server *preview.Server
	looked *pages.Looked // pictures, from one state to the next
	out    io.Writer
}

// follow reads the folder anew after every change.
func (s stage) follow(ctx context.Context, folder string, poll bool) error {
	changed := func() {
		began := time.Now()
		study, err := Open(folder)
		if err != nil {
			s.server.Show(nil, err.Error(), err.Error())
			fmt.Fprintln(s.out, err)
			return
		}
		s.show(study)
		fmt.Fprintf(s.out, "read again in %d ms\n", time.Since(began).Milliseconds())
	}
	if poll {
		return preview.Poll(ctx, folder, changed)
	}
	return preview.Watch(ctx, folder, changed, func(text string) { fmt.Fprintln(s.out, text) })
}

// show makes a study the newest state, or tells what is wrong with it.
func (s stage) show(study *Study) {
	report := study.Report()
	var findings bytes.Buffer
	if err := checks.Text(&findings, report, study.Ref, checks.TextOptions{Files: study.Files()}); err != nil {
		findings.WriteString(err.Error())
	}
	if n := report.Counts.Error; n > 0 {
		s.server.Show(nil, fmt.Sprintf("The records hold %s.", count(n, "error")), findings.String())
		_, _ = s.out.Write(findings.Bytes())
		return
	}
	site, err := study.Site(s.looked)
	if err != nil {
		s.server.Show(nil, err.Error(), findings.String())
		fmt.Fprintln(s.out, err)
		return
	}
	s.server.Show(site, "", findings.String())
	fmt.Fprintf(s.out, "%s in %s\n", count(len(report.Findings), "finding"), count(len(study.Ref.Records()), "record"))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
