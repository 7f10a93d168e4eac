package pages

import (
	"strconv"
	"testing"
)

// TestEveryPartIsAFewStepsAway follows the links between parts: each list is
// short whatever the number of parts, and no part is more than three steps from
// another.
func TestEveryPartIsAFewStepsAway(t *testing.T) {
	for _, parts := range []int{2, 9, 10, 11, 34, 271, 335} {
		links := make([][]int, parts)
		for here := range parts {
			list := partsOf(here, parts, strconv.Itoa)
			if len(list) > 40 {
				t.Fatalf("part %d of %d lists %d", here, parts, len(list))
			}
			marked := 0
			for _, p := range list {
				if p.Here {
					marked++
				}
				if p.Href == "" {
					continue
				}
				to, err := strconv.Atoi(p.Href)
				if err != nil || p.Text != number(to+1) || p.Here != (to == here) {
					t.Fatalf("part %d of %d: %+v", here, parts, p)
				}
				links[here] = append(links[here], to)
			}
			if marked != 1 {
				t.Fatalf("part %d of %d marks %d parts", here, parts, marked)
			}
		}
		for from := range parts {
			if n := farthest(links, from); n > 3 {
				t.Errorf("of %d parts one is %d steps from part %d", parts, n, from)
			}
		}
	}
	if got := partsOf(0, 1, strconv.Itoa); got != nil {
		t.Errorf("a list on one page has parts: %v", got)
	}
}

// farthest is how many steps the remotest part is from one.
func farthest(links [][]int, from int) int {
	steps := map[int]int{from: 0}
	most := 0
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		for _, to := range links[queue[0]] {
			if _, known := steps[to]; !known {
				steps[to] = steps[queue[0]] + 1
				most = max(most, steps[to])
				queue = append(queue, to)
			}
		}
	}
	if len(steps) < len(links) {
		return len(links)
	}
	return most
}
