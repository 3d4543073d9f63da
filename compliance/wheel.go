package compliance

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Wheel is the place of one wheel on its body. Slots are left-hand values in
// the order of WheelFields, on the right side too.
type Wheel struct {
	Body  int
	Slots []float64
}

// WheelFields lists the slots of a wheel and of the hub that carries it.
var WheelFields = append(quantity.Point("centre", "wheel centre"),
	quantity.Field{Name: "loaded_radius", Unit: quantity.Millimetre, Above: true, Max: 5000, Required: true, Meaning: "distance of the contact point from the wheel centre, in the plane of the wheel"},
	quantity.Field{Name: "toe", Unit: quantity.Degree, Min: -20, Max: 20, Meaning: "static toe, + toe-in"},
	quantity.Field{Name: "camber", Unit: quantity.Degree, Min: -20, Max: 20, Meaning: "static camber, + top outward"},
	quantity.Field{Name: "hub_camber", Unit: quantity.DegreePerKilonewtonM, Min: 0, Max: 100, Meaning: "camber compliance of bearing and carrier; absent: rigid"},
	quantity.Field{Name: "hub_toe", Unit: quantity.DegreePerKilonewtonM, Min: 0, Max: 100, Meaning: "toe compliance of bearing and carrier; absent: rigid"},
)

// The slots of a wheel by number.
const (
	slotRadius    = 3
	slotHubCamber = 6
	slotHubToe    = 7
)

// WheelGeometry is a wheel in left-hand terms, in mm and rad.
type WheelGeometry[T exact.Number] struct {
	Centre exact.Vec[T] // mm, vehicle axes
	Radius T            // mm, loaded
	Spin   exact.Vec[T] // unit spin axis, pointing left
}

// NewWheelGeometry reads a wheel from its slots, in mm and rad. The spin axis is that of
// ISO 8855 projections: toe-in = atan2(u_x, u_y), camber = −atan2(u_z, u_y).
func NewWheelGeometry[T exact.Number](s []T) WheelGeometry[T] {
	return WheelGeometry[T]{
		Centre: exact.Vec[T]{s[0], s[1], s[2]},
		Radius: s[slotRadius],
		Spin:   exact.Vec[T]{exact.Tan(s[4]), 1, -exact.Tan(s[5])}.Unit(),
	}
}

// ToeIn is the reading of toe: its product with a motion of the wheel (mm, rad,
// left-hand) is the change of toe in rad, + toe-in.
func (w *WheelGeometry[T]) ToeIn() exact.Wrench[T] {
	u := w.Spin
	plan := u[0]*u[0] + u[1]*u[1]
	return exact.Wrench[T]{3: u[0] * u[2] / plan, 4: u[1] * u[2] / plan, 5: -1}
}

// CamberOut is the reading of camber: its product with a motion of the wheel is
// the change of camber in rad, + top outward.
func (w *WheelGeometry[T]) CamberOut() exact.Wrench[T] {
	u := w.Spin
	rear := u[1]*u[1] + u[2]*u[2]
	return exact.Wrench[T]{3: -1, 4: u[0] * u[1] / rear, 5: u[0] * u[2] / rear}
}

// Mirror turns a left-hand wrench or motion into its mirror image, and back.
func Mirror[T exact.Number](w exact.Wrench[T]) exact.Wrench[T] {
	return exact.Wrench[T]{w[0], -w[1], w[2], -w[3], w[4], -w[5]}
}

// sided mirrors left-hand vectors for the right wheel.
func sided[T exact.Number](v exact.Vec[T], wheel int) exact.Vec[T] {
	if wheel == 1 {
		v[1] = -v[1]
	}
	return v
}

// staticWheel is the potential of the static loads on one wheel: the patch force
// F up at the lowest point of the wheel, weight W down at the wheel centre,
// V = (W − F)·z_centre + F·radius·√(1 − s_z²) with s the spin axis.
type staticWheel[T exact.Number] struct {
	patch, weight T            // N
	centre, spin  exact.Vec[T] // centre from the axle's centre
	radius        T
	onWheel       exact.Vec[T]    // moment of the patch force about the wheel centre, N·mm
	load          exact.Wrench[T] // of both forces about the axle's centre
}

// newStaticWheel places the static load on a wheel (0 left, 1 right).
func newStaticWheel[T exact.Number](slots []T, wheel int, static *Static, centre exact.Vec[T]) staticWheel[T] {
	g := NewWheelGeometry(slots)
	s := staticWheel[T]{
		patch:  exact.Lift[T](static.WheelLoad[wheel]),
		weight: exact.Lift[T](static.Unsprung[wheel] * quantity.StandardGravity),
		centre: sided(g.Centre, wheel).Sub(centre), spin: sided(g.Spin, wheel), radius: g.Radius,
	}
	up, contact := exact.Vec[T]{0, 0, s.patch}, sided(g.Contact(), wheel)
	s.onWheel = contact.Cross(up)
	s.load = exact.Force(up, s.centre.Add(contact))
	for i, w := range exact.Force(exact.Vec[T]{0, 0, -s.weight}, s.centre) {
		s.load[i] += w
	}
	return s
}

// onCentre is the second derivative of the potential between two rotations of the
// wheel's body by the path of the wheel centre.
func (s *staticWheel[T]) onCentre(p, q exact.Vec[T]) T {
	return (s.weight - s.patch) * turnTwice(p, q, s.centre)[2]
}

// onSpin is the same between two rotations of the wheel, by its spin axis.
func (s *staticWheel[T]) onSpin(p, q exact.Vec[T]) T {
	root := exact.Sqrt(1 - s.spin[2]*s.spin[2])
	about := s.spin.Cross(exact.Vec[T]{0, 0, 1})
	leaned := s.spin[2] / root * turnTwice(p, q, s.spin)[2]
	return -s.patch * s.radius * (leaned + p.Dot(about)*q.Dot(about)/(root*root*root))
}

// turnTwice is the second-order motion of a point r under a rotation, as a
// symmetric form of two rotations: ½·(p×(q×r) + q×(p×r)) =
// ½·(q·(p·r) + p·(q·r)) − r·(p·q).
func turnTwice[T exact.Number](p, q, r exact.Vec[T]) exact.Vec[T] {
	pr, qr, pq := 0.5*p.Dot(r), 0.5*q.Dot(r), p.Dot(q)
	return exact.Vec[T]{q[0]*pr + p[0]*qr - r[0]*pq, q[1]*pr + p[1]*qr - r[1]*pq, q[2]*pr + p[2]*qr - r[2]*pq}
}
