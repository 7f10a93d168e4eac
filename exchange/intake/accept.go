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

// Picture is a picture of a letter that goes into the records with it.
type Picture struct {
	LetterPicture
	Data []byte
}

// carried gives the changes that move pictures of a letter to where records of
// a kind have theirs, and the name of each there, below the folder pictures.
func carried(all []Picture, kind schema.Kind, id string, taken func(file string) bool) (changes []journal.Change, names []string) {
	for i, p := range all {
		ending := path.Ext(p.File)
		name := path.Join(kind.Folder(), fmt.Sprintf("%s-%d%s", id, i+1, ending))
		for n := len(all) + 1; taken(schema.PicturesFolder + "/" + name); n++ {
			name = path.Join(kind.Folder(), fmt.Sprintf("%s-%d%s", id, n, ending))
		}
		names = append(names, name)
		changes = append(changes, journal.Change{File: p.File, Before: p.Data}, journal.Change{File: schema.PicturesFolder + "/" + name, After: p.Data})
	}
	return changes, names
}

// Accept gives the changes by which a bow of the inbox becomes the record of an
// example, or adds to it where it was filed before, with the pictures given.
func (in *Inbox) Accept(l *Letter, pictures []Picture) (*Receipt, []journal.Change, error) {
	r, err := in.Take(l.Data)
	if err != nil {
		return nil, nil, err
	}
	c, changed := in.changes[r.File()]
	if !changed {
		c = journal.Change{File: r.File(), Before: r.Record, After: r.Record}
	}
	changes, names := carried(pictures, schema.KindExample, r.ID, in.taken)
	for i, name := range names {
		shown := editing.Mapping().With("file", editing.Word(name))
		if shows := pictures[i].Shows; shows != "" {
			shown.With("shows", editing.Quoted(shows))
		}
		if c.After, err = editing.Add(c.File, c.After, []string{"pictures"}, shown); err != nil {
			return nil, nil, err
		}
	}
	if changed || len(names) > 0 {
		changes = append([]journal.Change{c}, changes...)
	}
	return r, append(changes, l.moved(acceptedFolder, in.taken)...), nil
}

// AcceptKnowledge gives the changes by which a visitor's knowledge becomes part
// of the records: a source of kind letter with their words and the pictures
// given, and, where they agree or disagree with a claim, a citation of it there.
func AcceptKnowledge(ref *schema.Reference, l *Letter, pictures []Picture, taken func(file string) bool) ([]journal.Change, error) {
	k, id := l.Knowledge, "visitor-"+strings.TrimSuffix(l.Name, ".json")
	if _, there := ref.Sources.Get(id); there {
		return nil, fmt.Errorf("there is a source %q already: it was accepted before", id)
	}
	moved, names := carried(pictures, schema.KindSource, id, taken)
	changes := append([]journal.Change{{File: schema.KindSource.FileOf(id), After: k.source(names)}}, moved...)
	changes = append(changes, l.moved(acceptedFolder, taken)...)
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

// source is the record of the letter that a visitor's knowledge becomes, with
// the pictures that came with it.
func (k *Knowledge) source(pictures []string) []byte {
	says := strings.Join(strings.Fields(k.Knows), " ")
	if k.Source != nil {
		says += " It stands in " + k.Source.String() + "."
	}
	places := "  - {at: " + acceptedPlace + ", says: " + editing.Quoted(says).String() + "}\n"
	for i, name := range pictures {
		places += fmt.Sprintf("  - {at: picture %d, scan: %s}\n", i+1, editing.Word(name))
	}
	line := func(key, text string) string { return key + ": " + editing.Quoted(text).String() + "\n" }
	return []byte("---\nrecord: source\n" +
		line("name", fmt.Sprintf("Letter of %s to the register, submitted on %s", cmp.Or(k.By, "a visitor"), k.On)) +
		"kind: letter\n" + line("by", cmp.Or(k.By, "a visitor of the site")) + "issued: " + k.On + "\n" +
		line("kept", "The register's inbox; it answers the edition of "+k.Edition) +
		"places:\n" + places + "---\n")
}

// claimAt finds the claim at an address of the site, or nil.
func claimAt(ref *schema.Reference, address string) *schema.Claim {
	for c := range ref.Claims() {
		if c.Address() == address {
			return c
		}
	}
	return nil
}

// Subject is what the visitor knows something about, in words: a claim, a
// record, or the address where that is neither.
func (k *Knowledge) Subject(ref *schema.Reference) string {
	if c := claimAt(ref, k.About); c != nil {
		return ref.Statement(c)
	}
	page, _, _ := strings.Cut(k.About, "#")
	for _, r := range ref.Records() {
		if r.Header().Address() == page {
			return r.Title()
		}
	}
	return k.About
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
