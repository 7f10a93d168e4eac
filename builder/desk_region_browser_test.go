package builder_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"yearmark/testdata/need"
)

// drag presses the mouse at one point of the picture in the dialog, in per cent,
// and lets go at another.
func (d deskTab) drag(x1, y1, x2, y2 float64) {
	d.t.Helper()
	at := func(x, y float64) (float64, float64) {
		px, _ := strconv.ParseFloat(d.evaluate(fmt.Sprintf("(() => { const f = document.querySelector('#Draw img').getBoundingClientRect(); return f.left + f.width * %v / 100; })()", x)), 64)
		py, _ := strconv.ParseFloat(d.evaluate(fmt.Sprintf("(() => { const f = document.querySelector('#Draw img').getBoundingClientRect(); return f.top + f.height * %v / 100; })()", y)), 64)
		return px, py
	}
	for i, step := range [][2]float64{{x1, y1}, {(x1 + x2) / 2, (y1 + y2) / 2}, {x2, y2}, {x2, y2}} {
		kind := [...]input.DispatchMouseEventType{"mousePressed", "mouseMoved", "mouseMoved", "mouseReleased"}[i]
		px, py := at(step[0], step[1])
		d.mouse(kind, px, py)
	}
}

func (d deskTab) mouse(kind input.DispatchMouseEventType, x, y float64) {
	d.t.Helper()
	p := input.DispatchMouseEventParams{Type: kind, X: x, Y: y, Button: "left", ClickCount: 1, Buttons: 1}
	if _, err := chromedp.Call(d.ctx, input.DispatchMouseEvent, p); err != nil {
		d.t.Fatal(err)
	}
}

const shift = 8 // as Input.dispatchKeyEvent counts

// key presses a key that writes nothing.
func (d deskTab) key(name string, modifiers int64) {
	d.t.Helper()
	codes := map[string]int64{"ArrowLeft": 37, "ArrowUp": 38, "ArrowRight": 39, "ArrowDown": 40}
	for _, kind := range []input.DispatchKeyEventType{"rawKeyDown", "keyUp"} {
		p := input.DispatchKeyEventParams{Type: kind, Key: name, Code: name, Modifiers: modifiers, WindowsVirtualKeyCode: codes[name]}
		if _, err := chromedp.Call(d.ctx, input.DispatchKeyEvent, p); err != nil {
			d.t.Fatal(err)
		}
	}
}

// TestARegionIsDrawn draws the region of a scan with the mouse, moves and sizes
// it by the keys, and types its figures; each ends in the form's own box, and
// saved in the record.
func TestARegionIsDrawn(t *testing.T) {
	need.Chromium(t)
	d := openDesk(t, copyOfContent(t))
	const box = `document.querySelector('[name="places/0/region"]')`
	d.run(chromedp.Navigate(d.evaluate("location.href") + "edit/source/stang-list-1960"))
	d.evaluate(`(document.getElementById('places/0').open = true, document.querySelector('[data-draw][data-at="places/0/region"]').scrollIntoView())`)
	d.awaitTrue(`!document.querySelector('[data-cut="places/0/region"]').hidden`)
	was := d.evaluate(box + ".value")
	open := func() {
		d.evaluate(`document.querySelector('[data-draw][data-at="places/0/region"]').click()`)
		d.awaitTrue(`document.querySelector('#Draw img').naturalWidth > 0 && document.querySelector('#Draw rect').getAttribute('width') !== null`)
	}
	closeWith := func(words string) {
		d.evaluate(`[...document.querySelectorAll('#Draw button')].find((b) => b.textContent === '` + words + `').click()`)
		d.awaitTrue(`!document.querySelector('#Draw').open`)
	}
	expect := func(what, want string) {
		t.Helper()
		if got := d.evaluate(box + ".value"); got != want {
			t.Errorf("%s it says %q, want %q", what, got, want)
		}
	}
	open()
	d.picture("desk-draw.png", 1280)
	if small := d.evaluate(`Math.min(...[...document.querySelectorAll('#Draw circle:first-child')].map((c) => Math.round(c.getBoundingClientRect().width)))`); small != "44" {
		t.Errorf("a corner is %s pixels wide", small)
	}
	closeWith("Use it")
	expect("only looked at", was)

	open()
	d.drag(1, 1, 21, 11)
	closeWith("Use it")
	expect("drawn", "xywh=percent:1,1,20,10")
	d.evaluate(`document.querySelector('[data-draw][data-at="places/0/region"]').scrollIntoView()`)

	open()
	d.drag(10, 6, 40, 46)  // within it: moved
	d.drag(51, 51, 61, 71) // its last corner
	closeWith("Use it")
	expect("moved and pulled", "xywh=percent:31,41,30,30")

	open()
	d.key("ArrowRight", 0)
	closeWith("Not now")
	expect("left", "xywh=percent:31,41,30,30")

	open()
	for _, key := range []string{"ArrowRight", "ArrowRight", "ArrowUp"} {
		d.key(key, 0)
	}
	d.key("ArrowRight", shift)
	d.key("ArrowDown", shift)
	closeWith("Use it")
	expect("by the keys", "xywh=percent:33,40,31,31")

	open()
	d.evaluate(`(() => { const b = document.querySelectorAll('#Draw input[type=number]')[2]; b.value = 90; b.dispatchEvent(new Event('input', { bubbles: true })); })()`)
	closeWith("Use it")
	expect("typed too wide", "xywh=percent:33,40,67,31")
	d.press("Save")
	if text := d.read("sources/stang-list-1960.md"); !strings.Contains(text, `region: "xywh=percent:33,40,67,31"`) && !strings.Contains(text, `xywh=percent:33,40,67,31`) {
		t.Errorf("saved is\n%s", text)
	}
}
