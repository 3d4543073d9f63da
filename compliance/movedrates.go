package compliance

import (
	"math"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// Increment is how the unknowns of an axle change at a rate of its demand, with
// what the tangent knows of it: in mm, rad, N per unit of the rate.
type Increment struct {
	unknowns []float64
	demand   Demand
}

// NewIncrement makes room for an increment.
func (m *Mover) NewIncrement() Increment { return Increment{unknowns: make([]float64, m.size)} }

// Advance writes the increment at a rate of the demand, as in Rates, and returns
// the motions of the wheels.
func (m *Mover) Advance(d *Demand, out *Increment) [2]WheelMotion {
	rates := m.Rates(d)
	copy(out.unknowns, m.step)
	out.demand = *d
	return rates
}

// LockedHere is the movement of the wheel's own point at the contact centre in an
// increment: of a pad under a wheel whose brake is locked at the present posture,
// where Locked of Rates is that of a brake locked since the design position. A
// locked force does its work on it.
func (m *Mover) LockedHere(wheel int, u *Increment) exact.Vec[float64] {
	r := m.readAlong(wheel, u.unknowns, &u.demand)
	var out exact.Vec[float64]
	for k := range out {
		out[k] = exact.Derivative(r.contact[k]) - real(r.along[k])*exact.Derivative(r.rolled)
	}
	return out
}

// Add adds factor times another increment at the same equilibrium.
func (a *Increment) Add(b *Increment, factor float64) {
	for i, v := range b.unknowns {
		a.unknowns[i] += factor * v
	}
	for w := range a.demand.Wheels {
		f, g := &a.demand.Wheels[w], &b.demand.Wheels[w]
		f.AtPatch = f.AtPatch.Add(g.AtPatch.Scale(factor))
		f.Locked = f.Locked.Add(g.Locked.Scale(factor))
		f.AtCentre = f.AtCentre.Add(g.AtCentre.Scale(factor))
		f.Moment += factor * g.Moment
	}
}

// Clear makes the increment that of no change.
func (a *Increment) Clear() {
	clear(a.unknowns)
	a.demand = Demand{}
}

// Twist is the motion of the body that carries a wheel: displacement of its
// point at the wheel centre and rotation, along fixed axes.
func (m *Mover) Twist(wheel int, u *Increment) exact.Wrench[float64] {
	w := &m.wheels[wheel]
	body := m.now.body(w.body)
	turn := vec(u.unknowns[6*w.body+3 : 6*w.body+6])
	centre := vec(u.unknowns[6*w.body : 6*w.body+3]).Add(turn.Cross(body.turn.Apply(w.centre)))
	return exact.Wrench[float64]{centre[0], centre[1], centre[2], turn[0], turn[1], turn[2]}
}

// movedAlong is a pose with its freedoms raised by the complex step times an increment.
func movedAlong(p *pose[float64], u []float64) pose[complex128] {
	moved := lifted(p)
	turn := vec(u[3:6])
	for r := range 3 {
		moved.shift[r] += complex(0, exact.Step*u[r])
	}
	for c := range 3 {
		spun := turn.Cross(p.turn.Column(c))
		for r := range 3 {
			moved.turn[r][c] += complex(0, exact.Step*spun[r])
		}
	}
	return moved
}

// LineWork is what the lines of an element do in an increment.
type LineWork struct {
	Lines  [maxLines]float64 // N·mm: change of load times change of strain
	Levers float64           // N·mm: what the loads do that the lines carry already
}

// Work splits uᵀ·K·u, twice the second-order work of an increment, for one
// element: its lines by change of load and strain, and the rest by the levers of
// the loads it carries.
func (m *Mover) Work(element int, u *Increment) LineWork {
	e, n := &m.solver.axle.Elements[element], m.size
	poses, warp := m.posesOf(element)
	for end, b := range [2]int{e.From, e.To} {
		if b == Vehicle {
			continue
		}
		plain := m.now.body(b)
		poses[end] = movedAlong(&plain, u.unknowns[6*b:])
		if w := m.solver.warp[b]; w >= 0 {
			warp[end] += complex(0, exact.Step*u.unknowns[w])
		}
	}
	d, state := resist(&m.lines[element], &m.arms[element], &m.rest[element], &poses[0], &poses[1], warp)
	var work LineWork
	work.Levers = m.work(element, u.unknowns[:n], &d)
	for l := range m.lines[element].Count {
		work.Lines[l] = exact.Derivative(state.load[l]) * exact.Derivative(state.strain[l])
		work.Levers -= work.Lines[l]
	}
	return work
}

// WheelWork is the share of the loads on a wheel in uᵀ·K·u, N·mm: their levers
// change as the wheel turns.
func (m *Mover) WheelWork(wheel int, u *Increment) float64 {
	w := &m.wheels[wheel]
	plain := m.now.body(w.body)
	moved := movedAlong(&plain, u.unknowns[6*w.body:])
	pull, _ := wheelPull(&m.lifted[wheel], &moved, &m.held.Wheels[wheel], complex(m.now.pads[wheel], 0))
	sum := 0.0
	for r, v := range pull {
		sum -= u.unknowns[6*w.body+r] * exact.Derivative(v)
	}
	return sum
}

// IsTwist tells whether a line of a beam is its twist or the warping that goes
// with it, not bending, shear or tension.
func IsTwist(line int) bool { return line >= twistLine }

// LineRate is the slope of the law of one line at the present posture, N/mm or
// N·mm/rad, the other lines held.
func (m *Mover) LineRate(element, line int) float64 {
	lines := &m.solver.lines[element]
	if !lines.Curved {
		return lines.Rate[line]
	}
	if e, coupled := m.radialDeflection(element, line); coupled {
		k := lines.Radial.Tangent(e)
		if line == int(bushing.Soft) {
			return k.Soft
		}
		return k.Stiff
	}
	return lines.Law[line].Slope(m.deflection(element, line))
}

// PastGap is how far in mm one line of an element is past the gap of its void or
// stop, in the direction in which it is deflected now: negative while the gap is open,
// −∞ without one.
func (m *Mover) PastGap(element, line int) float64 {
	lines := &m.solver.lines[element]
	if !lines.Curved {
		return math.Inf(-1)
	}
	if e, coupled := m.radialDeflection(element, line); coupled {
		return lines.Radial.PastGap(e)
	}
	return lines.Law[line].PastGap(m.deflection(element, line))
}

// deflection is that of a curved line, the deflection at rest included.
func (m *Mover) deflection(element, line int) float64 {
	return m.solver.lines[element].Settled[line] + m.states[element].strain[line]
}

// radialDeflection are the deflections of soft and stiff where both close one void,
// and whether the line is one of them.
func (m *Mover) radialDeflection(element, line int) (e [2]float64, coupled bool) {
	soft, stiff := int(bushing.Soft), int(bushing.Stiff)
	if !m.solver.lines[element].Radial.Coupled() || line != soft && line != stiff {
		return e, false
	}
	return [2]float64{m.deflection(element, soft), m.deflection(element, stiff)}, true
}

// Outside tells whether one line of an element is beyond the ends of its table.
func (m *Mover) Outside(element, line int) bool {
	return m.solver.Outside(element, line, m.solver.Operating(element, line)+m.states[element].strain[line])
}

// Curved tells whether some line of an element follows a law that is no straight line.
func (m *Mover) Curved(element int) bool { return m.solver.lines[element].Curved }
