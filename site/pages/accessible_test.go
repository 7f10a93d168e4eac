package pages_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// violation is what axe-core finds.
type violation struct {
	ID    string `json:"id"`
	Help  string `json:"help"`
	Nodes []struct {
		HTML    string `json:"html"`
		Summary string `json:"failureSummary"`
	} `json:"nodes"`
}

// hold runs axe-core's rules over the page, scrolled to its end, where the
// form's bar stands in its own place and over nothing.
func (b *browser) hold(rules string) {
	b.t.Helper()
	axe, err := os.ReadFile(filepath.Join(need.Npm(b.t, "axe-core"), "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		b.t.Fatal(err)
	}
	evaluate[any](b, `window.scrollTo(0, document.documentElement.scrollHeight); null`)
	evaluate[any](b, string(axe)+";null")
	found := evaluate[[]violation](b, `axe.run(document, {resultTypes: ["violations"], runOnly: `+rules+`}).then(r => r.violations.map(v => ({id: v.id, help: v.help, nodes: v.nodes.slice(0, 3).map(n => ({html: n.html, failureSummary: n.failureSummary}))})))`)
	for _, v := range found {
		for _, n := range v.Nodes {
			b.t.Errorf("%s: %s\n%.300s\n%s", v.ID, v.Help, n.HTML, strings.TrimSpace(n.Summary))
		}
	}
}

// TestAccessible holds every page kind against axe-core, in the light and in
// the dark, on a telephone and on a desk, by the rules of WCAG 2.0 to 2.2 A and
// AA and axe's best practices; and nothing may run over the edge of the screen.
// Where YEARMARK_LOOK names a folder it keeps a picture of each for people to look at.
func TestAccessible(t *testing.T) {
	inEveryLight(t, func(b *browser, name string) {
		if over := evaluate[float64](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 0 {
			b.t.Errorf("the page is %v pixels wider than the screen", over)
		}
		rules := `["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa","best-practice"]`
		if strings.HasSuffix(name, "-dark") {
			rules = `["color-contrast","link-in-text-block"]` // nothing else changes in the dark
		}
		b.hold(rules)
		if os.Getenv("YEARMARK_LOOK") != "" {
			evaluate[any](b, `document.querySelectorAll("img").forEach(i => i.loading = "eager"); Promise.all([...document.images].map(i => i.decode().catch(() => null))).then(() => null)`)
			b.picture(name + ".png")
		}
	})
}
