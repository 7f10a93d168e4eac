package edtf

import (
	"strings"
	"testing"
)

// TestMentions: what people take for years in running text is common usage, no
// source. Square brackets stand around what is found, and curly ones around what
// may count anything; FromWords reads each.
func TestMentions(t *testing.T) {
	for line := range strings.Lines(`
Risers of padauk from [1972] on
For [1957] and [1958]: padauk
The [’71] model has it, the '72s too
made ['64-66], then [1967–69] and [1970 to 1972]
[about 1965], or [c. '66]
[the sixties], the [early sixties], [early sixties], [the ’60s], in [the 60s], the [mid-1960s], [1970s]
[nineteen sixty-six] and [nineteen seventy], [nineteen oh-six]
flock again in [sixty-nine], on the last
Then [seventy-two and seventy-three], flock on everything
So lower limb to [sixty-seven], window wall from [sixty-eight]
I have had {thirty-one} of them, and most in {sixties} shape
Sixty-something. I could not tell you.
marked '30#' and '45' on the limb, 30# and 28" long, '48 lb
in thirty-five to forty pounds; in sixty-two inches; of forty-two or forty-five lb
twenty-eight inches; No. 1965a; 21965; 5'10 tall; bows in their '30 strands
draws '40 to '45 pounds
`) {
		want := strings.TrimSpace(line)
		text := strings.NewReplacer("[", "", "]", "", "{", "", "}", "").Replace(want)
		var got strings.Builder
		end := 0
		for _, m := range Mentions(text) {
			words := text[m.From:m.To]
			if len(FromWords(words, 19)) == 0 {
				t.Errorf("%q is not read", words)
			}
			brackets := map[bool]string{true: "[]", false: "{}"}[m.Sure]
			got.WriteString(text[end:m.From] + brackets[:1] + words + brackets[1:])
			end = m.To
		}
		got.WriteString(text[end:])
		if got.String() != want {
			t.Errorf("found %s\nwant  %s", got.String(), want)
		}
	}
}
