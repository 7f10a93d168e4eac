// Package chromium gives a test a tab of a real Chromium.
package chromium

import (
	"context"
	"testing"

	"github.com/chromedp/chromedp"

	"yearmark/testdata/need"
)

// Tab opens a tab with nothing on it, in a browser of its own that is closed
// when the test ends. Without a sandbox, since tests may run as root. A test
// for which there is no Chromium is left out, as package need says.
func Tab(t testing.TB, options ...chromedp.ContextOption) context.Context {
	t.Helper()
	browser := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.DisableGPU, chromedp.ExecPath(need.Chromium(t)))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), browser...)
	t.Cleanup(stop)
	ctx, closeTab := chromedp.NewContext(allocator, options...)
	t.Cleanup(closeTab)
	return ctx
}
