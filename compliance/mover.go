package compliance

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/bushing/exact"
)

// WheelForce is what acts on one wheel on top of the load at rest, along fixed
// axes of the vehicle, for the right wheel too.
type WheelForce struct {
	AtPatch  vec     // N at the contact centre of a wheel free to roll
	Locked   vec     // N at the contact centre with the full moment on the carrier: brake locked
	AtCentre vec     // N at the wheel centre
	Moment   float64 // N·mm about the vertical, without a part about the spin axis
}

// Pad is what holds a wheel's contact centre in the vertical.
type Pad struct {
	Held   bool    // the height is held and the force follows; else the force at rest stays
	Height float64 // mm above the design position, + up: bump
	Tyre   float64 // N/mm in series; 0: rigid
}

// Demand is what is imposed on an axle: forces and pads of both wheels, left
// first.
type Demand struct {
	Wheels [2]WheelForce
	Pads   [2]Pad
}

// between is the demand a share of the way from a to b.
func between(a, b *Demand, share float64) Demand {
	d := *b
	for i := range d.Wheels {
		d.Wheels[i].AtPatch = mix(a.Wheels[i].AtPatch, b.Wheels[i].AtPatch, share)
		d.Wheels[i].Locked = mix(a.Wheels[i].Locked, b.Wheels[i].Locked, share)
		d.Wheels[i].AtCentre = mix(a.Wheels[i].AtCentre, b.Wheels[i].AtCentre, share)
		d.Wheels[i].Moment = a.Wheels[i].Moment + share*(b.Wheels[i].Moment-a.Wheels[i].Moment)
		if a.Pads[i].Held == b.Pads[i].Held {
			d.Pads[i].Height = a.Pads[i].Height + share*(b.Pads[i].Height-a.Pads[i].Height)
		}
	}
	return d
}

func mix(a, b vec, share float64) vec { return a.Add(b.Sub(a).Scale(share)) }

// Mover finds where an axle comes to rest under forces of any size: rigid bodies
// turn by finite rotations, links and springs keep to their true lines, bushes
// follow their laws. It starts from the design position, which is in equilibrium
// under the load at rest of the solver that it was made from; its tangent there
// is the solver's stiffness. A Mover is not safe for use by two goroutines.
type Mover struct {
	solver *Solver
	lines  []Lines[complex128] // of the solver, without derivatives
	rest   [][maxLines]complex128
	plain  []arms[float64]
	arms   []arms[complex128]
	wheels [2]movingWheel[float64]
	lifted [2]movingWheel[complex128] // the same without derivatives

	size     int // unknowns: six a body, rates of twist, two pad forces
	now      posture
	trial    posture
	before   posture // the trial before a Newton step
	held     Demand  // what now is in equilibrium with
	states   []lineState[float64]
	residual []float64
	tangent  blas64.General
	factor   blas64.General // the tangent, factored
	factored bool           // factor is that of the present equilibrium
	pivots   []int
	upright  blas64.Symmetric // room for stable
	diagonal []float64        // of upright
	step     []float64
	room     []float64
	count    int  // evaluations of residual and tangent
	positive bool // sign of the tangent's determinant at the design position
}

// movingWheel is a wheel at the design position.
type movingWheel[T exact.Number] struct {
	body          int
	centre, spin  exact.Vec[T] // from the axle's centre, mm; unit, pointing outward
	contact       exact.Vec[T] // contact centre from the wheel centre, mm
	radius        T            // mm
	patch, weight T            // N at rest: patch up, weight down
	hub           hub[T]
	near          hubPlace // where the hub was found last
}

// newMovingWheel reads a wheel (0 left, 1 right) from its slots.
func newMovingWheel[T exact.Number](slots []T, wheel, body int, static *Static, centre exact.Vec[T]) movingWheel[T] {
	g := NewWheelGeometry(slots)
	w := movingWheel[T]{body: body, centre: sided(g.Centre, wheel).Sub(centre), spin: sided(g.Spin, wheel), radius: g.Radius}
	w.contact = (&WheelGeometry[T]{Radius: w.radius, Spin: w.spin}).Contact()
	var rest *staticWheel[T]
	if static != nil {
		placed := newStaticWheel(slots, wheel, static, centre)
		rest, w.patch, w.weight = &placed, placed.patch, placed.weight
	}
	w.hub = newHub(slots, rest)
	w.near = w.hub.atRest()
	return w
}

// NewMover starts at the design position of a solver that has been updated. The
// error is that of a design position that is not in equilibrium.
func NewMover(s *Solver) (*Mover, error) {
	bodies := len(s.axle.Bodies)
	warps := s.size - 6*bodies
	m := &Mover{solver: s, size: s.size + 2, now: newPosture(bodies, warps), trial: newPosture(bodies, warps), before: newPosture(bodies, warps)}
	n := m.size
	m.lines = make([]Lines[complex128], len(s.lines))
	m.rest = make([][maxLines]complex128, len(s.lines))
	m.plain, m.arms = make([]arms[float64], len(s.lines)), make([]arms[complex128], len(s.lines))
	m.states = make([]lineState[float64], len(s.lines))
	m.residual, m.step, m.room = make([]float64, n), make([]float64, n), make([]float64, n)
	m.tangent = blas64.General{Rows: n, Cols: n, Stride: n, Data: make([]float64, n*n)}
	m.factor = blas64.General{Rows: n, Cols: n, Stride: n, Data: make([]float64, n*n)}
	m.pivots = make([]int, n)
	m.diagonal = make([]float64, s.size)
	m.upright = blas64.Symmetric{N: s.size, Stride: s.size, Uplo: blas.Upper, Data: make([]float64, s.size*s.size)}
	return m, m.Reset()
}

// Reset takes over the solver's present slots and goes back to the design
// position. It must follow every Update of the solver.
func (m *Mover) Reset() error {
	s := m.solver
	for i := range s.lines {
		m.lines[i] = liftLines(&s.lines[i], &m.lines[i])
		m.plain[i], m.arms[i] = armsOf(&s.lines[i]), armsOf(&m.lines[i])
		for l := range s.lines[i].Count {
			m.rest[i][l] = complex(s.preload[i][l], 0)
		}
	}
	for wheel, w := range s.axle.Wheels {
		m.wheels[wheel] = newMovingWheel(w.Slots, wheel, w.Body, s.axle.Static, s.centre)
		m.lifted[wheel] = newMovingWheel(liftSlots(w.Slots, nil), wheel, w.Body, s.axle.Static, exact.LiftVec[complex128](s.centre))
	}
	m.now.reset()
	m.held = Demand{}
	m.count = 0
	m.evaluate(&m.now, &m.held)
	if !m.within(designBalance * m.scale(&m.held)) {
		return m.worst()
	}
	if !m.factorize() {
		return m.solver.freeMotion(m.solver.stiffness, false)
	}
	m.positive = m.determinantPositive()
	return nil
}

// liftLines turns lines of plain numbers into ones without derivatives, in the
// memory of room.
func liftLines(a *Lines[float64], room *Lines[complex128]) Lines[complex128] {
	b := Lines[complex128]{Count: a.Count, Second: room.Second[:0], Wound: room.Wound[:0]}
	for l := range a.Count {
		b.Rate[l], b.Load[l] = complex(a.Rate[l], 0), complex(a.Load[l], 0)
		b.Warp[l] = [2]complex128{complex(a.Warp[l][0], 0), complex(a.Warp[l][1], 0)}
		for r, g := range a.Wrench[l] {
			b.Wrench[l][r] = complex(g, 0)
		}
	}
	b.Anchor.From, b.Anchor.To = exact.LiftVec[complex128](a.Anchor.From), exact.LiftVec[complex128](a.Anchor.To)
	b.Anchor.Lean, b.Anchor.TwoPoint = a.Anchor.Lean, a.Anchor.TwoPoint
	b.Anchor.Slender = complex(a.Anchor.Slender, 0)
	for _, t := range a.Second {
		b.Second = append(b.Second, secondOrder[complex128]{t.line, t.a, t.b, complex(t.by, 0)})
	}
	for _, t := range a.Wound {
		b.Wound = append(b.Wound, secondOrder[complex128]{t.line, t.a, t.b, complex(t.by, 0)})
	}
	b.Helix = complex(a.Helix, 0)
	b.liftLaws(a)
	return b
}

// evaluate writes residual and tangent at a posture under a demand: what the
// elements and pads put up less what is imposed, in N and N·mm, then the heights
// of the held contact points in mm.
func (m *Mover) evaluate(p *posture, d *Demand) {
	m.balance(p, d)
	m.differentiate(p, d)
}

// differentiate writes the tangent there alone.
func (m *Mover) differentiate(p *posture, d *Demand) {
	m.count++
	for wheel := range m.wheels {
		m.settleHub(wheel, p, d)
	}
	clear(m.tangent.Data)
	for i := range m.lines {
		m.addElementTangent(i, p)
	}
	for wheel := range m.wheels {
		m.addWheelTangent(wheel, p, d)
	}
}

// balance writes the residual alone.
func (m *Mover) balance(p *posture, d *Demand) {
	clear(m.residual)
	for i := range m.lines {
		e := &m.solver.axle.Elements[i]
		from, to, warp := m.endsAt(e, p)
		out, state := resist(&m.solver.lines[i], &m.plain[i], &m.solver.preload[i], &from, &to, warp)
		m.states[i] = state
		m.addResidual(e, &out)
	}
	for wheel := range m.wheels {
		m.balanceWheel(wheel, p, d)
	}
}

// endsAt are the poses of an element's bodies and the rates of twist there.
func (m *Mover) endsAt(e *Element, p *posture) (from, to pose[float64], warp [2]float64) {
	from, to = designPose[float64](), designPose[float64]()
	if e.From != Vehicle {
		from, warp[0] = p.body(e.From), m.warpAt(e.From, p)
	}
	if e.To != Vehicle {
		to, warp[1] = p.body(e.To), m.warpAt(e.To, p)
	}
	return from, to, warp
}

func (m *Mover) warpAt(body int, p *posture) float64 {
	if w := m.solver.warp[body]; w >= 0 {
		return p.warp[w-6*len(p.shifts)]
	}
	return 0
}

// addElementTangent adds the complex step of an element's resistance by each
// freedom of its bodies. A shift of From is the opposite of one of To.
func (m *Mover) addElementTangent(i int, p *posture) {
	e := &m.solver.axle.Elements[i]
	from, to, warp := m.endsAt(e, p)
	poses := [2]pose[complex128]{lifted(&from), lifted(&to)}
	lift := [2]complex128{complex(warp[0], 0), complex(warp[1], 0)}
	lines, arm, rest := &m.lines[i], &m.arms[i], &m.rest[i]
	plain, bodies := [2]*pose[float64]{&from, &to}, [2]int{e.From, e.To}
	for freedom := range 6 {
		for end := 1; end >= 0; end-- {
			if bodies[end] == Vehicle || freedom < 3 && end == 0 && e.To != Vehicle {
				continue
			}
			kept := poses[end]
			poses[end] = seeded(plain[end], freedom)
			d, _ := resist(lines, arm, rest, &poses[0], &poses[1], lift)
			poses[end] = kept
			m.addColumn(6*bodies[end]+freedom, e, &d, 1)
			if freedom < 3 && end == 1 && e.From != Vehicle {
				m.addColumn(6*e.From+freedom, e, &d, -1)
			}
		}
	}
	for end, b := range bodies {
		if b == Vehicle || m.solver.warp[b] < 0 || len(lines.Second) == 0 {
			continue
		}
		bent := lift
		bent[end] += complex(0, exact.Step)
		d, _ := resist(lines, arm, rest, &poses[0], &poses[1], bent)
		m.addColumn(m.solver.warp[b], e, &d, 1)
	}
}

// addResidual adds an element's wrenches to the residual.
func (m *Mover) addResidual(e *Element, out *atEnds[float64]) {
	for end, b := range [2]int{e.From, e.To} {
		if b == Vehicle {
			continue
		}
		for r, v := range out.on(end) {
			m.residual[6*b+r] += v
		}
		if at := m.solver.warp[b]; at >= 0 {
			m.residual[at] += out.warp[end]
		}
	}
}

// addColumn adds factor times the derivative of an element's wrenches by one
// unknown.
func (m *Mover) addColumn(column int, e *Element, d *atEnds[complex128], factor float64) {
	n := m.size
	factor /= exact.Step
	for end, b := range [2]int{e.From, e.To} {
		if b == Vehicle {
			continue
		}
		for r, v := range d.on(end) {
			m.tangent.Data[(6*b+r)*n+column] += factor * imag(v)
		}
		if at := m.solver.warp[b]; at >= 0 {
			m.tangent.Data[at*n+column] += factor * imag(d.warp[end])
		}
	}
}

// balanceWheel subtracts what acts on a wheel and writes the row of its pad.
func (m *Mover) balanceWheel(wheel int, p *posture, d *Demand) {
	w, row := &m.wheels[wheel], m.size-2+wheel
	body, pad := p.body(w.body), p.pads[wheel]
	pull, rise := wheelPull(w, &body, &d.Wheels[wheel], pad)
	for r, v := range pull {
		m.residual[6*w.body+r] -= v
	}
	hold := &d.Pads[wheel]
	m.residual[row] = pad
	if hold.Held {
		m.residual[row] = rise - hold.Height
		if hold.Tyre > 0 {
			m.residual[row] += pad / hold.Tyre
		}
	}
}

// addWheelTangent adds how the forces on a wheel and the row of its pad change.
func (m *Mover) addWheelTangent(wheel int, p *posture, d *Demand) {
	w, n, row := &m.wheels[wheel], m.size, m.size-2+wheel
	body, pad, hold := p.body(w.body), complex(p.pads[wheel], 0), &d.Pads[wheel]
	column := func(at int, pull *exact.Wrench[complex128], rise complex128) {
		for r, v := range pull {
			m.tangent.Data[(6*w.body+r)*n+at] -= exact.Derivative(v)
		}
		if hold.Held {
			m.tangent.Data[row*n+at] += exact.Derivative(rise)
		}
	}
	if hold.Held { // a shift of the body lifts the contact point and leaves the forces
		m.tangent.Data[row*n+6*w.body+2] = 1
	}
	for freedom := 3; freedom < 6; freedom++ {
		moved := seeded(&body, freedom)
		pull, rise := wheelPull(&m.lifted[wheel], &moved, &d.Wheels[wheel], pad)
		column(6*w.body+freedom, &pull, rise)
	}
	plain := lifted(&body)
	pull, rise := wheelPull(&m.lifted[wheel], &plain, &d.Wheels[wheel], pad+complex(0, exact.Step))
	column(row, &pull, rise)
	switch {
	case !hold.Held:
		m.tangent.Data[row*n+row] = 1
	case hold.Tyre > 0:
		m.tangent.Data[row*n+row] += 1 / hold.Tyre
	}
}

// factorize factors the tangent; false if it is singular.
func (m *Mover) factorize() bool {
	copy(m.factor.Data, m.tangent.Data)
	m.factored = lapack64.Getrf(m.factor, m.pivots)
	return m.factored
}

// solveFactored solves the factored tangent, or its transpose, in place.
func (m *Mover) solveFactored(transpose blas.Transpose, x []float64) {
	lapack64.Getrs(transpose, m.factor, blas64.General{Rows: m.size, Cols: 1, Stride: 1, Data: x}, m.pivots)
}

// determinantPositive is the sign of the determinant of the factored tangent.
func (m *Mover) determinantPositive() bool {
	positive := true
	for i, p := range m.pivots {
		if p != i {
			positive = !positive
		}
		if m.factor.Data[i*m.size+i] < 0 {
			positive = !positive
		}
	}
	return positive
}

// scale is the size of the loads on the axle in N, at least 1.
func (m *Mover) scale(d *Demand) float64 {
	size := 1.0
	for i := range d.Wheels {
		f := &d.Wheels[i]
		size = max(size, m.wheels[i].patch, f.AtPatch.Norm(), f.Locked.Norm(), f.AtCentre.Norm(), math.Abs(f.Moment)/rotationLength, math.Abs(m.now.pads[i]))
	}
	return size
}
