package edtf

import (
	"slices"
	"strings"
	"testing"
)

// TestYearsInPlainWords: how people write years is common practice, no source.
// Where several expressions stand, all are offered and the writer is asked.
func TestYearsInPlainWords(t *testing.T) {
	ways := 0
	for line := range strings.Lines(`
1965 → 1965
1964/1967 → 1964/1967
196X → 196X
about 1965 → 1965~
c. 1965 → 1965~
c1965 → 1965~
ca. 1965 → 1965~
circa 1965 → 1965~
around 1965 → 1965~
approx. 1965 → 1965~
1965ish → 1965~
1965 or so → 1965~
1965 or thereabouts → 1965~
1965 give or take a year → 1965~
a few years around 1960 → 1960~
a year or two either side of 1960 → 1960~
c. 65 → 1965~
about '65 → 1965~
'65 → 1965
sixty-five → 1965
in sixty-five → 1965
seventy → 1970
nineteen sixty-five → 1965
nineteen-seventy → 1970
nineteen nineteen → 1919
eighteen ninety-eight → 1898
nineteen oh-six → 1906
early sixty-five → 1965
since sixty-five → 1965/.. | 1965/ | [1965..]
sixty-five and sixty-six → {1965,1966}
sixty-five to sixty-eight → 1965/1968
Sixty-Five or so → 1965~
'64-66 → 1964/1966
probably 1965 → 1965?
1965, perhaps → 1965?
possibly 1965 → 1965?
1960s → 196X | 1960/1969
the 60s → 196X | 1960/1969
the sixties → 196X | 1960/1969
’60s → 196X | 1960/1969
early 60s → 1960/1964
early sixties → 1960/1964
Early 1960s → 1960/1964
the beginning of the sixties → 1960/1964
mid 60s → 1963/1967
mid-sixties → 1963/1967
middle of the 1960s → 1963/1967
late 60s → 1966/1969
late sixties → 1966/1969
end of the sixties → 1966/1969
about the 1960s → 196X~
before 1970 → ../1969 | [..1969]
pre-1970 → ../1969 | [..1969]
by 1970 → ../1970 | [..1970]
not later than 1970 → ../1970 | [..1970]
1970 at the latest → ../1970 | [..1970]
until 1970 → ../1970 | [..1970]
after 1970 → 1971/.. | 1971/ | [1971..]
since 1964 → 1964/.. | 1964/ | [1964..]
from 1964 → 1964/.. | 1964/ | [1964..]
not before 1964 → 1964/.. | 1964/ | [1964..]
1964 at the earliest → 1964/.. | 1964/ | [1964..]
from 1964, still made → 1964/..
1964 onwards → 1964/..
1964 to the present → 1964/..
1964, end unknown → 1964/
1965-68 → 1965/1968
1965–1968 → 1965/1968
1965 to 1968 → 1965/1968
from 1965 to 1968 → 1965/1968
between 1965 and 1968 → 1965/1968 | [1965..1968]
1964 to about 1967 → 1964/1967~
about 1964 to 1967 → 1964~/1967~ | 1964~/1967
either 1966 or 1968 → [1966,1968]
1966 or 1968 → [1966,1968]
1966, 1968 → [1966,1968] | {1966,1968}
1966 and 1968 → {1966,1968}
summer 1964 → 1964-22
Spring 64 → 1964-21
Jun-65 → 1965-06
June 1965 → 1965-06
3 June 1965 → 1965-06-03
late 1965 → 1965
Christmas 1965 → 1965
in 1965 → 1965
last year → 
the old catalogue → 
`) {
		text, want, ok := strings.Cut(strings.TrimSpace(line), " →")
		if !ok {
			continue
		}
		ways++
		var got []string
		for _, o := range FromWords(text, 19) {
			got = append(got, o.Write)
			if !readable(o.Write) {
				t.Errorf("%q offers %q, which cannot be read", text, o.Write)
			}
		}
		var wants []string
		if want = strings.TrimSpace(want); want != "" {
			wants = strings.Split(want, " | ")
		}
		if !slices.Equal(got, wants) {
			t.Errorf("%q is taken for %q, want %q", text, got, wants)
		}
	}
	if ways < 60 {
		t.Errorf("only %d ways are tried", ways)
	}
}
