package schema

import (
	"regexp"
	"strconv"
	"strings"
)

var yamlLine = regexp.MustCompile(`line (\d+)`)

// malformed reports YAML that the library refused. The library's own place is
// used only where diagnose finds nothing.
func (d *decoder) malformed(front []byte, err error) {
	line := 1
	text := strings.TrimPrefix(err.Error(), "yaml: ")
	if m := yamlLine.FindStringSubmatch(text); m != nil {
		line, _ = strconv.Atoi(m[1])
	}
	if strings.Contains(text, "exceeded max depth") {
		d.tooDeep(Pos{File: d.file, Line: line + d.shift, Column: 1})
		return
	}
	d.report(CheckUnreadable, Pos{File: d.file, Line: line + d.shift, Column: 1}, "the keys cannot be read from here on", "Look at this line and the one before it: a missing quote, bracket, colon or space is the usual cause.")
}
