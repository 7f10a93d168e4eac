// Package made makes clean references of any size, to be spoilt by tests and
// read by benchmarks: nearly all of each is models, of fifteen claims each.
package made

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing/fstest"
)

// Reference is a clean reference, the same for the same seed: models whose
// features change from year to year, lists of every year that say so, prose
// with links, examples that agree.
type Reference struct {
	Files map[string][]string // the lines of every file
	Lives []Life
}

// Life is what the text of one model rests on.
type Life struct {
	ID, Maker   string
	First, Last int
}

// File is where the model's record stands.
func (l Life) File() string { return "models/" + l.ID + ".md" }

const (
	madeFirst, madeLast = 1940, 1980 // the years of the lists
	modelsPerMaker      = 8
)

// Woods are the values of riser-wood.
var Woods = []string{"padauk", "walnut", "maple", "cherry"}

// New makes a reference of so many models; every fourth has an example.
func New(models int, seed uint64) *Reference {
	m := &Reference{Files: map[string][]string{}}
	rng := rand.New(rand.NewPCG(seed, 1))
	m.Put("reference.yaml", "name: A made register", "years: 1930/1985")
	m.putFeatures()
	m.putSources()
	for i := range models {
		m.putModel(i, rng)
	}
	m.Put("pages/about.md", slices.Concat([]string{"---", "record: page", "title: About", "---", ""}, m.links())...)
	m.Put("pictures/marks/oval.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">`, `<ellipse cx="20" cy="10" rx="18" ry="8"/>`, `</svg>`)
	return m
}

// Put writes a file.
func (m *Reference) Put(file string, lines ...string) { m.Files[file] = lines }

func (m *Reference) putFeatures() {
	values := ""
	for _, w := range Woods {
		values += fmt.Sprintf("{id: %s, name: %s}, ", w, strings.ToUpper(w[:1])+w[1:])
	}
	m.Put("features/riser-wood.md", "---", "record: feature", "name: Riser wood", "kind: choice", "values: ["+strings.TrimSuffix(values, ", ")+"]", "---")
	m.Put("features/maker-mark.md", "---", "record: feature", "name: Maker's mark", "kind: choice", "values:",
		"  - {id: oval, name: Oval, picture: marks/oval.svg}", "  - {id: script, name: Script}", "---")
	m.Put("features/stabiliser-socket.md", "---", "record: feature", "name: Stabiliser socket", "kind: presence", "---")
	m.Put("features/model-number.md", "---", "record: feature", "name: Model number", "kind: text", "singles-out: true", "---")
	m.Put("features/draw-weight.md", "---", "record: feature", "name: Draw weight", "kind: number", "unit: lb", "plausible: 10..120", "---")
}

func (m *Reference) putSources() {
	for year := madeFirst; year <= madeLast; year++ {
		m.Put(fmt.Sprintf("sources/list-%d.md", year), "---", "record: source", fmt.Sprintf("name: Trade list %d", year),
			"kind: price-list", fmt.Sprintf("issued: %d", year), "---")
	}
	m.Put("sources/letter.md", "---", "record: source", "name: Letter from Aldous", "kind: letter", "issued: 1981", "---")
	m.Put("sources/talk.md", "---", "record: source", "name: Talk with Aldous", "kind: recollection", "issued: 1982", "---")
	m.Put("sources/bulletin.md", "---", "record: source", "name: Club bulletin", "kind: article", "issued: 1983", "relies-on: [letter]", "---")
}

// links cites every source, so that none is left uncited.
func (m *Reference) links() []string {
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

// Cuts divides first..last into parts of at least three years.
func Cuts(first, last, parts int) [][2]int {
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

func (m *Reference) putModel(i int, rng *rand.Rand) {
	l := Life{ID: fmt.Sprintf("model-%05d", i+100), Maker: fmt.Sprintf("maker-%04d", i/modelsPerMaker)}
	l.First = madeFirst + 5 + rng.IntN(15)
	l.Last = l.First + 11 + rng.IntN(6)
	m.Lives = append(m.Lives, l)
	if i%modelsPerMaker == 0 {
		m.Put("makers/"+l.Maker+".md", "---", "record: maker", "name: Maker "+l.Maker,
			`trading: {span: 1940/1980, cites: ["list-1940, p. 1", "list-1980, p. 1"]}`, "---")
	}
	lines := []string{"---", "record: model", "name: Model " + fmt.Sprint(i), "maker: " + l.Maker,
		"made: {" + span(l.First, l.Last) + "}", "eras:"}
	for k, c := range Cuts(l.First, l.Last, 3) {
		lines = append(lines, fmt.Sprintf("  - {id: era-%c, name: Pattern %d, %s}", 'a'+k, k+1, span(c[0], c[1])))
	}
	lines = append(lines, "features:")
	wood := rng.IntN(len(Woods))
	for k, c := range Cuts(l.First, l.Last, 3) {
		lines = append(lines, fmt.Sprintf("  - {feature: riser-wood, value: %s, %s}", Woods[(wood+k)%len(Woods)], span(c[0], c[1])))
	}
	marks := Cuts(l.First, l.Last, 2)
	lines = append(lines, fmt.Sprintf("  - {id: oval, feature: maker-mark, value: oval, %s}", span(marks[0][0], marks[0][1])),
		fmt.Sprintf("  - {id: script, feature: maker-mark, value: script, %s}", span(marks[1][0], marks[1][1])))
	sockets := Cuts(l.First, l.Last, 2)
	lines = append(lines, fmt.Sprintf("  - {feature: stabiliser-socket, value: absent, %s}", span(sockets[0][0], sockets[0][1])),
		fmt.Sprintf("  - {feature: stabiliser-socket, value: present, %s}", span(sockets[1][0], sockets[1][1])),
		fmt.Sprintf("  - {feature: model-number, value: N-%d, %s}", i+100, span(l.First, l.Last)), "specs:")
	for k, c := range Cuts(l.First, l.Last, 3) {
		lines = append(lines, fmt.Sprintf("  - {spec: draw-weight, range: %d..%d lb, %s}", 25+5*k, 50+5*k, span(c[0], c[1])))
	}
	lines = append(lines, "order:", "  - {first: oval, how: meets, second: script, cites: [letter]}", "---", "",
		fmt.Sprintf("The bow came out in %d, as the [list of %d, p. 2](source:list-%d) shows, and", l.First, l.First, l.First),
		fmt.Sprintf("its [script mark](claim:script) came at the change of pattern. It was made to %d.", l.Last),
		"", "![The oval mark](pictures/marks/oval.svg)")
	m.Put(l.File(), lines...)
	if i%4 == 0 {
		m.Put(fmt.Sprintf("examples/%05d.md", i), "---", "record: example", "model: "+l.ID, "observed:",
			fmt.Sprintf("  - {feature: riser-wood, value: %s}", Woods[wood]), "  - {feature: maker-mark, value: oval}",
			fmt.Sprintf("documented: {span: %d, cites: [\"letter, sheet %d\"]}", l.First, i), "---")
	}
}

// FS gives the reference as a file system.
func (m *Reference) FS() fstest.MapFS {
	out := fstest.MapFS{}
	for name, lines := range m.Files {
		out[name] = &fstest.MapFile{Data: []byte(strings.Join(lines, "\n") + "\n")}
	}
	return out
}

// CiteExamples has so many of the examples, evenly spread, cited for the oval
// mark of their models, so that something rests on them.
func (m *Reference) CiteExamples(count int) {
	examples := (len(m.Lives) + 3) / 4
	for k := range min(count, examples) {
		i := k * examples / count * 4
		lines := m.Files[m.Lives[i].File()]
		at := slices.IndexFunc(lines, func(line string) bool { return strings.Contains(line, "id: oval") })
		lines[at] = strings.Replace(lines[at], "cites: [", fmt.Sprintf("cites: [example-%05d, ", i), 1)
	}
}
