package editing

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"yearmark/schema"
)

// member is one key with its value, or one item of a list.
type member struct{ start, end int }

// reshaping takes members out of a list or mapping and puts others in.
type reshaping struct {
	node    *schema.Located
	members []member
	removed []bool
	added   map[int][]string // after which member, -1 before the first
	depth   int
}

func newReshaping(node *schema.Located, members []member, depth int) reshaping {
	return reshaping{node: node, members: members, removed: make([]bool, len(members)), added: map[int][]string{}, depth: depth}
}

// keyMembers are the keys of a mapping.
func keyMembers(m *schema.Located) []member {
	members := make([]member, len(m.Keys))
	for i, k := range m.Keys {
		members[i] = member{k.Start, max(k.End, k.Value.End)}
	}
	return members
}

func (r *reshaping) kept() (first, last int) {
	first, last = -1, -1
	for i, gone := range r.removed {
		if !gone {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	return first, last
}

// reshape carries out a reshaping.
func (f *File) reshape(r reshaping) error {
	first, _ := r.kept()
	changed := len(r.added) > 0 || slices.Contains(r.removed, true)
	switch {
	case !changed:
		return nil
	case first < 0 && len(r.members) == 0 && r.node.Flow:
		f.splice(r.node.Start+1, r.node.Start+1, strings.Join(r.added[-1], ", "), r.depth)
		return nil
	case first < 0:
		return fmt.Errorf("nothing would be left at one place of %s", f.name)
	}
	for i := range r.members {
		if r.removed[i] && !r.node.Flow {
			f.removeLines(&r, i, first)
		} else if r.removed[i] {
			f.removeFlow(&r, i, first)
		}
	}
	for after, texts := range r.added {
		if r.node.Flow {
			f.addFlow(&r, after, first, texts)
		} else {
			f.addLines(&r, after, first, texts)
		}
	}
	return nil
}

// removeFlow takes a member out with the comma before it, or after it where no
// member before it is kept.
func (f *File) removeFlow(r *reshaping, i, first int) {
	if i < first {
		f.splice(r.members[i].start, r.members[i+1].start, "", r.depth)
		return
	}
	f.splice(r.members[i-1].end, r.members[i].end, "", r.depth)
}

func (f *File) addFlow(r *reshaping, after, first int, texts []string) {
	text := strings.Join(texts, ", ")
	if after < first {
		at := r.members[first].start
		f.splice(at, at, text+", ", r.depth)
		return
	}
	at := r.members[after].end
	f.splice(at, at, ", "+text, r.depth)
}

// removeLines takes a member out with its whole lines; one that shares its
// first line with what stands before it leaves that to the next.
func (f *File) removeLines(r *reshaping, i, first int) {
	start := r.members[i].start
	if line := f.lineStart(start); len(bytes.TrimSpace(f.source[line:start])) > 0 && i < first {
		f.splice(start, r.members[i+1].start, "", r.depth)
		return
	} else if len(bytes.TrimSpace(f.source[line:start])) == 0 {
		start = line
	}
	f.splice(start, f.nextLine(r.members[i].end), "", r.depth)
}

func (f *File) addLines(r *reshaping, after, first int, texts []string) {
	begin := r.node.Start
	lead := f.source[f.lineStart(begin):begin]
	indent := strings.Map(func(c rune) rune {
		if c == '\t' {
			return c
		}
		return ' '
	}, string(lead))
	hyphen := ""
	if r.node.Kind == schema.LocatedList {
		hyphen = "- "
	}
	if after < first {
		at := r.members[first].start
		for _, text := range texts {
			f.splice(at, at, hyphen+text+f.newline+indent, r.depth)
		}
		return
	}
	at := f.nextLine(r.members[after].end)
	for _, text := range texts {
		f.splice(at, at, indent+hyphen+text+f.newline, r.depth)
	}
}

// lineStart is where the line begins that holds the byte.
func (f *File) lineStart(at int) int { return bytes.LastIndexByte(f.source[:at], '\n') + 1 }

// nextLine is where the line after the one that holds the byte begins.
func (f *File) nextLine(at int) int {
	if i := bytes.IndexByte(f.source[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(f.source)
}
