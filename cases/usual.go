package cases

import (
	"math"
	"slices"
	"strings"
)

// Cost is what is wanted of a number: less is better.
type Cost func(x float64) float64

// Higher and Lower are the costs of a number that should be large, or small.
func Higher(x float64) float64 { return -x }
func Lower(x float64) float64  { return x }

// usual is what is wanted of a rear axle where its file does not say: common
// practice, no source.
var usual = []struct {
	cost  Cost
	names string
}{
	{Higher, "lateral_force_steer mean_axle_steer total_outer_toe roll_steer"}, // the outer wheel toes in: understeer
	{Higher, "brake_steer"},                                              // toe-in holds the rear straight
	{Higher, "longitudinal_compliance"},                                  // soft over a strip
	{math.Abs, "lateral_force_camber lateral_compliance aligning_steer"}, // a wheel that stands firm in a corner
	{math.Abs, "impact_toe bump_steer"},                                  // the road does not steer
	{math.Abs, "brake_recession brake_wind_up roll_angle"},
}

// UsualCost is what is usually wanted of a number; nil where nothing is usual.
func UsualCost(name string) Cost {
	for _, u := range usual {
		if slices.Contains(strings.Fields(u.names), name) {
			return u.cost
		}
	}
	return nil
}

// TravelCost is what is usually wanted of a curve over the travel of a motion, at
// one place, whose value at the design position is rest; nil where nothing is
// usual. Both wheels together should not steer, the outer wheel in roll should toe
// in and stand upright on the ground, a wheel rate should stay what it is at the
// design position: common practice, no source.
func TravelCost(number string, motion Mode, rest float64) Cost {
	switch {
	case number == "wheel_rate":
		return func(x float64) float64 { return math.Abs(x - rest) }
	case number == "wheel_toe" && motion == Heave:
		return math.Abs
	case number == "wheel_toe":
		return Higher
	case number == "camber_to_ground" && motion != Heave:
		return math.Abs
	}
	return nil
}
