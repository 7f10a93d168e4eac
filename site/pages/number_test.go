package pages_test

import (
	"strings"
	"testing"
)

// TestNumberBoxes types one number as three people would, on the first page,
// in the search and in the form: each names maker, model, years and source; the
// form takes it as an answer, and what fits nothing is said with what is recorded.
func TestNumberBoxes(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	const fit = "Model number \"H-24\": Plover by Halvane Archery 1958–1966, by Halvane price list, spring 1958, p. 2"
	says := func(where, want string) {
		t.Helper()
		b.await(`document.querySelector("` + where + ` .number-says")?.textContent.includes(` + quote(want) + `)`)
	}
	b.visit("index.html", 390, "light")
	b.await(`!document.querySelector(".js-number").hidden`)
	evaluate[any](b, `document.querySelector("#Number").focus(); null`)
	b.keys("h 24\r")
	says(".js-says", fit)
	b.picture("number-390-light.png")
	b.hold(`["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa"]`)
	if to := evaluate[string](b, `document.querySelector(".number-says .button").getAttribute("href")`); to != "date.html#model=plover&model-number=h%2024" {
		t.Errorf("it leads to %q", to)
	}
	evaluate[any](b, `document.querySelector("#Number").select(); null`)
	b.keys("X99\r")
	says(".js-says", `"X99" fits no recorded number.`)
	if got := evaluate[string](b, `document.querySelector(".number-says").textContent`); !strings.Contains(got, "Recorded: model number") {
		t.Errorf("what is recorded is not named: %q", got)
	}
	b.visit("search.html#words=H24", 1280, "light")
	says(".js-number", fit)
	b.visit("search.html#words=padauk%201965", 1280, "light")
	b.await(`document.querySelectorAll(".hit").length > 0`)
	if got := evaluate[string](b, `document.querySelector(".js-number").textContent`); got != "" {
		t.Errorf("words are read as a number: %q", got)
	}
	b.visit("date.html", 390, "light")
	evaluate[any](b, `document.querySelector(".number-fold").open = true; document.querySelector("#Number").focus(); null`)
	b.keys("H-24\r")
	says(".js-says", fit)
	evaluate[any](b, `document.querySelector(".number-says button").click(); null`)
	b.await(`location.hash === "#model=plover&model-number=H-24" && document.querySelector(".js-model").value === "plover"`)
	b.staysHome()
}
