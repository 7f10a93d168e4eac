package exports

import (
	"cmp"
	"crypto/sha1" // RFC 9562 names it for identifiers made of names
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"yearmark/dating"
	"yearmark/schema"
)

// Change is one entry of the feed.
type Change struct {
	Key     string // names the change for ever: what happened to what, and when
	Date    string // a day, as in 2026-11-14; a month or year counts from its first day
	Title   string
	Summary string
	Address string        // relative to the site's root
	Claim   *schema.Claim // whose sources' words are told too; nil of other changes
}

// maxEntries bounds the feed: readers ask for it often.
const maxEntries = 50

// The feed as RFC 4287 has it.
type (
	atomFeed struct {
		XMLName   xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
		Lang      string      `xml:"xml:lang,attr,omitempty"`
		ID        string      `xml:"id"`
		Title     string      `xml:"title"`
		Subtitle  string      `xml:"subtitle"`
		Updated   string      `xml:"updated"`
		Author    atomPerson  `xml:"author"`
		Links     []atomLink  `xml:"link"`
		Rights    string      `xml:"rights,omitempty"`
		Generator string      `xml:"generator"`
		Entries   []atomEntry `xml:"entry"`
	}
	atomPerson struct {
		Name string `xml:"name"`
	}
	atomLink struct {
		Rel  string `xml:"rel,attr"`
		Type string `xml:"type,attr,omitempty"`
		Href string `xml:"href,attr"`
	}
	atomEntry struct {
		ID      string     `xml:"id"`
		Title   string     `xml:"title"`
		Updated string     `xml:"updated"`
		Links   []atomLink `xml:"link"`
		Summary string     `xml:"summary"`
	}
)

// HasFeed says that the plan holds a feed. An edition with a date is an entry
// by itself.
func (f Facts) HasFeed() bool { return instant(f.Edition.Date) != "" || len(f.changes()) > 0 }

// feedEntry is the feed, unless nothing in the reference has a date.
func (f Facts) feedEntry() []Entry {
	if !f.HasFeed() {
		return nil
	}
	return []Entry{{"feed.atom", "What changed, for feed readers.", func(w io.Writer) error { return f.writeFeed(w, f.changes()) }}}
}

func (f Facts) writeFeed(w io.Writer, changes []Change) error {
	s := f.Ref.Settings
	feed := atomFeed{
		Lang: s.Language.Value, ID: uuid(s.Name.Value), Title: s.Name.Value,
		Subtitle: "What changed in the register, newest first.", Updated: instant(changes[0].Date),
		Author: atomPerson{cmp.Or(s.Editor.Value, s.Name.Value)}, Rights: s.Licence.Value, Generator: "Yearmark",
		Links: []atomLink{{"self", "application/atom+xml", f.absolute("feed.atom")}, {"alternate", "text/html", f.absolute("index.html")}},
	}
	for _, c := range changes {
		feed.Entries = append(feed.Entries, atomEntry{
			ID: uuid(s.Name.Value + "\n" + c.Key), Title: c.Title, Updated: instant(c.Date), Summary: c.Summary + f.wordsBehind(c.Claim),
			Links: []atomLink{{"alternate", "text/html", f.absolute(c.Address)}},
		})
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	if err := e.Encode(feed); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

// wordsBehind gives what the places say that a claim cites, as far as they may
// be shown, each place once and the citation with it.
func (f Facts) wordsBehind(c *schema.Claim) string {
	if c == nil {
		return ""
	}
	var quoted []schema.Citation
	text := ""
	for _, cite := range slices.Concat(c.Citations(), c.Against) {
		cite.Pos = schema.Pos{}
		if by, said := schema.OneSpeaker(f.Ref.Words(cite)); said != "" && !slices.Contains(quoted, cite) {
			quoted = append(quoted, cite)
			if by != "" {
				by += ", "
			}
			text += " “" + strings.Join(strings.Fields(said), " ") + "” (" + by + dating.CitationWords(f.Ref, cite) + ")"
		}
	}
	return text
}

// base is the public address with a stroke at its end, or nothing.
func (f Facts) base() string {
	if address := f.Ref.Settings.PublicURL.Value; address != "" {
		return strings.TrimRight(address, "/") + "/"
	}
	return ""
}

func (f Facts) absolute(page string) string { return f.base() + page }

// changes are the edition, what changed in it and what the records themselves
// date, newest first.
func (f Facts) changes() []Change {
	var list []dated
	for _, c := range append([]Change{f.edition()}, f.Changes...) {
		if at := instant(c.Date); at != "" {
			list = append(list, dated{c, at})
		}
	}
	list = append(list, f.recorded()...)
	slices.SortStableFunc(list, func(a, b dated) int { return cmp.Compare(b.at, a.at) })
	changes := make([]Change, min(len(list), maxEntries))
	for i := range changes {
		changes[i] = list[i].Change
	}
	return changes
}

// dated is a change and its date as RFC 3339 has it.
type dated struct {
	Change
	at string
}

// newest keeps of many changes the newest, as many as the feed has.
type newest struct {
	list  []dated
	floor string // what is older is left out
}

// add tells of a change if it may be among the newest.
func (n *newest) add(on schema.Span, change func(date string) Change) {
	date := on.String()
	at := instant(date)
	if at == "" || at < n.floor {
		return
	}
	n.list = append(n.list, dated{change(date), at})
	if len(n.list) == 4*maxEntries {
		n.floor = n.sorted()[maxEntries-1].at
	}
}

// sorted leaves the newest, and gives them newest first; those of one date by name.
func (n *newest) sorted() []dated {
	slices.SortFunc(n.list, func(a, b dated) int { return cmp.Or(cmp.Compare(b.at, a.at), cmp.Compare(a.Key, b.Key)) })
	n.list = n.list[:min(len(n.list), maxEntries)]
	return n.list
}

// edition tells of the edition as a whole.
func (f Facts) edition() Change {
	c := Change{
		Key: "edition " + f.Edition.Date + " " + f.Edition.Hash, Date: f.Edition.Date, Title: "Edition of " + f.Edition.Date,
		Summary: "The register as of " + f.Edition.Date + ", content " + f.Edition.Hash + ".", Address: "editions.html",
	}
	if n := len(f.Changes); n > 0 {
		c.Summary += fmt.Sprintf(" %d changes are told on its page.", n)
	}
	return c
}

// recorded lists the newest of what the records date: bows seen, disputes
// settled, claims withdrawn, copies kept.
func (f Facts) recorded() []dated {
	var n newest
	for _, e := range f.Ref.Examples.All() {
		n.add(e.Seen, func(date string) Change {
			return Change{Key: "seen " + e.ID + " " + date, Date: date, Title: e.Title() + " examined", Summary: f.bow(e), Address: e.Address()}
		})
	}
	for _, s := range f.Ref.Sources.All() {
		if s.Copied != nil {
			n.add(s.Copied.On, func(date string) Change {
				return Change{Key: "copied " + s.ID + " " + date, Date: date, Title: "Copy kept: " + s.Title(), Summary: "A copy of the linked page was kept.", Address: s.Address()}
			})
		}
	}
	for _, m := range f.Ref.Models.All() {
		n.settled(m.Claims(), m.Title())
		n.takenBack(m, m.ID, m.Withdrawn)
	}
	for _, m := range f.Ref.Makers.All() {
		n.settled(m.Claims(), m.Title())
		n.takenBack(m, "makers/"+m.ID, m.Withdrawn)
	}
	return n.sorted()
}

func (n *newest) takenBack(of schema.Record, key string, notes []*schema.Withdrawn) {
	for _, w := range notes {
		n.add(w.On, func(date string) Change {
			return Change{
				Key: "withdrawn " + key + "/" + w.ID.Value + " " + date, Date: date, Title: of.Title() + ": a claim was withdrawn",
				Summary: w.ID.Value + ": " + w.Because.Value, Address: of.Address() + "#" + w.ID.Value,
			}
		})
	}
}

func (n *newest) settled(claims []*schema.Claim, of string) {
	for _, c := range claims {
		if c.Settled == nil {
			continue
		}
		n.add(c.Settled.On, func(date string) Change {
			return Change{
				Key: "settled " + c.Key() + " " + date, Date: date, Title: of + ": a dispute was settled",
				Summary: c.Key() + ": " + c.Settled.Because.Value, Address: c.Address(), Claim: c,
			}
		})
	}
}

// bow tells an example in a few words.
func (f Facts) bow(e *schema.Example) string {
	name := "A bow of unknown model"
	if m, ok := f.Ref.Models.Get(e.Model.Value); ok {
		name = m.Title()
	}
	words := fmt.Sprintf("%s, %d features seen", name, len(e.Observed))
	if e.Documented != nil {
		words += ", documented " + e.Documented.Span.Words()
	}
	return words + "."
}

// instant gives a date as RFC 3339 has it, or "" where it is none. A month or
// a year counts from its first day.
func instant(date string) string {
	parts := strings.Split(date, "-")
	full := []string{"", "01", "01"}
	if len(parts) > 3 || len(parts[0]) != 4 {
		return ""
	}
	for i, p := range parts {
		if n, err := strconv.Atoi(p); err != nil || n < 0 || i > 0 && len(p) != 2 {
			return ""
		}
		full[i] = p
	}
	if full[1] < "01" || full[1] > "12" {
		return ""
	}
	return strings.Join(full, "-") + "T00:00:00Z"
}

// uuid makes an identifier of a name, the same each time: version 5 of RFC
// 9562, in a namespace of this program's own.
func uuid(name string) string {
	h := sha1.New()
	_, _ = io.WriteString(h, "yearmark feed\n"+name)
	b := h.Sum(nil)[:16]
	b[6], b[8] = b[6]&0x0f|0x50, b[8]&0x3f|0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:])
}
