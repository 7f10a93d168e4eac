package builder

import (
	"context"
	"errors"
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

	ready  func(address string) // called once pages are served; may be nil
	beside preview.Beside
}

// closingGrace is how long a page that is being served may take once the
// preview ends; who hangs longer is cut off, so that it ends within a second.
const closingGrace = 300 * time.Millisecond

// Preview serves the reference in folder on loopback and follows edits until
// the context ends.
func Preview(ctx context.Context, folder string, opts PreviewOptions) error {
	followed, err := Follow(ctx, folder)
	if err != nil {
		return err
	}
	listeners, address, err := preview.Listen(opts.Port)
	if err != nil {
		return err
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	server := preview.NewServer(listeners[0].Addr().(*net.TCPAddr).Port)
	server.Beside = opts.beside
	s := newServingLoop(ctx, server, followed, opts.Out)
	s.open()
	s.line("serving %s at http://%s/ (end with Ctrl-C)", folder, address)
	if opts.ready != nil {
		opts.ready("http://" + address + "/")
	}

	web := &http.Server{Handler: server, ReadHeaderTimeout: 10 * time.Second}
	ended := make(chan error, len(listeners)+1) // each part sends once
	for _, l := range listeners {
		go func() { ended <- web.Serve(l) }()
	}
	go func() { ended <- s.follow(ctx, folder, opts.Poll) }()
	err = <-ended
	stop()
	server.Close()
	closeServer(web)
	for range listeners { // the others
		<-ended
	}
	s.close()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// closeServer lets the pages that are being served end, for a while.
func closeServer(web *http.Server) {
	end, cancel := context.WithTimeout(context.Background(), closingGrace)
	defer cancel()
	if web.Shutdown(end) != nil {
		_ = web.Close()
	}
}
