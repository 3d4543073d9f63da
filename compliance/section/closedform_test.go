package section_test

import (
	"math"
	"testing"

	. "bushtune/compliance/section"
)

// Closed forms of thin-walled sections, met to rounding. Those of the channel,
// the arc and the slit tube: Vlasov, Thin-walled elastic beams, 1961; Young &
// Budynas, Roark's Formulas for Stress and Strain (formulas from memory; the
// numerical sectorial integration of oracle_test.go confirms them).

func TestChannel(t *testing.T) {
	const flange, web, tf, tw = 60.0, 110.0, 4.0, 6.0
	c := constants(t, drawn(func(p *Profile[float64]) { p.DrawChannel(web, flange, tw, tf) }))
	sum := 6*flange*tf + web*tw
	near(t, "shear centre", c.ShearCentre.U, 3*flange*flange*tf/sum, rounding)
	near(t, "J", c.Torsion, (2*flange*tf*tf*tf+web*tw*tw*tw)/3-edges(2, tf), 5e-3) // corners apart: corner_test.go
	near(t, "Iw", c.Warping, tf*flange*flange*flange*web*web/12*(3*flange*tf+2*web*tw)/sum, rounding)
}

// arc draws an open arc about the origin with its crown at u = +radius.
func arc(radius, wall, half float64) *Profile[float64] {
	return drawn(func(p *Profile[float64]) {
		sin, cos := math.Sincos(half)
		p.AddArc(p.AddNode(radius*sin, radius*cos), p.AddNode(-radius*sin, radius*cos), wall, 2*half)
	})
}

func TestArcShearCentre(t *testing.T) {
	const radius, wall = 40, 3
	for _, half := range []float64{20, 60, 90, 120, 150, 174} {
		sin, cos := math.Sincos(half * degree)
		q := half * degree
		c := constants(t, arc(radius, wall, q))
		near(t, "shear centre", c.ShearCentre.U, 2*radius*(sin-q*cos)/(q-sin*cos), rounding)
		near(t, "J", c.Torsion, 2*q*radius*wall*wall*wall/3-edges(2, wall), rounding)
		near(t, "centroid", c.Centroid.U, radius*sin/q, rounding)
		near(t, "second moment across", c.SecondMoment.FF, wall*radius*radius*radius*(q-sin*cos), rounding)
	}
}

func TestSemicircle(t *testing.T) {
	const r, wall = 25, 2
	c := constants(t, arc(r, wall, math.Pi/2))
	near(t, "shear centre", c.ShearCentre.U, 4*r/math.Pi, rounding)
	near(t, "Iw", c.Warping, wall*math.Pow(r, 5)*(math.Pow(math.Pi, 3)/12-8/math.Pi), rounding)
}

func TestSlitTube(t *testing.T) {
	const r, wall = 25, 2
	c := constants(t, drawn(func(p *Profile[float64]) { p.DrawSlitTube(r, wall) }))
	near(t, "shear centre", c.ShearCentre.U, 2*r, rounding)
	near(t, "J", c.Torsion, 2*math.Pi*r*wall*wall*wall/3-edges(2, wall), rounding)
	near(t, "Iw", c.Warping, 2*math.Pi*wall*math.Pow(r, 5)*(math.Pi*math.Pi/3-2), rounding)
	// Along the axis of symmetry the slit changes nothing; across it the flow
	// t·r²(1 + cos) from the slit onward holds three times the energy.
	near(t, "shear factor along", c.Area*c.ShearFlexibility.UU, 2, rounding)
	near(t, "shear factor across", c.Area*c.ShearFlexibility.FF, 6, rounding)
	// The tangential lever about the point 2r above the centre is 2r·sin.
	near(t, "secondary Iw", c.WallWarping, math.Pow(wall, 3)/12*4*r*r*math.Pi*r, rounding)
}

// Walls that meet in one point have their shear centre there and no primary
// warping; their secondary constant is Σ(b·t)³/36, as handbooks print it for
// angles (Vlasov 1961; Roark, from memory).
func TestWallsThroughOnePoint(t *testing.T) {
	const f, u = 12.0, -7.0
	for name, tips := range map[string][][3]float64{
		"V":     {{-40, -80, 3}, {40, -80, 3}},
		"L":     {{70, 0, 4}, {0, 50, 2}},
		"T":     {{-30, 0, 5}, {30, 0, 5}, {0, -90, 3}},
		"cross": {{-30, 5, 5}, {45, 0, 2}, {0, -90, 3}, {10, 60, 1}},
	} {
		t.Run(name, func(t *testing.T) {
			c := constants(t, drawn(func(p *Profile[float64]) {
				junction := p.AddNode(f, u)
				for _, tip := range tips {
					p.AddWall(junction, p.AddNode(f+tip[0], u+tip[1]), tip[2])
				}
			}))
			within(t, "shear centre f", c.ShearCentre.F, f, rounding*100)
			within(t, "shear centre u", c.ShearCentre.U, u, rounding*100)
			within(t, "Iw", c.Warping, 0, 1e-20*c.Area*math.Pow(100, 4))
			if c.Warping < 0 {
				t.Errorf("Iw = %g is negative", c.Warping)
			}
			wall := 0.0
			for _, tip := range tips {
				wall += math.Pow(tip[2]*math.Hypot(tip[0], tip[1]), 3) / 36
			}
			near(t, "secondary Iw", c.WallWarping, wall, rounding)
		})
	}
}

// Pressed profiles, wall 5: straight legs tangent to a crown arc. The numbers
// were computed apart from this program by a numerical sectorial integration
// on a polyline, which is good to a few units in the last digit.
func TestPressedProfiles(t *testing.T) {
	const digits = 2e-5
	for _, e := range []struct {
		leg, radius, halfAngle                  float64
		area, ixx, iyy, shearCentre, j, warping float64
	}{
		{70, 40, 0, 1328.32, 1.59159e6, 1.62265e6, 83.302, 11069.3, 1.23967e9},
		{60, 35, 15, 1058.15, 0.740198e6, 1.27602e6, 60.523, 8817.9, 1.63746e8},
		{80, 30, 30, 1114.16, 0.772163e6, 1.88097e6, 46.776, 9284.66, 3.36640e7},
	} {
		c := constants(t, drawn(func(p *Profile[float64]) { p.DrawV(e.leg, e.leg, e.radius, e.halfAngle*degree, 5) }))
		near(t, "area", c.Area, e.area, digits)
		near(t, "Ixx", c.SecondMoment.UU, e.ixx, digits)
		near(t, "Iyy", c.SecondMoment.FF, e.iyy, digits)
		near(t, "shear centre", c.ShearCentre.U, e.shearCentre, digits)
		near(t, "J", c.Torsion+edges(2, 5), e.j, digits) // Σ b·t³/3, without the loss at the edges
		near(t, "Iw", c.Warping, e.warping, digits)
	}
}

// walls is what the walls' own torsion adds to that of the cells.
func walls(length, thickness float64) float64 { return length * thickness * thickness * thickness / 3 }

// edges is what a number of free edges takes (Timoshenko & Goodier).
func edges(count int, thickness float64) float64 {
	return float64(count) * 0.105 * math.Pow(thickness, 4)
}

// A long strip bent to a round loses at its two ends what a straight one does:
// J = b·t³/3·(1 − 0.630·t/b) (Timoshenko & Goodier, Theory of Elasticity).
func TestFreeEdges(t *testing.T) {
	const leg, radius, wall = 40, 20, 4
	c := constants(t, drawn(func(p *Profile[float64]) { p.DrawV(leg, leg, radius, 0, wall) }))
	const b = 2.0*leg + math.Pi*radius
	near(t, "J", c.Torsion, b*wall*wall*wall/3*(1-0.630*wall/b), rounding)
}

// One cell: J = 4A²/∮ds/t (Bredt 1896; Megson, Aircraft Structures), which a tube has to
// rounding and a box of very thin walls but for its corners.
func TestBredtOneCell(t *testing.T) {
	const b, h, wall, r = 90.0, 50.0, 3.0, 40.0
	const thin, ofCorners = wall / 1e4, 3e-6
	box := constants(t, drawn(func(p *Profile[float64]) { p.DrawBox(b, h, thin) }))
	near(t, "box J", box.Torsion, 4*(b*h)*(b*h)*thin/(2*(b+h)), ofCorners)
	tube := constants(t, drawn(func(p *Profile[float64]) { p.DrawTube(r, wall) }))
	near(t, "tube J", tube.Torsion, 2*math.Pi*r*r*r*wall+walls(2*math.Pi*r, wall), rounding)
	within(t, "tube Iw", tube.Warping, 0, 1e-20*math.Pow(r, 6))
	near(t, "tube shear factor", tube.Area*tube.ShearFlexibility.FF, 2, rounding)
}

// A closed rectangle of one thickness warps too, unless it is a square: by
// ±bh(b−h)/(4(b+h)) at the corners and linearly in between (Vlasov 1961; by
// hand from w' = q/t − r with Bredt's q).
func TestBoxWarping(t *testing.T) {
	const b, h, wall = 90.0, 50.0, 3.0
	c := constants(t, drawn(func(p *Profile[float64]) { p.DrawBox(b, h, wall) }))
	corner := b * h * (b - h) / (4 * (b + h))
	near(t, "Iw", c.Warping, c.Area*corner*corner/3, rounding)
	square := constants(t, drawn(func(p *Profile[float64]) { p.DrawBox(b, b, wall) }))
	within(t, "square's Iw", square.Warping, 0, 1e-20*math.Pow(b, 6))
}

// Two cells side by side with a common web: the redundant flows from
// 2A_i·rate = Σq·l/t by hand (Megson, Aircraft Structures, multi-cell torsion).
func TestBredtTwoCells(t *testing.T) {
	const a, b, h = 80.0, 50.0, 60.0
	const outer, middle = 2e-4, 5e-4 // so thin that corners matter by 2e-6
	c := constants(t, drawn(func(p *Profile[float64]) {
		for _, f := range []float64{0, a, a + b} {
			p.AddNode(f, 0)
			p.AddNode(f, h)
		}
		p.AddWall(0, 2, outer)
		p.AddWall(2, 4, outer)
		p.AddWall(4, 5, outer)
		p.AddWall(5, 3, outer)
		p.AddWall(3, 1, outer)
		p.AddWall(1, 0, outer)
		p.AddWall(2, 3, middle)
	}))
	first, second, common := (2*a+h)/outer+h/middle, (2*b+h)/outer+h/middle, h/middle
	det := first*second - common*common
	q1 := (2*a*h*second + 2*b*h*common) / det
	q2 := (2*b*h*first + 2*a*h*common) / det
	cells := 2*a*h*q1 + 2*b*h*q2
	near(t, "J", c.Torsion, cells, 3e-6)
}

// A fin on a closed cell leaves its flow alone.
func TestFinOnClosedCell(t *testing.T) {
	const b, h, wall, fin = 90, 50, 3, 25
	box := func(p *Profile[float64]) { p.DrawBox(b, h, wall) }
	c := constants(t, drawn(func(p *Profile[float64]) {
		box(p)
		p.AddWall(0, p.AddNode(b/2+fin, -h/2), wall)
	}))
	near(t, "J", c.Torsion, constants(t, drawn(box)).Torsion+walls(fin, wall)-edges(1, wall), 1e-4) // but for the corner of the open walls
}

// The shear factor of a thin-walled box at Poisson's ratio zero (Cowper, The
// shear coefficient in Timoshenko's beam theory, J. Appl. Mech. 33, 1966: from
// memory; the same follows by hand from the shear flow bh/4 + (h²/4 − z²)/2 of
// the upright walls and h·y/2 of the others).
func TestBoxShearFactor(t *testing.T) {
	const wall = 2
	for _, e := range [][2]float64{{60, 60}, {120, 40}, {30, 100}} {
		c := constants(t, drawn(func(p *Profile[float64]) { p.DrawBox(e[0], e[1], wall) }))
		near(t, "along u", c.Area*c.ShearFlexibility.UU, 1/cowperBox(e[0]/e[1]), rounding)
		near(t, "along f", c.Area*c.ShearFlexibility.FF, 1/cowperBox(e[1]/e[0]), rounding)
	}
}

// cowperBox is A_s/A of a box of even thickness, m wide by one high.
func cowperBox(m float64) float64 {
	return 10 * (1 + 3*m) * (1 + 3*m) / (12 + 72*m + 150*m*m + 90*m*m*m + 10*m*m*(3*m+3*m*m))
}

// ∫r⁴dA − (∫r²dA)²/A by hand: nothing for a circular tube, whose fibres are all
// equally far out; b⁵t/80 − b⁵t/144 for a flat strip, here with a hair of a wall
// across it, that it may bend both ways; for a slit tube the distance from a
// point 2r beside the centre has r² = 5r² + 4r²·cos, so that 8r⁴ is left.
func TestWagnerConstant(t *testing.T) {
	const r, wall, b, fin = 40.0, 3.0, 120.0, 1e-9
	tube := constants(t, drawn(func(p *Profile[float64]) { p.DrawTube(r, wall) }))
	within(t, "tube", tube.Wagner, 0, 1e-20*tube.Area*r*r*r*r)
	strip := constants(t, drawn(func(p *Profile[float64]) {
		middle := p.AddNode(0, 0)
		p.AddWall(middle, p.AddNode(-b/2, 0), wall)
		p.AddWall(middle, p.AddNode(b/2, 0), wall)
		p.AddWall(middle, p.AddNode(0, b), fin)
	}))
	near(t, "strip", strip.Wagner, b*b*b*b*b*wall/180, 1e-8)
	slit := constants(t, drawn(func(p *Profile[float64]) { p.DrawSlitTube(r, wall) }))
	near(t, "slit tube", slit.Wagner, 2*math.Pi*r*wall*8*r*r*r*r, rounding)
}

// Monosymmetry of a slit tube by hand: with the shear centre 2r above the centre
// r² is 5r² less 4r² times the cosine, so ∫r²u dA over ∫u²dA is −4r. Doubly
// symmetric sections have none.
func TestMonosymmetry(t *testing.T) {
	const r, wall = 40.0, 3.0
	slit := constants(t, drawn(func(p *Profile[float64]) { p.DrawSlitTube(r, wall) }))
	near(t, "slit tube", slit.Monosymmetry.U, -4*r, rounding)
	within(t, "slit tube across", slit.Monosymmetry.F, 0, rounding*r)
	box := constants(t, drawn(func(p *Profile[float64]) { p.DrawBox(90, 50, wall) }))
	within(t, "box", math.Hypot(box.Monosymmetry.F, box.Monosymmetry.U), 0, rounding*r)
}
