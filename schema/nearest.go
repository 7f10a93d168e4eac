package schema

import (
	"strings"

	"yearmark/schema/edits"
)

// Nearest finds the known name that a mistyped one most likely stands for, by
// the fewest letters put in, left out, exchanged or swapped with a neighbour.
// Capitals, spaces and underscores count for nothing. It answers false where
// nothing comes near: more than a third of the letters, or more than three,
// would have to change. Of equals the earlier in known wins.
func Nearest(name string, known []string) (string, bool) {
	const longest = 100
	plain := plainName(name)
	if plain == "" || len(plain) > longest {
		return "", false
	}
	want := []rune(plain)
	limit := min(max(len(want)/3, 1), 3)
	best, found := "", false
	for _, k := range known {
		if k == "" || len(k) > longest {
			continue
		}
		if d := edits.Distance(want, []rune(plainName(k)), limit); d <= limit {
			best, found, limit = k, true, d-1
			if d == 0 {
				break
			}
		}
	}
	return best, found
}

func plainName(s string) string {
	return strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(strings.TrimSpace(s)))
}

// didYouMean is a sentence naming the nearest known name, or what to do instead.
func didYouMean(name string, known []string, otherwise string) string {
	if near, ok := Nearest(name, known); ok {
		return "Did you mean \"" + near + "\"?"
	}
	return otherwise
}
