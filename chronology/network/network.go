// Package network solves simple temporal networks: sets of statements
// "to - from <= max" between whole years, as in R. Dechter, I. Meiri and
// J. Pearl, Temporal constraint networks, Artificial Intelligence 49 (1991)
// 61-95. It knows nothing of records: years are points, statements are tags.
//
// A point may also be bound to a choice of years with gaps between them
// (Among), which makes the problem disjunctive; see Resolve.
//
// A network gives the tightest years of every point, the chain of edges
// behind each of them, and, where no years satisfy it, minimal sets of
// statements that cannot hold together, each explained by one negative cycle.
//
// # Cost
//
// A network is split into the components that remain connected when the
// origin is taken away (one statement is never cut apart), and each component
// into its strongly connected blocks. Statements that point one way (a claim lies within its model's
// years) make no block larger than one point, so the work is one pass over the
// edges; only years that bind each other both ways (equal, meets, lasts) are
// swept more than once, and then only their own block.
//
// Only a component that contradicts itself is solved statement by statement
// (Resolve): what each of them moves is worked out again, not the whole.
//
// # Changes
//
// A network only grows. Its components do not touch each other, so a caller
// whose statements change builds the network of what hangs together anew (a
// maker and all that is stated relative to it) and keeps the others' solutions.
package network

import (
	"cmp"
	"slices"
)

// Point is one unknown year, or the origin. Points are numbered as they are added.
type Point int32

// Origin is year zero: a distance from it is a year.
const Origin Point = 0

// Tag names the statement that an edge comes from. One statement may make
// several edges; it is kept or given up as a whole. Tags count up from 1:
// memory is kept for each up to the highest.
type Tag int32

// Given marks edges that hold by definition, such as that nothing ends before
// it starts. They are never given up and are part of no explanation's set.
const Given Tag = 0

// Limit is the greatest distance, in years either way, that a constraint may
// state. A wider one says nothing and is dropped; a stricter one is held at it.
const Limit = 1 << 30

// Edge says To - From <= Max because of the statement Tag.
type Edge struct {
	From, To Point
	Max      int32
	Tag      Tag
}

// compare orders edges by place, then strictness, then statement.
func (e Edge) compare(f Edge) int {
	switch {
	case e.From != f.From:
		return cmp.Compare(e.From, f.From)
	case e.To != f.To:
		return cmp.Compare(e.To, f.To)
	case e.Max != f.Max:
		return cmp.Compare(e.Max, f.Max)
	}
	return cmp.Compare(e.Tag, f.Tag)
}

// Network is a set of points and constraints between them. The zero Network
// is not ready for use; see New. Nothing that it answers depends on the order
// in which constraints were added.
type Network struct {
	points  int32
	highest Tag
	edges   []Edge
	choices []choice
}

// New gives a network that holds the origin alone.
func New() *Network { return &Network{points: 1} }

// Reset makes it a network that holds the origin alone again. Its memory is used
// again; what Resolve gave is not touched.
func (n *Network) Reset() { n.points, n.highest, n.edges, n.choices = 1, 0, n.edges[:0], n.choices[:0] }

// Grow reserves memory for so many more constraints.
func (n *Network) Grow(constraints int) { n.edges = slices.Grow(n.edges, constraints) }

// Points is the number of points, the origin included.
func (n *Network) Points() int { return int(n.points) }

// AddPoint adds an unknown year that nothing binds yet.
func (n *Network) AddPoint() Point {
	n.points++
	return Point(n.points - 1)
}

// Constrain states that to - from <= most. Points that are not of this
// network, the origin on both sides, and tags below zero are a fault of the
// program and panic.
func (n *Network) Constrain(from, to Point, most int, tag Tag) {
	if from < 0 || to < 0 || int32(from) >= n.points || int32(to) >= n.points {
		panic("network: a constraint names a point that was never added")
	}
	if from == Origin && to == Origin || tag < 0 {
		panic("network: a constraint has the origin on both sides or a tag below zero")
	}
	n.highest = max(n.highest, tag)
	if most > Limit || from == to && most >= 0 {
		return
	}
	n.edges = append(n.edges, Edge{From: from, To: to, Max: int32(max(most, -Limit)), Tag: tag})
}

// NotBefore states that p is the year or later.
func (n *Network) NotBefore(p Point, year int, tag Tag) { n.Constrain(p, Origin, -year, tag) }

// NotAfter states that p is the year or earlier.
func (n *Network) NotAfter(p Point, year int, tag Tag) { n.Constrain(Origin, p, year, tag) }

// Bound states that p lies in lo..hi, both included.
func (n *Network) Bound(p Point, lo, hi int, tag Tag) {
	n.NotBefore(p, lo, tag)
	n.NotAfter(p, hi, tag)
}
