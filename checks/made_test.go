package checks

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// made is a clean reference of any size, the same for the same seed: models
// whose features change from year to year, lists of every year that say so,
// prose with links, examples that agree.
type made struct {
	models int
	files  map[string][]string // the lines of every file
	lives  []madeLife
}

// madeLife is what the text of one model rests on.
type madeLife struct {
	id, maker   string
	first, last int
}

func (l madeLife) file() string { return "models/" + l.id + ".md" }

const (
	madeFirst, madeLast = 1940, 1980 // the years of the lists
	modelsPerMaker      = 8
)

var woods = []string{"padauk", "walnut", "maple", "cherry"}

func newMade(models int, seed uint64) *made {
	m := &made{models: models, files: map[string][]string{}}
	rng := rand.New(rand.NewPCG(seed, 1))
	m.put("reference.yaml", "name: A made register", "years: 1930/1985")
	m.putFeatures()
	m.putSources()
	for i := range models {
		m.putModel(i, rng)
	}
	m.put("pages/about.md", slices.Concat([]string{"---", "record: page", "title: About", "---", ""}, m.links())...)
	m.put("pictures/marks/oval.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">`, `<ellipse cx="20" cy="10" rx="18" ry="8"/>`, `</svg>`)
	return m
}

func (m *made) put(file string, lines ...string) { m.files[file] = lines }

func (m *made) putFeatures() {
	values := ""
	for _, w := range woods {
		values += fmt.Sprintf("{id: %s, name: %s}, ", w, strings.ToUpper(w[:1])+w[1:])
	}
	m.put("features/riser-wood.md", "---", "record: feature", "name: Riser wood", "kind: choice", "values: ["+strings.TrimSuffix(values, ", ")+"]", "---")
	m.put("features/maker-mark.md", "---", "record: feature", "name: Maker's mark", "kind: choice", "values:",
		"  - {id: oval, name: Oval, picture: marks/oval.svg}", "  - {id: script, name: Script}", "---")
	m.put("features/stabiliser-socket.md", "---", "record: feature", "name: Stabiliser socket", "kind: presence", "---")
	m.put("features/model-number.md", "---", "record: feature", "name: Model number", "kind: text", "singles-out: true", "---")
	m.put("features/draw-weight.md", "---", "record: feature", "name: Draw weight", "kind: number", "unit: lb", "plausible: 10..120", "---")
}

func (m *made) putSources() {
	for year := madeFirst; year <= madeLast; year++ {
		m.put(fmt.Sprintf("sources/list-%d.md", year), "---", "record: source", fmt.Sprintf("name: Trade list %d", year),
			"kind: price-list", fmt.Sprintf("issued: %d", year), "---")
	}
	m.put("sources/letter.md", "---", "record: source", "name: Letter from Aldous", "kind: letter", "issued: 1981", "---")
	m.put("sources/talk.md", "---", "record: source", "name: Talk with Aldous", "kind: recollection", "issued: 1982", "---")
	m.put("sources/bulletin.md", "---", "record: source", "name: Club bulletin", "kind: article", "issued: 1983", "relies-on: [letter]", "---")
}

// links cites every source, so that none is left uncited.
func (m *made) links() []string {
	lines := []string{"Our sources: [letter](source:letter), [talk](source:talk), [bulletin](source:bulletin)."}
	for year := madeFirst; year <= madeLast; year++ {
		lines = append(lines, fmt.Sprintf("[list of %d](source:list-%d)", year, year))
	}
	return lines
}

// span writes a stretch of years with a citation at either end of it.
func span(first, last int) string {
	written := fmt.Sprintf("%d/%d", first, last)
	if first == last {
		written = fmt.Sprint(first)
	}
	if first == last {
		return fmt.Sprintf(`span: %s, cites: ["list-%d, p. 2"]`, written, first)
	}
	return fmt.Sprintf(`span: %s, cites: ["list-%d, p. 2", "list-%d, p. 4"]`, written, first, last)
}

// cuts divides first..last into parts of at least three years.
func cuts(first, last, parts int) [][2]int {
	var all [][2]int
	length := (last - first + 1) / parts
	for i := range parts {
		end := first + length - 1
		if i == parts-1 {
			end = last
		}
		all = append(all, [2]int{first, end})
		first = end + 1
	}
	return all
}

func (m *made) putModel(i int, rng *rand.Rand) {
	l := madeLife{id: fmt.Sprintf("model-%05d", i+100), maker: fmt.Sprintf("maker-%04d", i/modelsPerMaker)}
	l.first = madeFirst + 5 + rng.IntN(15)
	l.last = l.first + 11 + rng.IntN(6)
	m.lives = append(m.lives, l)
	if i%modelsPerMaker == 0 {
		m.put("makers/"+l.maker+".md", "---", "record: maker", "name: Maker "+l.maker,
			`trading: {span: 1940/1980, cites: ["list-1940, p. 1", "list-1980, p. 1"]}`, "---")
	}
	lines := []string{"---", "record: model", "name: Model " + fmt.Sprint(i), "maker: " + l.maker,
		"made: {" + span(l.first, l.last) + "}", "eras:"}
	for k, c := range cuts(l.first, l.last, 3) {
		lines = append(lines, fmt.Sprintf("  - {id: era-%c, name: Pattern %d, %s}", 'a'+k, k+1, span(c[0], c[1])))
	}
	lines = append(lines, "features:")
	wood := rng.IntN(len(woods))
	for k, c := range cuts(l.first, l.last, 3) {
		lines = append(lines, fmt.Sprintf("  - {feature: riser-wood, value: %s, %s}", woods[(wood+k)%len(woods)], span(c[0], c[1])))
	}
	marks := cuts(l.first, l.last, 2)
	lines = append(lines, fmt.Sprintf("  - {id: oval, feature: maker-mark, value: oval, %s}", span(marks[0][0], marks[0][1])),
		fmt.Sprintf("  - {id: script, feature: maker-mark, value: script, %s}", span(marks[1][0], marks[1][1])))
	sockets := cuts(l.first, l.last, 2)
	lines = append(lines, fmt.Sprintf("  - {feature: stabiliser-socket, value: absent, %s}", span(sockets[0][0], sockets[0][1])),
		fmt.Sprintf("  - {feature: stabiliser-socket, value: present, %s}", span(sockets[1][0], sockets[1][1])),
		fmt.Sprintf("  - {feature: model-number, value: N-%d, %s}", i+100, span(l.first, l.last)), "specs:")
	for k, c := range cuts(l.first, l.last, 3) {
		lines = append(lines, fmt.Sprintf("  - {spec: draw-weight, range: %d..%d lb, %s}", 25+5*k, 50+5*k, span(c[0], c[1])))
	}
	lines = append(lines, "order:", "  - {first: oval, how: meets, second: script, cites: [letter]}", "---", "",
		fmt.Sprintf("The bow came out in %d, as the [list of %d, p. 2](source:list-%d) shows, and", l.first, l.first, l.first),
		fmt.Sprintf("its [script mark](claim:script) came at the change of pattern. It was made to %d.", l.last),
		"", "![The oval mark](pictures/marks/oval.svg)")
	m.put(l.file(), lines...)
	if i%4 == 0 {
		m.put(fmt.Sprintf("examples/%05d.md", i), "---", "record: example", "model: "+l.id, "observed:",
			fmt.Sprintf("  - {feature: riser-wood, value: %s}", woods[wood]), "  - {feature: maker-mark, value: oval}",
			fmt.Sprintf("documented: {span: %d, cites: [letter]}", l.first), "---")
	}
}

func (m *made) fs() fstest.MapFS {
	out := fstest.MapFS{}
	for name, lines := range m.files {
		out[name] = &fstest.MapFile{Data: []byte(strings.Join(lines, "\n") + "\n")}
	}
	return out
}

func TestTheMadeReferenceIsClean(t *testing.T) {
	for seed := range uint64(3) {
		report, _ := reportOn(t, newMade(40, seed).fs())
		for _, f := range report.Findings {
			t.Errorf("seed %d: %s", seed, told(f))
		}
	}
}
