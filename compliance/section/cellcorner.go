package section

import (
	"math"

	"bushtune/bushing/exact"
)

// Sharp corners of a cell. Prandtl's stress function of a wall is that of the open wall,
// zero on both faces, plus the step q of the flow times a function h that is harmonic and
// falls from 1 on the inner face to 0 on the outer one; so the constant of one cell is
//
//	J = J of the open walls + 4·(A + e)²/(∮ds/t − d)
//
// Of the corner itself the first part has the gain of an open corner. The flow takes the
// short way round the inner face, which saves d squares of wall; h being small in the
// outer corner, the area that the flow encloses differs by e from that of the midline. For
// two walls of one thickness t that enclose the angle θ, a conformal map of half the corner
// onto half a strip (Schwarz and Christoffel; Nehari, Conformal Mapping, 1952) gives
//
//	d = cot ½θ − 2/π·(2·ln 2 + ψ(1 − θ/2π) + γ)     2/π·ln 2 = 0.4413 at 90 deg
//
// ψ the digamma function, γ Euler's constant; the formulas below follow that map to half a
// percent of d, and to a tenth of e, from 30 to 150 deg (cellcorner_test.go).
const (
	shortcutFar  = 4 * math.Ln2 / math.Pi // cot ½θ − d of a sharp angle
	shortcutNear = 0.9645
	areaFirst    = 0.085
	areaSecond   = 0.026
)

// unlikeWalls is what walls of unlike thickness add to d, over ln² of their ratio, by
// cot² ½θ: the same map with a strip of another width on each side, to a tenth of it from
// 30 to 110 deg; where walls go nearly straight on, mitred ones cannot be drawn.
func unlikeWalls[T exact.Number](square T) T {
	return 0.19*square/exact.Sqrt(square+1) + 0.24*square/(square+0.3)
}

// cellCorners are the corners of all cells: the sum of q²·d, and of 4·q·e.
type cellCorners[T exact.Number] struct{ shortcut, area T }

// add takes in a corner by its walls. A corner that the flow takes to the right has the
// cell outside: there cot ½θ, and with it e, has the other sign.
func (c *cellCorners[T]) add(a, b *spoke[T]) {
	across := 1 - a.way.dot(b.way)
	if exact.Real(across) < folded {
		return // one wall lies on the other
	}
	left := b.way.cross(a.way) / across
	blunt := left * left / (bluntest * bluntest)
	left /= exact.Sqrt(exact.Sqrt(1 + blunt*blunt))
	flow := b.flow // from a to b
	if exact.Real(flow) < 0 {
		left, flow = -left, -flow
	}
	square := left * left
	unlike := exact.Log(a.thickness / b.thickness)
	d := square/(shortcutFar+exact.Sqrt(square+shortcutNear*shortcutNear)) + unlike*unlike*unlikeWalls(square)
	e := -left * (areaFirst + areaSecond*square/exact.Sqrt(1+square)) * a.thickness * b.thickness
	c.shortcut += flow * flow * d
	c.area += 4 * flow * e
}

const (
	// bluntest is where cot ½θ levels off, about 10 deg: there outer faces meet so far out
	// that no corner is made so.
	bluntest = 12
	// folded is 1 − cos θ of walls that are drawn on each other.
	folded = 1e-9
)

// gain is what the corners add to the constant of the cells, exact for one cell but for
// the fourth power of the share that they save of ∮ds/t: walls so short that it is no
// small one are no thin ones, and still have a constant above zero.
func (c *cellCorners[T]) gain(m *midline[T]) T {
	if exact.Real(c.shortcut) == 0 && exact.Real(c.area) == 0 {
		return 0
	}
	var cells T
	for i := range m.paths {
		flow := m.paths[i].flow[twisting]
		cells += flow * flow * m.paths[i].length / m.paths[i].thickness
	}
	wider, saved := 1+c.area/(2*cells), c.shortcut/cells
	return cells * (wider*wider*(1+saved*(1+saved*(1+saved))) - 1)
}
