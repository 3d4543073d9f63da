package cases

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Event is a hard load on the axle at full size: forces on the wheels, and pads
// that have moved.
type Event struct {
	Case             // Pads, Wheels, Outer; Per is TheLoad
	Raise [2]float64 // mm of each level pad above its design height
}

// The sizes of the built-in events: common practice, no source.
const (
	kerbForce    = 20e3 // N
	potholeForce = 15e3 // N
	potholeRise  = 60   // mm
)

// Events lists the built-in events. Kerb strike: the outer tyre slides sideways
// against a kerb. Pothole: the outer wheel meets the far edge of a hole, pushed
// rearward at its centre and up into bump.
func Events() []Event {
	outer := func(force exact.Vec[float64], at Application) [2]WheelLoad {
		return [2]WheelLoad{RightWheel: {Force: force, At: at}}
	}
	return []Event{
		{Case: Case{Name: "kerb_strike", Title: "kerb strike, 20 kN inward at the outer contact point", Pads: Level,
			Wheels: outer(exact.Vec[float64]{0, kerbForce, 0}, AtPatch), Outer: RightWheel, Per: TheLoad}},
		{Case: Case{Name: "pothole", Title: "pothole, 15 kN rearward at the outer wheel centre, 60 mm up", Pads: Level,
			Wheels: outer(exact.Vec[float64]{-potholeForce, 0, 0}, AtCentre), Outer: RightWheel, Per: TheLoad},
			Raise: [2]float64{RightWheel: potholeRise}},
	}
}

// StatesAtSize lists the states that are run at full size beside those of the
// study: cornering up to the limit, and braking while cornering.
func StatesAtSize() []State {
	const g = quantity.StandardGravity
	return []State{
		{"state_cornering_03", "cornering at 0.3 g", 0.3 * g, 0},
		{"state_cornering_06", "cornering at 0.6 g", 0.6 * g, 0},
		{"state_cornering_09", "cornering at 0.9 g", 0.9 * g, 0},
		{"state_braking_in_corner", "cornering at 0.6 g while braking at 0.4 g", 0.6 * g, 0.4 * g},
	}
}

// imposed is one thing to put on the axle at a share of its full size.
type imposed struct {
	Case
	state   *State // nil for a case
	vehicle *Vehicle
	raise   [2]float64
	size    float64 // what the share 1 stands for, inside
	symbol  Quantity
}

// demandAt is a case or event at a share of its size.
func (f *FullSize) demandAt(i *imposed, share float64) compliance.Demand {
	var d compliance.Demand
	for w, on := range i.Wheels {
		i.put(&on, share, &d.Wheels[w])
	}
	if i.Pads == Level {
		f.holdPads(&d, share*i.raise[LeftWheel], share*i.raise[RightWheel])
	}
	return d
}

// put puts a share of a load on a wheel.
func (c *Case) put(load *WheelLoad, share float64, on *compliance.WheelForce) {
	on.Moment = share * load.Moment
	for k, f := range load.Force {
		switch {
		case load.At == AtCentre:
			on.AtCentre[k] = share * f
		case c.Brake.at(patchX+direction(k)) >= lockedX:
			on.Locked[k] = share * f
		default:
			on.AtPatch[k] = share * f
		}
	}
}
