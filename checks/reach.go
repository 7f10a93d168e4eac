package checks

import (
	"regexp"
	"strings"
)

// homeForm is a house number and a street, or a British postcode.
var homeForm = regexp.MustCompile(`\b[0-9]{1,4}[A-Za-z]?,? (?:[A-Z][\w'’-]+ ){1,3}(?:Street|St\.|Road|Rd\.|Lane|Avenue|Ave\.|Close|Drive|Terrace|Crescent|Gardens|Way)\b|\b[A-Z]{1,2}[0-9][0-9A-Z]? [0-9][A-Z]{2}\b`)

// Reach gives what in a text looks as if it told how a person is reached or
// where one lives: addresses of mail and of houses, telephone numbers.
func Reach(text string) []string {
	found := homeForm.FindAllString(text, -1)
	for _, t := range revealing {
		if t.what == "an amount of money" {
			continue
		}
		for _, f := range t.form.FindAllString(text, -1) {
			if t.what != "a telephone number" || strings.ContainsAny(f, "+") || plausibleNumber(f) {
				found = append(found, strings.TrimSpace(f))
			}
		}
	}
	return found
}
