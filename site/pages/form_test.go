package pages_test

import (
	"bytes"
	"strings"
	"testing"

	"yearmark/dating"
)

// ready says in the page's own terms that the form shows an answer.
const ready = `document.querySelector(".js-result .verdict")`

// TestFormAnswersAsTheEngine opens addresses that hold answers and reads the
// same odds in the page as the engine gives.
func TestFormAnswersAsTheEngine(t *testing.T) {
	d := demonstrationFacts(t)
	b := openBrowser(t, d.site)
	for _, q := range []struct {
		address string
		ask     dating.Question
	}{
		{"date.html#model=plover&riser-wood=padauk&maker-mark=oval,script~unsure", dating.Question{
			Models: []string{"plover"}, Observed: []dating.Observation{{Feature: "riser-wood", Values: []string{"padauk"}}, {Feature: "maker-mark", Values: []string{"oval", "script"}, Sure: "unsure"}}}},
		{"date.html#limb-glass=grey-green&stabiliser-socket=absent", dating.Question{
			Observed: []dating.Observation{{Feature: "limb-glass", Values: []string{"grey-green"}}, {Feature: "stabiliser-socket", Values: []string{"absent"}}}}},
		{"date.html#model=plover,fellman&limb-glass=grey-green", dating.Question{
			Models: []string{"plover", "fellman"}, Observed: []dating.Observation{{Feature: "limb-glass", Values: []string{"grey-green"}}}}},
		{"date.html", dating.Question{}},
	} {
		answer, err := d.engine.Date(q.ask)
		if err != nil {
			t.Fatal(err)
		}
		b.visit(q.address, 1280, "light")
		b.await(ready)
		b.picture("form-" + number(len(q.ask.Observed)) + "-1280-light.png")
		want := map[string]string{}
		for _, y := range answer.Years {
			if y.Chance > 1e-4 {
				want[number(y.Year)] = percent(y.Chance)
			}
		}
		got := evaluate[map[string]string](b, `Object.fromEntries([...document.querySelectorAll(".js-result .odds-chart tbody tr")].map(r => [r.cells[0].textContent, r.cells[1].textContent]))`)
		if len(got) != len(want) {
			t.Errorf("%s: %d years in the page, %d by the engine", q.address, len(got), len(want))
		}
		for year, chance := range want {
			if got[year] != chance {
				t.Errorf("%s: %s has %q in the page, %q by the engine", q.address, year, got[year], chance)
			}
		}
	}
}

// TestFormDatesABowOfEitherModel follows the page of a bow that is one of two
// models to the form, which says so in its list, dates it over both, keeps both in
// its address, and forgets them where another model is chosen.
func TestFormDatesABowOfEitherModel(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("examples/0048.html", 390, "light")
	to := evaluate[string](b, `[...document.querySelectorAll('a[href*="date.html#"]')][0].getAttribute("href")`)
	if !strings.Contains(to, "#model=plover,fellman&") {
		t.Fatalf("its page leads to %s", to)
	}
	b.visit(strings.TrimPrefix(to, "../"), 390, "light")
	b.await(ready)
	const chosen = `document.querySelector(".js-model").selectedOptions[0].textContent`
	if got := evaluate[string](b, chosen); got != "Plover or Fellman" {
		t.Errorf("the chosen model is called %q", got)
	}
	b.picture("form-either-390-light.png")
	models := evaluate[string](b, `[...document.querySelectorAll(".js-result")].map((e) => e.textContent).join(" ")`)
	if !strings.Contains(models, "Plover") && !strings.Contains(models, "Fellman") || strings.Contains(models, "not on record") {
		t.Errorf("it is dated over others: %.300s", models)
	}
	evaluate[bool](b, `(() => { const c = document.querySelector(".js-model"); c.value = "fellman"; c.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	b.await(`location.hash.includes("model=fellman") && !location.hash.includes("plover")`)
	evaluate[bool](b, `(history.back(), true)`)
	b.await(`location.hash.includes("model=plover,fellman") && ` + chosen + ` === "Plover or Fellman"`)
}

// TestFormByKeyboard answers, skips, goes back and changes by the keyboard
// alone, and sees the address and the spoken result follow.
func TestFormByKeyboard(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("date.html", 390, "light")
	b.await(ready)
	first := evaluate[string](b, `document.querySelector("#Question").textContent`)
	b.picture("form-390-light.png")
	spoken := evaluate[string](b, `document.querySelector(".js-result [role=status]").textContent`)
	if spoken == "" {
		t.Error("nothing is said to those who listen")
	}
	evaluate[any](b, `document.querySelector(".js-question .tile, .js-question #Written").focus(); null`)
	if evaluate[bool](b, `document.activeElement.matches("#Written")`) {
		b.keys("45\r")
	} else {
		b.keys("\r")
	}
	b.await(`location.hash.length > 1 && document.querySelector("#Question").textContent !== ` + quote(first))
	if !evaluate[bool](b, `document.activeElement.id === "Question"`) {
		t.Error("the next question does not take the focus")
	}
	if now := evaluate[string](b, `document.querySelector(".js-result [role=status]").textContent`); now == spoken {
		t.Error("the result changed and nothing is said")
	}
	second := evaluate[string](b, `document.querySelector("#Question").textContent`)
	evaluate[any](b, `[...document.querySelectorAll(".js-question button")].find(x => x.textContent === "I cannot tell").focus(); null`)
	b.keys("\r")
	b.await(`location.hash.includes("skip=") && document.querySelector("#Question").textContent !== ` + quote(second))
	evaluate[any](b, `[...document.querySelectorAll(".js-question button")].find(x => x.textContent === "Back").focus(); null`)
	b.keys("\r")
	b.await(`!location.hash.includes("skip=") && document.querySelector("#Question").textContent === ` + quote(second))
	evaluate[any](b, `[...document.querySelectorAll(".js-result .seen button")].find(x => x.textContent.startsWith("Change")).focus(); null`)
	b.keys("\r")
	b.await(`document.querySelector("#Question").textContent === ` + quote(first))
}

// TestFormNamesContradictions gives answers that cannot stand together: the
// page says so in words, names what to put aside, and does so when asked.
func TestFormNamesContradictions(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("date.html#model=plover&riser-wood=padauk&limb-glass=black", 1280, "light")
	b.await(ready)
	b.picture("form-clash-1280-light.png")
	clash := evaluate[string](b, `document.querySelector(".clash").textContent`)
	for _, want := range []string{"No Plover on record has riser wood Padauk together with limb facing Black glass", "Look again at the", "without it Plover"} {
		if !strings.Contains(clash, want) {
			t.Errorf("the contradiction is told as %q, without %q", clash, want)
		}
	}
	for _, where := range []string{".js-result [role=status]", ".js-bar"} {
		if got := evaluate[string](b, `document.querySelector("`+where+`").textContent`); !strings.Contains(got, "No Plover on record has") {
			t.Errorf("%s says %q of a contradiction", where, got)
		}
	}
	if evaluate[bool](b, `document.querySelector(".js-result .verdict").textContent.includes("most likely")`) {
		t.Error("a year stands in the headline of a contradiction")
	}
	evaluate[any](b, `document.querySelector(".clash button").click(); null`)
	b.await(`!document.querySelector(".clash") && location.hash.split("=").length === 3`)
}

// TestFormRefuses keeps an answer that is none, and says why.
func TestFormRefuses(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("date.html#ask=draw-weight", 390, "light")
	b.await(`document.querySelector("#Written")`)
	evaluate[any](b, `document.querySelector("#Written").focus(); null`)
	b.keys("heavy\r")
	b.await(`document.querySelector(".trouble").textContent.includes("heavy")`)
	if evaluate[bool](b, `location.hash.includes("heavy")`) {
		t.Error("the refused answer is in the address")
	}
}

// TestSearchFinds searches by words, by what a bow looks like and by years, in a browser.
func TestSearchFinds(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("search.html#words=padauk", 1280, "light")
	b.await(`document.querySelectorAll(".hit").length > 0`)
	b.picture("search-words-1280-light.png")
	b.visit("search.html#has=riser-wood%3Dpadauk&kinds=model&from=1965&to=1965", 1280, "light")
	b.await(`document.querySelectorAll(".hit").length > 0 && document.querySelector(".facet[open] .js-count").textContent !== ""`)
	if !evaluate[bool](b, `[...document.querySelectorAll(".hit h3 a")].some(a => a.getAttribute("href") === "models/plover.html")`) {
		t.Error("the Plover is not among the models with padauk in 1965")
	}
	if !evaluate[bool](b, `[...document.querySelectorAll(".hit a")].some(a => a.getAttribute("href") === "models/plover.html#padauk-riser")`) {
		t.Error("no link to the claim that says so")
	}
	b.picture("search-feature-1280-light.png")
	b.visit("search.html", 390, "dark")
	b.await(`document.activeElement.matches(".js-words")`)
	b.keys("zzqx")
	b.await(`document.querySelector(".js-summary").textContent.includes("Nothing found")`)
	b.staysHome()
}

// TestRegisterFilters holds the register of bows to one model and to papers.
func TestRegisterFilters(t *testing.T) {
	d := demonstrationFacts(t)
	b := openBrowser(t, d.site)
	plovers, papers := 0, 0
	for _, e := range d.ref.Examples.All() {
		if e.Model.Value == "plover" {
			plovers++
			if e.Documented != nil {
				papers++
			}
		}
	}
	shown := `[...document.querySelectorAll(".js-bows > li")].filter(li => !li.hidden).length`
	b.visit("examples/index.html", 390, "light")
	b.await(`!document.querySelector(".js-filter").hidden && ` + shown + ` === ` + number(d.ref.Examples.Len()))
	evaluate[any](b, `{ const s = document.querySelector(".js-filter-model"); s.value = "plover"; s.dispatchEvent(new Event("change")); } null`)
	b.await(shown + " === " + number(plovers))
	evaluate[any](b, `document.querySelector(".js-filter-papers").click(); null`)
	b.await(shown + " === " + number(papers))
	if plovers == 0 || papers == 0 || papers == plovers {
		t.Errorf("%d Plovers, %d with papers: nothing is tested", plovers, papers)
	}
}

// TestFormTakesAStampAsTheDrawWeight answers the draw weight as it is stamped:
// it counts as what it stands for, and the mark is kept; what nobody is
// recorded to have used is told.
func TestFormTakesAStampAsTheDrawWeight(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("date.html#model=plover&ask=draw-weight", 390, "light")
	b.await(`document.querySelector("#Written")`)
	evaluate[any](b, `document.querySelector("#Written").focus(); null`)
	b.keys("X42\r")
	b.await(`document.querySelector(".js-question .trouble").textContent.includes("the sign X is not one that this maker is recorded to have used")`)
	evaluate[any](b, `document.querySelector("#Written").value = ""; null`)
	b.keys("•42 @ 28\r")
	b.await(`location.hash.includes("draw-weight=41") && location.hash.includes("weight.mark=%E2%80%A242")`)
}

// TestFormReadsWeightMarks writes marks as they are stamped: each is read by
// the convention of its model's maker, with the way to who says so, and fills
// the sums; signs on both sides and signs of others are refused in words; the
// address and the copied result hold the mark.
func TestFormReadsWeightMarks(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	for _, c := range []struct{ model, mark, says, weight, told string }{
		{"plover", "•42 @ 28", "•42 @ 28 reads 41 lb at 28 in: as Halvane Archery stamped its bows.", "41", "makers/halvane.html#Marks"},
		{"plover", "42•", "42• reads 43 lb: as Halvane Archery stamped its bows.", "43", "makers/halvane.html#Marks"},
		{"tethera", "-40", "-40 reads 38 lb: as Stang End", "38", "makers/stang-end.html#Marks"},
		{"gimmer", "*25 @ 24", "*25 @ 24 reads 23 lb at 24 in, up to 1969; 24 lb at 24 in, 1970 and onwards: as Thornsgill Sports Goods stamped its bows. When new they were up to 2 lb over their stamp.", "", "makers/thornsgill.html#Marks"},
		{"plover", "•42•", "•42•: a sign stands on both sides of the figure, and no meaning of that is known.", "", "makers/halvane.html#Marks"},
		{"plover", "X42", "X42: the sign X is not one that this maker is recorded to have used.", "", "makers/halvane.html#Marks"},
		{"plover", "forty", "forty: it does not read as a weight mark", "", ""},
	} {
		b.visit("date.html#model="+c.model, 390, "light")
		b.await(`document.querySelector(".js-sheet:not([hidden]) [name=mark]")`)
		evaluate[any](b, `document.querySelector("[name=mark]").focus(); null`)
		b.keys(c.mark)
		b.await(`document.querySelector(".mark-says").textContent.startsWith(` + quote(c.says) + `)`)
		if got := evaluate[string](b, `document.querySelector("[name=weight]").value`); c.weight != "" && got != c.weight {
			t.Errorf("%s: the weight is %q, want %s", c.mark, got, c.weight)
		}
		if c.told != "" && !evaluate[bool](b, `document.querySelector(".mark-says a").href.endsWith(`+quote(c.told)+`)`) {
			t.Errorf("%s does not lead to %s", c.mark, c.told)
		}
		if !evaluate[bool](b, `location.hash.includes("weight.mark=")`) {
			t.Errorf("%s is not in the address", c.mark)
		}
	}
	b.visit("date.html#model=plover&weight.mark=%E2%80%A242%20%40%2028", 390, "light")
	b.await(`document.querySelector(".mark-says").textContent.includes("41 lb at 28 in") && document.querySelector("[name=marked]").value === "28"`)
	if got := evaluate[string](b, `document.querySelector(".js-submission input").value`); got != "•42 @ 28" {
		t.Errorf("the submission begins with the mark %q", got)
	}
	b.hold(`["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa"]`)
}

// TestSetUpFiguresStandOnlyWhereTheyHold asks for figures of a bow that nobody
// chose, of one that cannot be, and of one with a fault: none are shown, and
// the sheet says why. Of a bow that its visitor chose and looked over they
// stand with the model and its years, those left out that changed meanwhile.
func TestSetUpFiguresStandOnlyWhereTheyHold(t *testing.T) {
	d := demonstrationFacts(t)
	b := openBrowser(t, d.site)
	const shown = `[...document.querySelectorAll(".js-figures li, .js-sums li")].map((li) => li.textContent).join("|")`
	const filled = `[...document.querySelectorAll(".js-sheet .fields input")].map((i) => i.value).join("")`
	tick := func(name string) {
		evaluate[any](b, `document.querySelector(".js-faults [name=`+name+`]").click(); null`)
	}
	for _, c := range []struct{ address, says string }{
		{"date.html", "for a model that you chose"},
		{"date.html#riser-wood=padauk&model-label=transfer", "for a model that you chose"},
		{"date.html#model=plover&riser-wood=padauk&limb-glass=black", "cannot all be true of one bow"},
		{"date.html#model=plover&riser-wood=padauk&serial-number=65-172&model-label=transfer", "Go through the questions"},
		{"date.html#" + passing(d, "model=plover&riser-wood=padauk&serial-number=65-172&model-label=transfer"), "Look the bow over"},
	} {
		b.visit(c.address, 390, "light")
		b.await(`document.querySelector(".js-sheet:not([hidden]) .js-withheld").textContent.includes(` + quote(c.says) + `)`)
		if got := evaluate[string](b, shown+"+"+filled); got != "" {
			t.Errorf("%s shows %q", c.address, got)
		}
	}
	tick("none")
	b.await(`document.querySelector(".js-whose").textContent.includes("Plover, 1965")`)
	if got := evaluate[string](b, shown); !strings.Contains(got, "7¼–7¾ in") || !strings.Contains(got, "30–55 lb") || !evaluate[bool](b, `document.querySelector(".js-withheld").hidden`) {
		t.Errorf("the figures of a Plover of 1965 are %q", got)
	}
	if got := evaluate[string](b, filled); got != "" {
		t.Errorf("fields are filled in before: %q", got)
	}
	b.picture("figures-390-light.png")
	tick("twist")
	b.await(`document.querySelector(".js-withheld").textContent.startsWith("Do not string this bow")`)
	if got := evaluate[string](b, shown); got != "" || evaluate[bool](b, `document.querySelector(".js-faults [name=none]").checked`) {
		t.Errorf("of a twisted bow it shows %q", got)
	}
	b.picture("fault-390-light.png")
	evaluate[any](b, `location.hash = "#model=whinchat"; null`)
	b.await(`document.querySelector(".js-model").value === "whinchat"`)
	if !evaluate[bool](b, `document.querySelector(".js-faults [name=twist]").checked && document.querySelector(".js-withheld").textContent.startsWith("Do not string this bow")`) {
		t.Error("a fault that was found is forgotten with another model")
	}
	b.hold(`["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa"]`)
	b.visit("date.html#"+passing(d, "model=plover&riser-stripe=absent"), 1280, "dark")
	b.await(`document.querySelector(".js-sheet:not([hidden]) .js-withheld").textContent.includes("Look the bow over")`)
	tick("none")
	b.await(`document.querySelector(".js-figures").textContent.includes("changed within these years")`)
	if got := evaluate[string](b, shown); strings.Contains(got, "7¼–7¾ in") {
		t.Errorf("of a Plover of any year it shows %q", got)
	}
}

// passing adds to an address that every other feature cannot be told, so that
// questions and second look are over.
func passing(d demonstrated, address string) string {
	var skipped []string
	for _, f := range d.ref.Features.All() {
		if !strings.Contains("&"+address, "&"+f.ID+"=") {
			skipped = append(skipped, f.ID)
		}
	}
	return address + "&skip=" + strings.Join(skipped, ",")
}

// TestSecondLook goes through the second look by hand: what agrees goes on,
// what differs is named as the odd one out, and the end says what it came to.
func TestSecondLook(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	const address = "date.html#model=plover&riser-wood=padauk&serial-number=65-172&model-label=transfer&skip=string-groove"
	heading := func(want string) {
		t.Helper()
		b.await(`document.querySelector("#Question").textContent.startsWith(` + quote(want) + `)`)
	}
	press := func(words, feature string) {
		t.Helper()
		evaluate[any](b, `[...document.querySelectorAll(".js-question button")].find(x => x.textContent === `+quote(words+feature)+`).click(); null`)
	}
	// passOver says "I cannot tell" until no question would tell much.
	passOver := func() {
		t.Helper()
		b.await(`document.querySelector("#Question")`)
		for range 16 {
			if evaluate[bool](b, `document.querySelector(".second") !== null`) {
				break
			}
			was := evaluate[string](b, `location.hash`)
			press("I cannot tell", "")
			b.await(`location.hash !== ` + quote(was))
			b.await(`document.querySelector("#Question")`)
		}
		b.await(`document.querySelector(".second")`)
	}
	b.visit(address, 390, "light")
	passOver()
	heading("It should have this: a Plover of 1965")
	rows := evaluate[int](b, `document.querySelectorAll(".second > li").length`)
	press("Agrees", ": Tip overlays")
	b.await(`document.querySelectorAll(".second > li").length < ` + number(rows) + ` && location.hash.includes("tip-overlays=white-plastic")`)
	if !evaluate[bool](b, `document.activeElement.closest(".second") !== null`) {
		t.Error("the next row does not take the focus")
	}
	b.hold(`["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa"]`)
	b.picture("second-look-390-light.png")
	press("All the rest agrees", "")
	heading("All agrees")
	b.visit(address, 390, "light")
	passOver()
	heading("It should have this")
	press("Differs", ": Grip shape")
	b.await(`document.querySelector(".js-bar").textContent.includes("grip shape anything but")`)
	passOver() // questions may come up again, since this is another bow now
	press("I cannot see the rest", "")
	heading("Odd one out")
	if got := evaluate[string](b, `document.querySelector(".js-question").textContent`); !strings.Contains(got, "The odd one out may be the grip shape") {
		t.Errorf("it ends in %q", got)
	}
}

// TestResultPrintsOnOnePage prints a result, and a result with a
// contradiction, on paper of the size A4: one page each, that still names the
// answer, the sources, the cautions and the edition.
func TestResultPrintsOnOnePage(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	for _, address := range []string{
		"date.html#model=plover&riser-wood=padauk&maker-mark=oval,script~unsure&limb-glass=grey-green&tip-overlays=white-plastic&grip-shape=locator&model-label=transfer&serial-number=65-172&weight.mark=%E2%80%A242%20%40%2028",
		"date.html#model=plover&riser-wood=padauk&limb-glass=black",
		"date.html",
	} {
		b.visit(address, 1280, "light")
		b.await(`document.querySelector(".js-sheet:not([hidden]) .js-withheld").textContent !== ""`)
		pdf := b.print()
		if n := bytes.Count(pdf, []byte("/Type /Page\n")) + bytes.Count(pdf, []byte("/Type /Page ")) + bytes.Count(pdf, []byte("/Type /Page/")); n != 1 {
			t.Errorf("%s prints on %d pages", address, n)
		}
		b.keep("print-"+number(len(address))+".pdf", pdf)
	}
}

// TestFormOffersASubmission opens the part of the form that saves a bow for
// the register, and holds it against axe-core's eyes in TestAccessible's way.
func TestFormOffersASubmission(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("date.html#model=plover&riser-wood=padauk", 390, "light")
	evaluate[any](b, `document.querySelector(".submission").open = true; null`)
	if fields := evaluate[int](b, `document.querySelectorAll(".submission input, .submission textarea").length`); fields < 5 {
		t.Errorf("%d fields to fill in", fields)
	}
	b.hold(`["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa"]`)
	b.picture("submission-390-light.png")
}
