package pages_test

import (
	"fmt"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// TestEveryClaimLeadsToItsLine: the proof of every claim of a model or maker
// leads to the line of the record that states it, on the same page or, of a long
// record, on the record's own, and every record is shown there, letter by letter
// but for what is private.
func TestEveryClaimLeadsToItsLine(t *testing.T) {
	lines := map[string]string{} // by address
	links := map[string]bool{}   // "address of the claim to fragment"
	for _, d := range documents(t) {
		for n := range d.tree.Descendants() {
			id, _ := attribute(n, "id")
			switch {
			case n.Data == "span" && strings.HasPrefix(id, "L"):
				lines[d.path+"#"+id] = textOf(n)
			case hasClass(n, "claim"):
				for a := range n.Descendants() {
					if href, ok := attribute(a, "href"); ok && strings.Contains(href, "#L") {
						links[d.path+"#"+id+" "+resolved(d.path, href)] = true
					}
				}
			}
		}
	}
	ref, claims := demonstrationFacts(t).ref, 0
	long := 0
	shownOn := func(page string) string {
		if own := strings.TrimSuffix(page, ".html") + ".record.html"; lines[own+"#L1"] != "" {
			long++
			return own
		}
		return page
	}
	look := func(address string, line int, says string) {
		claims++
		page, id, _ := strings.Cut(address, "#")
		to := fmt.Sprintf("%s#L%d", shownOn(page), line)
		if !links[address+" "+to] {
			t.Errorf("%s does not lead to %s", address, to)
		}
		if got := lines[to]; !strings.Contains(got, says) && got != "  - id: "+id+"\n" {
			t.Errorf("%s leads to %q, which does not say %q", address, lines[to], says)
		}
	}
	for _, m := range ref.Models.All() {
		for _, c := range m.Claims() {
			look(c.Address(), c.Pos.Line(), c.FeatureID())
		}
	}
	for _, m := range ref.Makers.All() {
		for _, c := range m.Claims() {
			look(c.Address(), c.Pos.Line(), c.Name.Value)
		}
	}
	if long < 50 {
		t.Errorf("%d claims lead to a long record's own page", long)
	}
	if claims < 300 {
		t.Errorf("only %d claims looked for", claims)
	}
	for _, r := range ref.Records() {
		first := strings.SplitN(string(r.Header().Source), "\n", 3)
		if got := lines[shownOn(r.Address())+"#L2"]; got != first[1]+"\n" {
			t.Errorf("%s: the second line reads %q", r.Address(), got)
		}
	}
}

// textOf joins the words below a node.
func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}
