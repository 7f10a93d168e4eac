package checks

import (
	"sort"
	"unicode/utf8"

	"yearmark/schema"
)

// places turns offsets in a text into lines and columns of its file.
type places struct {
	source []byte
	start  schema.Pos
	lines  []int // where each line begins
}

func newPlaces(source []byte, start schema.Pos) *places {
	p := &places{source: source, start: start, lines: []int{0}}
	for i, c := range source {
		if c == '\n' {
			p.lines = append(p.lines, i+1)
		}
	}
	return p
}

// at gives the place of an offset; columns are counted in characters.
func (p *places) at(offset int) schema.Pos {
	offset = min(max(offset, 0), len(p.source))
	line := sort.SearchInts(p.lines, offset+1) - 1
	pos := schema.Pos{File: p.start.File, Line: p.start.Line + line, Column: 1 + utf8.RuneCount(p.source[p.lines[line]:offset])}
	if line == 0 {
		pos.Column += p.start.Column - 1
	}
	return pos
}
