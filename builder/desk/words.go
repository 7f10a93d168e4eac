package desk

import (
	"regexp"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
	"yearmark/site/prose"

	"github.com/a-h/templ"
)

// labels are what keys are called on screen, where the key itself will not do.
var labels = map[string]string{
	"cites": "Who says so", "against": "Who says otherwise", "span": "Years", "made": "When it was made", "eras": "Eras", "features": "Features, and when",
	"specs": "Figures on offer", "order": "What came before what", "related": "Related models", "held": "How strictly the maker kept to it",
	"only": "In no other year", "attested": "Dated sightings", "counted": "Bows counted", "by": "By whom", "kept": "Where it is kept",
	"link": "Web address", "issued": "When it was issued", "id": "Permanent name", "says": "The words that stand there", "at": "Place in it",
	"ask": "The question to ask", "look": "Where and how to look", "tell": "How to tell it", "how": "Is how",
	"relies-on": "Sources that it took its facts from", "settled": "How the dispute was decided", "disputed": "Is the dispute open?", "when": "Only where", "over": "Claims that are not followed", "except": "Models for which it does not hold", "from": "Features they go by", "what": "What was done", "before": "Signs before the figure", "after": "Signs after the figure",
	"weight-marks": "How stamped draw weights read", "output": "How many were made", "withdrawn": "Claims taken back", "trading": "When it traded",
	"use": "What it was sold for", "observed": "What was seen", "documented": "Its year by a paper", "condition": "State, part by part",
	"plausible": "Least and greatest figure that make sense", "step": "Read to the nearest", "effort": "What it costs to look", "values": "Values, in the order shown",
	"corrected-at": "Place where this slip was mended", "own": "The writer saw it", "shown": "What may be published", "private": "Private: never leaves the folder",
	"spec": "Figure", "value": "Value", "range": "From … to …", "first": "The claim", "second": "The other claim", "of": "The claim that lasted", "lasts": "Years that it lasted",
	"either": "One of these models, it cannot be told which", "means": "What it is said to mean", "look-first": "What to look at first", "namesakes": "Not to be confused with", "formerly": "Names that it had", "missing": "What never turned up", "never-seen": "What was never seen",
	"consulted": "Somebody of the register has seen it", "singles-out": "A value stands for one model at a time", "because": "The reason", "on": "The day",
	"also": "Other names", "exclusive": "One bow has one value only", "era": "The era whose years it shares", "with": "With which claims",
	"speakers": "Speakers, as the transcript names them before a colon", "plate": "Plate: a large drawing with pointers", "points": "Pointers", "claim": "The claim pointed to", "like": "Easily taken for",
}

// labelsIn are what keys are called below another key, where that is something else.
var labelsIn = map[string]string{
	"counted/year": "The year counted", "counted/with": "How many had it", "counted/of": "Of how many looked at",
	"counted/feature": "What was looked at", "counted/value": "The value that was found", "counted/cites": "Who counted",
	"means/value": "The value that is meant", "means/says": "What it is said to mean", "means/by": "Who says so, where the source is not theirs alone",
	"namesakes/maker": "The other maker", "namesakes/name": "Its name, where it has no record here", "namesakes/tell": "How to tell the two apart",
	"missing/what": "What is missing", "missing/span": "The years of which it would tell", "missing/because": "What is known of its fate",
	"look-first/feature": "What to look at", "look-first/because": "Why", "says-nothing/because": "Why",
	"never-seen/feature": "What was looked at", "never-seen/value": "The value that was never seen", "never-seen/when": "Of which bows it is said", "never-seen/span": "Of bows of which years",
	"never-seen/of": "How many were looked at", "never-seen/except": "Models of which it is not said", "never-seen/cites": "Who never saw one", "never-seen/against": "Who has seen one",
	"places/by":         "Who says so, where several speak or write",
	"weight-marks/span": "In which years, where the meaning changed", "weight-marks/runs": "How far under or over its stamp a bow was",
	"also/name": "The name", "also/span": "In which years it was called so", "also/cites": "Who calls it so",
	"related/tell": "How to tell the two apart",
	"like/value":   "The other value", "like/tell": "What tells the two apart", "plate/picture": "The drawing",
	"order/how": "How it lies to the other", "related/how": "How they are related",
	"sales/on": "When it was sold", "history/on": "When", "observed/original": "Is it the maker's own work?",
}

// labelAt is what the key at the end of a path is called on screen.
func labelAt(path string) string {
	above, name := cutLast(path)
	if l, ok := labelsIn[parent(above)+"/"+name]; ok {
		return l
	}
	return label(name)
}

// parent is the last step of a path that is a key and no number.
func parent(path string) string {
	above, step := cutLast(path)
	if _, err := strconv.Atoi(step); err == nil {
		_, step = cutLast(above)
	}
	return step
}

// nouns are what one entry of a list is called on screen, where the noun of the
// record format names a key.
var nouns = map[string]string{
	"features": "a claim about a feature", "specs": "a claim about figures", "points": "a pointer", "look-first": "a hint",
	"missing": "a missing thing", "says-nothing": "a silent feature", "never-seen": "a thing never seen", "order": "an order", "like": "a look-alike",
}

// noun is what one entry of a list is called on screen.
func noun(f schema.Field) string {
	if n, ok := nouns[f.Name]; ok {
		return n
	}
	return f.Noun
}

// keyWritten is a key as the checks name it in a sentence: "Add cites: with a source".
var keyWritten = regexp.MustCompile(`\b([a-z][a-z-]+):([\s.,;)]|$)`)

// inForms names keys in a sentence as the forms call them. A sentence with a
// piece of a record in it stays as it is.
func inForms(sentence string) string {
	if strings.ContainsAny(sentence, "{}") {
		return sentence
	}
	return keyWritten.ReplaceAllStringFunc(sentence, func(found string) string {
		key, after, _ := strings.Cut(found, ":")
		if labels[key] == "" {
			return found
		}
		return "“" + labels[key] + "”" + after
	})
}

// hints say of a key what helps in a form, where the sentence of the record format will not do.
var hints = map[string]string{
	"span": "As in 1965, about 1965, 1964-67, early 60s, before 1970, 1966 or 1968.", "issued": "As in spring 1964, about 1965, 1964-67.",
	"maker": "Choose one, or type its name.", "model": "Choose one, or type its name.", "feature": "Choose one, or type its name.", "spec": "Choose one, or type its name.",
	"disputed": "yes or no; or the claims that it is disputed with, with commas between: script-mark, plover/oval-mark.",
	"when":     "What must be so for the claim to hold, one to a line: a feature, a colon, its value or figures. Draw weight: up to 39 lb. Riser wood: walnut or beech.",
	"era":      "By its permanent name. Leave it empty where the years are given.",
	"claim":    "Choose one: the permanent name of a claim of this model, or of its maker.",
	"at":       "p. 6, cover, sheet 3; of a recording the time, as in 12:34.",
	"private":  "One to a line, with a colon, as in owner: R. S., Netherkeld. None of it is ever published.",
	"before":   "One to a line: the sign, a colon, what it adds, as in •: -1 lb", "after": "One to a line: the sign, a colon, what it adds, as in °: +1 lb",
	"over":  "Claims of this record by their permanent names; of another, model/claim or makers/maker/claim.",
	"cites": "The source, and the place in it: p. 6, cover, 12:34.", "against": "The source, and the place in it: p. 6, cover, 12:34.",
	"use": "Target, field, hunting …", "seen": "The day, as in 3 June 2024.", "on": "The day, as in 3 June 2024.",
}

// hintsIn help with keys below another key.
var hintsIn = map[string]string{
	"observed/value":  "What was seen. Where it may be one of several, each in a box of its own; something-else if it is none of those known; of a number the figure, or 30..40.",
	"means/says":      "In their words, as in: a second; made for export.",
	"never-seen/when": "One to a line: a feature, a colon, its value or figures. Riser wood: walnut. Left empty, it is said of all.",
	"never-seen/span": "As in 1953-58, early 60s. Left empty, it is said of all years.",
	"never-seen/of":   "As in 30, of \"not one in thirty\". Left empty where no number is said.",
	"points/at":       "How far from the left, and how far from the top.",
	"missing/what":    "As in: the list of 1967; the shop books.",
}

// hint is what stands below the field at a path.
func hint(path string, f schema.Field) string {
	above, _ := cutLast(path)
	if h, ok := hintsIn[parent(above)+"/"+f.Name]; ok {
		return h
	}
	if h, ok := hints[f.Name]; ok {
		return h
	}
	return f.About
}

// label is what a key is called on screen.
func label(name string) string {
	if l, ok := labels[name]; ok {
		return l
	}
	words := strings.ReplaceAll(name, "-", " ")
	return strings.ToUpper(words[:1]) + words[1:]
}

// orderSentences are Allen's relations as sentences between two claims.
var orderSentences = map[schema.Relation]string{
	schema.Meets: "was followed straight away by", schema.Before: "ended at least a year before the start of", schema.MetBy: "came straight after",
	schema.After: "began at least a year after the end of", schema.Overlaps: "began and ended earlier than, with years in common,", schema.OverlappedBy: "began and ended later than, with years in common,",
	schema.Starts: "began with, and ended before,", schema.StartedBy: "began with, and ended after,", schema.During: "lay wholly within", schema.Contains: "wholly held",
	schema.Finishes: "began after, and ended with,", schema.FinishedBy: "began before, and ended with,", schema.Equals: "had the same years as",
}

// options are what words that a key allows are called on screen, where the word will not do.
var options = map[string]string{
	"kind/choice": "one of several values", "kind/presence": "it is there, or it is not", "kind/number": "a figure, with its unit", "kind/text": "letters and figures, as stamped",
	"held/firm": "firmly: no exceptions", "held/usual": "as usual", "held/loose": "loosely",
	"shown/none": "no words and no pictures of it", "shown/words": "its words alone", "shown/all": "its words, scans and recording",
}

// optionLabel is what a word that a key allows is called on screen.
func optionLabel(field, option string) string {
	if words, ok := options[field+"/"+option]; ok {
		return words
	}
	if s, ok := orderSentences[schema.Relation(option)]; ok && field == "how" {
		return s
	}
	words := strings.ReplaceAll(option, "-", " ")
	return words
}

// kindWords are what one record of a kind, and several, are called on screen.
var kindWords = map[schema.Kind][2]string{
	schema.KindMaker: {"maker", "Makers"}, schema.KindModel: {"model", "Models"}, schema.KindFeature: {"feature", "Features"},
	schema.KindSource: {"source", "Sources"}, schema.KindExample: {"bow", "Bows examined"}, schema.KindPage: {"page", "Pages"},
}

// usual are the keys that stand open in an entry though nothing is written in them.
var usual = map[string]bool{
	"name": true, "value": true, "span": true, "cites": true, "range": true, "feature": true, "spec": true, "sure": true, "note": true, "tell": true,
	"at": true, "says": true, "year": true, "shows": true, "state": true, "fault": true, "found": true, "second": true, "lasts": true, "of": true, "first": true, "how": true,
	"maker": true, "place": true, "made": true, "features": true, "specs": true, "issued": true, "kind": true, "by": true, "kept": true, "link": true,
	"ask": true, "look": true, "values": true, "model": true, "seen": true, "observed": true, "weight-mark": true, "title": true, "about": true, "trading": true, "because": true, "what": true, "claim": true,
}

// longKeys are those in which sentences are written.
var longKeys = map[string]bool{"note": true, "because": true, "says": true, "look": true, "tell": true, "state": true, "not-a-fault": true, "about": true, "rights": true}

// isLong says that a value needs more than one line.
func isLong(f fieldView) bool {
	return longKeys[f.Name] || f.Field.Type == schema.FieldOther || len(f.Value) > 60 || strings.Contains(f.Value, "\n")
}

// moreNames lists the keys that a press would show.
func moreNames(fields []schema.Field) string {
	var names []string
	for _, f := range fields {
		names = append(names, lowered(label(f.Name)))
	}
	return strings.Join(names, ", ")
}

// isPointer says that a field is a point on a picture: two figures.
func isPointer(f fieldView) bool {
	return f.Name == "at" && f.Field.List && f.Field.Type == schema.FieldNumber
}

// linkKinds are the kinds of records that a text links to, as they are offered.
var linkKinds = []schema.Kind{schema.KindModel, schema.KindMaker, schema.KindFeature, schema.KindSource, schema.KindExample, schema.KindPage}

// noteWords is a numbered note of a text: its source and the place in it.
func noteWords(n prose.Note) string {
	if n.Place == "" {
		return n.Source.Title
	}
	return n.Source.Title + ", " + n.Place
}

func lowered(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// choiceWords is what stands on the button of one of several meanings.
func choiceWords(write, when string) string {
	if when == "" {
		return write
	}
	return when + " (" + write + ")"
}

// attribute is an attribute of an element, or none where it has no value.
func attribute(name, value string) templ.Attributes {
	if value == "" {
		return nil
	}
	return templ.Attributes{name: value}
}

// ordinal numbers the boxes of a list for those who hear them.
func ordinal(i int) string { return strconv.Itoa(i + 1) }

// sentOn says on which day a letter was saved.
func sentOn(l letterView) string {
	if l.On == "" {
		return l.Name
	}
	return "Saved by the visitor on " + l.On
}

func pictureWords(p letterPictureView, i int) string {
	if p.Shows != "" {
		return p.Shows
	}
	return "Picture " + ordinal(i)
}

// picturesPublic says who will see the pictures of a letter that is accepted.
func picturesPublic(known bool) string {
	if known {
		return "They are kept as scans of the letter, which the site shows only where its record says that all of it may be shown. The others stay in the inbox."
	}
	return "They will be on the bow's page, for everybody to see, with the next edition. The others stay in the inbox."
}

// becomes says what a letter is in the records.
func becomes(known bool) string {
	if known {
		return "Accepted, it becomes a source of kind letter, and is cited where it agrees or disagrees."
	}
	return "Accepted, it becomes the record of a bow, with the day on which it was submitted; you can go on with it in its form."
}

func waitingWords(n int) string {
	if n == 0 {
		return "nothing waits"
	}
	return english.Count(n, "letter") + " to look at"
}
