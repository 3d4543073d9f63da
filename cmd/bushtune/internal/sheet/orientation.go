package sheet

import (
	"fmt"
	"math"

	"bushtune/bushing"
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

type vec = exact.Vec[float64]

// waysOf are the words for + and − along x, y and z on one side.
func waysOf(side compliance.Side) [3][2]string {
	ways := [3][2]string{{"forward", "rearward"}, {"outboard", "inboard"}, {"up", "down"}}
	if side == compliance.Centre {
		ways[1] = [2]string{"to the left", "to the right"}
	}
	return ways
}

// way is the word for a component along one axis.
func way(side compliance.Side, axis int, component float64) string {
	words := waysOf(side)[axis]
	if component < 0 {
		return words[1]
	}
	return words[0]
}

// straight is the angle in deg below which a direction is not said to be turned.
const straight = 0.05

// mainAxis is the vehicle axis along which most of a direction lies.
func mainAxis(v vec) int {
	main := 0
	for i := range v {
		if math.Abs(v[i]) > math.Abs(v[main])+1e-9 {
			main = i
		}
	}
	return main
}

// pointing says where a unit vector points: the nearest vehicle axis, then how far
// it is turned from it, in plan view and out of the plan for a level direction, in
// side view and out of it for an upright one. v is left-hand.
func pointing(v vec, side compliance.Side) string {
	main := mainAxis(v)
	first, second, verb := 1, 2, "turned"
	switch main {
	case 1:
		first = 0
	case 2:
		first, second, verb = 0, 1, "leaning"
	}
	in := quantity.Degree.Written(math.Atan2(math.Abs(v[first]), math.Abs(v[main])))
	out := quantity.Degree.Written(math.Asin(min(1, math.Abs(v[second]))))
	text := way(side, main, v[main])
	if in >= straight {
		text += fmt.Sprintf(", %s %.1f deg %s", verb, in, way(side, first, v[first]))
		if verb == "turned" {
			text += " in plan view"
		}
	}
	if out >= straight {
		text += fmt.Sprintf(", %.1f deg %s", out, way(side, second, v[second]))
	}
	return text
}

// mirrored is the direction on the right side.
func mirrored(v vec) vec { return vec{v[0], -v[1], v[2]} }

// components writes a vector in vehicle axes.
func components(v vec) string {
	return fmt.Sprintf("(%s, %s, %s)", fixed(v[0], 3), fixed(v[1], 3), fixed(v[2], 3))
}

// clockAngle is the angle in deg, clockwise, from up to a radial direction, seen
// from the + end of the bush axis by someone who looks along the axis; from forward
// where the axis stands upright.
func clockAngle(axis, radial vec) float64 {
	up := vec{0, 0, 1}
	if mainAxis(axis) == 2 {
		up = vec{1, 0, 0}
	}
	up = up.Sub(axis.Scale(up.Dot(axis))).Unit()
	right := axis.Scale(-1).Cross(up)
	angle := quantity.Degree.Written(math.Atan2(radial.Dot(right), radial.Dot(up)))
	if angle = math.Round(10*angle) / 10; angle < 0 {
		angle += 360
	}
	return angle
}

// clockFrom is the direction from which clock angles count.
func clockFrom(axis vec) string {
	if mainAxis(axis) == 2 {
		return "forward"
	}
	return "up"
}

// end names the end of the bush at which its axis points out.
func end(axis vec, side compliance.Side) string {
	switch word := way(side, mainAxis(axis), axis[mainAxis(axis)]); word {
	case "forward":
		return "front end"
	case "rearward":
		return "rear end"
	case "up":
		return "top end"
	case "down":
		return "bottom end"
	case "to the left":
		return "left end"
	case "to the right":
		return "right end"
	default:
		return word + " end"
	}
}

// axes are the sleeve and the elastic frame of the bush, left-hand.
func (s *Sheet) axes() (sleeve, elastic bushing.Frame[float64]) {
	return s.bush.Axes(s.first.Choice.Base)
}

// sleeves names the bodies of the inner and the outer sleeve.
func (s *Sheet) sleeves() (inner, outer string) {
	bodies := s.axle.Study.Solver().Axle().Bodies
	name := func(body int) string {
		if body == compliance.Vehicle {
			return "the vehicle"
		}
		return "the " + bodies[body].Name
	}
	if s.first.Choice.OuterIsFrom {
		return name(s.first.To), name(s.first.From)
	}
	return name(s.first.From), name(s.first.To)
}

// oneForBothSides tells whether the mirror image of the bush is the bush itself,
// turned. It is if a point through which everything is turned inside out, or a
// plane that mirrors everything, leaves the bush as it is: either changes left into
// right. The point turns every direction round and leaves rotations; the plane
// turns the direction across it round, and the rotations about the two in it.
func (s *Sheet) oneForBothSides() bool {
	if s.bothWaysAlike(bushing.Soft) && s.bothWaysAlike(bushing.Axial) && s.bothWaysAlike(bushing.Stiff) {
		return true
	}
	sleeve, elastic := s.axes()
	for across := range sleeve {
		if s.mirrorsAcross(sleeve, elastic, across) {
			return true
		}
	}
	return false
}

func (s *Sheet) mirrorsAcross(sleeve, elastic bushing.Frame[float64], across int) bool {
	const rounding = 1e-9
	for i, e := range elastic {
		image := e.Sub(sleeve[across].Scale(2 * e.Dot(sleeve[across])))
		stays := image.Sub(e).Norm() < rounding
		turns := image.Add(e).Norm() < rounding
		if !stays && !turns || turns && !s.bothWaysAlike(bushing.Direction(i)) {
			return false
		}
	}
	for i := range sleeve {
		if i != across && !s.bothWaysAlike(bushing.ConeSoft+bushing.Direction(i)) {
			return false
		}
	}
	return true
}

// bothWaysAlike tells whether a law is the same towards + and −.
func (s *Sheet) bothWaysAlike(d bushing.Direction) bool {
	law, far := &s.laws[d], max(-s.reach[d][0], s.reach[d][1])
	const points = 32
	for i := 1; i <= points; i++ {
		e := 2 * far * float64(i) / points
		if plus, minus := law.Load(e), -law.Load(-e); math.Abs(plus-minus) > 1e-9*math.Abs(plus) {
			return false
		}
	}
	return true
}
