package schema

import (
	"strings"
	"sync"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// parsePlain reads the YAML that records are mostly written in, about ten
// times as fast as the library: mappings and lists in block form with plain
// keys, and on one line plain or simply quoted text, lists in brackets and
// mappings in braces. At anything else, right or wrong, it gives up (nil) and
// the library decides. Where it answers, its nodes are the library's, kinds,
// values, quotes and places alike; FuzzPlainYAML holds it to that. The text
// is as oddCharacters leaves it. The nodes belong to the store.
func parsePlain(text string, store *nodeStore) *yaml.Node {
	p := plainParser{text: text, store: store, ascii: isASCII(text)}
	if !p.next() || p.indent != 0 {
		return nil
	}
	top := p.mapping(0, 1)
	if p.gaveUp || !p.ended {
		return nil
	}
	return top
}

func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// nodeStore lends out nodes, to be used again for the next record.
type nodeStore struct {
	blocks [][]yaml.Node
	used   int
	links  []*yaml.Node // the Content of collections
	stack  []*yaml.Node // the Content of those not yet closed
}

const blockNodes = 256

var nodeStores = sync.Pool{New: func() any { return &nodeStore{} }}

// release gives the store back. No node of it may be used afterwards.
func (s *nodeStore) release() {
	const most = 64
	for i, left := 0, s.used; left > 0; i, left = i+1, left-blockNodes {
		clear(s.blocks[i][:min(left, blockNodes)])
	}
	s.blocks = s.blocks[:min(len(s.blocks), most)]
	clear(s.links)
	s.used, s.links, s.stack = 0, s.links[:0], s.stack[:0]
	nodeStores.Put(s)
}

func (s *nodeStore) node() *yaml.Node {
	block, place := s.used/blockNodes, s.used%blockNodes
	if block == len(s.blocks) {
		s.blocks = append(s.blocks, make([]yaml.Node, blockNodes))
	}
	s.used++
	return &s.blocks[block][place]
}

// close makes the nodes on the stack above the mark the content of n.
func (s *nodeStore) close(n *yaml.Node, mark int) {
	from := len(s.links)
	s.links = append(s.links, s.stack[mark:]...)
	n.Content = s.links[from:len(s.links):len(s.links)]
	s.stack = s.stack[:mark]
}

// plainParser stands at a place in the text, always on a line that says something.
type plainParser struct {
	text   string
	store  *nodeStore
	ascii  bool
	at     int
	line   int // from 1
	start  int // where the line begins
	end    int // where it ends, its line feed left out
	indent int
	ended  bool // there is no further line
	gaveUp bool
}

// deepest is the nesting at which parsePlain leaves the text to the library.
const deepest = 12

func (p *plainParser) giveUp() *yaml.Node {
	p.gaveUp = true
	return nil
}

// next goes to the first character of the next line that is not blank or a comment.
func (p *plainParser) next() bool {
	for {
		if p.line > 0 {
			p.start = p.end + 1
		}
		p.line++
		if p.start >= len(p.text) {
			p.ended = true
			return false
		}
		p.end = len(p.text)
		if i := strings.IndexByte(p.text[p.start:], '\n'); i >= 0 {
			p.end = p.start + i
		}
		p.at = p.start
		for p.at < p.end && p.text[p.at] == ' ' {
			p.at++
		}
		if p.lineIsOver() {
			continue
		}
		p.indent = p.at - p.start
		return true
	}
}

// lineIsOver says that a comment or nothing is left of the line.
func (p *plainParser) lineIsOver() bool {
	return p.at == p.end || p.text[p.at] == '#' || p.text[p.at] == '\r' && p.at+1 == p.end
}

// closeLine passes spaces and goes to the next line. Anything but a comment
// after a space makes it give up.
func (p *plainParser) closeLine() {
	from := p.at
	p.blanks()
	if !p.lineIsOver() || p.at == from && p.at < p.end && p.text[p.at] == '#' {
		p.gaveUp = true
		return
	}
	p.next()
}

func (p *plainParser) blanks() {
	for p.at < p.end && p.text[p.at] == ' ' {
		p.at++
	}
}

func (p *plainParser) new(kind yaml.Kind, style yaml.Style, at int) *yaml.Node {
	n := p.store.node()
	n.Kind, n.Style, n.Line, n.Column = kind, style, p.line, at-p.start+1
	if !p.ascii {
		n.Column = utf8.RuneCountInString(p.text[p.start:at]) + 1
	}
	return n
}

func (p *plainParser) scalar(style yaml.Style, at, from, to int) *yaml.Node {
	n := p.new(yaml.ScalarNode, style, at)
	n.Value = p.text[from:to]
	return n
}

func isWordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-' || c == '_' || c >= 'A' && c <= 'Z'
}

// key gives the end of a plain key that begins here and is followed by a colon
// and a blank, or -1.
func (p *plainParser) key() int {
	const longest = 100
	i := p.at
	for i < p.end && isWordByte(p.text[i]) {
		i++
	}
	switch {
	case i == p.at, i >= p.end, i-p.at > longest, p.text[p.at] == '-', p.text[i] != ':':
		return -1
	case i+1 == p.end, p.text[i+1] == ' ', p.text[i+1] == '\r' && i+2 == p.end:
		return i
	}
	return -1
}

// hyphen says that a list entry begins here.
func (p *plainParser) hyphen() bool {
	return p.text[p.at] == '-' && p.at+1 < p.end && p.text[p.at+1] == ' '
}

// mapping reads the keys that begin at a column of this line and of those that follow.
func (p *plainParser) mapping(column, depth int) *yaml.Node {
	end := p.key()
	if end < 0 || depth > deepest {
		return p.giveUp()
	}
	n := p.new(yaml.MappingNode, 0, p.at)
	mark := len(p.store.stack)
	for !p.gaveUp {
		p.store.stack = append(p.store.stack, p.scalar(0, p.at, p.at, end))
		p.at = end + 1
		value := p.value(column, depth)
		if value == nil {
			return p.giveUp()
		}
		p.store.stack = append(p.store.stack, value)
		if p.ended || p.indent < column {
			break
		}
		if end = p.key(); end < 0 || p.indent > column {
			return p.giveUp()
		}
	}
	p.store.close(n, mark)
	return n
}

// value reads what follows a key's colon, on its line or below it.
func (p *plainParser) value(column, depth int) *yaml.Node {
	p.blanks()
	if !p.lineIsOver() {
		n := p.inline(depth)
		if n != nil {
			p.closeLine()
		}
		if p.gaveUp || !p.ended && p.indent > column {
			return p.giveUp()
		}
		return n
	}
	if !p.next() {
		return p.giveUp()
	}
	switch {
	case p.hyphen() && p.indent >= column:
		return p.list(p.indent, depth+1)
	case p.indent > column:
		return p.mapping(p.indent, depth+1)
	}
	return p.giveUp()
}

// list reads the entries whose hyphens stand at a column.
func (p *plainParser) list(column, depth int) *yaml.Node {
	if depth > deepest {
		return p.giveUp()
	}
	n := p.new(yaml.SequenceNode, 0, p.at)
	mark := len(p.store.stack)
	for !p.ended && p.indent == column && p.hyphen() {
		entry := p.entry(depth)
		if p.gaveUp || !p.ended && p.indent > column {
			return p.giveUp()
		}
		p.store.stack = append(p.store.stack, entry)
	}
	p.store.close(n, mark)
	return n
}

// entry reads one entry of a list.
func (p *plainParser) entry(depth int) *yaml.Node {
	p.at++
	p.blanks()
	if p.lineIsOver() || p.text[p.at] == '-' {
		return p.giveUp()
	}
	if p.key() >= 0 {
		p.indent = p.at - p.start
		return p.mapping(p.indent, depth+1)
	}
	n := p.inline(depth)
	if n != nil {
		p.closeLine()
	}
	return n
}

// inline reads a value on one line.
func (p *plainParser) inline(depth int) *yaml.Node {
	switch p.text[p.at] {
	case '"', '\'':
		return p.quoted()
	case '[', '{':
		return p.flow(depth + 1)
	}
	return p.words(false)
}

// quoted reads text in quotes that holds neither an escape nor its own quote.
func (p *plainParser) quoted() *yaml.Node {
	at, mark := p.at, p.text[p.at]
	for i := at + 1; i < p.end; i++ {
		switch c := p.text[i]; {
		case c == '\\' && mark == '"', c == '\t', c == '\r':
			return p.giveUp()
		case c == mark:
			if mark == '\'' && i+1 < p.end && p.text[i+1] == mark {
				return p.giveUp()
			}
			p.at = i + 1
			style := yaml.DoubleQuotedStyle
			if mark == '\'' {
				style = yaml.SingleQuotedStyle
			}
			return p.scalar(style, at, at+1, i)
		}
	}
	return p.giveUp()
}

// startsWords says whether unquoted text may begin with a byte. More bytes may
// in YAML; the library judges those.
func startsWords(c, next byte) bool {
	switch c {
	case '-', '+':
		return next >= '0' && next <= '9'
	case '(', '/', '.', '_', '~', '^', '$', ';':
		return true
	}
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c >= utf8.RuneSelf
}

// words reads unquoted text to the end of the line, or, within brackets, to
// the comma or bracket that ends it.
func (p *plainParser) words(within bool) *yaml.Node {
	at, next := p.at, byte(0)
	if at+1 < p.end {
		next = p.text[at+1]
	}
	if !startsWords(p.text[at], next) {
		return p.giveUp()
	}
	i := at
scan:
	for ; i < p.end; i++ {
		switch p.text[i] {
		case '\t':
			return p.giveUp()
		case ':':
			if i+1 == p.end || p.text[i+1] == ' ' || p.text[i+1] == '\r' {
				return p.giveUp()
			}
		case '#':
			if p.text[i-1] == ' ' {
				if within {
					return p.giveUp()
				}
				break scan
			}
		case '\r':
			if within || i+1 != p.end {
				return p.giveUp()
			}
			break scan
		case ',', ']', '}':
			if within {
				break scan
			}
		case '[', '{', '?':
			if within {
				return p.giveUp()
			}
		}
	}
	if within && i == p.end {
		return p.giveUp()
	}
	p.at = i
	for i > at && p.text[i-1] == ' ' {
		i--
	}
	if p.at < p.end && p.text[p.at] == '#' {
		p.at-- // closeLine wants to see the space before a comment
	}
	return p.scalar(0, at, at, i)
}

// flow reads a list in brackets or a mapping in braces, on one line.
func (p *plainParser) flow(depth int) *yaml.Node {
	if depth > deepest {
		return p.giveUp()
	}
	kind, closing := yaml.SequenceNode, byte(']')
	if p.text[p.at] == '{' {
		kind, closing = yaml.MappingNode, '}'
	}
	n := p.new(kind, yaml.FlowStyle, p.at)
	mark := len(p.store.stack)
	p.at++
	for first := true; ; first = false {
		p.blanks()
		if first && p.at < p.end && p.text[p.at] == closing {
			break
		}
		if !p.flowEntry(kind, depth) {
			return p.giveUp()
		}
		p.blanks()
		if p.at == p.end {
			return p.giveUp()
		}
		if p.text[p.at] == closing {
			break
		}
		if p.text[p.at] != ',' {
			return p.giveUp()
		}
		p.at++
	}
	p.at++
	p.store.close(n, mark)
	return n
}

// flowEntry reads one entry between commas, with its key in a mapping.
func (p *plainParser) flowEntry(kind yaml.Kind, depth int) bool {
	if kind == yaml.MappingNode {
		end := p.key()
		if end < 0 {
			return false
		}
		p.store.stack = append(p.store.stack, p.scalar(0, p.at, p.at, end))
		p.at = end + 1
		p.blanks()
	}
	if p.at == p.end {
		return false
	}
	var value *yaml.Node
	switch p.text[p.at] {
	case '"', '\'':
		value = p.quoted()
	case '[', '{':
		value = p.flow(depth + 1)
	default:
		value = p.words(true)
	}
	if value == nil {
		return false
	}
	p.store.stack = append(p.store.stack, value)
	return true
}
