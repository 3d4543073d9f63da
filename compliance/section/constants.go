package section

import (
	"errors"

	"bushtune/bushing/exact"
)

// Constants are the section constants of a thin-walled beam. Points are in the
// drawing's axes. Of the second moments only the midline's part is kept: a
// wall's own t³/12 across its midline is of the order left out everywhere.
type Constants[T exact.Number] struct {
	Area     T        // mm²
	Centroid Point[T] // mm

	// SecondMoment is FF = ∫f²dA, UU = ∫u²dA, FU = ∫fu dA about the centroid,
	// mm⁴. UU belongs to bending in the vertical plane.
	SecondMoment Tensor[T]

	// ShearFlexibility S gives the shear energy per length ½·VᵀSV/G of a shear
	// force V through the shear centre, 1/mm²: where its FU is zero, 1/(A·FF) is
	// the shear area along f over the area.
	ShearFlexibility Tensor[T]

	ShearCentre Point[T] // mm

	// Torsion is St Venant's constant J, mm⁴: Bredt's shear flow round the
	// cells plus ∫t³/3 ds over all walls, those of cells too, less what every
	// free edge loses, plus what sharp corners gain (corner.go, cellcorner.go).
	Torsion T

	// Warping is the primary constant Iw = ∫w²dA of the midline's warping w at
	// unit twist about the shear centre, of zero mean, mm⁶.
	Warping T

	// WallWarping is the secondary constant of the warping through the walls'
	// thickness, Iw2 = ∫t³n²/12 ds, mm⁶: n is the distance, along the midline's
	// tangent, from the foot of the perpendicular from the shear centre.
	WallWarping T

	// PolarMoment about the shear centre is FF + UU + A·e², mm⁴, e being the
	// distance of the centroid from the shear centre.
	PolarMoment T

	// Wagner is ∫r⁴dA − (∫r²dA)²/A with the distance r from the shear centre, mm⁶.
	// A member whose ends may draw together and that twists by φ' per length
	// carries the torque ½·E·Wagner·φ'³ on top of the linear one: its fibres become
	// helices, the outer ones in tension, the inner ones in compression (Wagner,
	// Verdrehung und Knickung von offenen Profilen, 1929; Trahair, Nonlinear
	// elastic nonuniform torsion, J. Struct. Eng. 131, 2005: from memory).
	Wagner T

	// Monosymmetry is (∫f²dA ∫fu dA; ∫fu dA ∫u²dA)⁻¹·∫r²(f, u)dA, mm: what the
	// helix strain ½φ'²r² has of bending. A member whose ends are free to turn in
	// bending takes the curvature −½φ'²·Monosymmetry and keeps of Wagner only what
	// no curvature can undo, Wagner − Monosymmetryᵀ·SecondMoment·Monosymmetry. In
	// principal axes it is β = ∫u(f² + u²)dA/∫u²dA − 2·(shear centre), which shifts
	// lateral buckling of monosymmetric beams (Trahair, Flexural-torsional buckling
	// of structures, 1993: from memory).
	Monosymmetry Point[T]
}

// Constants computes the section constants. The error names what is wrong with
// the drawing: see Check; a profile in pieces; walls all on one straight line.
//
// Method: the warping of the midline is solved exactly for a unit twist and
// for the shear flows of bending (see network). The shear centre is that of
// Trefftz (1935), where warping and bending stresses do no work on each other
// (Vlasov, Thin-walled elastic beams, 1961); it does not depend on Poisson's
// ratio.
func (p *Profile[T]) Constants() (Constants[T], error) {
	var memory scratch[T]
	m, err := p.solve(&memory)
	if err != nil {
		return Constants[T]{}, err
	}
	c, err := m.constants()
	if err != nil {
		return c, err
	}
	c.Torsion += m.ends(p)
	if exact.Real(c.Torsion) <= 0 {
		return c, errors.New("section: the walls are too short for their thickness")
	}
	return c, nil
}

// solve checks a profile, lays out its midline and solves its shear problems.
func (p *Profile[T]) solve(memory *scratch[T]) (midline[T], error) {
	if err := p.Check(); err != nil {
		return midline[T]{}, err
	}
	m := midline[T]{
		paths:    room(memory.paths[:], len(p.Walls)),
		stations: room(memory.stations[:], p.stations()),
	}
	m.follow(p)
	nodes := len(p.Nodes)
	n := network[T]{
		conductance: room(memory.conductance[:], nodes*nodes),
		supply:      room(memory.supply[:], nodes),
		warping:     room(memory.warping[:], nodes),
	}
	return m, m.flow(p, &n)
}

// room returns as many zeros as asked for, from fresh memory if it suffices.
func room[E any](memory []E, length int) []E {
	if length <= len(memory) {
		return memory[:length]
	}
	return make([]E, length)
}

// constants integrates over the solved midline.
func (m *midline[T]) constants() (Constants[T], error) {
	c := Constants[T]{Area: m.area, Centroid: m.centroid}
	var bending Tensor[T] // shear energies of the causes forward and upward
	var warping warpingSums[T]
	for i := range m.paths {
		line := &m.paths[i]
		c.Torsion += line.torsion()
		for j := line.first; j < line.last; j++ {
			s := &m.stations[j]
			dA := s.piece * line.thickness
			flow := line.shearFlow(s)
			c.SecondMoment.add(s.at, dA)
			bending.add(flow, s.piece/line.thickness)
			warping.add(line.warpingAt(s), s.at, dA)
		}
	}
	inverse, ok := c.SecondMoment.inverse()
	if !ok {
		return Constants[T]{}, errors.New("section: all walls lie on one straight line, with no stiffness across it")
	}
	c.ShearFlexibility = inverse.congruent(bending)
	lever := warping.shearCentre(inverse)
	c.ShearCentre = c.Centroid.plus(lever)
	c.PolarMoment = c.SecondMoment.FF + c.SecondMoment.UU + c.Area*lever.dot(lever)
	c.Warping, c.WallWarping = m.warpingConstants(lever, warping.whole/m.area)
	var helix Point[T]
	c.Wagner, helix = m.helixIntegrals(lever, c.PolarMoment/m.area)
	c.Monosymmetry = inverse.apply(helix)
	return c, nil
}

// torsion is St Venant's constant of one wall at unit twist: twice the energy
// of the flow round the cells, and of the shear stress through the thickness.
func (p *path[T]) torsion() T {
	q, t := p.flow[twisting], p.thickness
	return p.length * (q*q/t + t*t*t/3)
}

// shearFlow returns the flows at a station for the causes forward and upward.
func (p *path[T]) shearFlow(s *station[T]) Point[T] {
	return Point[T]{p.flow[forward] - p.thickness*s.moment.F, p.flow[upward] - p.thickness*s.moment.U}
}

// warpingAt is the warping of the midline at unit twist about the centroid, mm².
func (p *path[T]) warpingAt(s *station[T]) T {
	return p.warping + p.flow[twisting]/p.thickness*s.distance - s.sector
}

// warpingSums are the integrals of the warping w at unit twist about the centroid.
type warpingSums[T exact.Number] struct {
	whole  T        // ∫w dA, mm⁴
	moment Point[T] // ∫w f dA and ∫w u dA, mm⁵
}

func (w *warpingSums[T]) add(warping T, at Point[T], dA T) {
	w.whole += warping * dA
	w.moment = w.moment.plus(at.times(warping * dA))
}

// shearCentre is the place of the shear centre seen from the centroid. Twist
// about a pole e changes the warping by e.F·u − e.U·f, and about the shear
// centre its moments vanish.
func (w *warpingSums[T]) shearCentre(inverse Tensor[T]) Point[T] {
	slope := inverse.apply(w.moment)
	return Point[T]{-slope.U, slope.F}
}

// warpingConstants returns the primary and secondary constants about the shear
// centre at a lever from the centroid, given the mean of the warping about the
// centroid.
func (m *midline[T]) warpingConstants(lever Point[T], mean T) (primary, secondary T) {
	for i := range m.paths {
		line := &m.paths[i]
		t := line.thickness
		for j := line.first; j < line.last; j++ {
			s := &m.stations[j]
			w := line.warpingAt(s) - mean + lever.cross(s.at)
			n := s.at.minus(lever).dot(s.tangent)
			primary += w * w * s.piece * t
			secondary += n * n * s.piece * t * t * t / 12
		}
	}
	return primary, secondary
}

// helixIntegrals are ∫(r² − mean)²dA and ∫r²(f, u)dA with the distance r from the
// shear centre at a lever from the centroid and the mean of r² over the area.
func (m *midline[T]) helixIntegrals(lever Point[T], mean T) (spread T, moment Point[T]) {
	for i := range m.paths {
		line := &m.paths[i]
		for j := line.first; j < line.last; j++ {
			s := &m.stations[j]
			r := s.at.minus(lever)
			unlike := r.dot(r) - mean
			dA := s.piece * line.thickness
			spread += unlike * unlike * dA
			moment = moment.plus(s.at.times(unlike * dA))
		}
	}
	return spread, moment
}
