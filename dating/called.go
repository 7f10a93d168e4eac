package dating

import (
	"fmt"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
)

// names finds records by identifier, by name and by other names that people know.
type names struct {
	at   map[string]int // by identifier
	list []called
}

type called struct {
	name, id string
	of       int
	rank     int // 0 an identifier, 1 a name, 2 another name
}

func (n *names) add(of int, id, title string, also []schema.OtherName) {
	if n.at == nil {
		n.at = map[string]int{}
	}
	n.at[id] = of
	n.list = append(n.list, called{id, id, of, 0}, called{title, id, of, 1})
	for _, other := range schema.OtherNames(also) {
		n.list = append(n.list, called{other, id, of, 2})
	}
}

// find gives the place of what has the identifier or, capitals aside, the name,
// or -1 and a sentence with the nearest. Identifiers come first, names before
// other names; a name that several share is nobody's.
func (n *names) find(name string) (at int, near string) {
	if at, ok := n.at[name]; ok {
		return at, ""
	}
	found := called{of: -1}
	for _, c := range n.list {
		switch {
		case !strings.EqualFold(c.name, name) || c.of == found.of:
		case found.id == "" || c.rank < found.rank:
			found = c
		case c.rank == found.rank:
			found.of = -1
		}
	}
	if found.id != "" {
		if found.of < 0 {
			return -1, n.shared(name)
		}
		return found.of, ""
	}
	known := make([]string, len(n.list))
	ids := map[string]string{}
	for i, c := range n.list {
		known[i] = c.name
		if _, taken := ids[c.name]; !taken {
			ids[c.name] = c.id
		}
	}
	if near, ok := schema.Nearest(name, known); ok {
		return -1, fmt.Sprintf("Did you mean %q?", ids[near])
	}
	return -1, ""
}

// shared says whose a name is that several have.
func (n *names) shared(name string) string {
	var ids []string
	for _, c := range n.list {
		if strings.EqualFold(c.name, name) {
			ids = append(ids, fmt.Sprintf("%q", c.id))
		}
	}
	return fmt.Sprintf("Several are known by that name: write %s.", english.Or(ids))
}
