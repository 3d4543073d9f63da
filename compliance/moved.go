package compliance

import (
	"gonum.org/v1/gonum/blas"

	"bushtune/bushing/exact"
)

// rolling is a wheel at a movement: from its centre, along fixed axes.
type rolling[T exact.Number] struct {
	arm    exact.Vec[T]  // wheel centre from the body's moved point at the axle's centre
	turn   exact.Mat3[T] // of the wheel, what its hub gives included
	wheel  WheelGeometry[T]
	force  exact.Vec[T] // all forces, N
	moment exact.Vec[T] // all moments about the body's moved point, N·mm
}

// pulling is a WheelForce over Number.
type pulling[T exact.Number] struct {
	atPatch, locked, atCentre exact.Vec[T]
	moment                    T
}

// pull is a force without derivatives.
func pull[T exact.Number](f *WheelForce) pulling[T] {
	return pulling[T]{exact.LiftVec[T](f.AtPatch), exact.LiftVec[T](f.Locked), exact.LiftVec[T](f.AtCentre), exact.Lift[T](f.Moment)}
}

// changing is a force that changes at a rate.
func (f *WheelForce) changing(rate *WheelForce) pulling[complex128] {
	p := pull[complex128](f)
	for k := range 3 {
		p.atPatch[k] += complex(0, exact.Step*rate.AtPatch[k])
		p.locked[k] += complex(0, exact.Step*rate.Locked[k])
		p.atCentre[k] += complex(0, exact.Step*rate.AtCentre[k])
	}
	p.moment += complex(0, exact.Step*rate.Moment)
	return p
}

// onWheel is the force at the contact centre, up more than it, and the moment of
// all that about the wheel centre.
func (f *pulling[T]) onWheel(g *WheelGeometry[T], up T) (force, moment exact.Vec[T]) {
	h := headingOf(g.Spin)
	force = f.atPatch.Add(f.locked)
	force[2] += up
	moment = h.contact(g.Radius).Cross(force).Add(h.rolling(g.Radius, f.atPatch)).Add(h.aligning().Scale(f.moment))
	return force, moment
}

// roll places a wheel on a moved body under its forces. Its hub gives by their
// moments about the wheel centre, those of the load at rest taken off.
func roll[T exact.Number](w *movingWheel[T], p *pose[T], f *pulling[T], pad T) rolling[T] {
	r := rolling[T]{arm: p.turn.Apply(w.centre), turn: p.turn}
	if w.hub.yield != ([2]T{}) {
		g := w.turnOnHub(p, f, pad+w.patch)
		r.turn = p.turn.Mul(turnOf(exact.Vec[T]{g[0], 0, g[1]}))
	}
	r.wheel = WheelGeometry[T]{Radius: w.radius, Spin: r.turn.Apply(w.spin)}
	atContact, moment := f.onWheel(&r.wheel, pad+w.patch)
	atCentre := f.atCentre
	atCentre[2] -= w.weight
	r.force = atContact.Add(atCentre)
	r.moment = r.arm.Cross(r.force).Add(moment)
	return r
}

// wheelPull is the wrench of all forces on a wheel about its body's moved point
// at the axle's centre, and how far its contact centre has risen in mm.
func wheelPull[T exact.Number](w *movingWheel[T], p *pose[T], f *WheelForce, pad T) (pulled exact.Wrench[T], rise T) {
	forces := pull[T](f)
	return pullUnder(w, p, &forces, pad)
}

func pullUnder[T exact.Number](w *movingWheel[T], p *pose[T], f *pulling[T], pad T) (pulled exact.Wrench[T], rise T) {
	r := roll(w, p, f, pad)
	rise = p.shift[2] + r.arm[2] + r.wheel.Contact()[2] - w.centre[2] - w.contact[2]
	return exact.Wrench[T]{r.force[0], r.force[1], r.force[2], r.moment[0], r.moment[1], r.moment[2]}, rise
}

// WheelMotion is how far one wheel has moved from the design position, along
// fixed axes of the vehicle for both wheels, or how fast per unit of a demand.
// Locked is the travel of a pad on which the wheel has rolled since then with its
// brake locked, by its radius times the turn of the carrier about the spin axis: it
// starts as the movement of the carrier's own point there.
type WheelMotion struct {
	Centre  vec     // mm
	Contact vec     // mm, of the contact centre: the path of a wheel free to roll
	Locked  vec     // mm, with the brake locked; z is that of Contact
	Toe     float64 // rad, + toe-in
	Camber  float64 // rad, + top outward
	WindUp  float64 // rad of the carrier about y, + top forward
	Pad     float64 // N, change of the pad's force, + more
}

// wheelReading is WheelMotion over Number.
type wheelReading[T exact.Number] struct {
	centre, contact, locked exact.Vec[T]
	toe, camber, windUp     T
	rolled                  T            // mm that the wheel has rolled forward with its carrier
	along                   exact.Vec[T] // heading
}

// read takes the reading of a wheel from the pose of its body. Toe and camber
// are ISO 8855 projections of the spin axis, left-hand for the right wheel too.
func read[T exact.Number](w *movingWheel[T], wheel int, p *pose[T], f *WheelForce, pad T) wheelReading[T] {
	forces := pull[T](f)
	return readUnder(w, wheel, p, &forces, pad)
}

func readUnder[T exact.Number](w *movingWheel[T], wheel int, p *pose[T], f *pulling[T], pad T) wheelReading[T] {
	r := roll(w, p, f, pad)
	out := wheelReading[T]{centre: p.shift.Add(r.arm).Sub(w.centre)}
	contact := r.wheel.Contact()
	out.contact = out.centre.Add(contact).Sub(w.contact)
	toe, camber := angles(sided(r.wheel.Spin, wheel))
	toe0, camber0 := angles(sided(w.spin, wheel))
	out.toe, out.camber = toe-toe0, camber-camber0
	out.windUp = exact.Atan2(p.turn[0][2], p.turn[2][2])
	// the point that was the contact centre has turned on from the present one
	own := r.turn.Apply(w.contact)
	out.along = headingOf(r.wheel.Spin).along
	out.rolled = exact.Atan2(-own.Dot(out.along), own.Dot(contact)/w.radius) * w.radius
	// on a pad, along the mean of the headings then and now
	mean := out.along.Add(headingOf(w.spin).along).Unit()
	out.locked = out.contact.Sub(mean.Scale(out.rolled))
	return out
}

// angles are toe-in and camber of a left-hand spin axis.
func angles[T exact.Number](spin exact.Vec[T]) (toe, camber T) {
	return exact.Atan2(spin[0], spin[1]), -exact.Atan2(spin[2], spin[1])
}

// Wheel is where a wheel is at the present equilibrium.
func (m *Mover) Wheel(wheel int) WheelMotion {
	w := &m.wheels[wheel]
	body := m.now.body(w.body)
	r := read(w, wheel, &body, &m.held.Wheels[wheel], m.now.pads[wheel])
	return WheelMotion{Centre: r.centre, Contact: r.contact, Locked: r.locked, Toe: r.toe, Camber: r.camber, WindUp: r.windUp, Pad: m.now.pads[wheel]}
}

// Rates is how fast both wheels move when the demand changes at the rate d, at
// the present equilibrium: the tangent. Held pads move by d's heights.
func (m *Mover) Rates(d *Demand) [2]WheelMotion {
	n := m.size
	clear(m.step)
	for i := range m.wheels {
		body := m.now.body(m.wheels[i].body)
		plain, forces := lifted(&body), m.held.Wheels[i].changing(&d.Wheels[i])
		pulled, rise := pullUnder(&m.lifted[i], &plain, &forces, complex(m.now.pads[i], 0))
		for r, v := range pulled {
			m.step[6*m.wheels[i].body+r] += exact.Derivative(v)
		}
		if m.held.Pads[i].Held {
			m.step[n-2+i] = d.Pads[i].Height - exact.Derivative(rise)
		}
	}
	m.solveFactored(blas.NoTrans, m.step)
	var out [2]WheelMotion
	for i := range m.wheels {
		out[i] = m.readRate(i, m.step, d)
	}
	return out
}

// readRate is the derivative of a wheel's reading along an increment of the
// unknowns, with the demanded forces changing at their rate.
func (m *Mover) readRate(wheel int, u []float64, d *Demand) WheelMotion {
	r := m.readAlong(wheel, u, d)
	return rateOf(&r, u[m.size-2+wheel])
}

// readAlong reads a wheel on the way along an increment.
func (m *Mover) readAlong(wheel int, u []float64, d *Demand) wheelReading[complex128] {
	body := m.now.body(m.wheels[wheel].body)
	moved := movedAlong(&body, u[6*m.wheels[wheel].body:])
	forces := m.held.Wheels[wheel].changing(&d.Wheels[wheel])
	return readUnder(&m.lifted[wheel], wheel, &moved, &forces, complex(m.now.pads[wheel], exact.Step*u[m.size-2+wheel]))
}

// rateOf is the derivative that a reading carries.
func rateOf(r *wheelReading[complex128], pad float64) WheelMotion {
	out := WheelMotion{Toe: exact.Derivative(r.toe), Camber: exact.Derivative(r.camber), WindUp: exact.Derivative(r.windUp), Pad: pad}
	for k := range 3 {
		out.Centre[k], out.Contact[k], out.Locked[k] = exact.Derivative(r.centre[k]), exact.Derivative(r.contact[k]), exact.Derivative(r.locked[k])
	}
	return out
}

// Line is the strain (mm, rad) of one line of an element since the design
// position and its load (N, N·mm), rest included, at the present equilibrium.
func (m *Mover) Line(element, line int) (strain, load float64) {
	return m.states[element].strain[line], m.states[element].load[line]
}

// Evaluations counts residuals with tangents since the last Reset.
func (m *Mover) Evaluations() int { return m.count }
