package pages_test

import (
	"strings"
	"testing"

	"yearmark/bench"
	"yearmark/schema"
)

// TestAFaultOnRecordComesFirst holds the page of a bow with a recorded fault to
// its caution, above all else that is told of it, and to no offer of a set-up
// sheet; a sound bow has neither.
func TestAFaultOnRecordComesFirst(t *testing.T) {
	site := demonstration(t)
	for file, faulty := range map[string]bool{"examples/0005.html": true, "examples/0007.html": true, "examples/0009.html": true, "examples/0011.html": false} {
		page, err := site.Render(file)
		if err != nil {
			t.Fatal(err)
		}
		html := string(page)
		caution, dated := strings.Index(html, "Not to be strung"), strings.Index(html, "Dated from its features")
		if caution >= 0 != faulty || faulty && caution > dated {
			t.Errorf("%s: the caution stands at %d, the dating at %d", file, caution, dated)
		}
		if strings.Contains(html, "faults.found=") != faulty {
			t.Errorf("%s carries its fault into the form: %v", file, !faulty)
		}
		if strings.Contains(html, "with its set-up sheet") == faulty {
			t.Errorf("%s offers its set-up sheet: %v", file, !faulty)
		}
	}
}

// TestEveryDangerousFaultCanBeRecorded holds the faults that the form asks for
// to the kinds that a record may name.
func TestEveryDangerousFaultCanBeRecorded(t *testing.T) {
	for _, f := range bench.Faults() {
		_, problems := schema.ReadRecord("examples/1.md", []byte("---\nrecord: example\ncondition: [{part: limb, fault: "+f.ID+"}]\n---\n"))
		if len(problems) > 0 {
			t.Errorf("the fault %q: %v", f.ID, problems)
		}
	}
}

// TestTheFormTakesAFaultOver follows the link of a bow with a recorded fault:
// the form has it ticked and its caution first, above the years, until the
// visitor begins afresh; going back does not lose it.
func TestTheFormTakesAFaultOver(t *testing.T) {
	b := openBrowser(t, demonstration(t))
	b.visit("examples/0005.html", 390, "light")
	b.visit(evaluate[string](b, `[...document.querySelectorAll("a.button")].find((a) => a.textContent.includes("dating form")).getAttribute("href").replace("../", "")`), 390, "light")
	const first = `document.querySelector(".js-result .caution:not([hidden])")`
	b.await(ready + " && " + first)
	b.picture("fault-taken-over-390-light.png")
	if !evaluate[bool](b, first+`.textContent.startsWith("Do not string") && Boolean(`+first+`.compareDocumentPosition(document.querySelector(".js-result .verdict")) & 4) && document.querySelector(".js-faults [name=crack]").checked`) {
		t.Error("the fault on record is not taken over")
	}
	evaluate[any](b, `document.querySelector(".js-afresh").click(); null`)
	b.await(`!` + first)
	evaluate[any](b, `document.querySelector(".js-faults [name=loose]").click(); null`)
	b.await(first + ` && location.hash.includes("faults.found=loose")`)
	evaluate[any](b, `history.back(); null`)
	b.await(`location.hash.includes("model=plover") && location.hash.includes("crack") && document.querySelector(".js-model").value === "plover"`)
	if !evaluate[bool](b, `Boolean(`+first+`) && document.querySelector(".js-faults [name=loose]").checked`) {
		t.Error("going back loses a fault that was found")
	}
}

// TestWhatIsToldBesideTheEvidence: an owner's set-up, opinions, history and
// sales stand on a bow's page; of a bow with a fault no figure of the set-up
// does, not in the record below either.
func TestWhatIsToldBesideTheEvidence(t *testing.T) {
	site := demonstration(t)
	for file, wants := range map[string][]string{
		"examples/0011.html": {"7¾ in", "quiet at 26 in", "What others make of its year", "The saleroom", "May 2012", "GBP 210"},
		"examples/0012.html": {"8¼ in", "an owner’s, no evidence of the year"},
		"examples/0007.html": {"on record and not shown", "-7½ in", "-7 1/2 in", "-sweet at 26"},
	} {
		page, err := site.Render(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range wants {
			want, absent := strings.CutPrefix(want, "-")
			if strings.Contains(string(page), want) == absent {
				t.Errorf("%s: %q is there: %v", file, want, absent)
			}
		}
	}
}

// TestWhatPractitionersSay: readings of a sign stand side by side, hints in their
// order, a namesake, what is missing, and the models of which a bow may be one.
func TestWhatPractitionersSay(t *testing.T) {
	site := demonstration(t)
	for file, wants := range map[string][]string{
		"features/riser-stripe.html":            {"What it is said to mean", "The better quality, for those who looked", "Clem Mossop", "Short ends of timber, used up", "Walter Aldous"},
		"features/serial-number.html":           {"Nobody can tell what the B is"},
		"makers/halvane.html":                   {"Not to be confused with", "Halvane &amp; Daughters of Kettlefold", "What to look at first", "quicker than the mark", "What never turned up", "The list of 1962, 1962"},
		"models/plover.html":                    {"What to look at first"},
		"models/fellman.html":                   {"-What to look at first"},
		"examples/0048.html":                    {`href="../models/plover.html">Plover`, `href="../models/fellman.html">Fellman`, "-not known"},
		"sources/recollection-mossop-2014.html": {"what is said of it"},
	} {
		page, err := site.Render(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range wants {
			want, absent := strings.CutPrefix(want, "-")
			if strings.Contains(string(page), want) == absent {
				t.Errorf("%s: %q is there: %v", file, want, !absent)
			}
		}
	}
}
