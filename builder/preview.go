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
	show(server, study, opts.Out)
	fmt.Fprintf(opts.Out, "serving %s at http://localhost:%d/ (end with Ctrl-C)\n", folder, port)

	web := &http.Server{Handler: server, ReadHeaderTimeout: 10 * time.Second}
	served := make(chan error, 1)
	go func() { served <- web.Serve(listener) }()
	watched := make(chan error, 1)
	go func() { watched <- follow(ctx, folder, server, opts) }()
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

// follow reads the folder anew after every change.
func follow(ctx context.Context, folder string, server *preview.Server, opts PreviewOptions) error {
	changed := func() {
		began := time.Now()
		study, err := Open(folder)
		if err != nil {
			server.Show(nil, err.Error(), err.Error())
			fmt.Fprintln(opts.Out, err)
			return
		}
		show(server, study, opts.Out)
		fmt.Fprintf(opts.Out, "read again in %d ms\n", time.Since(began).Milliseconds())
	}
	if opts.Poll {
		return preview.Poll(ctx, folder, changed)
	}
	return preview.Watch(ctx, folder, changed, func(text string) { fmt.Fprintln(opts.Out, text) })
}

// show makes a study the newest state, or tells what is wrong with it.
func show(server *preview.Server, study *Study, out io.Writer) {
	var findings bytes.Buffer
	if err := checks.Text(&findings, study.Report, study.Ref, checks.TextOptions{Files: study.Files()}); err != nil {
		findings.WriteString(err.Error())
	}
	if n := study.Report.Counts.Error; n > 0 {
		server.Show(nil, fmt.Sprintf("The records hold %s.", count(n, "error")), findings.String())
		_, _ = out.Write(findings.Bytes())
		return
	}
	site, err := study.Site()
	if err != nil {
		server.Show(nil, err.Error(), findings.String())
		fmt.Fprintln(out, err)
		return
	}
	server.Show(site, "", findings.String())
	fmt.Fprintf(out, "%s in %s\n", count(len(study.Report.Findings), "finding"), count(len(study.Ref.Records()), "record"))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
