package pages_test

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestGridIsSeen looks at a chart as the browser draws it. A row's grid is
// drawn once, in the ruler, and only referred to: a rule of the style sheet
// that names anything around it would no longer reach it.
func TestGridIsSeen(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	for _, scheme := range []string{"light", "dark"} {
		b.visit("models/plover.html", 1280, scheme)
		const row = `document.querySelector("svg.lanes").getBoundingClientRect()`
		left, width := evaluate[float64](b, row+`.left + scrollX`), evaluate[float64](b, row+`.width`)
		top := evaluate[float64](b, row+`.top + scrollY`)
		want := evaluate[int](b, `document.querySelectorAll("#Grid line").length`)
		shot, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := png.Decode(bytes.NewReader(shot))
		if err != nil {
			t.Fatal(err)
		}
		// Above the first band nothing crosses the row but the grid; where a row
		// begins between two pixels, one of these three lies there.
		lines := 0
		for y := int(math.Ceil(top)); y < int(math.Ceil(top))+3; y++ {
			lines = max(lines, crossings(drawn, y, int(left)+1, int(left+width)+1))
		}
		if lines != want || want < 2 {
			t.Errorf("in the %s %d lines of the grid are seen, want %d", scheme, lines, want)
		}
	}
}

// crossings counts the lines that cross a row of pixels.
func crossings(drawn image.Image, y, from, to int) (lines int) {
	paper := drawn.At(from, y)
	before := paper
	for x := from; x < to; x++ {
		here := drawn.At(x, y)
		if here != paper && before == paper {
			lines++
		}
		before = here
	}
	return lines
}
