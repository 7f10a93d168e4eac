// Package rename gives a record another name and mends every place in the
// reference that names it, each in its own bytes: keys, citations, order
// statements and links in prose. Its own pictures and recordings are called as it
// is and take its new name too. What is private is not touched.
package rename

import (
	"bytes"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/exchange/journal"
	"yearmark/schema"
)

// Prepare gives the changes that rename a record; its old name goes to its key
// formerly, by which the site's old address leads on. files is the reference's
// folder. The error says what stands against it.
func Prepare(ref *schema.Reference, files fs.FS, kind schema.Kind, old, new string) ([]journal.Change, error) {
	if _, taken := ref.Record(kind, new); taken {
		return nil, fmt.Errorf("there is a %s %q already: choose another name, or join the two records by hand", kind, new)
	}
	record, ok := ref.Record(kind, old)
	if !ok {
		return nil, fmt.Errorf("there is no %s %q", kind, old)
	}
	if fault, ok := schema.NameFault(kind, new); !ok {
		return nil, fmt.Errorf("%s: a name has small letters a to z, digits and hyphens", fault.Message)
	}
	t := newTask(kind, old, new)
	changes, err := t.moves(ref, record, files)
	if err != nil {
		return nil, err
	}
	for _, r := range ref.Records() {
		head := r.Header()
		after, err := t.mended(head.File, head.Source)
		if err != nil {
			return nil, err
		}
		if r == record {
			if after, err = remembered(r, after, old, new); err != nil {
				return nil, err
			}
			changes = append(changes,
				journal.Change{File: head.File, Before: head.Source},
				journal.Change{File: kind.FileOf(new), After: after})
			continue
		}
		if !bytes.Equal(after, head.Source) {
			changes = append(changes, journal.Change{File: head.File, Before: head.Source, After: after})
		}
	}
	return changes, nil
}

// remembered adds the old name to the names that a record had; a name that it
// takes again is none of them any more.
func remembered(r schema.Record, source []byte, old, new string) ([]byte, error) {
	file, names := r.Header().File, []string{}
	for _, t := range schema.Formerly(r) {
		if t.Value != new && t.Value != old {
			names = append(names, t.Value)
		}
	}
	return editing.Set(file, source, []string{"formerly"}, editing.Words(append(names, old)))
}

// task is one renaming: how the name is found in each place.
type task struct {
	whole    []string // keys whose text, or whose items' text, is the name
	cited    string   // what citations begin with, where sources or examples are renamed
	prefix   string   // what stands before a claim's name: "plover/"
	kind     schema.Kind
	old, new string
	links    *regexp.Regexp  // addresses in prose; the name is the third group
	moved    map[string]bool // pictures and recordings that take the new name, by their old
}

var namedBy = map[schema.Kind][]string{
	schema.KindMaker:   {"maker"},
	schema.KindModel:   {"model", "except", "either"},
	schema.KindFeature: {"feature", "spec", "from", "features"},
}

func newTask(kind schema.Kind, old, new string) *task {
	t := &task{kind: kind, whole: namedBy[kind], old: old, new: new, moved: map[string]bool{}}
	link := string(kind) + `:`
	switch kind {
	case schema.KindSource:
		t.cited = old
	case schema.KindExample:
		t.cited, link = "example-"+old, `(?:example:|source:example-)`
	case schema.KindModel:
		t.prefix, link = old+"/", `(?:model:|claim:)`
	case schema.KindMaker:
		t.prefix, link = "makers/"+old+"/", `(?:maker:|claim:makers/)`
	}
	t.links = regexp.MustCompile(`([(<]|\]:[ \t]*)(` + link + `)(` + regexp.QuoteMeta(old) + `)([/)>\s#]|$)`)
	return t
}

// mended gives a record's file with the new name in place of the old.
func (t *task) mended(file string, source []byte) ([]byte, error) {
	if !bytes.Contains(source, []byte(t.old)) {
		return source, nil
	}
	top, err := schema.Locate(file, source)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read, so that it would not be known whether it names the record; mend it first", file)
	}
	at := t.inKeys(nil, top, "", "", source)
	public := outside(privateParts(nil, top))
	for _, m := range t.links.FindAllSubmatchIndex(source, -1) {
		if public(m[6]) {
			at = append(at, m[6])
		}
	}
	slices.Sort(at)
	var out []byte
	from := 0
	for _, i := range slices.Compact(at) {
		out = append(append(out, source[from:i]...), t.new...)
		from = i + len(t.old)
	}
	return append(out, source[from:]...), nil
}

// inKeys finds where the name stands in the front matter, by the bytes it begins at.
func (t *task) inKeys(at []int, l *schema.Located, key, above string, source []byte) []int {
	switch l.Kind {
	case schema.LocatedText:
		lead, named := t.names(key, l.Text)
		if !named {
			lead, named = t.movedFile(key, above, l.Text)
		}
		if named {
			if i := bytes.Index(source[l.Start:l.End], []byte(lead+t.old)); i >= 0 {
				at = append(at, l.Start+i+len(lead))
			}
		}
	case schema.LocatedList:
		for _, item := range l.Items {
			at = t.inKeys(at, item, key, above, source)
		}
	default:
		for _, k := range l.Keys {
			switch {
			case isPrivate(k.Name):
			case key == "when" && t.kind == schema.KindFeature && k.Name == t.old:
				if i := bytes.Index(source[k.Start:k.End], []byte(t.old)); i >= 0 {
					at = append(at, k.Start+i)
				}
			default:
				at = t.inKeys(at, k.Value, k.Name, key, source)
			}
		}
	}
	return at
}

// names says whether a text below a key names the record, and what stands
// before the name in it.
func (t *task) names(key, text string) (lead string, named bool) {
	if slices.Contains(t.whole, key) && text == t.old {
		return "", true
	}
	switch key {
	case "cites", "against", "relies-on":
		source, _, _ := strings.Cut(text, ",")
		return strings.TrimSuffix(t.cited, t.old), t.cited != "" && strings.TrimSpace(source) == t.cited
	case "first", "second", "of", "over", "with", "claim":
		return strings.TrimSuffix(t.prefix, t.old+"/"), t.prefix != "" && strings.HasPrefix(text, t.prefix)
	}
	return "", false
}

func isPrivate(key string) bool { return strings.EqualFold(key, "private") }

// privateParts lists the bytes that private keys take up, with their values.
func privateParts(parts [][2]int, l *schema.Located) [][2]int {
	for _, item := range l.Items {
		parts = privateParts(parts, item)
	}
	for _, k := range l.Keys {
		if isPrivate(k.Name) {
			parts = append(parts, [2]int{k.Start, k.Value.End})
			continue
		}
		parts = privateParts(parts, k.Value)
	}
	return parts
}

func outside(parts [][2]int) func(at int) bool {
	return func(at int) bool {
		return !slices.ContainsFunc(parts, func(p [2]int) bool { return at >= p[0] && at < p[1] })
	}
}
