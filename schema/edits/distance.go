// Package edits counts the letters by which two spellings differ. It knows
// nothing of records; every package above may use it.
package edits

// Distance is the least number of letters to change, leave out, put in or
// swap with their neighbour to make one word of the other (optimal string
// alignment); limit+1 stands for anything beyond limit.
func Distance(a, b []rune, limit int) int {
	if len(a)-len(b) > limit || len(b)-len(a) > limit {
		return limit + 1
	}
	before, row, next := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
			least = min(least, next[j])
		}
		if least > limit {
			return limit + 1
		}
		before, row, next = row, next, before
	}
	return min(row[len(b)], limit+1)
}
