package compliance

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/bushing/exact"
)

// Reading is a weighted sum over the motions of both wheels at an equilibrium.
type Reading [2]WheelMotion

// sum contracts a reading's weights with the motion of one wheel.
func (r *Reading) sum(wheel int, x *wheelReading[complex128], pad complex128) float64 {
	w := &r[wheel]
	total := w.Toe*imag(x.toe) + w.Camber*imag(x.camber) + w.WindUp*imag(x.windUp) + w.Pad*imag(pad)
	for k := range 3 {
		total += w.Centre[k]*imag(x.centre[k]) + w.Contact[k]*imag(x.contact[k]) + w.Locked[k]*imag(x.locked[k])
	}
	return total / exact.Step
}

// Slopes writes out[k][j] = ∂(reading k)/∂(slot j) at the present equilibrium,
// with the demand held, exact. From r(q, p) = 0 and the tangent K = ∂r/∂q
// (implicit function theorem), with Kᵀ·λ = ∂y/∂q,
//
//	dy/dp = ∂y/∂p − λᵀ·∂r/∂p
//
// where ∂r/∂p includes what the slot does to the loads at rest, as in
// Solver.Derivatives.
func (m *Mover) Slopes(readings []Reading, slots []Slot, out [][]float64) {
	s := m.solver
	s.prepareGradient(make([]Pair, 1), slots)
	for k := range readings {
		adjoint := m.adjoint(&readings[k])
		rest := m.restShares(adjoint)
		for n, element := range s.gradient.wanted {
			c := &s.gradient.cotangents[n]
			*c = cotangent{}
			if rest != nil {
				s.transposeRest(element, rest, c)
			}
		}
		for j := range slots {
			if slots[j].Element < 0 {
				out[k][j] = m.wheelSlope(&readings[k], adjoint, rest, slots[j])
				continue
			}
			s.differentiate(slots[:j+1])
			n := s.gradient.place[slots[j].Element]
			out[k][j] = -s.gradient.cotangents[n].contract(s.gradient.tangents[j]) - m.elementSlope(adjoint, slots[j])
		}
	}
}

// adjoint solves Kᵀ·λ = ∂y/∂q.
func (m *Mover) adjoint(y *Reading) []float64 {
	lambda := make([]float64, m.size)
	for wheel := range m.wheels {
		w := &m.wheels[wheel]
		body := m.now.body(w.body)
		pad := complex(m.now.pads[wheel], 0)
		for freedom := range 6 {
			moved := seeded(&body, freedom)
			x := read(&m.lifted[wheel], wheel, &moved, &m.held.Wheels[wheel], pad)
			lambda[6*w.body+freedom] += y.sum(wheel, &x, pad)
		}
		plain := lifted(&body)
		pad += complex(0, exact.Step)
		x := read(&m.lifted[wheel], wheel, &plain, &m.held.Wheels[wheel], pad)
		lambda[m.size-2+wheel] += y.sum(wheel, &x, pad)
	}
	m.solveFactored(blas.Trans, lambda)
	return lambda
}

// work is λ times what an element does to its bodies and warping, from the
// imaginary parts.
func (m *Mover) work(element int, lambda []float64, d *atEnds[complex128]) float64 {
	e := &m.solver.axle.Elements[element]
	sum := 0.0
	for end, b := range [2]int{e.From, e.To} {
		if b == Vehicle {
			continue
		}
		for r, v := range d.on(end) {
			sum += lambda[6*b+r] * imag(v)
		}
		if at := m.solver.warp[b]; at >= 0 {
			sum += lambda[at] * imag(d.warp[end])
		}
	}
	return sum / exact.Step
}

// posesOf are the present poses and warping of an element's ends.
func (m *Mover) posesOf(element int) (poses [2]pose[complex128], warp [2]complex128) {
	from, to, bent := m.endsAt(&m.solver.axle.Elements[element], &m.now)
	return [2]pose[complex128]{lifted(&from), lifted(&to)}, [2]complex128{complex(bent[0], 0), complex(bent[1], 0)}
}

// elementSlope is λᵀ·∂r/∂p for a slot of an element whose lines have just been
// differentiated, with the loads at rest held.
func (m *Mover) elementSlope(lambda []float64, slot Slot) float64 {
	lines := m.solver.seededLines(slot)
	poses, warp := m.posesOf(slot.Element)
	arm := armsOf(lines)
	d, _ := resist(lines, &arm, &m.rest[slot.Element], &poses[0], &poses[1], warp)
	return m.work(slot.Element, lambda, &d)
}

// restShares finds λᵀ·∂r/∂N for the load at rest of every line and solves for
// what the static solve makes of it; nil without a load at rest.
func (m *Mover) restShares(lambda []float64) []float64 {
	s := m.solver
	if !s.loaded {
		return nil
	}
	room := &s.gradient
	clear(room.mu)
	for i := range s.lines {
		e, lines := &s.axle.Elements[i], &s.lines[i]
		poses, warp := m.posesOf(i)
		for l := range lines.Count {
			rest := m.rest[i]
			rest[l] += complex(0, exact.Step)
			d, _ := resist(&m.lines[i], &m.arms[i], &rest, &poses[0], &poses[1], warp)
			room.share[i][l] = m.work(i, lambda, &d)
			if share := e.atRest(l); share != 0 {
				s.spread(i, l, room.share[i][l]*share*lines.AtZero[l], room.mu)
			}
		}
	}
	lapack64.Potrs(s.released, blas64.General{Rows: s.size, Cols: 1, Stride: 1, Data: room.mu})
	return room.mu
}

// wheelSlope is the derivative of a reading by a slot of a wheel.
func (m *Mover) wheelSlope(y *Reading, lambda, rest []float64, slot Slot) float64 {
	s := m.solver
	wheel := -1 - slot.Element
	w := &s.axle.Wheels[wheel]
	slots := liftSlots(w.Slots, nil)
	slots[slot.Index] = exact.Seed(w.Slots[slot.Index])
	centre := exact.LiftVec[complex128](s.centre)
	moving := newMovingWheel(slots, wheel, w.Body, s.axle.Static, centre)
	moving.near = m.wheels[wheel].near
	body := m.now.body(w.Body)
	plain := lifted(&body)
	pad := complex(m.now.pads[wheel], 0)
	x := read(&moving, wheel, &plain, &m.held.Wheels[wheel], pad)
	slope := y.sum(wheel, &x, pad)
	pull, rise := wheelPull(&moving, &plain, &m.held.Wheels[wheel], pad)
	for r, v := range pull {
		slope += lambda[6*w.Body+r] * exact.Derivative(v)
	}
	if m.held.Pads[wheel].Held {
		slope -= lambda[m.size-2+wheel] * exact.Derivative(rise)
	}
	if rest != nil && s.axle.Static != nil {
		static := newStaticWheel(slots, wheel, s.axle.Static, centre)
		for r, v := range static.load {
			slope -= rest[6*w.Body+r] * exact.Derivative(v)
		}
	}
	return slope
}
