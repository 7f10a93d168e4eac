package pages_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// wide says what of a document reaches beyond 320 CSS pixels; nothing is "".
const wide = `(d => { const w = d.documentElement.scrollWidth; if (w <= 320) return "";
	return w + " px: " + [...d.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 320.5 && !e.closest(".wide")).slice(0, 4).map(e => e.tagName + "." + e.className).join(", "); })`

// TestNoPageScrollsSideways looks at every page at a width of 320 CSS pixels
// (WCAG 2.2, success criterion 1.4.10, Reflow): the form and the search in a tab
// of that width, all others in frames of it.
func TestNoPageScrollsSideways(t *testing.T) {
	site := demonstration(t)
	b := openBrowser(t, site)
	for _, path := range []string{"date.html", "date.html#model=plover&ask=maker-mark", "date.html#" + passing(demonstrationFacts(t), "model=plover&riser-wood=padauk"),
		"date.html#model=plover&riser-wood=padauk&serial-number=65-172&model-label=transfer&skip=string-groove", "search.html", "search.html#words=plover&has=riser-wood%3Dpadauk"} {
		b.visit(path, 320, "light")
		if got := evaluate[string](b, wide+`(document)`); got != "" {
			t.Errorf("%s: %s", path, got)
		}
	}
	var pages []string
	for _, path := range site.Paths() {
		if strings.HasSuffix(path, ".html") {
			pages = append(pages, path)
		}
	}
	call(b, page.SetBypassCSP, page.SetBypassCSPParams{Enabled: true}) // the site's policy allows no frames
	b.visit("index.html", 1280, "light")
	list, err := json.Marshal(pages)
	if err != nil || len(pages) < 200 {
		t.Fatalf("%d pages, %v", len(pages), err)
	}
	found := evaluate[[]string](b, `(async () => {
		const wide = `+wide+`, out = [], left = `+string(list)+`;
		const walk = async () => {
			const frame = document.createElement("iframe");
			frame.style.cssText = "width:320px;height:700px;border:0";
			document.body.append(frame);
			for (let path; (path = left.pop());) {
				await new Promise(done => { frame.onload = done; frame.src = "/" + path; });
				const got = frame.contentWindow.innerWidth === 320 ? wide(frame.contentDocument) : "not looked at";
				if (got) out.push(path + ": " + got);
			}
		};
		await Promise.all([walk(), walk(), walk()]);
		return out.slice(0, 10); })()`)
	for _, words := range found {
		t.Error(words)
	}
}

// targets lists what is to be pressed and is lower than 44 CSS pixels, links
// within sentences aside (WCAG 2.2, success criterion 2.5.5, which excepts them).
const targets = `[...document.querySelectorAll("a[href], button, input, select, textarea, summary")].filter(e => {
	const label = e.closest("label"), r = (label && e.matches("[type=checkbox], [type=radio]") ? label : e).getBoundingClientRect();
	return r.width > 0 && r.height > 0 && r.height < 43.5 && getComputedStyle(e).display !== "inline" && !e.closest(".skip, .js-plain");
}).map(e => e.tagName + "." + e.className + " " + e.textContent.slice(0, 30) + " " + Math.round(e.getBoundingClientRect().height)).slice(0, 12).join("; ")`

// TestTargetsSuitAThumb looks at the form and the search on a phone.
func TestTargetsSuitAThumb(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	for _, path := range []string{"date.html", "date.html#model=plover&riser-wood=padauk&limb-glass=black&ask=serial-number", "date.html#ask=maker-mark",
		"date.html#model=plover&riser-wood=padauk&serial-number=65-172&model-label=transfer&skip=string-groove", "search.html"} {
		b.visit(path, 390, "light")
		if small := evaluate[string](b, targets); small != "" {
			t.Errorf("%s: lower than 44 px: %s", path, small)
		}
	}
	b.visit("date.html#ask=maker-mark", 390, "light")
	if perRow := evaluate[float64](b, `document.querySelector(".tiles").clientWidth / document.querySelector(".choice").clientWidth`); perRow < 2 {
		t.Errorf("%.1f values stand in a row", perRow)
	}
	if tall := evaluate[int](b, `document.querySelector(".ask").offsetHeight`); tall > 2500 {
		t.Errorf("the question about the mark is %d px high", tall)
	}
}

// TestNothingHidesUnderTheBar brings each control of the form into view, as the
// keyboard does: the bar at the foot covers none of them, nor the first answer
// of a question that has just come.
func TestNothingHidesUnderTheBar(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	const covered = `(e) => { const r = e.getBoundingClientRect(), bar = document.querySelector(".js-bar").getBoundingClientRect(); return r.height > 0 && r.bottom > bar.top + 1 && r.top < bar.bottom; }`
	for _, path := range []string{"date.html#ask=serial-number", "date.html#ask=maker-mark", "date.html#model=plover&riser-wood=padauk&limb-glass=black"} {
		b.visit(path, 390, "light")
		if got := evaluate[string](b, `[...document.querySelectorAll(".js-live button:not(.js-bar), .js-live input, .js-live select")].filter(e => e.checkVisibility() && !e.closest("details:not([open])")).filter(e => { e.scrollIntoView({ block: "nearest" }); return (`+covered+`)(e); }).map(e => e.textContent || e.name || e.id).join("; ")`); got != "" {
			t.Errorf("%s: under the bar: %s", path, got)
		}
	}
	b.visit("date.html#model=plover&ask=riser-wood", 390, "light")
	evaluate[any](b, `document.querySelector(".js-question .tile").click(); null`)
	b.await(`!location.hash.includes("ask=") && document.activeElement.id === "Question"`)
	if evaluate[bool](b, `[document.querySelector(".js-question .tile, #Written")].some(`+covered+`)`) {
		t.Error("the first answer of the next question is under the bar")
	}
}

// TestTabbingBringsNothingUnderTheBar walks the form's controls by the keyboard
// on a small phone: none has the focus where the bar covers any of it (WCAG 2.2,
// success criterion 2.4.12, Focus Not Obscured, enhanced).
func TestTabbingBringsNothingUnderTheBar(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	for _, path := range []string{"date.html#ask=serial-number", "date.html#model=plover&ask=maker-mark", "date.html#model=plover&riser-wood=padauk&limb-glass=black",
		"date.html#model=plover&riser-wood=padauk&serial-number=65-172&model-label=transfer&skip=string-groove"} {
		b.visit(path, 390, "light")
		do(b, chromedp.EmulateViewport(390, 700))
		walked := 0
		for range 400 {
			b.keys("\t")
			at := evaluate[string](b, `(() => { const e = document.activeElement, bar = document.querySelector(".js-bar");
				if (e === document.body || !e.closest(".js-live")) return e.closest(".footer") || e === document.body ? "end" : "";
				const r = e.getBoundingClientRect(), over = bar.getBoundingClientRect();
				return e !== bar && r.bottom > over.top + 1 && r.top < over.bottom - 1 ? (e.textContent.trim() || e.name || e.id).slice(0, 40) + " at " + Math.round(r.top) + "-" + Math.round(r.bottom) + ", the bar at " + Math.round(over.top) : "clear"; })()`)
			if at == "end" {
				break
			}
			if at != "" {
				walked++
			}
			if at != "" && at != "clear" {
				t.Errorf("%s: under the bar: %s", path, at)
			}
		}
		if walked < 10 {
			t.Errorf("%s: only %d controls were walked", path, walked)
		}
	}
}

// arrives waits until an expression is true in the page that comes.
func (b *browser) arrives(expression string) {
	b.t.Helper()
	for range 400 {
		if there, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](expression)); err == nil && there {
			return
		}
		time.Sleep(25 * time.Millisecond)
	}
	b.t.Fatalf("never came: %s", expression)
}

// TestFormComesBackToItsPlace reloads the form, and follows a link out of it
// and back: answers and place on the page are kept, and the earlier answer is
// marked where it is changed.
func TestFormComesBackToItsPlace(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("date.html#model=plover&riser-wood=padauk&maker-mark=oval", 390, "light")
	b.await(`document.querySelector(".grounds a")`)
	place := func(after string) {
		t.Helper()
		b.await(ready + ` && Math.abs(scrollY - 1500) < 3`)
		if !evaluate[bool](b, `location.hash.includes("maker-mark=oval")`) {
			t.Errorf("after %s the answers are gone", after)
		}
	}
	evaluate[any](b, `scrollTo(0, 1500); null`)
	b.await(`history.state?.y === 1500`)
	do(b, chromedp.Reload())
	place("a reload")
	evaluate[any](b, `setTimeout(() => document.querySelector(".grounds a").click()); null`)
	b.arrives(`location.pathname.includes("/models/")`)
	evaluate[any](b, `setTimeout(() => history.back()); null`)
	b.arrives(`location.pathname.includes("date.html")`)
	place("the way back")
	evaluate[any](b, `[...document.querySelectorAll(".seen button")].find(x => x.textContent.includes("maker's mark")).click(); null`)
	b.await(`document.querySelector(".tile[data-value=oval][aria-pressed=true]")`)
	if pressed := evaluate[int](b, `document.querySelectorAll(".tile[aria-pressed=true]").length`); pressed != 1 {
		t.Errorf("%d values are marked as the earlier answer", pressed)
	}
	evaluate[any](b, `history.back(); null`)
	b.await(`document.querySelector(".tile[data-value=oval]") === null`)
	if !strings.Contains(evaluate[string](b, `location.hash`), "maker-mark=oval") {
		t.Error("the browser's way back loses an answer")
	}
	place("the browser's way back")
}
