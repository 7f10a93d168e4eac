package dating

import (
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// Observation is one feature as seen: one value, or several where it is one of
// these. An empty Sure is schema.Sure.
type Observation struct {
	Feature string          `json:"feature"`
	Values  []string        `json:"values"`
	Sure    schema.Sureness `json:"sure"`
}

// Question is what is asked. Without Models it can be any.
type Question struct {
	Models   []string
	Observed []Observation
}

// Answer is what the engine makes of a question: taken strictly, on balance,
// and what to look at next. Its fields are named as in the JSON of `date`.
type Answer struct {
	// Warnings stand above the answer, as that the records hold errors: sentences.
	Warnings []string
	// Observed is the question with identifiers in place of names.
	Observed []Observation
	// Impossible says that no pair of model and year is left even on balance:
	// no year was admitted at all, or a table excludes everything for certain.
	// Best is then nil and every list empty.
	Impossible bool
	Strict     Strict
	// Odds holds the pairs likelier than 1e-12, by falling chance, then model, then year.
	Odds   []Odds
	Models []ModelChance // by falling chance, then model; those likelier than 1e-12
	Years  []YearChance  // all models together, in order of year
	Best   *Odds
	// Likely50 and Likely95 are the smallest sets of pairs that hold so much of the odds.
	Likely50, Likely95 []ModelYears
	Evidence           []Evidence   // in the order observed
	Suggestion         []Suggestion // features not observed, by falling bits
	Entropy            float64      // bits that the odds leave open

	engine   *Engine
	question Question
}

// Odds is the chance of one pair of model and year. Here and below Model is
// empty for a model that is not on record; Maker is then whose it would be, or
// empty too, and else it is empty. See BowName.
type Odds struct {
	Model  string  `json:"model"`
	Maker  string  `json:"maker,omitempty"`
	Year   int     `json:"year"`
	Chance float64 `json:"chance"`
}

// ModelChance is the chance of a model, all its years together.
type ModelChance struct {
	Model  string  `json:"model"`
	Maker  string  `json:"maker,omitempty"`
	Chance float64 `json:"chance"`
}

// YearChance is the chance of a year, all models together.
type YearChance struct {
	Year   int     `json:"year"`
	Chance float64 `json:"chance"`
}

// ModelYears is some years of one model, rising.
type ModelYears struct {
	Model string `json:"model"`
	Maker string `json:"maker,omitempty"`
	Years []int  `json:"years"`
}

// Strict is the answer taken at its word. Where no year is left, Conflicts
// names every minimal set of features whose observations share no pair,
// smallest first, ten at most, and Without gives for each feature observed
// what is left once it is put aside.
type Strict struct {
	Years     []ModelYears `json:"years"`
	Conflicts [][]string   `json:"conflicts"`
	Without   []Without    `json:"without"`
}

// Without is the strict answer with one feature put aside.
type Without struct {
	Feature string       `json:"feature"`
	Years   []ModelYears `json:"years"`
	// Orders say which makers of what is left took special orders of the feature,
	// a sentence each; JSON alone fills it.
	Orders []string `json:"orders,omitempty"`
}

// Evidence is one observation's weight for the best pair against the prior,
// and the claims that it rests on: those of the values seen, then those of
// other values that hold in the best year.
type Evidence struct {
	Observation
	Decibans float64
	Claims   []Ground
}

// Ground is a claim behind an observation.
type Ground struct {
	Claim     *schema.Claim
	Years     edtf.Years // after tightening
	Label     string     // what it claims: "Padauk", "30 to 55 lb", such as "65-172" for a pattern
	Witnesses int        // independent ones for it
	Dissents  int        // independent ones against it
	Credence  float64    // from 0 to 1
	Seen      bool       // it holds what was seen; otherwise it holds something else
	Holds     bool       // it holds in the best year
}

// Suggestion is what a sure look at a feature would tell.
type Suggestion struct {
	Feature  string        `json:"feature"`
	Bits     float64       `json:"bits"` // the expected fall of the odds' entropy
	Effort   schema.Effort `json:"effort"`
	Outcomes []Outcome     `json:"outcomes,omitempty"` // of the first look alone, likeliest first
}

// Outcome is what one answer to a look would make of the odds.
type Outcome struct {
	Values   []string     `json:"values"` // nil where the figures or words are too many to list
	Label    string       `json:"label"`
	Chance   float64      `json:"chance"`
	Best     Odds         `json:"best"`
	Likely50 []ModelYears `json:"likely50"`
}

// CitationWords gives a citation for people: the title of what is cited, and the place in it.
func CitationWords(ref *schema.Reference, c schema.Citation) string {
	title := c.Source
	if ref != nil {
		title = ref.CitationTitle(c)
	}
	if c.Place == "" {
		return title
	}
	return title + ", " + c.Place
}

// mostSaid is how many letters of a source's words stand behind an answer.
const mostSaid = 160

// SaidAt gives the words of the source at the place cited, as far as they may be
// shown, in one line; of long ones the beginning, with an ellipsis. It is empty
// where nothing is known of them. by is who says so, where that is not who made
// the whole source.
func SaidAt(ref *schema.Reference, c schema.Citation) (by, said string) {
	if ref == nil {
		return "", ""
	}
	by, said = schema.OneSpeaker(ref.Words(c))
	said = strings.Join(strings.Fields(said), " ")
	letters := []rune(said)
	if len(letters) <= mostSaid {
		return by, said
	}
	cut := strings.TrimRight(string(letters[:mostSaid]), " ")
	if at := strings.LastIndexByte(cut, ' '); at > mostSaid/2 {
		cut = cut[:at]
	}
	return by, cut + " …"
}
