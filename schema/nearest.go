package schema

import "strings"

// Nearest finds the known name that a mistyped one most likely stands for, by
// the fewest letters put in, left out, exchanged or swapped with a neighbour.
// Capitals, spaces and underscores count for nothing. It answers false where
// nothing comes near: more than a third of the letters, or more than three,
// would have to change. Of equals the earlier in known wins.
func Nearest(name string, known []string) (string, bool) {
	const longest = 100
	want := plainName(name)
	if want == "" || len(want) > longest {
		return "", false
	}
	limit := min(max(len([]rune(want))/3, 1), 3)
	best, found := "", false
	for _, k := range known {
		if k == "" || len(k) > longest {
			continue
		}
		if d := distance(want, plainName(k), limit); d <= limit {
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

// distance counts the edits that turn a into b, adjacent swaps as one; above
// the limit it answers limit+1 without finishing the count.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > limit || len(y)-len(x) > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > limit {
			return limit + 1
		}
		before, last, row = last, row, before
	}
	return min(last[len(y)], limit+1)
}

// didYouMean is a sentence naming the nearest known name, or what to do instead.
func didYouMean(name string, known []string, otherwise string) string {
	if near, ok := Nearest(name, known); ok {
		return "Did you mean \"" + near + "\"?"
	}
	return otherwise
}
