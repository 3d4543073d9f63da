package cases

import (
	"bushtune/bushing/exact"
	"bushtune/compliance"
)

// direction is one way in which a wheel is loaded or read. Its vector is a
// wrench at the wheel centre in vehicle axes: as a load the wrench of a unit
// force or moment, as a reading the numbers whose product with the motion of the
// wheel is the answer. Reading and load of one direction do work on each other.
type direction int

const (
	toe     direction = iota // rad, + toe-in
	camber                   // rad, + top outward
	windUp                   // rad about y, + top forward
	centreX                  // mm or N at the wheel centre, + forward
	centreY                  // + left
	centreZ                  // + up
	yaw                      // rad of the heading, or N·mm of aligning torque, + to the left
	patchX                   // mm or N at the contact centre of a wheel free to roll, + forward
	patchY                   // + left
	patchZ                   // + up, the same with the brake locked
	lockedX                  // mm or N at the contact centre, brake locked, + forward
	lockedY                  // + left
	directions
)

// The loads that are no column of C, in order.
const (
	firstWheelLoad = yaw
	wheelLoads     = directions - firstWheelLoad
)

// wheelVectors are the vectors of all directions of one wheel.
type wheelVectors[T exact.Number] [directions]exact.Wrench[T]

// newWheelVectors reads them from the slots of a wheel.
func newWheelVectors[T exact.Number](slots []T, wheel int) wheelVectors[T] {
	g := compliance.NewWheelGeometry(slots)
	v := wheelVectors[T]{
		toe: g.ToeIn(), camber: g.CamberOut(), windUp: {4: 1},
		centreX: {0: 1}, centreY: {1: 1}, centreZ: {2: 1},
	}
	if wheel == RightWheel {
		v[toe], v[camber] = compliance.Mirror(v[toe]), compliance.Mirror(v[camber])
		g.Spin[1] = -g.Spin[1] // pointing outward
	}
	v[yaw] = g.Aligning()
	for i := range 3 {
		var force exact.Vec[T]
		force[i] = 1
		v[patchX+direction(i)] = g.AtContact(force)
		if i < 2 {
			v[lockedX+direction(i)] = g.AtLocked(force)
		}
	}
	return v
}

// contactOutboard is how far outboard of y = 0 the contact centre lies, in mm.
func contactOutboard[T exact.Number](slots []T) T {
	g := compliance.NewWheelGeometry(slots)
	return g.Centre[1] + g.Contact()[1]
}

// term is a multiple of one wheel's vector.
type term struct {
	wheel     int
	direction direction
	factor    float64
}

// role names a wheel by its place in the turn or on the axle.
type role int

const (
	outerWheel role = iota
	innerWheel
	leftWheel
	rightWheel
)

var roleNames = []string{"outer", "inner", "left", "right"}

// wheel is the number of the wheel that has the role in a case.
func (r role) wheel(c *Case) int {
	switch r {
	case outerWheel:
		return c.Outer
	case innerWheel:
		return 1 - c.Outer
	}
	return int(r - leftWheel)
}

// readingTerm is one direction of one wheel. Inward counts a sideways
// direction toward the inside of the turn, as the lateral force points.
type readingTerm struct {
	wheel     role
	direction direction
	factor    float64
	inward    bool
}

// reading is a sum of wheel readings and of pad forces (N, + more load).
type reading struct {
	terms []readingTerm
	pads  []padTerm
}

type padTerm struct {
	wheel  role
	factor float64
}

// of reads one direction of one wheel.
func of(wheel role, d direction) reading {
	return reading{terms: []readingTerm{{wheel: wheel, direction: d, factor: 1}}}
}

// opposite counts the other way round: rearward instead of forward.
func opposite(wheel role, d direction) reading {
	return reading{terms: []readingTerm{{wheel: wheel, direction: d, factor: -1}}}
}

// inward reads a sideways direction toward the inside of the turn.
func inward(wheel role, d direction) reading {
	return reading{terms: []readingTerm{{wheel: wheel, direction: d, factor: 1, inward: true}}}
}

// both reads one direction of both wheels with a factor each.
func both(d direction, outer, inner float64) reading {
	return reading{terms: []readingTerm{
		{wheel: outerWheel, direction: d, factor: outer}, {wheel: innerWheel, direction: d, factor: inner},
	}}
}

// meanInward reads the mean of both wheels toward the inside of the turn.
func meanInward(d direction) reading {
	return reading{terms: []readingTerm{
		{wheel: outerWheel, direction: d, factor: 0.5, inward: true}, {wheel: innerWheel, direction: d, factor: 0.5, inward: true},
	}}
}

// padForces reads the forces of the pads with a factor each.
func padForces(outer, inner float64) reading {
	return reading{pads: []padTerm{{outerWheel, outer}, {innerWheel, inner}}}
}

// resolve names the wheels of a reading for one case.
func (r *reading) resolve(c *Case) (terms []term, pads [2]float64) {
	for _, t := range r.terms {
		factor := t.factor
		if t.inward && c.Outer == LeftWheel {
			factor = -factor
		}
		terms = append(terms, term{t.wheel.wheel(c), c.Brake.at(t.direction), factor})
	}
	for _, p := range r.pads {
		pads[p.wheel.wheel(c)] += p.factor
	}
	return terms, pads
}
