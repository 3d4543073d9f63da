package section_test

import (
	"math"
	"testing"

	. "bushtune/compliance/section"
)

// ring is a closed cell of straight walls round its midline, counterclockwise.
type ring struct {
	corners     []place
	thicknesses []float64 // of the wall from each corner to the next
}

// face is the corner of the walls before and after a corner of the midline, moved to one
// side of them: −½ outer faces, +½ inner faces.
func (r *ring) face(corner int, side float64) place {
	n := len(r.corners)
	last, next := r.corners[(corner+n-1)%n], r.corners[(corner+1)%n]
	at := r.corners[corner]
	a, b := unit(at.plus(last, -1)), unit(next.plus(at, -1))
	before, after := r.thicknesses[(corner+n-1)%n], r.thicknesses[corner]
	p, q := at.plus(place{-a.u, a.f}, side*before), at.plus(place{-b.u, b.f}, side*after)
	d := q.plus(p, -1)
	return p.plus(a, (d.f*b.u-d.u*b.f)/(a.f*b.u-a.u*b.f))
}

func unit(p place) place { return place{}.plus(p, 1/math.Hypot(p.f, p.u)) }

// torsion is J by the two-dimensional problem: φ = 0 on the outer face and one value on
// the inner one, which also carries the area of the hole.
func (r *ring) torsion(n int) float64 {
	m := &junctionMesh{at: map[[2]int64]int{}, face: map[int]int{}}
	hole, area := -1, 0.0
	for i := range r.corners {
		j := (i + 1) % len(r.corners)
		a, b, c, d := r.face(i, -0.5), r.face(j, -0.5), r.face(j, 0.5), r.face(i, 0.5)
		area += (d.f*c.u - d.u*c.f) / 2
		along := acrossWall(2 * n)
		m.patch(a, b, c, d, along, acrossWall(n), false)
		for _, v := range along {
			m.held[m.node(a.plus(b.plus(a, -1), v))] = true
			inner := m.node(d.plus(c.plus(d, -1), v))
			if hole < 0 {
				hole = inner
			}
			m.face[inner] = hole
		}
	}
	m.holes = map[int]float64{hole: area}
	return m.solve()
}

func (r *ring) profile() *Profile[float64] {
	return drawn(func(p *Profile[float64]) {
		for _, c := range r.corners {
			p.AddNode(c.f, c.u)
		}
		for i, t := range r.thicknesses {
			p.AddWall(i, (i+1)%len(r.corners), t)
		}
	})
}

func evenRing(thickness float64, corners ...place) *ring {
	r := &ring{corners: corners}
	for range corners {
		r.thicknesses = append(r.thicknesses, thickness)
	}
	return r
}

// Closed cells with sharp corners against the two-dimensional problem. By Bredt's formula
// alone they are up to 8 % off.
func TestCornersOfCells(t *testing.T) {
	const fine, tolerance = 24, 0.0015 // the mesh's own, which converges with its first power at sharp angles
	for name, r := range map[string]*ring{
		"box":               evenRing(3, place{0, 0}, place{90, 0}, place{90, 50}, place{0, 50}),
		"stout square":      evenRing(4, place{0, 0}, place{36, 0}, place{36, 36}, place{0, 36}),
		"triangle":          evenRing(3, place{0, 0}, place{80, 0}, place{40, 69.282}),
		"flat triangle":     evenRing(3, place{0, 0}, place{120, 0}, place{60, 35}),
		"hexagon":           evenRing(4, place{30, 0}, place{15, 25.98}, place{-15, 25.98}, place{-30, 0}, place{-15, -25.98}, place{15, -25.98}),
		"L, one re-entrant": evenRing(3, place{0, 0}, place{80, 0}, place{80, 30}, place{30, 30}, place{30, 80}, place{0, 80}),
		"unlike walls":      {[]place{{0, 0}, {80, 0}, {80, 50}, {0, 50}}, []float64{3, 5, 3, 5}},
		"closed V":          {[]place{{0, 0}, {70, 0}, {35, 80}}, []float64{2, 4, 4}},
	} {
		want := 2*r.torsion(fine) - r.torsion(fine/2)
		near(t, name, constants(t, r.profile()).Torsion, want, tolerance)
	}
}

// A sharp corner of 90 deg is 0.559 squares of wall to the flow instead of the midline's
// one: 1 − 2·ln 2/π, the known value of a sheet resistor and of the corner of a square
// coaxial line (from memory).
func TestSquareCornerIsShorter(t *testing.T) {
	const b, wall = 200.0, 1.0
	c := constants(t, drawn(func(p *Profile[float64]) { p.DrawBox(b, b, wall) }))
	bredt := 4 * b * b * b * b / (4*b/wall - 4*2*math.Ln2/math.Pi)
	near(t, "J", c.Torsion-walls(4*b, wall), bredt, 3e-5)
}
