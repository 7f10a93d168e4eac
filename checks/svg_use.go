package checks

import (
	"encoding/xml"
	"fmt"
	"strings"
)

// mostCopies bounds how often the parts of a drawing are drawn again by the
// element use: ten parts of ten parts of ten … take a browser's time and
// memory from a file of a few lines.
const mostCopies = 10_000

// copies follows which part of a drawing draws which others again.
type copies struct {
	open []string            // the identifiers of the elements that are open; empty for those without
	uses map[string][]string // by part, what it uses; "" is the whole drawing
}

func (c *copies) start(t xml.StartElement) {
	id, used := "", ""
	for _, a := range t.Attr {
		switch {
		case a.Name.Local == "id":
			id = a.Value
		case a.Name.Local == "href" && t.Name.Local == "use":
			used = strings.TrimPrefix(strings.TrimSpace(a.Value), "#")
		}
	}
	c.open = append(c.open, id)
	if used == "" {
		return
	}
	if c.uses == nil {
		c.uses = map[string][]string{}
	}
	c.uses[""] = append(c.uses[""], used)
	for _, part := range c.open {
		if part != "" {
			c.uses[part] = append(c.uses[part], used)
		}
	}
}

func (c *copies) end() {
	if len(c.open) > 0 {
		c.open = c.open[:len(c.open)-1]
	}
}

// fault says what is wrong with the copies, or nothing.
func (c *copies) fault() string {
	n := c.count("", map[string]int{})
	switch {
	case n < 0:
		return "has a part that is drawn within itself"
	case n > mostCopies:
		return fmt.Sprintf("draws its parts again more than %d times", mostCopies)
	}
	return ""
}

// count gives how many copies a part makes, -1 for a ring. known holds -1
// while a part is being counted.
func (c *copies) count(part string, known map[string]int) int {
	if n, ok := known[part]; ok {
		return n
	}
	known[part] = -1
	total := 0
	for _, used := range c.uses[part] {
		n := c.count(used, known)
		if n < 0 {
			return -1
		}
		if total += 1 + n; total > mostCopies {
			total = mostCopies + 1
			break
		}
	}
	known[part] = total
	return total
}
