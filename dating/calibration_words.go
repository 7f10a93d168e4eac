package dating

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"yearmark/schema/english"
)

// Text writes what a calibration says, for people: how many bows it rests on,
// how often the sets held, how far the best year was off, the worst misses, and
// the settings that would have scored best. together may be nil.
func (c Calibration) Text(w io.Writer, together *Together) error {
	var b strings.Builder
	say := func(format string, args ...any) {
		b.WriteString(wrap(fmt.Sprintf(format, args...), "", "", 78))
	}
	if len(c.Trials) == 0 {
		say("No example has papers that give its year, so the odds have not been tried. Add documented: {span: YEAR, cites: [...]} to examples whose year is known.")
	} else {
		c.figures(say)
		if together != nil {
			say("%s", together.words())
		}
	}
	for _, out := range c.LeftOut {
		say("Example %s was left out: %s.", out.Example, out.Because)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (c Calibration) figures(say func(string, ...any)) {
	n := len(c.Trials)
	say("Tried on %s whose papers give the year, each dated from its features alone, without what rests on it.", english.Count(n, "bow"))
	say("Sets of 50 in 100 %s.", c.Half.words())
	say("Sets of 95 in 100 %s.", c.Most.words())
	say("The best year was off by %.1f years on average.", c.MeanError)
	say("The documented year cost %.2f bits on average; a guess from the made span alone would have cost %.2f.", c.LogLoss, c.GuessLogLoss)
	say("%s", c.TemperWords())
	if len(c.Misses) > 0 {
		say("The worst misses:")
	}
	for _, m := range c.Misses {
		say("- Example %s: its papers say %d, the odds %d, and %s for %d: %s.", m.Example, m.Year, m.Best.Year, inHundred(m.Chance), m.Year, m.Because)
	}
}

// TemperWords says which temper is in use and which would have scored best.
func (c Calibration) TemperWords() string {
	if c.Suggested == 0 {
		return fmt.Sprintf("The temper is %.2f. With %d such bows or more the one that would have scored best is named here.", c.Temper, EnoughForExponent)
	}
	words := fmt.Sprintf("The temper is %.2f. ", c.Temper)
	switch {
	case c.Suggested == c.Temper:
		words = fmt.Sprintf("The temper is %.2f, which would have scored best.", c.Temper)
	case c.Clear:
		words += fmt.Sprintf("These bows speak clearly for %.2f.", c.Suggested)
	default:
		words += fmt.Sprintf("On these bows %.2f would have scored best, though not clearly.", c.Suggested)
	}
	if c.Suggested != c.Temper {
		words += fmt.Sprintf(" Where each bow is dated with the temper that did best on the others, its year costs %.2f bits on average. The editor decides (judgement: {temper: %.2f} in reference.yaml).", c.SuggestedLogLoss, c.Suggested)
	}
	if c.TemperAtBound() {
		words += " The search ended there, at its bound: it goes from 0.01 to 1."
	}
	return words
}

// TemperAtBound says that the temper suggested is the least or the most that is tried.
func (c Calibration) TemperAtBound() bool { return c.Suggested == .01 || c.Suggested == 1 }

// words names the settings that did best together.
func (t *Together) words() string {
	teach := fmt.Sprintf("a weight of %s over %s", plain(t.Weight), yearsCount(t.Years))
	if t.Weight == 0 {
		teach = "no teaching"
	}
	words := fmt.Sprintf("Tried together on %s of a known model, a temper of %s and %s did best: %.2f bits, each bow dated with what did best on the others; with the settings in use %.2f.",
		english.Count(t.Trials, "bow"), plain(t.Temper), teach, t.LogLoss, t.Editors)
	if len(t.AtBound) > 0 {
		words += " The search ended at its bound for: " + strings.Join(t.AtBound, ", ") + "."
	}
	return words
}

func yearsCount(n int) string {
	if n == 1 {
		return "1 year"
	}
	return fmt.Sprintf("%d years", n)
}

// count says how often.
func count(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// words gives how often sets held the year, how often they should have, and
// what so few bows leave open.
func (c Coverage) words() string {
	return fmt.Sprintf("held the year %s of %d; the odds themselves expected %.0f. From so many bows the true share could be anything from %.0f to %.0f in 100 (95 %% interval by Wilson's score)",
		count(c.Held), c.Of, c.Expected, c.Low*100, c.High*100)
}

// JSON writes the calibration; lists are never null. suggested is what did best
// together, and null where together is.
func (c Calibration) JSON(w io.Writer, together *Together) error {
	type coverage struct {
		Held     int     `json:"held"`
		Of       int     `json:"of"`
		Low      float64 `json:"low"`
		High     float64 `json:"high"`
		Expected float64 `json:"expected"`
	}
	type suggested struct {
		Settings
		LogLoss float64  `json:"logLoss"`
		AtBound []string `json:"atBound"`
	}
	var best *suggested
	if together != nil {
		best = &suggested{together.Settings, together.LogLoss, list(together.AtBound)}
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	return encoder.Encode(struct {
		Version   int        `json:"version"`
		Trials    []Trial    `json:"trials"`
		LeftOut   []LeftOut  `json:"leftOut"`
		Half      coverage   `json:"50"`
		Most      coverage   `json:"95"`
		MeanError float64    `json:"meanError"`
		LogLoss   float64    `json:"logLoss"`
		Guess     float64    `json:"guessLogLoss"`
		Misses    []Miss     `json:"misses"`
		Temper    float64    `json:"temper"`
		Suggested *suggested `json:"suggested"`
	}{JSONVersion, list(c.Trials), list(c.LeftOut), coverage(c.Half), coverage(c.Most), c.MeanError, c.LogLoss, c.GuessLogLoss, list(c.Misses), c.Temper, best})
}
