package dating

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// Text writes what a calibration says, for people: how many bows it rests on,
// how often the sets held, how far the best year was off, and the temper that
// would have scored best.
func (c Calibration) Text(w io.Writer) error {
	var b strings.Builder
	say := func(format string, args ...any) {
		b.WriteString(wrap(fmt.Sprintf(format, args...), "", "", 78))
	}
	if len(c.Trials) == 0 {
		say("No example has papers that give its year, so the odds have not been tried. Add documented: {span: YEAR, cites: [...]} to examples whose year is known.")
	} else {
		c.figures(say)
	}
	for _, out := range c.LeftOut {
		say("Example %s was left out: %s.", out.Example, out.Because)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (c Calibration) figures(say func(string, ...any)) {
	n := len(c.Trials)
	say("Tried on %s whose papers give the year, each dated from its features alone, without what rests on it.", bows(n))
	say("Sets of 50 in 100 held the year %s.", c.Half.words())
	say("Sets of 95 in 100 held the year %s.", c.Most.words())
	say("The best year was off by %.1f years on average.", c.MeanError)
	say("The documented year cost %.2f bits on average; a guess from the made span alone would have cost %.2f.", c.LogLoss, c.GuessLogLoss)
	switch {
	case c.Suggested == 0:
		say("The temper is %.2f. With %d such bows or more the one that would have scored best is named here.", c.Temper, EnoughForExponent)
	case c.Suggested == c.Temper:
		say("The temper is %.2f, which would have scored best.", c.Temper)
	default:
		say("The temper is %.2f. On these bows %.2f would have scored best, with %.2f bits; the editor decides (judgement: {temper: %.2f} in reference.yaml).", c.Temper, c.Suggested, c.SuggestedLogLoss, c.Suggested)
	}
}

func bows(n int) string {
	if n == 1 {
		return "1 bow"
	}
	return fmt.Sprintf("%d bows", n)
}

// count says how often.
func count(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// words gives the coverage and what so few bows leave open.
func (c Coverage) words() string {
	return fmt.Sprintf("%s of %d; from so many bows the true share could be anything from %.0f to %.0f in 100 (95 %% interval by Wilson's score)", count(c.Held), c.Of, c.Low*100, c.High*100)
}

// JSON writes the calibration; lists are never null, and suggested is null
// with fewer than EnoughForTemper trials.
func (c Calibration) JSON(w io.Writer) error {
	type coverage struct {
		Held int     `json:"held"`
		Of   int     `json:"of"`
		Low  float64 `json:"low"`
		High float64 `json:"high"`
	}
	var suggested *float64
	if c.Suggested > 0 {
		suggested = &c.Suggested
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	return encoder.Encode(struct {
		Version   int       `json:"version"`
		Trials    []Trial   `json:"trials"`
		LeftOut   []LeftOut `json:"leftOut"`
		Half      coverage  `json:"50"`
		Most      coverage  `json:"95"`
		MeanError float64   `json:"meanError"`
		LogLoss   float64   `json:"logLoss"`
		Guess     float64   `json:"guessLogLoss"`
		Temper    float64   `json:"temper"`
		Suggested *float64  `json:"suggested"`
	}{JSONVersion, list(c.Trials), list(c.LeftOut), coverage(c.Half), coverage(c.Most), c.MeanError, c.LogLoss, c.GuessLogLoss, c.Temper, suggested})
}
