package builder_test

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"yearmark/testdata/need"
)

// TestATextIsWrittenWithTools makes a heading, bold words, a list, a link to a
// record that is picked by its name, and a citation; how the text will look
// follows, and the browser's own undo takes a tool's work back.
func TestATextIsWrittenWithTools(t *testing.T) {
	need.Chromium(t)
	d := openDesk(t, copyOfContent(t))
	d.run(chromedp.Navigate(d.evaluate("location.href") + "edit/maker/halvane"))
	const area = `document.getElementById('-text')`
	expect := func(what, want string) {
		t.Helper()
		if got := d.evaluate(area + ".value"); got != want {
			t.Errorf("%s the text is %q, want %q", what, got, want)
		}
	}
	put := func(text, selected string) {
		t.Helper()
		d.evaluate(`(() => { const a = ` + area + `; a.focus(); a.select(); document.execCommand('insertText', false, ` + "`" + text + "`" + `); const of = ` + "`" + selected + "`" + `; const at = a.value.indexOf(of); a.setSelectionRange(at, at + of.length); })()`)
	}
	put("The mark\nstood here.", "The mark")
	d.press("Heading")
	expect("with a heading", "## The mark\nstood here.")
	d.awaitTrue(`document.querySelector('[data-looks] h3')?.textContent === 'The mark'`)
	put("It was black.", "black")
	d.press("Bold")
	expect("with bold words", "It was **black**.")
	d.press("Bold")
	expect("with bold words no more", "It was black.")
	const control = 2 // as Input.dispatchKeyEvent counts
	for _, command := range []string{"undo"} {
		for _, kind := range []input.DispatchKeyEventType{"rawKeyDown", "keyUp"} {
			p := input.DispatchKeyEventParams{Type: kind, Key: "z", Code: "KeyZ", Modifiers: control, WindowsVirtualKeyCode: 90}
			if kind == "rawKeyDown" {
				p.Commands = []string{command}
			}
			if _, err := chromedp.Call(d.ctx, input.DispatchKeyEvent, p); err != nil {
				t.Fatal(err)
			}
		}
	}
	expect("undone once", "It was **black**.")
	put("one\ntwo", "one\ntwo")
	d.evaluate(area + `.setSelectionRange(0, 7)`)
	d.press("List")
	expect("with a list", "- one\n- two")
	d.awaitTrue(`document.querySelectorAll('[data-looks] li').length === 2`)

	put("As the Plover had.", "Plover")
	d.press("Link to a record")
	d.run(chromedp.SendKeys(`#link-which`, "plover"))
	d.evaluate(`[...document.querySelectorAll('#Link button')].find((b) => b.textContent === 'Put it in').click()`)
	d.awaitTrue(area + `.value === 'As the [Plover](model:plover) had.'`)
	d.awaitTrue(`document.querySelector('[data-looks] a')?.href.endsWith('/models/plover.html')`)
	put("So it is said.", "said")
	d.press("Citation")
	d.picture("desk-link.png", 1280)
	d.run(chromedp.SendKeys(`#link-which`, "halvane-list-1964"), chromedp.SendKeys(`#link-place`, "p. 2"))
	d.evaluate(`[...document.querySelectorAll('#Link button')].find((b) => b.textContent === 'Put it in').click()`)
	d.awaitTrue(area + `.value === 'So it is [said, p. 2](source:halvane-list-1964).'`)
	d.awaitTrue(`document.querySelector('[data-looks] .desk-notes li')?.textContent.endsWith(', p. 2')`)
	put("x", "x")
	d.press("Link to a record")
	d.run(chromedp.SendKeys(`#link-which`, "no such bow"))
	d.evaluate(`[...document.querySelectorAll('#Link button')].find((b) => b.textContent === 'Put it in').click()`)
	d.awaitTrue(`document.querySelector('#Link').open && document.querySelector('#Link [data-wrong]').textContent.includes('none of those on record')`)
	d.evaluate(`[...document.querySelectorAll('#Link button')].find((b) => b.textContent === 'Not now').click()`)
	expect("without a link", "x")
	put("<script>window.ran = 1</script>\n\nSaved.", "Saved")
	d.awaitTrue(`document.querySelector('[data-looks]').textContent.includes('Saved')`)
	if got := d.evaluate(`window.ran + ' ' + document.querySelectorAll('[data-looks] script').length`); got != "undefined 0" {
		t.Errorf("a script in the text ran or stands in the page: %s", got)
	}
	d.press("Save")
	if text := d.read("makers/halvane.md"); !strings.HasSuffix(text, "<script>window.ran = 1</script>\n\nSaved.\n") {
		t.Errorf("saved is %q", text[max(0, len(text)-200):])
	}
}
