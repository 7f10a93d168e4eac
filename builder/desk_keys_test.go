package builder

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestRareKeysAreWrittenByTheirForms opens the group that a key stands in, types
// into its boxes, saves, and holds the record against the one line that a person
// would have changed by hand.
func TestRareKeysAreWrittenByTheirForms(t *testing.T) {
	s := serveDesk(t)
	const endOfClear = "\"halvane-list-1977, p. 2\"]}\n  - {id: black-heavy"
	for what, c := range map[string]struct {
		record   string
		opens    []string // what is pressed before the boxes are there
		typed    map[string]string
		old, new string
	}{
		"what a maker's claim does not hold for": {
			"maker/kerrigate", []string{"add features", "whole features/2"},
			map[string]string{"features/2/id": "walnut-once", "features/2/feature": "Riser wood", "features/2/value": "walnut", "features/2/span": "about 1960", "features/2/except/0": "ashgill", "features/2/cites/0": "kellet-1987", "features/2/cites/0:place": "p. 31"},
			"whatever the model below it.\"}", "whatever the model below it.\"}\n  - {id: walnut-once, feature: riser-wood, value: walnut, span: 1960~, except: [ashgill], cites: [\"kellet-1987, p. 31\"]}",
		},
		"a condition": {
			"model/turnstone", nil, map[string]string{"features/CLEAR/when": "Draw weight offered: ..40 lb"},
			"when: {draw-weight: ..38 lb}", "when: {draw-weight: ..40 lb}",
		},
		"a condition in words": {
			"model/turnstone", nil, map[string]string{"features/CLEAR/when": "Draw weight offered: up to 40 lb\nLimb core: maple or ash"},
			"when: {draw-weight: ..38 lb}", "when: {draw-weight: ..40 lb, limb-core: [maple-core, ash-core]}",
		},
		"what was never seen": {
			"model/plover", []string{"add never-seen", "whole never-seen/2"},
			map[string]string{"never-seen/2/feature": "Riser wood", "never-seen/2/value": "ash", "never-seen/2/when": "Maker's mark: oval or script", "never-seen/2/span": "1958-65", "never-seen/2/of": "30", "never-seen/2/note": "Not one in thirty", "never-seen/2/cites/0": "talk-brunt-2016", "never-seen/2/cites/0:place": "02:20", "never-seen/2/against/0": "example-0007"},
			"against: [\"recollection-tyson-2009, 0:08\"]}\n", "against: [\"recollection-tyson-2009, 0:08\"]}\n  - {feature: riser-wood, value: ash, when: {maker-mark: [oval, script]}, span: 1958/1965, of: 30, note: Not one in thirty, cites: [\"talk-brunt-2016, 02:20\"], against: [\"example-0007\"]}\n",
		},
		"of how many it was never seen": {
			"model/plover", nil, map[string]string{"never-seen/0/of": "10"}, "of: 9,", "of: 10,",
		},
		"what was never seen and is taken away": {
			"model/plover", []string{"remove never-seen/1"}, nil,
			"  - {feature: limb-glass, value: white, cites: [\"talk-brunt-2016, 02:20\"], against: [\"recollection-tyson-2009, 0:08\"]}\n", "",
		},
		"what a sign is said to mean": {
			"feature/riser-stripe", []string{"add means"},
			map[string]string{"means/2/value": "absent", "means/2/says": "Nothing at all", "means/2/by": "Ada Brunt", "means/2/cites/0": "talk-brunt-2016", "means/2/cites/0:place": "03:53"},
			"\"letter-aldous-1998, sheet 13\"]}\n", "\"letter-aldous-1998, sheet 13\"]}\n  - {value: absent, says: Nothing at all, by: Ada Brunt, cites: [\"talk-brunt-2016, 03:53\"]}\n",
		},
		"why to look there first": {
			"maker/halvane", nil, map[string]string{"look-first/0/because": "Nobody else looks"},
			`because: "Nobody looks at it, and it is quicker than the mark"`, `because: "Nobody else looks"`,
		},
		"another namesake": {
			"maker/halvane", []string{"add namesakes"}, map[string]string{"namesakes/1/maker": "Lonnen Workshop", "namesakes/1/tell": "No oval at all"},
			"cites: [\"letter-aldous-1998, sheet 12\"]}\nmissing", "cites: [\"letter-aldous-1998, sheet 12\"]}\n  - {maker: lonnen, tell: No oval at all}\nmissing",
		},
		"something missing": {
			"maker/halvane", []string{"add missing"}, map[string]string{"missing/1/what": "the shop books", "missing/1/span": "1947-63", "missing/1/because": "They burnt"},
			"cites: [\"letter-aldous-1998, sheet 7\"]}\n", "cites: [\"letter-aldous-1998, sheet 7\"]}\n  - {what: the shop books, span: 1947/1963, because: They burnt}\n",
		},
		"of which models a bow is one": {
			"example/0048", nil, map[string]string{"either/2": "Whinchat"}, "either: [plover, fellman]", "either: [plover, fellman, whinchat]",
		},
		"another condition in the place of the only one": {
			"model/turnstone", nil, map[string]string{"features/CLEAR/when": "limb-core: maple-core"},
			"when: {draw-weight: ..38 lb}", "when: {limb-core: maple-core}",
		},
		"a second condition": {
			"model/turnstone", nil, map[string]string{"features/CLEAR/when": "draw-weight: ..38 lb\nlimb-core: [maple-core, ash-core]"},
			"when: {draw-weight: ..38 lb}", "when: {draw-weight: ..38 lb, limb-core: [maple-core, ash-core]}",
		},
		"with whom a dispute is": {
			"model/turnstone", []string{"whole features/CLEAR"}, map[string]string{"features/CLEAR/disputed": "black-heavy, plover/script-mark"},
			endOfClear, strings.Replace(endOfClear, "]}", "], disputed: {with: [black-heavy, plover/script-mark]}}", 1),
		},
		"an open dispute": {
			"model/turnstone", []string{"whole features/CLEAR"}, map[string]string{"features/CLEAR/disputed": "yes"},
			endOfClear, strings.Replace(endOfClear, "]}", "], disputed: true}", 1),
		},
		"what a settlement does not follow": {
			"model/turnstone", []string{"whole features/CLEAR", "whole features/CLEAR/settled"},
			map[string]string{"features/CLEAR/settled/because": "The list is the later word", "features/CLEAR/settled/over/0": "black-heavy"},
			endOfClear, strings.Replace(endOfClear, "]}", "], settled: {because: The list is the later word, over: [black-heavy]}}", 1),
		},
		"special orders": {
			"maker/halvane", nil, map[string]string{"special-orders/features/1": "Riser wood"},
			"features: [grip-shape]", "features: [grip-shape, riser-wood]",
		},
		"what says nothing": {
			"maker/lonnen", []string{"add says-nothing"}, map[string]string{"says-nothing/1/feature": "grip-shape", "says-nothing/1/because": "He made what was asked for"},
			"\"lonnen-cards, card L40\"]}", "\"lonnen-cards, card L40\"]}\n  - {feature: grip-shape, because: He made what was asked for}",
		},
		"the signs of a stamp": {
			"maker/lonnen", nil, map[string]string{"weight-marks/0/after": "°: +1 lb\n+: +2 lb"},
			"after: {\"°\": +1 lb}", "after: {\"°\": +1 lb, \"+\": +2 lb}",
		},
		"other names, one with its years": {
			"source/talk-brunt-2016", []string{"add also"}, map[string]string{"also/1/name": "The Plover talk", "also/1/span": "2017-18"},
			"also: [\"The Brunt talk\"]", "also: [\"The Brunt talk\", {name: The Plover talk, span: 2017/2018}]",
		},
		"a further other name": {
			"maker/halvane", []string{"add also"}, map[string]string{"also/1/name": "Halvane of Skelmire"},
			"also: [\"Halvane & Aldous\"]", "also: [\"Halvane & Aldous\", Halvane of Skelmire]",
		},
		"on how many it was found": {
			"model/gimmer", []string{"add counted"}, map[string]string{"counted/1/feature": "Limb facing", "counted/1/value": "Ox-blood glass", "counted/1/with": "2", "counted/1/of": "6", "counted/1/cites/0": "tea-brunt-2016", "counted/1/cites/0:place": "01:01"},
			"cites: [\"tea-brunt-2016, 01:01\"]}\nrelated", "cites: [\"tea-brunt-2016, 01:01\"]}\n  - {feature: limb-glass, value: ox-blood, with: 2, of: 6, cites: [\"tea-brunt-2016, 01:01\"]}\nrelated",
		},
		"who of several said it": {
			"source/tea-brunt-2016", []string{"whole places/2"}, map[string]string{"places/2/by": "Joan Brathe"},
			"by: The editor", "by: Joan Brathe",
		},
		"how far bows ran over their stamps": {
			"maker/lonnen", []string{"whole weight-marks/0"}, map[string]string{"weight-marks/0/runs": "0..1 lb"},
			"  cites: [\"recollection-aldous-2001, p. 19\"]\n", "  cites: [\"recollection-aldous-2001, p. 19\"]\n  runs: 0..1 lb\n",
		},
		"a stamp that changed its meaning": {
			"maker/thornsgill", []string{"whole weight-marks/1"}, map[string]string{"weight-marks/1/span": "1970-72", "weight-marks/1/after": "*: +1 lb\n+: +2 lb"},
			"{span: 1970/.., before: {\"*\": -1 lb}, after: {\"*\": +1 lb}", "{span: 1970/1972, before: {\"*\": -1 lb}, after: {\"*\": +1 lb, \"+\": +2 lb}",
		},
		"a sale": {
			"example/0011", nil, map[string]string{"sales/0/price": "GBP 240"},
			"price: GBP 210", "price: GBP 240",
		},
		"what was done to a bow": {
			"example/0011", []string{"add history", "whole history/1"}, map[string]string{"history/1/on": "June 2019", "history/1/what": "a new grip"},
			"by its owner\"}]", "by its owner\"}, {on: 2019-06, what: a new grip}]",
		},
		"what is private": {
			"example/0007", nil, map[string]string{"private": "owner: R. S., Netherkeld\npaid: two hams\nserial: 65-172"},
			"paid: \"a ham\"", "paid: \"two hams\"",
		},
		"years by their bounds": {
			"model/turnstone", nil, map[string]string{"features/CLEAR/span": "{from: 1971..1972, to: 1977}"},
			"value: clear, when: {draw-weight: ..38 lb}, span: 1972/1977", "value: clear, when: {draw-weight: ..38 lb}, span: {from: 1971..1972, to: 1977}",
		},
	} {
		kind, id, _ := strings.Cut(c.record, "/")
		name := kind + "s/" + id + ".md"
		before := s.file(name)
		form := s.form(c.record)
		clear := "" // the number of the Turnstone's claim clear-glass
		for path, text := range form {
			if strings.HasSuffix(path, "/id") && text[0] == "clear-glass" {
				clear = strings.TrimSuffix(strings.TrimPrefix(path, "features/"), "/id")
			}
		}
		here := strings.NewReplacer("CLEAR", clear).Replace
		for _, open := range c.opens {
			form.Set("-do", here(open))
			_, page := s.post(s.path+"edit/"+c.record, form, nil)
			form = formOf(t, page)
		}
		for path, text := range c.typed {
			if _, there := form[here(path)]; !there {
				t.Errorf("%s: there is no box %s", what, here(path))
			}
			form.Set(here(path), text)
		}
		resp, page := s.post(s.path+"edit/"+c.record, form, nil)
		if resp.StatusCode != http.StatusOK {
			t.Errorf("%s is answered with %d: %.300s", what, resp.StatusCode, page[strings.Index(page, "data-said"):])
			continue
		}
		after := s.file(name)
		want := strings.Replace(before, c.old, c.new, 1)
		if d := cmp.Diff(want, after); d != "" {
			t.Errorf("%s: the record differs from the one changed by hand:\n%s", what, d)
		}
		s.post(s.path+"undo", form, nil)
		if s.file(name) != before {
			t.Fatalf("%s is not taken back", what)
		}
		if _, again := s.get(s.path + "edit/" + c.record); !strings.Contains(again, "desk-form") {
			t.Fatalf("%s has no form", c.record)
		}
	}
}

// TestANewRecordsTextIsShown asks for the form of a record that is not there yet,
// and how its text would look with a link to a claim that it does not have.
func TestANewRecordsTextIsShown(t *testing.T) {
	s := serveDesk(t)
	for _, kind := range []string{"maker", "model", "feature", "source", "example", "page"} {
		if resp, page := s.get(s.path + "new/" + kind); resp.StatusCode != http.StatusOK || !strings.Contains(page, "data-prose") {
			t.Errorf("the form of a new %s is answered with %d", kind, resp.StatusCode)
		}
		form := map[string][]string{"-token": {s.token}, "-text": {"A [mark](claim:mark) and the [Plover](model:plover)."}}
		resp, page := s.post(s.path+"preview/"+kind+"/", form, nil)
		if resp.StatusCode != http.StatusOK || !strings.Contains(page, `href="http://localhost:1/models/plover.html">Plover</a>`) {
			t.Errorf("the text of a new %s is answered with %d: %s", kind, resp.StatusCode, page)
		}
	}
}
