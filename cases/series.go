package cases

import "bushtune/bushing/quantity"

// Point is one point of a curve, in the written units of its series.
type Point struct{ X, Value float64 }

// Quantity is what runs along a curve: its name and written unit.
type Quantity struct{ Name, Unit string }

// Series is one curve: a number at every point of a travel or of a sweep. A point
// at which the number does not exist is left out.
type Series struct {
	Number  string // "wheel_rate"
	Title   string // "wheel rate"
	Case    string // the case, state or motion in which the number is read: "roll", "state_cornering"
	Where   string // "left", "right", "patch", "body", an element; "" if there is one place only
	Pads    string // "level", "floating"; of the case that the number is read in
	X       Quantity
	Unit    string
	Signs   quantity.Signs
	Step    float64 // just-noticeable step in Unit
	Formula string  // the definition
	Limit   float64 // largest value allowed, in Unit; 0: none given
	Points  []Point
}

// Mode is how the pads move in a travel.
type Mode int

// The modes. RollBody: pads equal and opposite, body fixed. RollLoad: the same
// roll angle at constant axle load, both pads together finding the height at
// which their forces sum to that at rest. Single: the outer wheel alone, the
// other pad stays at its design height.
const (
	Heave Mode = iota
	RollBody
	RollLoad
	Single
)

// ModeNames are the words for the modes, in order.
var ModeNames = []string{"heave", "roll", "roll_constant_load", "single"}

// String is the word for the mode.
func (m Mode) String() string { return ModeNames[m] }

// Travel asks for points evenly spread over a travel of the pads. In roll it is
// the height of the outer pad over the mean of both.
type Travel struct {
	Mode      Mode
	From, To  float64 // mm, + bump of the outer wheel
	Points    int     // at least 2
	TurnRight bool    // the outer wheel is the left one; only for an axle whose halves differ
}

// Travelled is the answer to a Travel.
type Travelled struct {
	Series      []Series
	Warnings    []string
	Evaluations int // residuals with tangents that it took
}

// Sweep scales a case or a state from nothing to a load, points evenly spread.
type Sweep struct {
	Case   string  // name of a case or state of the study, or of an event
	To     float64 // largest force of the case on a wheel in N; moment in N·mm if it has no force; acceleration of a state in mm/s²; 0: as large as the case itself
	Points int     // at least 2, the unloaded one included
}

// Swept is the answer to a Sweep: the readings of both wheels under the load, and
// secant and tangent of every number of the case. At no load the secant is the
// tangent.
type Swept struct {
	Totals, Secants, Tangents []Series
	RunsOut                   []RunOut
	Warnings                  []string
	Evaluations               int
}

// RunOut is a load at which something that held at small loads no longer does.
type RunOut struct {
	What    string  // ToeTurns, GapReached, RateDoubled or StopTouches
	X       float64 // load in the unit of the sweep, found to a tenth of a newton; 0: at rest already
	Element string  // the bush or stop: "bush.pivot.left"; where toe turns the bush that has stiffened most, "" if none has
	Line    string  // direction of the bush: "soft"
	Stiffer float64 // where toe turns or a rate has doubled: the rate there over that at the design position
}

// Sized is one number of a case at full size.
type Sized struct {
	Total   Figure // under the load, against the design position; of plain readings only
	Secant  Figure // the number of the whole movement; no Number if it needs two cases
	Tangent Figure // the number of a small movement more, at the load
}
