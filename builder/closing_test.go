package builder

import (
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"testing"
	"time"

	"yearmark/testdata/made"
)

// TestClosingWhileAChangeIsShownLeavesNothing ends previews right after a save,
// at ever later moments, one of them with a client that never reads: each ends,
// and no goroutine of theirs stays.
func TestClosingWhileAChangeIsShownLeavesNothing(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "made")
	if err := made.Write(folder, made.Options{Pages: made.Least, Seed: 5}); err != nil {
		t.Fatal(err)
	}
	serving := regexp.MustCompile(`at http://(localhost:\d+|127\.0\.0\.1:\d+)/`)
	before := runtime.NumGoroutine()
	for i := range 6 {
		out := &locked{}
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		go func() { ended <- Preview(ctx, folder, PreviewOptions{Out: out}) }()
		var at []string
		for began := time.Now(); at == nil; time.Sleep(5 * time.Millisecond) {
			if at = serving.FindStringSubmatch(out.String()); at == nil && time.Since(began) > 30*time.Second {
				t.Fatalf("the preview does not serve: %s", out)
			}
		}
		if i == 5 {
			client, err := net.Dial("tcp", at[1])
			if err != nil {
				t.Fatal(err)
			}
			defer client.Close()
			fmt.Fprintf(client, "GET /-preview/changes HTTP/1.1\r\nHost: %s\r\n\r\n", at[1])
		}
		text := record(fmt.Sprintf("Closed %d", i))
		if err := os.WriteFile(filepath.Join(folder, "sources", "closed.md"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(i) * 20 * time.Millisecond) // a moment of the showing, whichever it is
		stop()
		select {
		case err := <-ended:
			if err != nil {
				t.Errorf("closed after %d ms: %v", i*20, err)
			}
		case <-time.After(30 * time.Second):
			t.Fatalf("closed after %d ms, the preview goes on", i*20)
		}
	}
	stays := 0
	for began := time.Now(); time.Since(began) < 20*time.Second; time.Sleep(20 * time.Millisecond) {
		if stays = runtime.NumGoroutine() - before; stays <= 0 {
			return
		}
	}
	stacks := make([]byte, 1<<16)
	t.Errorf("%d goroutines stay:\n%s", stays, stacks[:runtime.Stack(stacks, true)])
}
