package builder

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"time"

	"yearmark/builder/preview"
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
	followed, err := Follow(folder)
	if err != nil {
		return err
	}
	listener, err := preview.Listen(opts.Port)
	if err != nil {
		return err
	}
	port := listener.Addr().(*net.TCPAddr).Port
	server := preview.NewServer(port)
	s := newStage(server, followed, opts.Out)
	s.open()
	s.line("serving %s at http://localhost:%d/ (end with Ctrl-C)", folder, port)

	ctx, stop := context.WithCancel(ctx)
	web := &http.Server{Handler: server, ReadHeaderTimeout: 10 * time.Second}
	served := make(chan error, 1)
	go func() { served <- web.Serve(listener) }()
	watched := make(chan error, 1)
	go func() { watched <- s.follow(ctx, folder, opts.Poll) }()
	select {
	case err = <-served:
	case err = <-watched:
	}
	stop()
	server.Close()
	s.close()
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

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
