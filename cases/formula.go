package cases

import "bushtune/bushing/exact"

// inputs are what a formula sees: answers of cases per unit of load, the track
// between the contact points in mm, and the vehicle.
type inputs[T exact.Number] struct {
	z       [2]T
	track   T
	vehicle *Vehicle
}

// formula turns answers into a number; the same function gives values and, by
// the complex step, slopes.
type formula struct {
	value func(inputs[float64]) float64
	exact func(inputs[complex128]) complex128
	// whole says why the number is no sum of parts; empty if it is z[0] times a scalar.
	whole string
	plain bool // z[0] itself
}

// Why a number has no additive parts.
const (
	wholeRate     = "a rate is the inverse of a movement; see the parts of the movement"
	wholeReaction = "a pad force does not change when all rates change alike, so it has no parts that add up to it"
	wholeState    = "at its size the state is no sum of what each rate does; the causes of the toe of its outer wheel do sum: bushtune sweep --case "
	wholeGround   = "one of it is the roll of the body; see the parts to the body"
)

var (
	theAnswer     = formula{answer[float64], answer[complex128], "", true}
	theRatio      = formula{ratio[float64], ratio[complex128], "", false}
	perRollAngle  = formula{perRoll[float64], perRoll[complex128], "", false}
	againstRoll   = formula{heightOfRoll[float64], heightOfRoll[complex128], "", false}
	reaction      = formula{answer[float64], answer[complex128], wholeReaction, true}
	toGround      = formula{perRollToGround[float64], perRollToGround[complex128], wholeGround, false}
	slopeOfTrack  = formula{inclinationOfTrack[float64], inclinationOfTrack[complex128], "", false}
	inverse       = formula{inverted[float64], inverted[complex128], wholeRate, false}
	inverseTyre   = formula{invertedWithTyre[float64], invertedWithTyre[complex128], wholeRate, false}
	coupleRate    = formula{rollRate[float64], rollRate[complex128], wholeRate, false}
	leverOfCouple = formula{halfTrack[float64], halfTrack[complex128], wholeReaction, false}
	angleOfForce  = formula{inclination[float64], inclination[complex128], wholeReaction, false}
	shareOfLift   = formula{liftShare[float64], liftShare[complex128], wholeReaction, false}
)

func answer[T exact.Number](in inputs[T]) T { return in.z[0] }

func ratio[T exact.Number](in inputs[T]) T { return in.z[0] / in.z[1] }

// perRoll divides by the roll angle z[1]/track, with z[1] the height of the
// outer contact point over the inner.
func perRoll[T exact.Number](in inputs[T]) T { return in.z[0] * in.track / in.z[1] }

// heightOfRoll is the height of the axis about which the wheels roll: above
// ground, the contact points move outward as the outer one moves up.
func heightOfRoll[T exact.Number](in inputs[T]) T { return -perRoll(in) }

// perRollToGround adds the roll of the body itself.
func perRollToGround[T exact.Number](in inputs[T]) T { return perRoll(in) + 1 }

func inclinationOfTrack[T exact.Number](in inputs[T]) T { return exact.Atan(in.z[0] / in.track) }

func inverted[T exact.Number](in inputs[T]) T { return 1 / in.z[0] }

// invertedWithTyre puts the tyre in series.
func invertedWithTyre[T exact.Number](in inputs[T]) T {
	return 1 / (in.z[0] + 1/exact.Lift[T](in.vehicle.TyreRate))
}

// rollRate is couple over angle: F·track / (z[0]·F/track).
func rollRate[T exact.Number](in inputs[T]) T { return in.track * in.track / in.z[0] }

// halfTrack is the height at which a lateral force has the lever of the couple
// of pad forces: ΔFz·track = 2F·h.
func halfTrack[T exact.Number](in inputs[T]) T { return in.track / 2 * in.z[0] }

func inclination[T exact.Number](in inputs[T]) T { return exact.Atan(in.z[0]) }

// liftShare compares the force that holds the body down with the load that
// braking takes off the rear wheels, F·height/wheelbase with F from all wheels.
func liftShare[T exact.Number](in inputs[T]) T {
	v := in.vehicle
	return in.z[0] * exact.Lift[T](v.RearBrakeShare*v.Wheelbase/v.GravityHeight)
}

// slope is the derivative of a formula by z[k], or by the track if k is byTrack.
func (f *formula) slope(in inputs[complex128], k int) float64 {
	switch {
	case f.plain && k == 0:
		return 1
	case f.plain:
		return 0
	}
	if k == byTrack {
		in.track += complex(0, exact.Step)
	} else {
		in.z[k] += complex(0, exact.Step)
	}
	return exact.Derivative(f.exact(in))
}

const byTrack = -1
