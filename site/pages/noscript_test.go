package pages_test

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestReadsWithoutScripts opens a page of every kind on a phone on which no
// script runs: nothing of the page's matter is folded away that a script would
// have to open, nothing is wider than the screen, and where the form cannot
// run the printed key stands open.
func TestReadsWithoutScripts(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	do(b, chromedp.EmulateViewport(390, 900))
	for _, page := range kinds {
		do(b, chromedp.Navigate(b.base+page))
		if wide := evaluate[int](b, `document.documentElement.scrollWidth`); wide > 390 {
			t.Errorf("%s is %d pixels wide", page, wide)
		}
		if folded := evaluate[int](b, `document.querySelectorAll("details.js-fold:not([open])").length`); folded > 0 {
			t.Errorf("%s: %d parts are folded away", page, folded)
		}
		if words := evaluate[int](b, `document.querySelector("main").innerText.length`); words < 100 {
			t.Errorf("%s shows only %d letters", page, words)
		}
	}
	do(b, chromedp.Navigate(b.base+"date.html"))
	models := demonstrationFacts(t).ref.Models.Len()
	if open := evaluate[int](b, `document.querySelectorAll(".js-key[open] table").length`); open != models {
		t.Errorf("the printed key shows %d of %d models", open, models)
	}
	if live := evaluate[bool](b, `document.querySelector(".js-live").offsetParent !== null`); live {
		t.Error("the form that cannot run is shown")
	}
	said := evaluate[string](b, `document.querySelector("main").innerText`)
	if want := "Without JavaScript the form cannot run here"; !strings.Contains(said, want) {
		t.Errorf("the page does not say %q", want)
	}
	do(b, chromedp.Navigate(b.base+"models/plover.html#padauk-riser"))
	if !evaluate[bool](b, `document.querySelector("#padauk-riser .on-word a").offsetParent !== null`) {
		t.Error("a claim's first citation is not in the open")
	}
	b.picture("noscript-390.png")
}
