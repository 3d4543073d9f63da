package cases

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// State is a steady state of the car: its accelerations put loads on both rear
// wheels, on floating pads, as a change from rest. Its numbers are those of the
// state at its size, found by large movements.
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

// leaning is how a state stands: its accelerations, and what the car does with
// them.
type leaning[T exact.Number] struct {
	share    T // of the accelerations of the state
	lean     T // rad by which the body leans outward over the ground
	transfer T // N moved from the inner to the outer rear wheel
}

// stance is where the rear contact points are, from the body.
type stance[T exact.Number] struct {
	apart  T // mm that the outer one is higher
	track  T // mm between them along y
	inward T // mm that their middle has moved toward the inside of the turn
	rise   T // mm that it has risen
}

// roll is the roll angle on the suspension in rad: the slope of the line between
// the contact points.
func (s *stance[T]) roll() T { return exact.Atan2(s.apart, s.track) }

// tyreForces are the changes from rest of what acts on one rear wheel, in N and
// N·mm along the axes of the body: the tyre's force at the contact point, its
// torque, and the wheel's own weight at the wheel centre.
type tyreForces[T exact.Number] struct {
	forward, inward, up T
	torque              T // about the vertical, + as the lateral force would with its lever ahead
	weight              struct{ inward, up T }
}

// RearRollShare is the share of the lateral load transfer that the rear wheels take at
// small loads in a turn to the left: as given, or from roll rates K and roll-centre
// heights h of both axles,
//
//	share = [K_rear/(K_front + K_rear)·(h_cg − h_axis) + rear_share·h_rear]/h_cg,
//
// with h_axis the height of the line between the roll centres at the centre of
// gravity (Milliken & Milliken, Race Car Vehicle Dynamics, 1995, ch. 18; from
// memory). What the weight adds as the body leans is not counted. NaN if the vehicle
// does not say enough.
func (s *Study) RearRollShare() float64 {
	v := &s.vehicle
	if !math.IsNaN(v.RearRollShare) {
		return v.RearRollShare
	}
	small := func(number string) float64 {
		index, err := s.Find(number, "roll", "")
		if err != nil {
			return math.NaN()
		}
		return s.Value(index)
	}
	rear, centre := small("roll_rate"), small("roll_centre_kinematic")
	axis := v.FrontRollCentre*(1-v.RearShare) + centre*v.RearShare
	return (rear/(v.FrontRollRate+rear)*(v.GravityHeight-axis) + v.RearShare*centre) / v.GravityHeight
}

// axleLoad is what a state makes of the whole rear axle, in N: the load of both
// wheels on the ground, their lateral force along the ground, the braking force.
// Braking at a_x moves m·a_x·h/wheelbase to the front.
func axleLoad[T exact.Number](st *State, v *Vehicle, share T) (normal, lateral, brake T) {
	normal = exact.Lift[T](2 * v.WheelLoad())
	if st.Braking != 0 {
		normal -= share * exact.Lift[T](v.Mass*st.Braking*v.GravityHeight/v.Wheelbase)
		brake = share * exact.Lift[T](v.Mass*st.Braking*v.RearBrakeShare)
	}
	return normal, share * exact.Lift[T](v.Mass*v.RearShare*st.Lateral), brake
}

// forces are the forces on both wheels. The wheel loads stand upright on the ground
// and the lateral force lies in it, shared by the wheel loads and acting at the
// trail; the ground is the line between the contact points, which the body's axes
// see tilted by the lean, and the weight of the wheels with it. Braking is shared
// alike.
func forces[T exact.Number](st *State, v *Vehicle, at leaning[T]) (outer, inner tyreForces[T]) {
	normal, lateral, brake := axleLoad(st, v, at.share)
	sin, cos := exact.Sincos(at.lean)
	rest, weight := exact.Lift[T](v.WheelLoad()), exact.Lift[T](v.Unsprung*quantity.StandardGravity)
	for i, w := range [2]*tyreForces[T]{&outer, &inner} {
		load := normal/2 + at.transfer
		if i == 1 {
			load = normal/2 - at.transfer
		}
		side := lateral * load / normal
		w.forward = -brake / 2
		w.inward, w.up = side*cos+load*sin, load*cos-side*sin-rest
		w.torque = -exact.Lift[T](v.Trail) * side / cos // about the vertical of the body, none about the wheel's axis
		w.weight.inward, w.weight.up = -weight*sin, weight*(1-cos)
	}
	return outer, inner
}

// unbalance is by how much a state is not yet in balance: the roll angle on the
// suspension less the lean in rad, and the couple of the wheel loads less the
// overturning moment in N·mm. The couple of the rear wheels is transfer·distance of
// the contact points. That of the front wheels follows from the front axle's roll
// rate K and roll-centre height h,
//
//	couple_front = K·lean + h·(lateral force at the front in the body's axes),
//
// as it does at the rear from what the axle itself puts up, so the share of the rear
// wheels is that of roll stiffness and roll centre where the axle stands (for small
// lean Milliken & Milliken, Race Car Vehicle Dynamics, 1995, ch. 18, from memory).
// The overturning moment is that of all wheel forces about the centre of gravity,
// which stays in the body while the contact points move under it: m·a_y·height and
// what the weight adds as the body leans. With rear_roll_share given, the rear
// couple is that share of the moment. Not counted: the inertia of the wheels and the
// deflection of the tyres.
func unbalance[T exact.Number](st *State, v *Vehicle, at leaning[T], s stance[T]) (lean, moment T) {
	normal, lateral, _ := axleLoad(st, v, at.share)
	sin, cos := exact.Sincos(at.lean)
	height := exact.Lift[T](v.GravityHeight)
	overturning := func(load, side, inward, rise T) T {
		return (height-rise)*(side*cos+load*sin) + inward*(load*cos-side*sin)
	}
	rear := at.transfer * exact.Sqrt(s.apart*s.apart+s.track*s.track)
	frontLoad := exact.Lift[T](v.Mass*quantity.StandardGravity) - normal
	frontSide := at.share * exact.Lift[T](v.Mass*(1-v.RearShare)*st.Lateral)
	if !math.IsNaN(v.RearRollShare) {
		moment = overturning(normal+frontLoad, lateral+frontSide, s.inward, s.rise)
		return s.roll() - at.lean, rear - exact.Lift[T](v.RearRollShare)*moment
	}
	centre := exact.Lift[T](v.FrontRollCentre)
	front := exact.Lift[T](v.FrontRollRate)*at.lean + centre*(frontSide*cos+frontLoad*sin)
	moment = overturning(normal, lateral, s.inward, s.rise) + overturning(frontLoad, frontSide, -centre*sin, centre*(1-cos))
	return s.roll() - at.lean, rear + front - moment
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
