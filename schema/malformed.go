package schema

import (
	"regexp"
	"strconv"
	"strings"

	"yearmark/schema/english"
)

var yamlLine = regexp.MustCompile(`line (\d+)`)

// malformed reports YAML that the library refused. The library often names the
// wrong line and never a column, so its own place is used only where diagnose
// finds nothing.
func (d *decoder) malformed(front []byte, err error) {
	if f := diagnose(front); f != nil {
		at := placeOf(d.file, front, min(f.offset, len(front))).moved(d.shift, 0)
		if private := privateFrom(front); private >= 0 && private <= f.offset { // no message may quote it
			f.help = "Look that every quote and bracket is closed, and put text that holds colons or other signs in double quotes."
		}
		d.report(f.check, at, f.message, f.help)
		return
	}
	line := 1
	text := strings.TrimPrefix(err.Error(), "yaml: ")
	if m := yamlLine.FindStringSubmatch(text); m != nil {
		line, _ = strconv.Atoi(m[1])
	}
	at := d.at(line+d.shift, 1)
	if strings.Contains(text, "exceeded max depth") {
		d.tooDeep(at)
		return
	}
	d.report(CheckUnreadable, at, "the keys cannot be read from here on", "Look at this line and the one before it: a missing quote, bracket, colon or space is the usual cause.")
}

// fault is what is wrong with malformed YAML.
type fault struct {
	offset        int // in bytes
	check         string
	message, help string
}

// diagnose finds the first thing wrong with YAML that could not be read, in
// the words of somebody who typed it. It knows the YAML that people write in
// records and gives up (nil) beyond that.
func diagnose(text []byte) *fault { return scanYAML(text).fault }

func scanYAML(text []byte) *yamlScan {
	s := &yamlScan{text: text}
	for s.fault == nil && !s.lost && s.startLine() {
		s.blockLine()
	}
	return s
}

// yamlScan walks malformed YAML line by line.
type yamlScan struct {
	text   []byte
	at     int
	levels []level
	key    string // the last key, for messages
	// awaits says that the last key or hyphen has no value yet.
	awaits bool
	// plain says that the last value was unquoted text, which deeper lines continue.
	plain bool
	fault *fault
	lost  bool // beyond what is understood here
	// questions are the question marks within unquoted text between brackets.
	questions []int
}

// level is one list or mapping that is open.
type level struct {
	column int
	list   bool
}

func (s *yamlScan) fail(offset int, message, help string) {
	if s.fault == nil {
		s.fault = &fault{offset, CheckUnreadable, message, help}
	}
}

// peek gives a byte relative to where the scan stands, 0 at the end.
func (s *yamlScan) peek(n int) byte {
	if s.at+n < 0 || s.at+n >= len(s.text) {
		return 0
	}
	return s.text[s.at+n]
}

// lineEnd is the offset of the end of the line that the scan stands in.
func (s *yamlScan) lineEnd() int {
	for i := s.at; i < len(s.text); i++ {
		if s.text[i] == '\n' {
			return i
		}
	}
	return len(s.text)
}

// rest is what is left of the line, without its end.
func (s *yamlScan) rest() string { return strings.TrimRight(string(s.text[s.at:s.lineEnd()]), " \t\r") }

func (s *yamlScan) nextLine() { s.at = min(s.lineEnd()+1, len(s.text)) }

func (s *yamlScan) column() int {
	return s.at - lineStart(s.text, s.at)
}

// skipBlanks passes spaces and tabs.
func (s *yamlScan) skipBlanks() {
	for s.peek(0) == ' ' || s.peek(0) == '\t' {
		s.at++
	}
}

// blankOrComment says that nothing more is said on this line.
func (s *yamlScan) blankOrComment() bool {
	rest := s.rest()
	return rest == "" || rest[0] == '#'
}

const noBreakSpace = "\u00a0"

// startLine goes to the first character of the next line that says something.
func (s *yamlScan) startLine() bool {
	for s.at < len(s.text) {
		start := s.at
		for s.peek(0) == ' ' {
			s.at++
		}
		indent := s.at
		s.skipBlanks()
		switch {
		case s.blankOrComment() && indent == s.at:
			s.nextLine()
			continue
		case indent != s.at:
			s.fail(indent, "a tab stands at the start of the line", "Use spaces, not a tab, at the start of the line: two for each step in.")
		case strings.HasPrefix(s.rest(), noBreakSpace):
			s.fail(start, "an unbreakable space stands at the start of the line", "Type ordinary spaces at the start of the line; this kind comes with text copied from a web page.")
		}
		return true
	}
	return false
}

// blockLine reads one line outside brackets and quotes.
func (s *yamlScan) blockLine() {
	column := s.column()
	if s.plain && (len(s.levels) == 0 || column > s.levels[len(s.levels)-1].column) {
		s.continuation()
		return
	}
	s.plain = false
	s.close(column)
	for s.fault == nil && s.peek(0) == '-' && isBlank(s.peek(1)) {
		if !s.hyphen(s.column()) {
			return
		}
	}
	if s.fault == nil {
		s.keyOrText(s.column())
	}
}

// isBlank says that a byte ends a word: a space, a tab, the end of a line or of all.
func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == 0 }

// continuation reads a line that goes on with the unquoted text above it.
func (s *yamlScan) continuation() {
	if key, colon := s.plainKey(); colon >= 0 {
		s.fail(s.at, "the line is indented as if it belonged to the text above", "Begin "+strconv.Quote(english.Clip(key, 40))+" under the key "+strconv.Quote(english.Clip(s.key, 40))+", or put the text above in quotes if this line is part of it.")
		return
	}
	s.nextLine()
}

// close ends the lists and mappings that a line at this column lies outside of.
func (s *yamlScan) close(column int) {
	for n := len(s.levels); n > 0 && s.levels[n-1].column > column; n-- {
		s.levels = s.levels[:n-1]
		s.awaits = false
	}
	n := len(s.levels)
	if n == 0 || s.awaits || s.levels[n-1].column == column {
		return
	}
	s.fail(s.at, "the line is indented as no line above it is", "Begin it exactly under the line that it goes with: the key or hyphen above, to the space.")
}

// hyphen reads the hyphen of a list entry. It answers whether more follows on the line.
func (s *yamlScan) hyphen(column int) bool {
	n := len(s.levels)
	switch {
	case n > 0 && s.levels[n-1].list && s.levels[n-1].column == column:
	case n == 0 || s.awaits:
		s.levels = append(s.levels, level{column, true})
	default:
		s.fail(s.at, "a hyphen stands where a key is expected", "Indent the list below the key it belongs to, or take the hyphen away.")
		return false
	}
	s.awaits = true
	s.at++
	s.skipBlanks()
	if s.blankOrComment() {
		s.nextLine()
		return false
	}
	return true
}

// keyOrText reads a key and its value, or text that stands alone.
func (s *yamlScan) keyOrText(column int) {
	n := len(s.levels)
	if n > 1 && s.levels[n-1].list && s.levels[n-1].column == column && !s.levels[n-2].list && s.levels[n-2].column == column {
		s.levels = s.levels[:n-1]
		s.awaits = false
	}
	key, colon := s.findKey()
	switch {
	case s.fault != nil || s.lost:
	case colon >= 0 && strings.IndexByte("]},@`%*&!", s.peek(0)) >= 0:
		s.cannotBegin("a key", "Delete it, or put the key in quotes.")
	case colon >= 0:
		s.openKey(column, key)
		s.at = colon + 1
		s.value()
	case s.awaits || len(s.levels) == 0 && strings.IndexByte("\"'[{|>*&!%@`", s.peek(0)) >= 0:
		s.value()
	case s.colonWithoutSpace():
		rest := s.rest()
		name, value, _ := strings.Cut(rest, ":")
		s.fail(s.at+len(name), "a space is missing after the colon", "Put a space after the colon: "+name+": "+strings.TrimSpace(english.Clip(value, 60)))
	default:
		s.fail(s.at, "the line has no colon after its key", "Write a colon and a space after the key, as in name: Plover. If the line goes on with the text above it, put that whole text in quotes.")
	}
}

// colonWithoutSpace says that the line begins like key:value.
func (s *yamlScan) colonWithoutSpace() bool {
	name, _, ok := strings.Cut(s.rest(), ":")
	return ok && isIdentifier(name)
}

// openKey notes a key, and opens its mapping where it is the first.
func (s *yamlScan) openKey(column int, key string) {
	n := len(s.levels)
	switch {
	case n > 0 && !s.levels[n-1].list && s.levels[n-1].column == column:
	case n > 0 && s.levels[n-1].list && s.levels[n-1].column == column:
		s.fail(s.at, "a key stands where a hyphen is expected", "Indent the key if it belongs to the entry above, begin a new entry with a hyphen and a space, or move the key to the start of the line if the list is over.")
	default:
		s.levels = append(s.levels, level{column, false})
	}
	s.key, s.awaits = key, false
}

// findKey looks for a key at the start of what is left of the line, and gives
// it with the offset of its colon, or -1.
func (s *yamlScan) findKey() (string, int) {
	switch s.peek(0) {
	case '"', '\'':
		start := s.at
		end, ok := s.quoted()
		s.at = start
		if !ok {
			return "", -1
		}
		after := end
		for after < len(s.text) && s.text[after] == ' ' {
			after++
		}
		if after < len(s.text) && s.text[after] == ':' {
			return string(s.text[start+1 : end-1]), after
		}
		return "", -1
	case '[', '{', '|', '>':
		return "", -1
	case '?':
		s.lost = isBlank(s.peek(1))
	}
	return s.plainKey()
}

// plainKey finds "key:" at the start of the rest of the line, comments left out.
func (s *yamlScan) plainKey() (string, int) {
	end := s.lineEnd()
	for i := s.at; i < end; i++ {
		switch {
		case s.text[i] == '#' && i > s.at && isBlank(s.text[i-1]):
			return "", -1
		case s.text[i] == ':' && (i+1 >= len(s.text) || isBlank(s.text[i+1])):
			return strings.TrimSpace(string(s.text[s.at:i])), i
		}
	}
	return "", -1
}

// value reads what stands after a key's colon or a hyphen.
func (s *yamlScan) value() {
	s.skipBlanks()
	if s.blankOrComment() {
		s.awaits = true
		s.nextLine()
		return
	}
	s.awaits = false
	rest := s.rest()
	switch c := s.peek(0); {
	case c == '"' || c == '\'':
		s.quotedValue()
	case c == '[' || c == '{':
		s.brackets()
	case c == '|' || c == '>':
		s.blockText(rest)
	case strings.IndexByte("@`%]},*&!", c) >= 0:
		s.cannotBegin("unquoted text", quoteRemedy(rest))
	case c == '-' && isBlank(s.peek(1)):
		s.fail(s.at, "a list begins on the line of its key", "Begin the list on the next line, or put the entries in brackets: [a, b].")
	default:
		s.plainValue(rest)
	}
}

// cannotBegin reports the mark that stands here as one that begins nothing.
func (s *yamlScan) cannotBegin(what, help string) {
	mark := string(s.peek(0))
	s.fail(s.at, what+" cannot begin with "+strconv.Quote(mark), help)
	if strings.Contains("*&!", mark) && s.fault.offset == s.at {
		s.fault.check = CheckAlias
	}
}

// quoteRemedy shows a text put in quotes.
func quoteRemedy(text string) string {
	if i := strings.Index(text, " #"); i >= 0 {
		text = strings.TrimSpace(text[:i])
	}
	text = english.Clip(text, 80)
	if strings.ContainsAny(text, `"\`) {
		return "Put the text in quotes: '" + strings.ReplaceAll(text, "'", "''") + "'"
	}
	return `Put the text in quotes: "` + text + `"`
}

// plainValue reads unquoted text to the end of its line.
func (s *yamlScan) plainValue(rest string) {
	if _, colon := s.plainKey(); colon >= 0 {
		s.fail(colon, "the text has a second colon", quoteRemedy(rest))
		return
	}
	s.plain = true
	s.nextLine()
}

// blockText passes text that is introduced by | or >.
func (s *yamlScan) blockText(rest string) {
	header, _, _ := strings.Cut(rest, " #")
	if strings.Trim(header, "|>+-0123456789 ") != "" {
		s.fail(s.at+1, "text stands on the line of the mark "+strconv.Quote(rest[:1]), "Begin the text on the next line, indented, or put it in quotes if the mark belongs to it.")
		return
	}
	outside := -1
	if n := len(s.levels); n > 0 {
		outside = s.levels[n-1].column
	}
	for s.nextLine(); s.at < len(s.text); s.nextLine() {
		start := s.at
		s.skipBlanks()
		blank := s.rest() == ""
		deep := s.at - start
		s.at = start
		if !blank && deep <= outside {
			return
		}
	}
}
