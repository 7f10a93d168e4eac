package intake

import (
	"cmp"
	"fmt"
	"path"
	"strconv"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/exchange/journal"
	"yearmark/schema"
)

// acceptedPlace is where in the letter that it becomes a visitor's words stand.
const acceptedPlace = "the letter"

// Accept gives the changes by which a visitor's knowledge becomes part of the
// records: a source of kind letter with their words, and, where they agree or
// disagree with a claim, a citation of it there. kept is its file in the inbox.
func Accept(ref *schema.Reference, k *Knowledge, kept string, data []byte) ([]journal.Change, error) {
	id := "visitor-" + strings.TrimSuffix(path.Base(kept), ".json")
	if _, there := ref.Sources.Get(id); there {
		return nil, fmt.Errorf("there is a source %q already: it was accepted before", id)
	}
	changes := []journal.Change{
		{File: schema.KindSource.FileOf(id), After: k.source()},
		{File: kept, Before: data},
		{File: schema.InboxFolder + "/accepted/" + path.Base(kept), After: data},
	}
	if k.Stance == "adds" {
		return changes, nil
	}
	c := claimAt(ref, k.About)
	if c == nil {
		return changes, nil
	}
	changed, err := cited(c, id, k.Stance == "disagrees")
	if err != nil {
		return nil, err
	}
	return append(changes, changed), nil
}

// source is the record of the letter that a visitor's knowledge becomes.
func (k *Knowledge) source() []byte {
	says := strings.Join(strings.Fields(k.Knows), " ")
	if k.Source != nil {
		says += " It stands in " + k.Source.String() + "."
	}
	line := func(key, text string) string { return key + ": " + editing.Quoted(text).String() + "\n" }
	return []byte("---\nrecord: source\n" +
		line("name", fmt.Sprintf("Letter of %s to the register, submitted on %s", cmp.Or(k.By, "a visitor"), k.On)) +
		"kind: letter\n" + line("by", cmp.Or(k.By, "a visitor of the site")) + "issued: " + k.On + "\n" +
		line("kept", "The register's inbox; it answers the edition of "+k.Edition) +
		"places:\n  - {at: " + acceptedPlace + ", says: " + editing.Quoted(says).String() + "}\n---\n")
}

// claimAt finds the claim at an address of the site, or nil.
func claimAt(ref *schema.Reference, address string) *schema.Claim {
	for _, r := range ref.Records() {
		home, ok := r.(interface{ Claims() []*schema.Claim })
		if !ok {
			continue
		}
		for _, c := range home.Claims() {
			if c.Address() == address {
				return c
			}
		}
	}
	return nil
}

// cited adds a citation to a claim, for it or against it; against, it is
// disputed until the editor settles it.
func cited(c *schema.Claim, source string, against bool) (journal.Change, error) {
	head, at := c.Record().Header(), whereClaim(c)
	if at == nil {
		return journal.Change{}, fmt.Errorf("the claim in %s cannot be found in its file", head.File)
	}
	text, citation := head.Source, editing.Quoted(source+", "+acceptedPlace)
	key, cites := "cites", c.Cites
	if against {
		key, cites = "against", c.Against
	}
	var err error
	if list := append(at, key); len(cites) > 0 {
		text, err = editing.Add(head.File, text, list, citation)
	} else {
		text, err = editing.Set(head.File, text, list, editing.List(citation))
	}
	if err == nil && against && c.Settled == nil && !c.Disputed.Value {
		text, err = editing.Set(head.File, text, append(at, "disputed"), editing.Literal("true"))
	}
	return journal.Change{File: head.File, Before: head.Source, After: text}, err
}

// whereClaim gives the path to a claim in its record.
func whereClaim(c *schema.Claim) []string {
	lists := map[string][]*schema.Claim{}
	if m := c.Model; m != nil {
		if c == m.Made {
			return []string{"made"}
		}
		lists = map[string][]*schema.Claim{"eras": m.Eras, "features": m.Features, "specs": m.Specs}
	} else if m := c.Maker; m != nil {
		if c == m.Trading {
			return []string{"trading"}
		}
		lists = map[string][]*schema.Claim{"owners": m.Owners, "features": m.Features, "specs": m.Specs}
	}
	for key, list := range lists {
		for i, other := range list {
			if other == c {
				return []string{key, strconv.Itoa(i)}
			}
		}
	}
	return nil
}
