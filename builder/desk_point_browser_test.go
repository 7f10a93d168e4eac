package builder_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"yearmark/testdata/need"
)

// touch lays a finger on a place of the picture in the dialog, in per cent, and
// lifts it at another.
func (d deskTab) touch(x1, y1, x2, y2 float64) {
	d.t.Helper()
	frame := strings.Fields(d.evaluate(`(() => { const f = document.querySelector('#Draw img').getBoundingClientRect(); return [f.left, f.top, f.width, f.height].join(' '); })()`))
	var n [4]float64
	for i, text := range frame {
		n[i], _ = strconv.ParseFloat(text, 64)
	}
	at := func(x, y float64) []*input.TouchPoint {
		return []*input.TouchPoint{{X: n[0] + n[2]*x/100, Y: n[1] + n[3]*y/100}}
	}
	for _, step := range []input.DispatchTouchEventParams{
		{Type: "touchStart", TouchPoints: at(x1, y1)}, {Type: "touchMove", TouchPoints: at((x1+x2)/2, (y1+y2)/2)},
		{Type: "touchMove", TouchPoints: at(x2, y2)}, {Type: "touchEnd", TouchPoints: []*input.TouchPoint{}},
	} {
		if _, err := chromedp.Call(d.ctx, input.DispatchTouchEvent, step); err != nil {
			d.t.Fatal(err)
		}
	}
}

// TestAPlateIsPointedAt sets the pointers of a model's plate with the mouse, a
// finger and the keys, makes one more for a claim chosen from the list, and takes
// one away; what was only looked at keeps its tenths.
func TestAPlateIsPointedAt(t *testing.T) {
	need.Chromium(t)
	d := openDesk(t, copyOfContent(t))
	d.run(chromedp.Navigate(d.evaluate("location.href") + "edit/model/plover"))
	before := d.read("models/plover.md")
	value := func(path string) string { return d.evaluate(`document.querySelector('[name="` + path + `"]').value`) }
	point := func(n int) string {
		at := "plate/points/" + strconv.Itoa(n) + "/at/"
		return value(at+"0") + " " + value(at+"1")
	}
	open := func(n int) {
		at := "plate/points/" + strconv.Itoa(n)
		d.evaluate(`(document.getElementById('` + at + `').open = true, document.querySelector('[data-draw="point"][data-at="` + at + `/at"]').scrollIntoView(), document.querySelector('[data-draw="point"][data-at="` + at + `/at"]').click())`)
		d.awaitTrue(`document.querySelector('#Draw').open && document.querySelector('#Draw img').naturalWidth > 0 && document.querySelector('#Draw rect').getAttribute('width') !== null`)
	}
	use := func() {
		d.evaluate(`[...document.querySelectorAll('#Draw button')].find((b) => b.textContent === 'Use it').click()`)
		d.awaitTrue(`!document.querySelector('#Draw').open`)
	}
	expect := func(what string, n int, want string) {
		t.Helper()
		if got := point(n); got != want {
			t.Errorf("%s it lies at %q, want %q", what, got, want)
		}
	}
	if got := d.evaluate(`document.querySelector('[id="plate/points/0"] summary').textContent`); !strings.HasPrefix(got, "Tip overlays: Red") {
		t.Errorf("the first pointer is called %q", got)
	}
	open(0)
	if got := d.evaluate(`document.querySelectorAll('#Draw .desk-other').length`); got != "14" {
		t.Errorf("%s other pointers are in sight, want 14", got)
	}
	d.view("desk-point.png")
	use()
	expect("only looked at", 0, "4.2 30.7")
	open(0)
	d.key("ArrowRight", 0)
	d.key("ArrowDown", shift)
	use()
	expect("by the keys", 0, "5.2 30.8")
	open(1)
	d.drag(70, 20, 30.04, 60.06)
	use()
	if got := point(1); !near(got, 30, 60.1) {
		t.Errorf("by the mouse it lies at %q", got)
	}
	open(2)
	d.touch(70, 20, 40, 50)
	use()
	if got := point(2); !near(got, 40, 50) {
		t.Errorf("by a finger it lies at %q", got)
	}
	open(3)
	d.evaluate(`(() => { const b = document.querySelector('#Draw input[type=number]'); b.value = 33.3; b.dispatchEvent(new Event('input', { bubbles: true })); })()`)
	use()
	expect("typed", 3, "33.3 30.7")

	d.press("Remove this pointer") // the first of those that stand open
	d.press("Add a pointer")
	const made = "plate/points/15"
	if got := d.evaluate(`[...document.getElementById(document.querySelector('[name="` + made + `/claim"]').getAttribute('list')).options].some((o) => o.value === 'centre-window')`); got != "true" {
		t.Error("the claim is not in the list to choose from")
	}
	d.fill(made+"/claim", "centre-window")
	open(15)
	d.key("ArrowUp", 2) // with Ctrl
	use()
	expect("made", 15, "50 40")
	d.press("Save")
	after := d.read("models/plover.md")
	for _, want := range []string{"claim: centre-window}", "{at: [50, 40], claim: centre-window}", "{at: [33.3, 30.7], claim: mustard-glass}"} {
		if !strings.Contains(after, want) {
			t.Errorf("%q is not in\n%s", want, after[:strings.Index(after, "made:")])
		}
	}
	if plate := after[:strings.Index(after, "made:")]; strings.Contains(plate, "claim: red-tips") {
		t.Error("the pointer that was taken away is still there")
	}
	d.press("Take back")
	if d.read("models/plover.md") != before {
		t.Error("the change is not taken back byte for byte")
	}
}

// near says that a point lies within a pixel or so of where it was set.
func near(text string, x, y float64) bool {
	var got [2]float64
	for i, n := range strings.Fields(text) {
		got[i], _ = strconv.ParseFloat(n, 64)
	}
	return got[0] > x-.3 && got[0] < x+.3 && got[1] > y-.3 && got[1] < y+.3
}

// view keeps a picture of what is in sight where YEARMARK_LOOK names a folder.
func (d deskTab) view(name string) {
	d.t.Helper()
	folder := os.Getenv("YEARMARK_LOOK")
	if folder == "" {
		return
	}
	shot, err := chromedp.Run(d.ctx, chromedp.CaptureScreenshot())
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name), shot, 0o644)
	}
	if err != nil {
		d.t.Error(err)
	}
}
