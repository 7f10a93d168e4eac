package pages

// partView is one part of a list too long for one page, or a gap between parts.
type partView struct {
	Href, Text string // no Href for a gap
	Here       bool
}

// partsNearby is how many parts before and after its own a page links. Of the
// others it links the first, the last, the tens of its hundred and the
// hundreds: every part is three steps away, and a long list does not make each
// of its pages longer.
const partsNearby = 5

// partsOf links the parts of a list, from the part here; none for a list that
// is all on one page.
func partsOf(here, parts int, address func(part int) string) []partView {
	if parts < 2 {
		return nil
	}
	var list []partView
	last := -1
	for i := range parts {
		near := i >= here-partsNearby && i <= here+partsNearby
		ten := (i+1)%10 == 0 && i/100 == here/100 || (i+1)%100 == 0
		if !near && !ten && i != 0 && i != parts-1 {
			continue
		}
		switch {
		case i == last+2:
			list = append(list, partView{address(i - 1), number(i), false})
		case i > last+2:
			list = append(list, partView{Text: "…"})
		}
		list = append(list, partView{address(i), number(i + 1), i == here})
		last = i
	}
	return list
}
