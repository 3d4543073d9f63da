package optimize

import (
	"errors"
	"fmt"
)

// Status says how far a result can be trusted and what it achieved.
type Status int

const (
	// StoppedEarly: no first-order optimum was reached; Reason says why.
	StoppedEarly Status = iota
	// Converged: all limits hold, all targets are met, and the first-order
	// conditions hold at X.
	Converged
	// Compromise: as Converged, but targets were traded against wants to make
	// a number large or small, and at least one is missed.
	Compromise
	// NotReached: limits cannot all be held, or (where nothing is to be made
	// large or small) targets not all be met, from any start tried; X misses
	// them least and small changes do not help to first order. This is no
	// proof that nothing better exists elsewhere in the bounds.
	NotReached
	// AtCorner: as NotReached, and every free parameter sits on a bound that
	// it pushes against with a strictly positive multiplier. That proves X a
	// strict local minimum of what is missed: every small change inside the
	// bounds makes it worse. Only wider bounds, or a different region of the
	// box that no start found, could be better.
	AtCorner
)

// String names the status in words.
func (s Status) String() string {
	switch s {
	case StoppedEarly:
		return "stopped early"
	case Converged:
		return "converged"
	case Compromise:
		return "compromise"
	case NotReached:
		return "not reached"
	case AtCorner:
		return "not reached, every parameter on its bound"
	}
	return fmt.Sprintf("Status(%d)", int(s))
}

// Errors that Status.Err returns.
var (
	ErrStoppedEarly = errors.New("optimize: stopped early")
	ErrNotReached   = errors.New("optimize: not all wants can be met")
)

// Err is nil for Converged and Compromise.
func (s Status) Err() error {
	switch s {
	case Converged, Compromise:
		return nil
	case NotReached, AtCorner:
		return ErrNotReached
	}
	return ErrStoppedEarly
}

// Result is the outcome of Solve. Parameters, numbers and limits are in the
// caller's units; costs are pure numbers as the package comment defines.
type Result struct {
	Status Status
	Reason string // one sentence for the status

	Start  []float64     // parameters before
	X      []float64     // parameters after
	Before State         // at Start
	After  State         // at X
	Wants  []WantOutcome // in the order of Problem.Wants

	// First-order residuals at X: the largest component of the gradient that
	// neither an active limit nor a bound holds back. AimResidual is in cost
	// per range; ViolationResidual, 0 where all limits hold, is that of
	// √violation, in scales per range.
	AimResidual       float64
	ViolationResidual float64

	Prices    Prices
	Limits    []ActiveLimit // limits that hold X back
	Bounds    []ActiveBound // parameters on a bound
	Agreement Agreement
	Warnings  []Warning
	Count     Count
}

// State is what was computed at one point.
type State struct {
	Values    []float64 // all numbers of Evaluate
	Aim       float64
	Violation float64
	Held      bool // every limit holds
}

// WantOutcome is how one want fared.
type WantOutcome struct {
	Before, After float64 // the number
	// Miss is value − target for a target, how far the value falls short for a
	// limit, 0 for MakeLarge and MakeSmall; in the number's unit.
	MissBefore, Miss float64
	Met              bool // miss below MetShare of the scale; for makes: true if improved or unchanged
}

// MetShare is the miss, as a share of a want's scale (its just-noticeable
// step), up to which the want counts as met.
const MetShare = 0.01

// Outcome judges a number before and after, in its own unit.
func (w Want) Outcome(before, after float64) WantOutcome {
	o := WantOutcome{Before: before, After: after}
	o.MissBefore, o.Miss = w.shortfall(before), w.shortfall(after)
	if w.Kind.isMake() {
		o.Met = w.sign()*(after-before) >= 0
		return o
	}
	o.Met = o.Miss <= MetShare*w.Scale && -o.Miss <= MetShare*w.Scale
	if w.Kind.isLimit() {
		o.Met = o.Miss <= holdTolerance*w.Scale
	}
	return o
}

// Prices says whether the prices of limits and bounds are given, and in what.
type Prices struct {
	Given  bool
	Reason string // why not
	// Number is the number in whose unit prices count: that of the only
	// MakeLarge or MakeSmall want where there are no targets. Else it is −1
	// and prices count in cost (the aim).
	Number int
}

// ActiveLimit is a limit that holds with equality at X.
type ActiveLimit struct {
	Want       int     // index into Problem.Wants
	Multiplier float64 // aim per scale of the limit, ≥ 0
	// Price is d(best number)/d(limit value), or d(best aim)/d(limit value),
	// to first order; see Prices. An equality made of two limits carries the
	// price of moving both on the one that pushes.
	Price float64
}

// ActiveBound is a parameter that ended on a bound.
type ActiveBound struct {
	Parameter  int
	Upper      bool    // else the lower bound
	Multiplier float64 // aim per range, ≥ 0; 0: the parameter only happens to lie there
	Price      float64 // as ActiveLimit.Price, per unit of the parameter
}
