// Package section computes the section constants of a thin-walled beam from
// the drawing of its profile: area, centroid, second moments, shear
// flexibility, St Venant and warping constants and the shear centre.
//
// A profile lies in the plane of f (forward) and u (up), in mm. It is a graph
// of walls between nodes: open, closed, of several cells, or closed with open
// fins. Thin-wall theory holds: stresses are constant through the wall, except
// for the shear stress of St Venant torsion and the secondary warping, and all
// integrals run along the walls' midlines.
//
// Every constant carries a complex step, so its derivatives with respect to
// every coordinate, thickness and arc angle are exact.
package section

import (
	"errors"
	"fmt"
	"math"

	"bushtune/bushing/exact"
)

// Point is a place in the section's plane, or a direction there.
type Point[T exact.Number] struct {
	F T // forward, mm
	U T // up, mm
}

// Wall is a thin wall of constant thickness between two nodes, straight or
// bent to a circular arc.
type Wall[T exact.Number] struct {
	From, To  int // indices of the nodes
	Thickness T   // mm
	// Angle is the arc's included angle in rad, zero for a straight wall:
	// positive when the midline turns left on its way from From to To, seen
	// with f to the right and u upwards. A full circle needs two arcs.
	Angle T
}

// Profile is the midline drawing of a thin-walled section.
type Profile[T exact.Number] struct {
	Nodes []Point[T]
	Walls []Wall[T]
}

// LargestAngle bounds an arc's included angle in rad. The chord of a full
// circle vanishes and no longer tells where the arc lies.
const LargestAngle = 350 * math.Pi / 180

// sameAngle is the difference in rad below which two arcs between the same
// nodes are taken to be one wall drawn twice.
const sameAngle = 1e-9

// Clear empties the drawing and keeps its memory for the next one.
func (p *Profile[T]) Clear() {
	p.Nodes = p.Nodes[:0]
	p.Walls = p.Walls[:0]
}

// AddNode appends a node and returns its index.
func (p *Profile[T]) AddNode(f, u T) int {
	p.Nodes = append(p.Nodes, Point[T]{f, u})
	return len(p.Nodes) - 1
}

// AddWall appends a straight wall between two nodes.
func (p *Profile[T]) AddWall(from, to int, thickness T) {
	p.AddArc(from, to, thickness, 0)
}

// AddArc appends a wall between two nodes that is bent by the included angle
// in rad, positive when it turns left.
func (p *Profile[T]) AddArc(from, to int, thickness, angle T) {
	p.Walls = append(p.Walls, Wall[T]{from, to, thickness, angle})
}

// Turn rotates the drawing about the origin by an angle in rad, about the
// lateral axis (y, to the left): positive leans the top forward.
func (p *Profile[T]) Turn(angle T) {
	sin, cos := exact.Sincos(angle)
	for i, n := range p.Nodes {
		p.Nodes[i] = Point[T]{n.F*cos + n.U*sin, n.U*cos - n.F*sin}
	}
}

// Check returns every mistake of the drawing, joined, or nil. Nodes and walls
// are named by their index. That all walls hang together is found later, by
// Constants.
func (p *Profile[T]) Check() error {
	var mistakes []error
	if len(p.Walls) == 0 {
		mistakes = append(mistakes, errors.New("section: a profile needs at least one wall"))
	}
	for i, n := range p.Nodes {
		if !finite(n.F) || !finite(n.U) {
			mistakes = append(mistakes, fmt.Errorf("section: node %d: coordinates (%v, %v) are not finite", i, exact.Real(n.F), exact.Real(n.U)))
		}
	}
	for i := range p.Walls {
		if err := p.checkWall(i); err != nil {
			mistakes = append(mistakes, err)
		}
	}
	return errors.Join(mistakes...)
}

// checkWall returns the first mistake of one wall.
func (p *Profile[T]) checkWall(i int) error {
	w := &p.Walls[i]
	thickness, angle := exact.Real(w.Thickness), exact.Real(w.Angle)
	fail := func(format string, args ...any) error {
		return fmt.Errorf("section: wall %d (node %d to node %d): "+format, append([]any{i, w.From, w.To}, args...)...)
	}
	switch last := len(p.Nodes) - 1; {
	case w.From < 0 || w.To < 0 || w.From > last || w.To > last:
		return fail("no such node; the last one is node %d", last)
	case w.From == w.To:
		return fail("starts and ends at the same node")
	case exact.Real(p.Nodes[w.From].F) == exact.Real(p.Nodes[w.To].F) && exact.Real(p.Nodes[w.From].U) == exact.Real(p.Nodes[w.To].U):
		return fail("has no length")
	case !(thickness > 0) || !finite(w.Thickness):
		return fail("thickness %v mm must be above zero", thickness)
	case !(math.Abs(angle) <= LargestAngle):
		return fail("arc angle %v rad must lie within ±%.4f; a full circle needs two arcs", angle, LargestAngle)
	}
	for j := range p.Walls[:i] {
		if w.doubles(&p.Walls[j]) {
			return fail("the same wall as wall %d", j)
		}
	}
	return nil
}

// doubles tells whether two walls share both nodes and their whole midline.
func (w *Wall[T]) doubles(other *Wall[T]) bool {
	a, b := exact.Real(w.Angle), exact.Real(other.Angle)
	switch {
	case w.From == other.From && w.To == other.To:
		return math.Abs(a-b) < sameAngle
	case w.From == other.To && w.To == other.From:
		return math.Abs(a+b) < sameAngle
	}
	return false
}

func finite[T exact.Number](x T) bool {
	return !math.IsNaN(exact.Real(x)) && !math.IsInf(exact.Real(x), 0)
}
