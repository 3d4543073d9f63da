package compliance

import (
	"gonum.org/v1/gonum/blas"

	"bushtune/bushing/exact"
)

// rolling is a wheel at a movement: from its centre, along fixed axes.
type rolling[T exact.Number] struct {
	arm     exact.Vec[T] // wheel centre from the body's moved point at the axle's centre
	spin    exact.Vec[T] // unit spin axis of the body, pointing outward
	yielded exact.Vec[T] // spin axis of the wheel, turned by what the hub gives
	contact exact.Vec[T] // contact point of the body's spin axis, from the wheel centre
	force   exact.Vec[T] // all forces, N
	moment  exact.Vec[T] // all moments about the body's moved point, N·mm
}

// roll places a wheel on a moved body under its forces. The hub gives by the
// moment about the wheel centre of what acts on top of the load at rest; levers
// are those of the body's own spin axis.
func roll[T exact.Number](w *movingWheel[T], p *pose[T], f *WheelForce, pad T) rolling[T] {
	r := rolling[T]{arm: p.turn.Apply(w.centre), spin: p.turn.Apply(w.spin)}
	g := WheelGeometry[T]{Radius: w.radius, Spin: r.spin}
	r.contact = g.Contact()
	extra := exact.LiftVec[T](f.AtPatch)
	extra[2] += pad
	onHub := r.contact.Cross(extra)
	onHub[2] += exact.Lift[T](f.Moment)
	give := exact.Vec[T]{w.hubCamber * onHub[0], 0, w.hubToe * onHub[2]}
	r.yielded = r.spin.Add(give.Cross(r.spin)).Unit()
	rest := exact.Vec[T]{0, 0, w.patch}
	atPatch := extra.Add(rest)
	atCentre := exact.LiftVec[T](f.AtCentre)
	atCentre[2] -= w.weight
	r.force = atPatch.Add(atCentre)
	r.moment = r.arm.Add(r.contact).Cross(atPatch).Add(r.arm.Cross(atCentre))
	r.moment[2] += exact.Lift[T](f.Moment)
	return r
}

// wheelPull is the wrench of all forces on a wheel about its body's moved point
// at the axle's centre, and how far its contact point has risen in mm.
func wheelPull[T exact.Number](w *movingWheel[T], p *pose[T], f *WheelForce, pad T) (pull exact.Wrench[T], rise T) {
	r := roll(w, p, f, pad)
	g := WheelGeometry[T]{Radius: w.radius, Spin: r.yielded}
	rise = p.shift[2] + r.arm[2] + g.Contact()[2] - w.centre[2] - w.contactAtRest()[2]
	return exact.Wrench[T]{r.force[0], r.force[1], r.force[2], r.moment[0], r.moment[1], r.moment[2]}, rise
}

// contactAtRest is the contact point at the design position, from the wheel centre.
func (w *movingWheel[T]) contactAtRest() exact.Vec[T] {
	g := WheelGeometry[T]{Radius: w.radius, Spin: w.spin}
	return g.Contact()
}

// WheelMotion is how far one wheel has moved from the design position, along
// fixed axes of the vehicle for both wheels, or how fast per unit of a demand.
type WheelMotion struct {
	Centre, Contact vec     // mm
	Toe             float64 // rad, + toe-in
	Camber          float64 // rad, + top outward
	WindUp          float64 // rad of the carrier about y, + top forward
	Pad             float64 // N, change of the pad's force, + more
}

// wheelReading is WheelMotion over Number.
type wheelReading[T exact.Number] struct {
	centre, contact     exact.Vec[T]
	toe, camber, windUp T
}

// read takes the reading of a wheel from the pose of its body. Toe and camber
// are ISO 8855 projections of the spin axis, left-hand for the right wheel too.
func read[T exact.Number](w *movingWheel[T], wheel int, p *pose[T], f *WheelForce, pad T) wheelReading[T] {
	r := roll(w, p, f, pad)
	g := WheelGeometry[T]{Radius: w.radius, Spin: r.yielded}
	centre := p.shift.Add(r.arm).Sub(w.centre)
	out := wheelReading[T]{centre: centre, contact: centre.Add(g.Contact()).Sub(w.contactAtRest())}
	toe, camber := angles(sided(r.yielded, wheel))
	toe0, camber0 := angles(sided(w.spin, wheel))
	out.toe, out.camber = toe-toe0, camber-camber0
	out.windUp = exact.Atan2(p.turn[0][2], p.turn[2][2])
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
	return WheelMotion{Centre: r.centre, Contact: r.contact, Toe: r.toe, Camber: r.camber, WindUp: r.windUp, Pad: m.now.pads[wheel]}
}

// Rates is how fast both wheels move when the demand changes at the rate d, at
// the present equilibrium: the tangent. Held pads move by d's heights.
func (m *Mover) Rates(d *Demand) [2]WheelMotion {
	n := m.size
	clear(m.step)
	for i := range m.wheels {
		w := &m.wheels[i]
		body := m.now.body(w.body)
		pull, _ := wheelPull(w, &body, &d.Wheels[i], 0)
		rest, _ := wheelPull(w, &body, &WheelForce{}, 0)
		for r := range pull {
			m.step[6*w.body+r] += pull[r] - rest[r]
		}
		if m.held.Pads[i].Held {
			m.step[n-2+i] = d.Pads[i].Height
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
// unknowns, at the forces held, plus what the hub gives under the rate of force.
func (m *Mover) readRate(wheel int, u []float64, d *Demand) WheelMotion {
	w := &m.wheels[wheel]
	plain := m.now.body(w.body)
	moved := lifted(&plain)
	for freedom := range 6 {
		one := seeded(&plain, freedom)
		by := complex(u[6*w.body+freedom], 0)
		for r := range 3 {
			moved.shift[r] += by * complex(0, imag(one.shift[r]))
			for c := range 3 {
				moved.turn[r][c] += by * complex(0, imag(one.turn[r][c]))
			}
		}
	}
	pad := complex(m.now.pads[wheel], exact.Step*u[m.size-2+wheel])
	r := read(&m.lifted[wheel], wheel, &moved, &m.held.Wheels[wheel], pad)
	out := WheelMotion{Toe: exact.Derivative(r.toe), Camber: exact.Derivative(r.camber), WindUp: exact.Derivative(r.windUp), Pad: u[m.size-2+wheel]}
	for k := range 3 {
		out.Centre[k], out.Contact[k] = exact.Derivative(r.centre[k]), exact.Derivative(r.contact[k])
	}
	m.hubRate(wheel, &plain, d, &out)
	return out
}

// hubRate adds what the hub gives because the demanded forces change.
func (m *Mover) hubRate(wheel int, body *pose[float64], d *Demand, out *WheelMotion) {
	w := &m.wheels[wheel]
	held, pad := &m.held.Wheels[wheel], m.now.pads[wheel]
	const half = 0.5
	more, less := *held, *held
	f := &d.Wheels[wheel]
	more.AtPatch, less.AtPatch = held.AtPatch.Add(f.AtPatch.Scale(half)), held.AtPatch.Sub(f.AtPatch.Scale(half))
	more.Moment, less.Moment = held.Moment+half*f.Moment, held.Moment-half*f.Moment
	a, b := read(w, wheel, body, &more, pad), read(w, wheel, body, &less, pad)
	out.Toe += a.toe - b.toe
	out.Camber += a.camber - b.camber
	out.Contact = out.Contact.Add(a.contact.Sub(b.contact))
}

// Line is the strain (mm, rad) of one line of an element since the design
// position and its load (N, N·mm), rest included, at the present equilibrium.
func (m *Mover) Line(element, line int) (strain, load float64) {
	return m.states[element].strain[line], m.states[element].load[line]
}

// Evaluations counts residuals with tangents since the last Reset.
func (m *Mover) Evaluations() int { return m.count }
