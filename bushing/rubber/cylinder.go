package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// Cylinder is a ring of rubber bonded to two rigid sleeves, with ends cut square.
type Cylinder[T exact.Number] struct {
	Inside, Outside, Length T // mm: radii of the rubber, length along the axis
	G, Bulk                 T // MPa: shear and bulk modulus, both above zero
}

// Torsion is the rate in N·mm/rad of turning one sleeve against the other about
// the axis, exact at any length (Adkins & Gent, Load-deflexion relations of rubber
// bush mountings, Brit. J. Appl. Phys. 5, 1954, from memory).
func (c *Cylinder[T]) Torsion() T {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	return 4 * math.Pi * c.G * c.Length * a * b / (b - a)
}

// axialEndLoss is the length that both square ends together take from the
// axial rate, as a share of the wall: own finite elements, not published.
const axialEndLoss = 0.23

// Axial is the rate in N/mm along the axis: the long bush in plain shear (Adkins
// & Gent 1954, from memory) less what its free ends, which carry no shear, take.
func (c *Cylinder[T]) Axial() T {
	return 2 * math.Pi * c.G * (c.Length - axialEndLoss*c.wall()) / c.logarithm()
}

func (c *Cylinder[T]) wall() T { return c.Outside - c.Inside }

// logarithm is ln(outer radius / inner radius).
func (c *Cylinder[T]) logarithm() T { return exact.Log(c.Outside / c.Inside) }
