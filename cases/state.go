package cases

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// State is a steady state of the car: its accelerations put loads on both rear
// wheels, on floating pads, as a change from rest.
type State struct {
	Name, Title string
	Lateral     float64 // mm/s², toward the inside of the turn
	Braking     float64 // mm/s², + slows the car
}

// Straight tells whether the car goes straight ahead.
func (st *State) Straight() bool { return st.Lateral == 0 }

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

// onTheRoad is the case of a state, without its loads.
func (st *State) onTheRoad() Case {
	c := Case{Name: st.Name, Title: st.Title, Pads: Floating, Outer: RightWheel, Per: TheLoad}
	if st.Braking != 0 {
		c.Brake = BrakeOn
	}
	return c
}

// needs lists the vehicle values without which the state cannot be composed.
func (st *State) needs(v *Vehicle) []int {
	needs := []int{slotMass, slotRearShare, slotGravityHeight}
	if st.usesRoll(v) {
		needs = append(needs, slotFrontRollRate, slotFrontRollCentre)
	}
	if st.Braking != 0 {
		needs = append(needs, slotWheelbase, slotRearBrakeShare)
	}
	return needs
}

// usesRoll tells whether the axle's own roll rate and roll centre decide its
// share of the load transfer.
func (st *State) usesRoll(v *Vehicle) bool {
	return st.Lateral != 0 && math.IsNaN(v.RearRollShare)
}

// rollBehaviour is what a state takes from the axle.
type rollBehaviour[T exact.Number] struct {
	travel T // mm/N: height of the outer contact point over the inner in the roll couple
	inward T // mm/N: mean movement of the contact points toward the inside of the turn there
	track  T // mm
}

// tyreForces are the changes of one wheel's load in N and N·mm, on the road.
type tyreForces[T exact.Number] struct {
	forward, inward, up T
	torque              T // about the vertical, + as the lateral force would with its lever ahead
}

// rearRollShare is the share of the lateral load transfer that the rear wheels
// take: as given, or from roll rates K and roll-centre heights h of both axles,
//
//	share = [K_rear/(K_front + K_rear)·(h_cg − h_axis) + rear_share·h_rear]/h_cg,
//
// with h_axis the height of the line between the roll centres at the centre of
// gravity (Milliken & Milliken, Race Car Vehicle Dynamics, 1995, ch. 18; from
// memory). Roll of the body and unsprung masses are not counted.
func rearRollShare[T exact.Number](v *Vehicle, roll rollBehaviour[T]) T {
	if !math.IsNaN(v.RearRollShare) {
		return exact.Lift[T](v.RearRollShare)
	}
	rear, share := roll.track*roll.track/roll.travel, exact.Lift[T](v.RearShare)
	rearCentre := -roll.track * roll.inward / roll.travel
	height, front := exact.Lift[T](v.GravityHeight), exact.Lift[T](v.FrontRollRate)
	axis := exact.Lift[T](v.FrontRollCentre)*(1-share) + rearCentre*share
	return (rear/(front+rear)*(height-axis) + share*rearCentre) / height
}

// RearRollShare is the share of the lateral load transfer that the rear wheels take
// in a turn to the left; NaN if the vehicle does not say enough.
func (s *Study) RearRollShare() float64 { return rearRollShare(&s.vehicle, s.rolling[0]) }

// lateralTransfer is the load in N that a lateral acceleration moves from the
// inner to the outer rear wheel: share·m·a_y·h/track.
func lateralTransfer[T exact.Number](st *State, v *Vehicle, roll rollBehaviour[T]) T {
	if st.Lateral == 0 {
		return 0
	}
	return rearRollShare(v, roll) * exact.Lift[T](v.Mass*st.Lateral*v.GravityHeight) / roll.track
}

// forces composes a state from its lateral transfer: −m·a_x·h over twice the
// wheelbase is taken off both wheels, the rear wheels' lateral force is shared by
// their resulting loads and acts at the trail, the braking force goes by the rear
// brake share.
func forces[T exact.Number](st *State, v *Vehicle, across T) (outer, inner tyreForces[T]) {
	along, brake := 0.0, 0.0
	if st.Braking != 0 {
		along = v.Mass * st.Braking * v.GravityHeight / v.Wheelbase / 2
		brake = -v.Mass * st.Braking * v.RearBrakeShare / 2
	}
	rest := v.WheelLoad()
	perLoad := exact.Lift[T](v.Mass * v.RearShare * st.Lateral / (2 * (rest - along)))
	outer.up, inner.up = across-exact.Lift[T](along), -across-exact.Lift[T](along)
	for _, w := range [2]*tyreForces[T]{&outer, &inner} {
		w.forward = exact.Lift[T](brake)
		w.inward = perLoad * (exact.Lift[T](rest) + w.up)
		w.torque = -exact.Lift[T](v.Trail) * w.inward
	}
	return outer, inner
}

// forceRates are the derivatives of the forces of a state by its lateral transfer.
func forceRates(st *State, v *Vehicle, across float64) (outer, inner tyreForces[float64]) {
	out, in := forces(st, v, exact.Seed(across))
	rates := func(f *tyreForces[complex128]) tyreForces[float64] {
		d := exact.Derivative
		return tyreForces[float64]{d(f.forward), d(f.inward), d(f.up), d(f.torque)}
	}
	return rates(&out), rates(&in)
}

// scaled describes the accelerations of the state times a factor.
func (st *State) scaled(factor float64) string {
	var words []string
	for _, a := range []struct {
		value float64
		word  string
	}{{st.Lateral, "lateral"}, {st.Braking, "braking"}} {
		if a.value != 0 {
			words = append(words, fmt.Sprintf("%.2f g %s", quantity.Gravity.Written(a.value*factor), a.word))
		}
	}
	return strings.Join(words, " and ")
}
