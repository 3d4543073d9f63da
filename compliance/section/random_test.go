package section_test

import (
	"math"
	"math/rand/v2"

	. "bushtune/compliance/section"
)

// random draws a connected profile: a tree of walls, some of them arcs, closed
// to up to two cells by further walls.
func random(r *rand.Rand) *Profile[float64] {
	var p Profile[float64]
	p.AddNode(between(r, -50, 50), between(r, -50, 50))
	for range 2 + r.IntN(5) {
		parent := r.IntN(len(p.Nodes))
		from := p.Nodes[parent]
		sin, cos := math.Sincos(between(r, 0, 2*math.Pi))
		reach := between(r, 15, 80)
		p.AddArc(parent, p.AddNode(from.F+reach*cos, from.U+reach*sin), between(r, 1, 8), bend(r))
	}
	for range r.IntN(3) {
		p.AddArc(r.IntN(len(p.Nodes)), r.IntN(len(p.Nodes)), between(r, 1, 8), bend(r))
		if p.Check() != nil { // closes on its own node or doubles a wall
			p.Walls = p.Walls[:len(p.Walls)-1]
		}
	}
	return &p
}

// bend is an arc angle in rad, zero every other time.
func bend(r *rand.Rand) float64 {
	if r.IntN(2) == 0 {
		return 0
	}
	return between(r, -5.5, 5.5)
}

func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// seeded returns a generator that gives the same profiles in every run.
func seeded() *rand.Rand { return rand.New(rand.NewPCG(1, 2)) }

// randomProfiles is how many each property is tried on.
const randomProfiles = 200

// clone copies a drawing.
func clone(p *Profile[float64]) *Profile[float64] {
	return &Profile[float64]{
		Nodes: append([]Point[float64](nil), p.Nodes...),
		Walls: append([]Wall[float64](nil), p.Walls...),
	}
}
