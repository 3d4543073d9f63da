package cases

import (
	"math"
	"testing"

	"bushtune/bushing/quantity"
)

// A state is foretold as the axle begins to move: at a thousandth of a g, less what
// bends, the state itself is that far; at its size it is foretold in proportion. Other numbers are what they are.
func TestStatesAreForetoldByTheirBeginning(t *testing.T) {
	vehicle := vehicleWith(t, carValues)
	vehicle.StaticLoad = true
	s := studyOf(t, toeLinkedBeam(t), vehicle)
	f, err := NewFullSize(s)
	if err != nil {
		t.Fatal(err)
	}
	const g, small = quantity.StandardGravity, 1e-3
	goal := func(number, caseName string, size float64) Goal {
		i, err := s.Find(number, caseName, "")
		if err != nil {
			t.Fatal(err)
		}
		return Goal{Number: i, Size: size}
	}
	goals := []Goal{goal("lateral_force_steer", "cornering", 2000), goal("total_outer_toe", "state_cornering", small*g), goal("total_outer_toe", "state_cornering", 0),
		goal("total_outer_toe", "state_combined", small*g), goal("longitudinal_compliance", "impact", 0),
		goal("total_outer_toe", "state_cornering", 2*small*g), goal("total_outer_toe", "state_combined", 2*small*g)}
	told, found := make([]float64, len(goals)), make([]float64, len(goals))
	for range 2 { // whatever was asked before
		if err := f.Foretell(goals, told); err != nil {
			t.Fatal(err)
		}
		if err := f.Goals(goals, found, nil, nil); err != nil {
			t.Fatal(err)
		}
	}
	check(t, "under a load of full size", told[0], found[0], 1e-12*math.Abs(found[0]))
	check(t, "of a compliance", told[4], found[4], 1e-12*math.Abs(found[4]))
	for k, twice := range map[int]int{1: 5, 3: 6} { // what bends with the square of the load taken off
		begins := (4*found[k] - found[twice]) / 2
		check(t, "a thousandth of a g", told[k], begins, 1e-3*math.Abs(begins))
	}
	check(t, "at 0.4 g in proportion", told[2], 0.4/small*told[1], 1e-9*math.Abs(told[2]))
	if math.Abs(told[2]-found[2]) < 0.01*math.Abs(found[2]) {
		t.Error("the state at its size is the one foretold: the check would not notice a mix")
	}
}
