package cases

import (
	"math"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// axisOfWheel is the instant screw axis of the body that carries a wheel: it
// turns about the axis and slides along it (Chasles).
type axisOfWheel struct {
	point     exact.Vec[float64] // on the axis, nearest to the wheel centre, mm, vehicle axes
	direction exact.Vec[float64] // unit, pointing outboard
	pitch     float64            // slide per turn, mm/rad
}

// leastTurn is the turn of a wheel's body per travel in rad/mm below which it
// slides: an axis further than 1 km away.
const leastTurn = 1e-6

// screwOf finds the axis from the motion of the body at the wheel centre.
func screwOf(twist *exact.Wrench[float64], centre exact.Vec[float64], outboard float64) axisOfWheel {
	slide, turn := exact.Vec[float64]{twist[0], twist[1], twist[2]}, exact.Vec[float64]{twist[3], twist[4], twist[5]}
	size := turn.Norm()
	a := axisOfWheel{point: centre.Add(turn.Cross(slide).Scale(1 / (size * size))), pitch: turn.Dot(slide) / (size * size)}
	a.direction = turn.Scale(1 / size)
	if a.direction[1]*outboard < 0 {
		a.direction = a.direction.Scale(-1)
	}
	return a
}

// across is where the axis crosses the plane of a y; false if it runs along it.
func (a *axisOfWheel) across(y float64) (x, z float64, ok bool) {
	if math.Abs(a.direction[1]) < 1e-6 {
		return 0, 0, false
	}
	t := (y - a.point[1]) / a.direction[1]
	return a.point[0] + t*a.direction[0], a.point[2] + t*a.direction[2], true
}

// screwReadings are the series of a screw axis, in order: together the virtual
// semi-trailing arm of a wheel.
var screwReadings = []struct {
	number, title, formula string
	unit                   quantity.Unit
	signs                  quantity.Signs
	step                   float64
}{
	{"screw_plan", "screw axis, angle in plan", "of the instant screw axis of the wheel's carrier to the transverse", quantity.Degree, quantity.Signs{Plus: "outboard end forward", Minus: "outboard end rearward"}, 0.5},
	{"screw_lift", "screw axis, angle to the ground", "of the instant screw axis to the horizontal", quantity.Degree, quantity.Signs{Plus: "outboard end up", Minus: "outboard end down"}, 0.5},
	{"screw_pitch", "screw axis, pitch", "slide along the axis per turn about it, right-handed", millimetrePerRadian, quantity.Signs{}, 5},
	{"screw_wheel_x", "screw axis in the plane of the wheel, x", "x where the axis crosses the longitudinal plane through the wheel centre", quantity.Millimetre, quantity.Signs{Plus: "forward", Minus: "rearward"}, 5},
	{"screw_wheel_z", "screw axis in the plane of the wheel, z", "z where the axis crosses the longitudinal plane through the wheel centre", quantity.Millimetre, quantity.Signs{}, 5},
	{"screw_middle_x", "screw axis in the middle plane, x", "x where the axis crosses y = 0", quantity.Millimetre, quantity.Signs{Plus: "forward", Minus: "rearward"}, 5},
	{"screw_middle_z", "screw axis in the middle plane, z", "z where the axis crosses y = 0", quantity.Millimetre, quantity.Signs{}, 5},
}

// readScrews reads the screw axes of both wheels in a small heave or roll more.
func (f *FullSize) readScrews(index int, caseName string, x float64, c *curves) {
	r := f.tangent(index)
	for w := range f.moved {
		twist := f.mover.Twist(w, &r.increment)
		turn := exact.Vec[float64]{twist[3], twist[4], twist[5]}
		if turn.Norm() < leastTurn*math.Abs(r.wheels[w].along[patchZ]) {
			continue
		}
		centre, outboard := f.centre(w), 1-2*float64(w)
		a := screwOf(&twist, centre, outboard)
		values := [7]float64{math.Atan2(a.direction[0], a.direction[1]*outboard), math.Asin(a.direction[2]), a.pitch}
		ok := [7]bool{true, true, true}
		values[3], values[4], ok[3] = a.across(centre[1])
		values[5], values[6], ok[5] = a.across(0)
		ok[4], ok[6] = ok[3], ok[5]
		for i := range screwReadings {
			if !ok[i] {
				continue
			}
			d := &screwReadings[i]
			s := Series{Number: d.number, Title: d.title, Case: caseName, Where: WheelNames[w], Pads: Floating.String(),
				Unit: d.unit.Name, Signs: d.signs, Step: d.step, Formula: d.formula}
			c.add(&s, x, d.unit.Written(values[i]))
		}
	}
}

// centre is where a wheel centre is, mm, vehicle axes.
func (f *FullSize) centre(w int) exact.Vec[float64] {
	slots := f.study.rig.solver.Axle().Wheels[w].Slots
	at := exact.Vec[float64]{slots[0], slots[1], slots[2]}
	if w == RightWheel {
		at[1] = -at[1]
	}
	moved := &f.moved[w].along
	return at.Add(exact.Vec[float64]{moved[centreX], moved[centreY], moved[centreZ]})
}
