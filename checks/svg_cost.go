package checks

import (
	"fmt"
	"strings"
)

// The bounds of what a browser is given to draw. Cost counts elements, those
// drawn again through references every time; one stands for a shape as large
// as the drawing, and the others were measured beside it in Chromium without
// a graphics card, where the dearest drawing that passes takes some ten seconds.
const (
	mostSVGCost  = 30_000
	maxSVGChain  = 12 // references that lead to references
	mostMatching = 2_000_000
	layerCost    = 100 // to draw aside and lay over: a mask, a filter, opacity of a group
	fadedCost    = 8   // opacity of a single shape
	filterCost   = 500 // each primitive
	patternCost  = 100
	gradientCost = 4
	clipCost     = 5
)

// drawing is what is drawn, as far as its cost goes.
type drawing struct {
	elements []*svgElement
	parts    map[string]*svgElement // by identifier; of several the first, as in browsers
	rules    []cssRule
}

func newDrawing() *drawing { return &drawing{parts: map[string]*svgElement{}} }

// svgElement is one element of a drawing.
type svgElement struct {
	drawing  *drawing
	name     string
	id       string
	classes  []string
	parent   *svgElement
	children []*svgElement
	refers   []svgReference // its own
	layered  bool           // drawn aside and laid over
	points   int            // no fewer than the vertices that it has
	sums     [sumKinds]sum
}

// svgReference leads to a part of the drawing: by which property or attribute.
type svgReference struct{ by, id string }

// sum is something added up over an element; busy while that is being done.
type sum struct {
	n           int
	known, busy bool
}

// What is added up over an element.
const (
	sumCost     = iota
	sumSize     // elements that it draws, those that are used again counted each time
	sumVertices // vertices that it draws, in the same manner
	sumChain    // references that lead on from it, one to another
	sumKinds
)

func (d *drawing) add(name string, parent *svgElement) *svgElement {
	e := &svgElement{drawing: d, name: name, parent: parent, points: 1}
	d.elements = append(d.elements, e)
	if parent != nil {
		parent.children = append(parent.children, e)
	}
	return e
}

func (e *svgElement) refer(by, id string) { e.refers = append(e.refers, svgReference{by, id}) }

// take notes what an attribute says about cost.
func (e *svgElement) take(name, value string) {
	switch name {
	case "id":
		e.id = value
		if e.drawing.parts[value] == nil {
			e.drawing.parts[value] = e
		}
	case "class":
		e.classes = strings.Fields(strings.ToLower(value))
	case "d", "points":
		e.points += len(value)/2 + 1
	}
}

// set notes what a property says about cost.
func (e *svgElement) set(d declaration) {
	for _, id := range d.refers {
		e.refer(d.property, id)
	}
	switch d.property {
	case "opacity", "mix-blend-mode", "isolation", "filter", "mask":
		if d.value != "1" && d.value != "1.0" && d.value != "none" && d.value != "normal" && d.value != "auto" {
			e.layered = true
		}
	}
}

// fault says what would make a browser slow, or nothing.
func (d *drawing) fault() string {
	if !d.applyRules() {
		return "has styles whose selectors take too long to match"
	}
	if len(d.elements) == 0 {
		return ""
	}
	total, chain := d.elements[0].cost(), d.elements[0].chain()
	switch {
	case total < 0 || chain < 0:
		return "has a part that is drawn within itself"
	case chain > maxSVGChain:
		return fmt.Sprintf("has parts that refer to parts more than %d deep", maxSVGChain)
	case total > mostSVGCost:
		return "draws more, parts that are drawn again counted each time, than a browser can draw quickly"
	}
	return ""
}

// applyRules sets on each element what the style sheets set on it, and says
// whether a browser has done so quickly.
func (d *drawing) applyRules() bool {
	keyed := map[string][]*cssRule{} // by what an element must have
	matching := 0
	for n := range d.rules {
		for _, pick := range d.rules[n].picks {
			keyed[pick.key()] = append(keyed[pick.key()], &cssRule{picks: []cssPick{pick}, sets: d.rules[n].sets})
		}
	}
	for _, e := range d.elements {
		keys := []string{"*", strings.ToLower(e.name), "#" + strings.ToLower(e.id)}
		for _, c := range e.classes {
			keys = append(keys, "."+c)
		}
		for _, key := range keys {
			for _, rule := range keyed[key] {
				matching += 1 + (rule.picks[0].compounds-1)*50 + len(rule.sets)
				for _, set := range rule.sets {
					e.set(set)
				}
			}
			if matching > mostMatching {
				return false
			}
		}
	}
	return true
}

// key gives one thing that an element must have to be picked.
func (p cssPick) key() string {
	switch {
	case p.id != "":
		return "#" + p.id
	case len(p.classes) > 0:
		return "." + p.classes[0]
	case p.element != "":
		return p.element
	}
	return "*"
}

// over adds up something over an element and remembers it: -1 where the
// element leads back to itself.
func (e *svgElement) over(kind int, work func() int) int {
	s := &e.sums[kind]
	switch {
	case s.busy:
		return -1
	case s.known:
		return s.n
	}
	s.busy = true
	n := work()
	*s = sum{n: n, known: true}
	return n
}

// add adds costs; -1 stays, and beyond what is allowed nothing matters.
func add(a, b int) int {
	if a < 0 || b < 0 {
		return -1
	}
	return min(a+b, mostSVGCost+1)
}

func times(a, b int) int {
	if a < 0 || b < 0 {
		return -1
	}
	if a > 0 && b > mostSVGCost/a {
		return mostSVGCost + 1
	}
	return a * b
}

// of adds up something over the part of an identifier; a browser draws
// nothing for one that is not there.
func (d *drawing) of(id string, what func(*svgElement) int) int {
	if part := d.parts[id]; part != nil {
		return what(part)
	}
	return 0
}

// cost gives what it costs to draw an element with all that it refers to.
func (e *svgElement) cost() int {
	return e.over(sumCost, func() int {
		n := 1
		switch {
		case strings.HasPrefix(e.name, "fe"):
			n = filterCost
		case e.name == "pattern":
			n = patternCost
		case strings.HasSuffix(e.name, "Gradient"):
			n = gradientCost
		case e.layered && (e.name == "use" || len(e.children) > 0):
			n = layerCost
		case e.layered:
			n = fadedCost
		}
		for _, child := range e.children {
			n = add(n, child.cost())
		}
		for _, r := range e.refers {
			if !inherited(r.by) {
				n = add(n, add(priceOf(r.by), e.drawing.of(r.id, (*svgElement).cost)))
			}
		}
		return add(n, e.paint())
	})
}

func priceOf(by string) int {
	switch by {
	case "clip-path":
		return clipCost
	case "mask", "filter":
		return layerCost
	}
	return 1
}

// inherited says that a property holds for all that stands in its element.
func inherited(by string) bool {
	return by == "fill" || by == "stroke" || strings.HasPrefix(by, "marker")
}

// paint gives what the patterns and markers cost that hold for an element: a
// pattern on everything that it draws, a marker on every vertex of that.
func (e *svgElement) paint() int {
	if !paints[e.name] {
		return 0
	}
	n := 0
	for at := e; at != nil; at = at.parent {
		for _, r := range at.refers {
			if !inherited(r.by) {
				continue
			}
			one := e.drawing.of(r.id, (*svgElement).cost)
			if strings.HasPrefix(r.by, "marker") {
				n = add(n, times(e.vertices(), one))
			} else {
				n = add(n, times(e.size(), one))
			}
		}
	}
	return n
}

var paints = setOf("path rect circle ellipse line polyline polygon text use")

func (e *svgElement) size() int {
	return e.count(sumSize, (*svgElement).size, 1)
}

func (e *svgElement) vertices() int {
	return e.count(sumVertices, (*svgElement).vertices, e.points)
}

func (e *svgElement) count(kind int, all func(*svgElement) int, own int) int {
	return e.over(kind, func() int {
		n := own
		for _, child := range e.children {
			n = add(n, all(child))
		}
		for _, r := range e.refers {
			if r.by == "href" {
				n = add(n, e.drawing.of(r.id, all))
			}
		}
		return n
	})
}

func (e *svgElement) chain() int {
	return e.over(sumChain, func() int {
		n := 0
		for _, child := range e.children {
			if n = deeper(n, child.chain()); n < 0 {
				return n
			}
		}
		for _, r := range e.refers {
			if n = deeper(n, add(e.drawing.of(r.id, (*svgElement).chain), 1)); n < 0 {
				return n
			}
		}
		return n
	})
}

// deeper gives the greater of two chains, or -1 where the second has no end.
func deeper(a, b int) int {
	if b < 0 {
		return -1
	}
	return max(a, b)
}
