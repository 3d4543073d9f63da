package section

import (
	"math"

	"bushtune/bushing/exact"
)

// Sharp corners, mitred: outer faces are drawn on until they meet, and so are inner
// ones. Between walls of one thickness t that enclose the angle θ, St Venant's
// constant gains
//
//	g(D)·(D⁴ − 1)·t⁴     D = 2/(1 + sin ½θ)
//
// where D·t is the largest circle in the corner (Trayer & March, The torsion of
// members having sections common in aircraft construction, NACA report 334, 1930:
// from memory). The factor g, and what is lost where a thick wall ends at a thin one,
// are fitted to solutions of the two-dimensional problem from 30 to 150 deg and for
// thicknesses up to 4 to 1, to 0.0065·t⁴ of the thicker wall (corner_test.go).
var (
	cornerGain = [4]float64{0.07722, 0.02810, -0.03323, 0.22425} // over powers of D − 1
	// over powers of cos θ, and of these times the ratio of the thicknesses
	thickEnd      = [4]float64{-0.0843, -0.0030, -0.0927, 0.0371}
	thickEndRatio = [4]float64{-0.1121, 0.0003, -0.0133, -0.2048}
)

// shared is how much of the corners between its neighbours a junction of three walls
// and more has, by the same problem.
const shared = 0.9

// cornerOf is what a corner of two walls adds to St Venant's constant, in mm⁴, by the
// cosine of the angle between them.
func cornerOf[T exact.Number](cosine, first, second T) T {
	thick, thin := first, second
	if exact.Real(thick) < exact.Real(thin) {
		thick, thin = thin, thick
	}
	ratio := thin / thick
	var lost T
	for i := len(thickEnd) - 1; i >= 0; i-- {
		lost = lost*cosine + exact.Lift[T](thickEnd[i]) + ratio*exact.Lift[T](thickEndRatio[i])
	}
	unlike := 1 - ratio
	return evenCorner(cosine)*thick*thick*thin*thin + unlike*unlike*lost*thick*thick*thick*thick
}

// evenCorner is the gain between walls of one thickness, over its fourth power.
func evenCorner[T exact.Number](cosine T) T {
	const folded = 1 - 1e-12 // rounding must not pass 1 where a wall lies on the other
	if exact.Real(cosine) > folded {
		cosine = exact.Lift[T](folded)
	}
	circle := 2 / (1 + exact.Sqrt((1-cosine)/2))
	var gain T
	for i := len(cornerGain) - 1; i >= 0; i-- {
		gain = gain*(circle-1) + exact.Lift[T](cornerGain[i])
	}
	return gain * (circle*circle*circle*circle - 1)
}

// spoke is a wall as seen from a node: where it goes, how thick it is, and its shear
// flow away from the node at unit twist.
type spoke[T exact.Number] struct {
	way       Point[T]
	thickness T
	flow      T
}

// ends sums what the ends of walls add to St Venant's constant, or take: free edges,
// corners, junctions. Where three walls and more meet on a cell only the corner of two that
// its flow passes is counted, and nothing where the flow divides.
func (m *midline[T]) ends(p *Profile[T]) T {
	var sum T
	var cells cellCorners[T]
	var memory [8]spoke[T]
	for node := range p.Nodes {
		spokes, cell := memory[:0], 0 // walls of cells come first
		for i := range p.Walls {
			w, line := &p.Walls[i], &m.paths[i]
			if w.From != node && w.To != node {
				continue
			}
			s := spoke[T]{line.station(0).tangent, line.thickness, line.flow[twisting]}
			if w.To == node {
				s.way, s.flow = line.end().tangent.times(-1), -s.flow
			}
			spokes = append(spokes, s)
			if math.Abs(exact.Real(s.flow/s.thickness)) > 1e-6*exact.Real(line.length) {
				spokes[cell], spokes[len(spokes)-1] = spokes[len(spokes)-1], spokes[cell]
				cell++
			}
		}
		if cell == 0 || len(spokes) == 2 {
			sum += junction(spokes)
		}
		if cell == 2 {
			cells.add(&spokes[0], &spokes[1])
		}
	}
	return sum + cells.gain(m)
}

// junction is what one meeting of walls adds.
func junction[T exact.Number](spokes []spoke[T]) (sum T) {
	switch len(spokes) {
	case 1:
		t := spokes[0].thickness
		return -freeEdge * t * t * t * t
	case 2:
		a, b := &spokes[0], &spokes[1]
		return cornerOf(a.way.dot(b.way), a.thickness, b.thickness)
	}
	for i := range spokes {
		a := &spokes[i]
		var next *spoke[T]
		least := 2 * math.Pi
		for j := range spokes {
			b := &spokes[j]
			angle := math.Atan2(exact.Real(a.way.cross(b.way)), exact.Real(a.way.dot(b.way)))
			if angle < 0 {
				angle += 2 * math.Pi
			}
			if j != i && angle < least {
				next, least = b, angle
			}
		}
		if next != nil && least < math.Pi { // else it goes straight on or turns away
			t := a.thickness * next.thickness
			sum += shared * evenCorner(a.way.dot(next.way)) * t * t
		}
	}
	return sum
}
