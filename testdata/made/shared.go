package made

import (
	"fmt"
	"strings"
)

// feature is one that models of the made reference have.
type feature struct {
	id, name, kind string
	look           string
	values         []string // a choice's, in the order in which the trade took them up
	more           string   // further lines of its front matter
}

// tracked are the features that hold one value after another through a model's
// life.
var tracked = []feature{
	{"riser-wood", "Riser wood", "choice", "Look at bare wood inside the window.", []string{"ash", "elm", "walnut", "beech", "padauk", "sapele", "cherry", "laminated"}, "held: usual\n"},
	{"maker-mark", "Maker's mark", "choice", "Look on the face of the upper limb.", []string{"wheel", "star", "oval", "script", "bar", "crown", "lozenge", "shield", "knot", "lantern", "ladder", "gate"}, "held: firm\n"},
	{"limb-glass", "Limb facing", "choice", "Look at the face of either limb.", []string{"bare-wood", "straw", "slate", "black", "milk", "rust", "clear"}, "held: usual\n"},
	{"tip-overlays", "Tip overlays", "choice", "Look at the last inch of each limb.", []string{"plain", "horn", "red-fibre", "black-plastic", "layered"}, "held: loose\n"},
	{"grip-shape", "Grip shape", "choice", "Look at the outline of the handle.", []string{"straight", "locator", "pistol", "palm-swell"}, "held: usual\n"},
	{"sight-window", "Sight window", "choice", "Look at the riser above the shelf.", []string{"none", "short", "to-centre", "past-centre"}, "held: usual\n"},
	{"model-label", "Model label", "choice", "Look beside the grip.", []string{"ink", "brass-plate", "transfer", "foil"}, "held: usual\n"},
	{"handle-finish", "Handle covering", "choice", "Look at the grip and its edges.", []string{"cord", "leather-wrap", "lacquer", "flock"}, "held: loose\naltered: {to: [leather-wrap], chance: 0.1}\n"},
}

var switched = []feature{
	{"stabiliser-socket", "Stabiliser socket", "presence", "Look at the far side of the riser.", nil, "held: usual\naltered: {to: [present], chance: 0.1}\n"},
	{"medallion", "Medallion", "presence", "Look for a disc let into the riser.", nil, "held: usual\n"},
	{"riser-stripe", "Riser stripe", "presence", "Look for a pale line through the riser.", nil, "held: usual\n"},
}

var written = []feature{
	{"model-number", "Model number", "text", "Look at the root of the lower limb.", nil, "singles-out: true\nheld: usual\n"},
	{"serial-number", "Serial number", "text", "Look inside the window.", nil, "held: usual\n"},
	{"draw-weight", "Draw weight offered", "number", "Read the stamp; do not draw the bow.", nil, "unit: lb\nplausible: 10..80\nstep: 1\nheld: usual\n"},
	{"brace-height", "Brace height asked for", "number", "Look for a card in the case.", nil, "unit: in\nplausible: 5..10\nstep: 1/8\nheld: usual\n"},
	{"bow-length", "Bow length", "number", "Lay a cord along the back, unstrung.", nil, "unit: in\nplausible: 44..74\nstep: 1\nheld: firm\n"},
}

// shared writes what belongs to no house: the settings, the features and the
// drawings of their values.
func (m *maker) shared() {
	m.file("reference.yaml", "name: The Made Register\neditor: Nobody\nlanguage: en\naddress: https://made.example.org/\nlicence: CC0-1.0\nyears: 1930/1995\nedition: 2026-01-31\n")
	for _, list := range [][]feature{tracked, switched, written} {
		for _, f := range list {
			m.record("features/"+f.id+".md", f.text())
			for k, v := range f.values {
				m.file(f.picture(v), drawing(f.name+": "+v, k))
			}
		}
	}
}

func (f feature) picture(value string) string { return "pictures/" + f.id + "/" + value + ".svg" }

func (f feature) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "---\nrecord: feature\nname: %s\nask: What does the %s look like?\nlook: %s\nkind: %s\neffort: glance\n", f.name, strings.ToLower(f.name), f.look, f.kind)
	b.WriteString(f.more)
	if f.values != nil {
		b.WriteString("exclusive: true\nvalues:\n")
	}
	for _, v := range f.values {
		fmt.Fprintf(&b, "  - {id: %s, name: %s, tell: \"Known by its %s, seen against the light\", picture: %s/%s.svg}\n", v, title(v), strings.ReplaceAll(v, "-", " "), f.id, v)
	}
	b.WriteString("---\n\nOwners and shops change it. Do not string, draw or scrape an old bow to see it better; ask a bowyer, and keep to the range's rules and to local law.\n")
	return b.String()
}

func title(id string) string {
	text := strings.ReplaceAll(id, "-", " ")
	return strings.ToUpper(text[:1]) + text[1:]
}

// drawing is a small picture: a plate with a row of strokes, n to a kind.
func drawing(shows string, n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 240 120" role="img"><title>%s</title><rect width="240" height="120" rx="5" fill="#f4ecd9"/>`, shows)
	for i := range n%7 + 2 {
		fmt.Fprintf(&b, `<path d="M%d %dL%d %d" fill="none" stroke="#2c221a" stroke-width="2.4"/>`, 20+24*i, 30+7*(n*i%5), 34+24*i, 90-5*(n*i%4))
	}
	b.WriteString("</svg>\n")
	return b.String()
}
