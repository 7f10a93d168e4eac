package compare

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"yearmark/schema"
)

// breaks lists the addresses of the old state that lead nowhere in the new one.
func breaks(before, after State) []Break {
	list := []Break{}
	for _, r := range before.Ref.Records() {
		h := r.Header()
		if _, still := after.Ref.Record(h.Kind, h.ID); !still {
			list = append(list, Break{r.Address(), fmt.Sprintf("the page of the %s %q is gone", h.Kind, r.Title()), renamedTo(after.Ref, r)})
		}
	}
	list = append(list, claimBreaks(before, after)...)
	slices.SortFunc(list, func(a, b Break) int {
		return cmp.Or(cmp.Compare(a.Address, b.Address), cmp.Compare(a.Message, b.Message))
	})
	return list
}

// renamedTo says what to do about a record that is gone.
func renamedTo(ref *schema.Reference, gone schema.Record) string {
	h := gone.Header()
	for _, r := range ref.Records() {
		if r.Header().Kind == h.Kind && r.Title() == gone.Title() {
			return fmt.Sprintf("Its name now stands on %s: rename that file back to %s.md, since the file name is the address.", r.Header().File, h.ID)
		}
	}
	return fmt.Sprintf("Keep %s and say in it what became of it, since others link to its page.", h.File)
}

// claimBreaks lists the claims that are gone without a note, on pages that are still there.
func claimBreaks(before, after State) []Break {
	var list []Break
	old, now := claimsOf(before.Ref), claimsOf(after.Ref)
	for _, key := range slices.Sorted(maps.Keys(old)) {
		c := old[key]
		if _, still := now[key]; still || !pageStands(after.Ref, c) || withdrawn(after.Ref, c) != nil {
			continue
		}
		list = append(list, Break{c.Address(), fmt.Sprintf("the claim %q is gone, and its address will break", key), claimHelp(before.Ref, now, old, c)})
	}
	for _, m := range before.Ref.Models.All() {
		if still, ok := after.Ref.Models.Get(m.ID); ok {
			list = append(list, noteBreaks(m, still, m.Withdrawn, still.Withdrawn, still.Claims())...)
		}
	}
	for _, m := range before.Ref.Makers.All() {
		if still, ok := after.Ref.Makers.Get(m.ID); ok {
			list = append(list, noteBreaks(m, still, m.Withdrawn, still.Withdrawn, still.Claims())...)
		}
	}
	return list
}

// noteBreaks lists the notes of a record that neither a note nor a claim answers for any more.
func noteBreaks(was, is schema.Record, old, now []*schema.Withdrawn, claims []*schema.Claim) []Break {
	var list []Break
	for _, w := range old {
		id := w.ID.Value
		if !slices.ContainsFunc(claims, func(c *schema.Claim) bool { return c.ID.Value == id || c.Anchor() == id }) &&
			!slices.ContainsFunc(now, func(w *schema.Withdrawn) bool { return w.ID.Value == id }) {
			list = append(list, Break{was.Address() + "#" + id, fmt.Sprintf("the note on the withdrawn claim %q is gone", was.Header().ID+"/"+id), fmt.Sprintf("Put it back into withdrawn in %s.", is.Header().File)})
		}
	}
	return list
}

func pageStands(ref *schema.Reference, c *schema.Claim) bool {
	if c.Maker != nil {
		_, ok := ref.Makers.Get(c.Maker.ID)
		return ok
	}
	_, ok := ref.Models.Get(c.Model.ID)
	return ok
}

// claimHelp says what to do about a claim that is gone: where the same is now
// claimed under another identifier, to give it back its own.
func claimHelp(ref *schema.Reference, now, old map[string]*schema.Claim, gone *schema.Claim) string {
	for _, key := range slices.Sorted(maps.Keys(now)) {
		c := now[key]
		if _, known := old[key]; !known && sameStatement(c, gone) {
			return fmt.Sprintf("What it said is now said by %q: write id: %s there.", key, gone.ID.Value)
		}
	}
	if gone.About == schema.AboutMade {
		return "Put the made span back: every model has one."
	}
	return fmt.Sprintf("Add it to withdrawn in %s with the reason: {id: %s, because: \"…\"}.", gone.Pos.File(), gone.Anchor())
}

// sameStatement says whether two claims of one record say the same of the same years.
func sameStatement(a, b *schema.Claim) bool {
	home := func(c *schema.Claim) string {
		if c.Maker != nil {
			return "makers/" + c.Maker.ID
		}
		return c.Model.ID
	}
	return home(a) == home(b) && a.About == b.About && claimValue(a) == claimValue(b) && writtenDates(a) == writtenDates(b)
}
