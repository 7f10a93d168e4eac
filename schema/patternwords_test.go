package schema_test

import (
	"strings"
	"testing"

	"yearmark/schema"
)

// TestPatternWords draws the patterns that makers' numbers come in; what no
// picture can say stays as it is written.
func TestPatternWords(t *testing.T) {
	for pattern, want := range map[string]string{
		"^A[0-9]{4}$": "A####", "^H-24$": "H-24", "H-24": "H-24", `^6[4-7]-\d{3}$`: "6[4–7]-###", "^(H|HP)-66$": "H(P)-66",
		"^L[1-9][0-9]?$": "L[1–9](#)", "^W.*$": "W…", "^HS[0-9]+$": "HS#…", "walnut": "walnut", "^(M|T)[0-9]$": "[MT]#", "^(Mk|No)[0-9]$": "(Mk or No)#",
		`[AB]\d`: "[AB]#", "[A-F][0-9]{1,3}": "[A–F]#(#(#))", "K(1|2)": "K[12]", "x*": "(x…)", "a{2}": "aa", "No. 7": "No. 7", "^HS ?[0-9]{4}$": "HS ####", "": "",
		"(?i)abc": "(?i)abc", `\pL`: `\pL`, "(": "(", "[": "[", "[0-9]{500}": "[0-9]{500}", "^.$": ".", `^Nr\. 3$`: "Nr. 3",
	} {
		if got := schema.PatternWords(pattern); got != want {
			t.Errorf("PatternWords(%q) = %q, want %q", pattern, got, want)
		}
	}
	if got := schema.PatternWords(strings.Repeat("[0-9]", 100)); strings.Contains(got, "#") {
		t.Errorf("a hundred digits are drawn: %s", got)
	}
}
