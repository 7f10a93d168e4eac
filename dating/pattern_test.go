package dating

import "testing"

func TestTemplate(t *testing.T) {
	for pattern, want := range map[string]string{
		"^6[4-7]-[0-9]{3}$": "6(4–7)-###", "HS[0-9]{4}": "HS####", `[AB]\d`: "(A or B)#", "[A-F][0-9]{1,3}": "(A–F)#(to ###)",
		"K(1|2)": "K(1 or 2)", "x*": "x*", "(?i)abc": "(?i)abc", ".+": ".+", `\pL`: `\pL`, "(": "(", "a{2}": "aa", "[0-9]{500}": "[0-9]{500}", "": "",
		"No. 7": "No. 7",
	} {
		if got := template(pattern); got != want {
			t.Errorf("%q is written %q, want %q", pattern, got, want)
		}
	}
}
