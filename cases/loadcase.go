// Package cases loads an axle as a test rig and a car do, and reads from it the
// numbers by which an engineer judges it: toe, camber, compliance, roll and
// brake behaviour, each with one definition, and the part of every rate of
// every element in it.
//
// Inside: mm, N, rad, t, s; ISO 8855 axes, x forward, y left, z up. The body is
// fixed. Built-in cases turn left, so the lateral force is +y and the outer
// wheel is the right one. An axle whose halves differ is also run the other way:
// every built-in case then has a mirror image named with the suffix TurnRight.
package cases

import (
	"fmt"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Pads says what holds the wheels' contact points in the vertical.
type Pads int

// The pads. Level: the height of each contact point is held, through the tyre
// rate if the vehicle asks for it. Floating: its vertical force is held.
const (
	Level Pads = iota
	Floating
)

// PadNames are the words for the pads in files, headings and records, in order.
var PadNames = []string{"level", "floating"}

// String is the word for the pads.
func (p Pads) String() string { return PadNames[p] }

// Application says where on the wheel a load acts.
type Application int

// The points. AtPatch: at the contact centre, with the moment that the brake passes
// on. AtCentre: at the wheel centre.
const (
	AtPatch Application = iota
	AtCentre
)

// ApplicationNames are the words for the points in files, in order.
var ApplicationNames = []string{"patch", "centre"}

// Brake says what a horizontal force at the contact centre finds there, and whose
// horizontal movement is read.
type Brake int

// The brakes. BrakeOff: the wheel is free to roll; the force leaves no moment about
// the spin axis, and what is read is the path of the contact centre. BrakeLocked:
// as on a rig with a locked outboard brake; the force passes its full moment to the
// carrier, and what is read is the carrier's own point. BrakeOn: as in a braking
// car; fore and aft as locked, sideways as free. The vertical is that of the contact
// centre in all of them.
const (
	BrakeOff Brake = iota
	BrakeLocked
	BrakeOn
)

// BrakeNames are the words for the brakes in files and records, in order.
var BrakeNames = []string{"off", "locked", "on"}

// String is the word for the brake.
func (b Brake) String() string { return BrakeNames[b] }

// Words say in a heading what the brake does; nothing for a wheel free to roll.
func (b Brake) Words() string { return [...]string{"", "brake locked", "brake on"}[b] }

// at is the direction that stands for one at the contact centre.
func (b Brake) at(d direction) direction {
	switch {
	case d == patchX && b != BrakeOff:
		return lockedX
	case d == patchY && b == BrakeLocked:
		return lockedY
	}
	return d
}

// UsualBrake is the brake of an author's own case that names none: a wheel free to
// roll carries no force along its heading at the contact centre, so where there is
// one along x the brake is locked.
func UsualBrake(left, right WheelLoad) Brake {
	for _, w := range [2]WheelLoad{left, right} {
		if w.At == AtPatch && w.Force[0] != 0 {
			return BrakeLocked
		}
	}
	return BrakeOff
}

// The wheels by number.
const (
	LeftWheel = iota
	RightWheel
)

// WheelNames are the words for the wheels, in order.
var WheelNames = []string{"left", "right"}

// TurnRight is the suffix of the mirror image of a built-in case.
const TurnRight = "_turn_right"

// WheelLoad is the load on one wheel in vehicle axes, for the right wheel too:
// +y is to the left on both.
type WheelLoad struct {
	Force  exact.Vec[float64] // N
	Moment float64            // N·mm, vertical part of a couple without a part about the spin axis, + turns the wheel to the left
	At     Application
}

// Case is a load case. Answers of a case are divided by Per: 1000 N gives
// figures per kN, 1 gives figures under the load itself.
type Case struct {
	Name, Title string
	Pads        Pads
	Brake       Brake
	Wheels      [2]WheelLoad // left, right
	Outer       int          // the wheel outside the turn: LeftWheel or RightWheel
	Per         Per
}

// Per is the load to which the answers of a case refer.
type Per int

// The loads. TheLoad: the figures are those under the case's own load.
const (
	PerKilonewton Per = iota
	Per100NewtonMetre
	TheLoad
)

// size is the load in N or N·mm.
func (p Per) size() float64 { return [...]float64{1e3, 1e5, 1}[p] }

// angle, length and force are the written units of readings.
func (p Per) angle() quantity.Unit {
	return [...]quantity.Unit{quantity.DegreePerKilonewton, quantity.DegreePer100NewtonM, quantity.Degree}[p]
}

func (p Per) length() quantity.Unit {
	return [...]quantity.Unit{quantity.MillimetrePerKilonewton, quantity.MillimetrePer100NewtonM, quantity.Millimetre}[p]
}

func (p Per) force() quantity.Unit {
	return [...]quantity.Unit{quantity.NewtonPerKilonewton, quantity.NewtonPer100NewtonM, quantity.Newton}[p]
}

// WheelLoadFields lists the numbers of one wheel's load in a custom case, in the
// order that NewWheelLoad reads; all are zero when absent.
var WheelLoadFields = append(quantity.Vector("force", quantity.Newton, "force on the wheel in vehicle axes: x forward, y left, z up"),
	quantity.Field{Name: "mz", Unit: quantity.NewtonMetre, Min: -1e6, Max: 1e6, Meaning: "aligning torque: moment about the vertical, without a part about the spin axis, + turns the wheel to the left"})

// NewWheelLoad reads a load from its slots in the order of WheelLoadFields.
func NewWheelLoad(s []float64, at Application) WheelLoad {
	return WheelLoad{Force: exact.Vec[float64]{s[0], s[1], s[2]}, Moment: s[3], At: at}
}

// NewCase makes a custom case. Its outer wheel follows from the lateral force:
// the right one unless the sum points to the right. The error is a vertical load
// at the contact point while level pads hold its height, or no load at all.
func NewCase(name, title string, pads Pads, brake Brake, left, right WheelLoad) (Case, error) {
	c := Case{Name: name, Title: title, Pads: pads, Brake: brake, Wheels: [2]WheelLoad{left, right}, Outer: RightWheel, Per: TheLoad}
	if left.Force[1]+right.Force[1] < 0 {
		c.Outer = LeftWheel
	}
	loaded := false
	for i, w := range c.Wheels {
		if pads == Level && w.Force[2] != 0 {
			return Case{}, fmt.Errorf("case %s: %s wheel: a vertical load on level pads: the pad holds the height and takes the load; use pads = \"floating\"", name, WheelNames[i])
		}
		loaded = loaded || w.Force != exact.Vec[float64]{} || w.Moment != 0
	}
	if !loaded {
		return Case{}, fmt.Errorf("case %s: no wheel carries a load", name)
	}
	return c, nil
}

// The size of the built-in loads.
const (
	unitForce  = 1e3 // N
	unitMoment = 1e5 // N·mm
)

// BuiltIn lists the built-in load cases, turning left.
func BuiltIn() []Case {
	at := func(point Application, x, y, z float64) WheelLoad {
		return WheelLoad{Force: exact.Vec[float64]{x, y, z}, At: point}
	}
	inward, outward := at(AtPatch, 0, unitForce, 0), at(AtPatch, 0, -unitForce, 0)
	brake, strip := at(AtPatch, -unitForce, 0, 0), at(AtCentre, -unitForce, 0, 0)
	drive := at(AtCentre, unitForce, 0, 0)
	up, down := at(AtPatch, 0, 0, unitForce), at(AtPatch, 0, 0, -unitForce)
	torque := WheelLoad{Moment: unitMoment}
	none := WheelLoad{}
	two := func(name, title string, pads Pads, left, right WheelLoad) Case {
		return Case{Name: name, Title: title, Pads: pads, Wheels: [2]WheelLoad{left, right}, Outer: RightWheel}
	}
	list := []Case{
		two("cornering", "cornering, 1 kN inward at both contact points", Level, inward, inward),
		two("cornering_floating", "cornering, 1 kN inward at both contact points, for comparison", Floating, inward, inward),
		two("cornering_opposed", "1 kN outward at both contact points", Level, at(AtPatch, 0, unitForce, 0), outward),
		two("cornering_single", "1 kN inward at the outer contact point", Level, none, inward),
		two("braking", "braking with outboard brakes, 1 kN rearward at both contact points", Level, brake, brake),
		two("braking_single", "braking with outboard brakes, 1 kN rearward at the outer contact point", Level, none, brake),
		two("braking_inboard", "braking with inboard brakes, 1 kN rearward at both wheel centres", Level, strip, strip),
		two("driving", "driving, 1 kN forward at both wheel centres", Level, drive, drive),
		two("impact", "impact, 1 kN rearward at both wheel centres", Level, strip, strip),
		two("impact_single", "impact, 1 kN rearward at the outer wheel centre", Level, none, strip),
		two("aligning", "aligning torque, 100 N·m to the left on both wheels", Level, torque, torque),
		two("heave", "vertical, 1 kN up at both contact points", Floating, up, up),
		two("roll", "roll couple, 1 kN up at the outer and down at the inner contact point", Floating, down, up),
	}
	for i := range list {
		switch list[i].Name {
		case "aligning":
			list[i].Per = Per100NewtonMetre
		case "braking", "braking_single":
			list[i].Brake = BrakeLocked
		}
	}
	return list
}

// mirrored is the case of a turn to the right.
func (c Case) mirrored() Case {
	m := c
	m.Name, m.Title, m.Outer = c.Name+TurnRight, c.Title+", turning right", 1-c.Outer
	for i := range m.Wheels {
		w := c.Wheels[1-i]
		w.Force[1], w.Moment = -w.Force[1], -w.Moment
		m.Wheels[i] = w
	}
	return m
}
