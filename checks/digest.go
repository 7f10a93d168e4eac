package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"yearmark/schema/english"
)

// divide parts the findings into those that are written in full, causes first and
// errors before the rest, file by file; those that only follow from others, which
// it keeps by cause; and notes that are only counted.
func (t *textWriter) divide(all []Finding) (shown, notes []Finding) {
	t.misses = map[string][]Finding{}
	present := map[string]bool{}
	for _, f := range all {
		present[f.Pos.File()] = present[f.Pos.File()] || f.Follows == ""
	}
	for _, f := range all {
		switch {
		case f.Follows != "" && present[f.Follows]:
			t.misses[f.Follows] = append(t.misses[f.Follows], f)
		case f.Level == Note && t.opts.Notes != "":
			notes = append(notes, f)
		default:
			shown = append(shown, f)
		}
	}
	rank := map[string]int{} // by file: what others follow from, what has errors, the rest
	for _, f := range shown {
		file := f.Pos.File()
		switch {
		case losesRecord(f.Check) || t.misses[file] != nil:
			rank[file] = -2
		case f.Level == Error:
			rank[file] = min(rank[file], -1)
		}
	}
	slices.SortStableFunc(shown, func(a, b Finding) int { return cmp.Compare(rank[a.Pos.File()], rank[b.Pos.File()]) })
	return shown, notes
}

// maxFollowing bounds the places that are named of what follows from one file.
const maxFollowing = 4

// following names where something is missed that stands in a file.
func (t *textWriter) following(file string) {
	all := t.misses[file]
	if len(all) == 0 {
		return
	}
	var places []string
	for _, f := range all[:min(len(all), maxFollowing)] {
		places = append(places, fmt.Sprintf("%s:%d", clean(f.Pos.File()), f.Pos.Line()))
	}
	list := strings.Join(places, ", ")
	if more := len(all) - len(places); more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	verb := " misses"
	if len(all) > 1 {
		verb = "s miss"
	}
	fmt.Fprintln(t.out)
	for i, line := range wrap(fmt.Sprintf("%d place%s what stands here, and most likely only that is wrong with them: %s", len(all), verb, list), 90) {
		label := ""
		if i == 0 {
			label = "hence"
		}
		t.labelled(label, line)
	}
}

// noteCounts says how many notes each check made, what they mean, and how to
// list them.
func (t *textWriter) noteCounts(notes []Finding) {
	if len(notes) == 0 {
		return
	}
	counts := map[string]int{}
	for _, f := range notes {
		counts[f.Check]++
	}
	fmt.Fprintf(t.out, "%s: nothing need be wrong, but it is worth knowing.\n", english.Count(len(notes), "note"))
	for _, c := range registry {
		if n := counts[c.Name]; n > 0 {
			t.noteCount(n, c)
		}
	}
	fmt.Fprintf(t.out, "To list them: %s\n\n", clean(t.opts.Notes))
}

func (t *textWriter) noteCount(n int, c Check) {
	for i, line := range wrap(c.Meaning, 66) {
		if i == 0 {
			fmt.Fprintf(t.out, "%4d  %s  %s\n", n, t.paint(levelColour[Note], fmt.Sprintf("%-20s", c.Name)), line)
			continue
		}
		fmt.Fprintf(t.out, "%28s%s\n", "", line)
	}
}
