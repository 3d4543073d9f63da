// Package crosscheck holds the rates of cylindrical rubber bushes, plain and with
// two kidney voids, against linear finite elements of the rubber itself, and
// keeps the numbers that the corrections in package rubber are fitted to. They
// are the project's own finite-element check, not published.
//
// The rubber is a ring between two rigid sleeves, bonded to both, with square-cut
// ends. Each void goes through the whole length, lies in the middle of the wall
// and has square corners: it is bounded by two radii and two concentric arcs, so
// a skin of (wall − depth)/2 stays on either sleeve. The void stays open and the
// material is linear: small strain, shear modulus 1 MPa, a given bulk modulus.
//
// One eighth is meshed with 20-node bricks of reduced integration (C3D20R), which
// do not lock when the rubber hardly changes its volume. Each of the six movements
// is one step with its own symmetry; the rate is the work of the forces on the
// inner sleeve along its movement.
package crosscheck

import (
	"fmt"

	"bushtune/bushing/finiteelement"
	"bushtune/bushing/rubber"
)

// Sample is a bush of shear modulus 1 MPa.
type Sample struct {
	Inside, Outside, Length float64 // mm: radii and length of the rubber
	Arc, Depth              float64 // rad, mm: of each void; 0: none
	Bulk                    float64 // MPa
	Radius                  float64 // mm: of the corners of the voids; 0: square
	Closed                  float64 // rad: middle part of each void's arc that is closed, rubber there; 0: open
}

// Rates are the six rates in order of bushing.Direction: soft, axial, stiff in
// N/mm, cone about soft, torsion, cone about stiff in N·mm/rad.
type Rates [6]float64

// eighths is how many times the meshed part stands in the whole bush.
const eighths = 8

// Solve asks the finite-element solver for the rates.
func (s *Sample) Solve(d Density) (rates Rates, err error) {
	g := newMesh(s, d)
	which := []int{0, 1, 2, 3, 4, 5}
	if s.Arc == 0 {
		which = []int{0, 1, 3, 4} // both radials are the same
	}
	text, err := finiteelement.Run(g.deck(s.Bulk, which))
	if err != nil {
		return rates, err
	}
	tables, err := finiteelement.Tables(text)
	if err != nil {
		return rates, err
	}
	if len(tables) != len(which) {
		return rates, fmt.Errorf("crosscheck: %d of %d movements solved", len(tables), len(which))
	}
	for i, t := range tables {
		rates[which[i]] = eighths * g.work(t, motions[which[i]])
	}
	if s.Arc == 0 {
		rates[2], rates[5] = rates[0], rates[3]
	}
	return rates, nil
}

// work is that of the printed forces along the movement of the sleeve.
func (g *mesh) work(t finiteelement.Table, m motion) (sum float64) {
	for _, r := range t.Rows {
		for i, u := range m.move(g.at(g.nodes[r.Node])) {
			sum += r.Value[i] * u
		}
	}
	return sum
}

// Predict is what package rubber says.
func (s *Sample) Predict() Rates {
	c := rubber.Cylinder[float64]{Inside: s.Inside, Outside: s.Outside, Length: s.Length, G: 1, Bulk: s.Bulk}
	r := c.Voided(s.Arc, s.Depth, s.Radius)
	return r.Six()
}
