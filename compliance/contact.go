package compliance

import "bushtune/bushing/exact"

// The contact centre of a wheel (ISO 8855: wheel plane, ground and the vertical
// plane through the spin axis meet there) is the lowest point of a wheel of the
// loaded radius about its current spin axis u. With the heading h and the axis e
// across it, both horizontal and of unit length, and s the horizontal share of u,
// the contact centre of a wheel that turns by ω moves against its own point there by
//
//	R·(ω·e/s)·h
//
// because the wheel rolls under it. A force at the contact centre of a wheel free
// to roll is the exact transpose of that: the force and the horizontal couple
// R·(F·h)/s·e, which leaves no moment about the spin axis. With the brake locked
// the wheel's own point takes the horizontal force with its full moment.

// heading are the horizontal directions of a wheel.
type heading[T exact.Number] struct {
	along, across exact.Vec[T] // unit: where the wheel looks; its spin axis seen from above
	level, tilt   T            // horizontal and vertical share of the unit spin axis
}

// headingOf reads them from a unit spin axis. An axis that points the other way
// turns both directions round and changes no load or reading.
func headingOf[T exact.Number](spin exact.Vec[T]) heading[T] {
	level := exact.Sqrt(spin[0]*spin[0] + spin[1]*spin[1])
	return heading[T]{
		along:  exact.Vec[T]{spin[1] / level, -spin[0] / level, 0},
		across: exact.Vec[T]{spin[0] / level, spin[1] / level, 0},
		level:  level, tilt: spin[2],
	}
}

// contact is the contact centre from the wheel centre.
func (h *heading[T]) contact(radius T) exact.Vec[T] {
	down := h.across.Scale(radius * h.tilt)
	down[2] = -radius * h.level
	return down
}

// rolling is the couple that takes the moment of a force at the contact centre about
// the spin axis.
func (h *heading[T]) rolling(radius T, force exact.Vec[T]) exact.Vec[T] {
	return h.across.Scale(radius * force.Dot(h.along) / h.level)
}

// aligning is the couple of 1 about the vertical without a part about the spin axis.
func (h *heading[T]) aligning() exact.Vec[T] {
	couple := h.across.Scale(-h.tilt / h.level)
	couple[2] = 1
	return couple
}

// Contact returns the contact centre relative to the wheel centre in mm.
func (w *WheelGeometry[T]) Contact() exact.Vec[T] {
	h := headingOf(w.Spin)
	return h.contact(w.Radius)
}

// AtContact is the wrench about the wheel centre (N, N·mm) of a force in N at the
// contact centre of a wheel free to roll. As a reading it gives the movement of the
// contact centre (mm) from a motion of the wheel.
func (w *WheelGeometry[T]) AtContact(force exact.Vec[T]) exact.Wrench[T] {
	h := headingOf(w.Spin)
	wrench := exact.Force(force, h.contact(w.Radius))
	for i, m := range h.rolling(w.Radius, force) {
		wrench[3+i] += m
	}
	return wrench
}

// AtLocked is the wrench about the wheel centre (N, N·mm) of a force in N at the
// contact centre with its full moment on the carrier, as with the brake locked. As
// a reading it gives the movement of the wheel's own point there (mm).
func (w *WheelGeometry[T]) AtLocked(force exact.Vec[T]) exact.Wrench[T] {
	return exact.Force(force, w.Contact())
}

// Aligning is the couple of 1 N·mm about the vertical, + to the left, on a wheel
// free to roll: it has no part about the spin axis and none along the heading. As
// a reading it gives the turn of the heading (rad).
func (w *WheelGeometry[T]) Aligning() exact.Wrench[T] {
	h := headingOf(w.Spin)
	return exact.Moment(h.aligning())
}
