package compliance

import (
	"math"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/bushing/exact"
)

// hasStaticLoad tells whether anything is loaded at rest.
func (s *Solver) hasStaticLoad() bool {
	if s.axle.Static != nil {
		return true
	}
	for i := range s.lines {
		for l := range s.lines[i].Count {
			if s.lines[i].Load[l] != 0 {
				return true
			}
		}
	}
	return false
}

// solveStatic finds the load of every line at rest and adds what it does to the
// stiffness. The linear axle is solved once under wheel loads, unsprung weights
// and installed loads, with bush torsion and cones released because bushes are
// tightened at design height, and with a strut for every spring whose load is
// not given; the loads are kept, the displacements are not. Curved lines stand there with
// their tangents at zero deflection, and afterwards with those under their load.
func (s *Solver) solveStatic() error {
	if !s.loaded {
		clear(s.preload)
		s.unload()
		s.keepDiagonal(s.stiffness)
		return nil
	}
	k := s.released.Data
	s.braced(k)
	s.keepDiagonal(k)
	triangle, factored := lapack64.Potrf(blas64.Symmetric{N: s.size, Stride: s.size, Data: k, Uplo: s.released.Uplo})
	if factored {
		s.restLoads(s.rest)
		lapack64.Potrs(triangle, blas64.General{Rows: s.size, Cols: 1, Stride: 1, Data: s.rest})
	}
	if !factored || !certainly(triangle, s.diagonal, s.room) {
		braced := make([]float64, len(k))
		s.braced(braced)
		if err := s.doubt(braced, factored, true); err != nil {
			return err
		}
	}
	for i := range s.lines {
		s.keepLoads(i)
		if s.lines[i].Curved {
			if err := s.operate(i); err != nil {
				return err
			}
		}
		s.addReleased(i)
	}
	s.addLoads()
	return nil
}

// braced writes the stiffness of the static solve: springs whose load is not given
// are struts.
func (s *Solver) braced(k []float64) {
	copy(k, s.stiffness)
	for i := range s.axle.Elements {
		if e := &s.axle.Elements[i]; e.balances() {
			s.scatter(k, e.From, e.To, &s.blocks[i][0], strut-1)
		}
	}
}

// addLoads adds what the loads at rest do to the stiffness, with the absolute terms
// that they have on its diagonal.
func (s *Solver) addLoads() {
	s.keepDiagonal(s.stiffness)
	before := s.room[:s.size]
	copy(before, s.diagonal)
	add := func() {
		for i, was := range before {
			is := s.stiffness[i*s.size+i]
			s.diagonal[i] += math.Abs(is - was)
			before[i] = is
		}
	}
	for i := range s.lines {
		s.addLoadStiffness(i)
		add()
	}
	s.addWheelStiffness()
	add()
}

// restLoads writes what acts on the bodies at rest: wheel loads, unsprung weights
// and installed loads.
func (s *Solver) restLoads(f []float64) []float64 {
	clear(f)
	s.addStaticWheels(f)
	s.addInstalled(f)
	return f
}

// unload puts every curved line back to zero deflection.
func (s *Solver) unload() {
	for i := range s.lines {
		if s.lines[i].Curved {
			s.lines[i].unload()
		}
	}
}

// addStaticWheels adds the loads at the wheels to a right-hand side.
func (s *Solver) addStaticWheels(f []float64) {
	for i := range s.atRest {
		body := s.axle.Wheels[i].Body
		for r, v := range s.atRest[i].load {
			f[6*body+r] += v
		}
	}
}

// placeStaticWheels puts the loads at rest where the wheels are now.
func (s *Solver) placeStaticWheels() {
	s.atRest = s.atRest[:0]
	if s.axle.Static == nil {
		return
	}
	for wheel, w := range s.axle.Wheels {
		s.atRest = append(s.atRest, newStaticWheel(w.Slots, wheel, s.axle.Static, s.centre))
	}
}

// addInstalled adds what the installed loads do to the bodies.
func (s *Solver) addInstalled(f []float64) {
	for i := range s.lines {
		lines := &s.lines[i]
		for l := range lines.Count {
			if lines.Load[l] != 0 {
				s.spread(i, l, -lines.Load[l], f)
			}
		}
	}
}

// spread adds a line's wrench times a factor to a vector over the freedoms.
func (s *Solver) spread(i, l int, factor float64, f []float64) {
	e, lines := &s.axle.Elements[i], &s.lines[i]
	for end, body := range [2]int{e.From, e.To} {
		if body == Vehicle {
			continue
		}
		signed := factor * float64(2*end-1)
		for r, g := range lines.Wrench[l] {
			f[6*body+r] += signed * g
		}
		if w := s.warping(body, lines.Warp[l][end]); w >= 0 {
			f[w] += factor * lines.Warp[l][end]
		}
	}
}

// keepLoads stores the load of each line of an element at rest.
func (s *Solver) keepLoads(i int) {
	e, lines := &s.axle.Elements[i], &s.lines[i]
	motion := s.ends(i, s.rest)
	for l := range lines.Count {
		s.preload[i][l] = lines.Load[l]
		s.preload[i][l] += e.atRest(l) * lines.AtZero[l] * motion.strain(lines, l)
	}
}

// StaticLoad returns the load of one line of an element at rest, in N or N·mm,
// tension positive; zero if no static load is included.
func (s *Solver) StaticLoad(element, line int) float64 { return s.preload[element][line] }

// Loaded tells whether the linear answer includes a static load.
func (s *Solver) Loaded() bool { return s.loaded }

// StaticResidual is the largest force (N) or moment over 1 mm (N·mm) that the
// static loads leave on any freedom: a check of equilibrium at rest.
func (s *Solver) StaticResidual() float64 {
	f := make([]float64, s.size)
	s.addStaticWheels(f)
	for i := range s.lines {
		for l := range s.lines[i].Count {
			s.spread(i, l, -s.preload[i][l], f)
		}
	}
	worst := 0.0
	for _, v := range f {
		worst = max(worst, v, -v)
	}
	return worst
}

// endMotion is the motion of the two bodies of an element about the axle's
// centre and of the warping freedoms at its ends; zero for the vehicle.
type endMotion struct {
	from, to exact.Wrench[float64]
	relative exact.Wrench[float64] // to − from
	warp     [2]float64
}

// ends picks the motion of an element's bodies from a vector over the freedoms.
func (s *Solver) ends(i int, u []float64) (m endMotion) {
	s.endsInto(i, u, &m)
	return m
}

// endsInto writes it into m, which must be zero before.
func (s *Solver) endsInto(i int, u []float64, m *endMotion) {
	e := &s.axle.Elements[i]
	if e.From == Vehicle {
		m.to = exact.Wrench[float64](u[6*e.To : 6*e.To+6])
		m.relative = m.to
		m.warp[1] = s.warpMotion(e.To, u)
		return
	}
	m.from = exact.Wrench[float64](u[6*e.From : 6*e.From+6])
	m.warp[0] = s.warpMotion(e.From, u)
	if e.To != Vehicle {
		m.to = exact.Wrench[float64](u[6*e.To : 6*e.To+6])
		m.warp[1] = s.warpMotion(e.To, u)
	}
	for r := range m.relative {
		m.relative[r] = m.to[r] - m.from[r]
	}
}

func (s *Solver) warpMotion(body int, u []float64) float64 {
	if s.warp[body] < 0 {
		return 0
	}
	return u[s.warp[body]]
}

// strain of line l: Gᵀ(d_to − d_from) and the warping at both ends, mm or rad.
func (m *endMotion) strain(lines *Lines[float64], l int) float64 {
	return lines.Wrench[l].Dot(&m.relative) + lines.Warp[l][0]*m.warp[0] + lines.Warp[l][1]*m.warp[1]
}
