package cases

import "bushtune/bushing/quantity"

// State is a steady state of the car: its accelerations put loads on both rear
// wheels, on floating pads, as a change from rest.
type State struct {
	Name, Title string
	Lateral     float64 // mm/s², the turn is to the left
	Braking     float64 // mm/s², + slows the car
}

// StateFields lists the numbers of a state in the order that NewState reads.
var StateFields = []quantity.Field{
	{Name: "lateral", Unit: quantity.Gravity, Min: 0, Max: 3, Meaning: "lateral acceleration"},
	{Name: "braking", Unit: quantity.Gravity, Min: 0, Max: 3, Meaning: "braking deceleration"},
}

// NewState reads a state from its slots in the order of StateFields.
func NewState(name, title string, s []float64) State {
	return State{Name: name, Title: title, Lateral: s[0], Braking: s[1]}
}

// BuiltInStates lists the built-in states of the vehicle.
func BuiltInStates() []State {
	const g = quantity.StandardGravity
	return []State{
		{"state_cornering", "cornering at 0.4 g", 0.4 * g, 0},
		{"state_braking", "braking at 0.3 g", 0, 0.3 * g},
		{"state_combined", "cornering at 0.3 g while braking at 0.3 g", 0.3 * g, 0.3 * g},
	}
}
