package bushing

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// stopFields are the slots of voids that close.
var stopFields = []quantity.Field{
	positive("soft_gap", quantity.Millimetre, "way of the inner sleeve along the soft radial until the void is closed; absent: no stop"),
	positive("axial_gap", quantity.Millimetre, "way of the inner sleeve along the bush axis until it meets a stop; absent: no stop"),
	positive("stiff_gap", quantity.Millimetre, "way of the inner sleeve along the stiff radial until it meets a stop; absent: no stop"),
	positive("soft_gap_back", quantity.Millimetre, "the same way against the soft radial, lateral base: rearward, if it differs"),
	positive("axial_gap_back", quantity.Millimetre, "the same way against the bush axis, lateral base: inboard, if it differs"),
	positive("stiff_gap_back", quantity.Millimetre, "the same way against the stiff radial, lateral base: downward, if it differs"),
	positive("soft_snubber", quantity.NewtonPerMillimetre, "rate that the closed void adds along the soft radial"),
	positive("axial_snubber", quantity.NewtonPerMillimetre, "rate that the stop adds along the bush axis"),
	positive("stiff_snubber", quantity.NewtonPerMillimetre, "rate that the stop adds along the stiff radial"),
	{Name: "snubber_run", Unit: quantity.Millimetre, Min: 0, Above: true, Max: 1e3, Default: 1,
		Meaning: "way past the gap over which a stop gains its rate; absent: 1 mm"},
}

// Curves are what a bush is given beside its slots.
type Curves struct {
	Tables     [6]*Table // in the order of Direction, inner against outer sleeve; nil: rate, gap and snubber
	Elliptical bool      // the void closes along an ellipse: soft and stiff are coupled
}

// Laws returns the law of each direction, inner against outer sleeve, in the
// order of Direction. curves may be nil.
func (b *Bush[T]) Laws(curves *Curves) [6]Law[T] {
	var laws [6]Law[T]
	for d, rate := range b.Rates() {
		laws[d] = Law[T]{Rate: rate}
	}
	for d, rate := range [3]T{b.Soft, b.Axial, b.Stiff} {
		if !b.stops(d) {
			continue
		}
		laws[d] = Law[T]{Rate: rate, GapPlus: b.Gap[d], GapMinus: b.GapBack[d], Snubber: b.Snubber[d], Run: b.SnubberRun, Bracket: b.Bracket}
		if exact.Real(b.GapBack[d]) == 0 {
			laws[d].GapMinus = b.Gap[d]
		}
	}
	if curves == nil {
		return laws
	}
	for d, table := range curves.Tables {
		if table == nil {
			continue
		}
		laws[d] = Law[T]{Rate: exact.Lift[T](table.Rate()), Table: table}
		if d < 3 {
			laws[d].Bracket = b.Bracket
		}
	}
	return laws
}

// Curved tells whether some law is not linear.
func (b *Bush[T]) Curved(curves *Curves) bool {
	for d := range b.Gap {
		if b.stops(d) {
			return true
		}
	}
	return curves != nil && *curves != Curves{}
}

// stops tells whether a stop acts along direction d.
func (b *Bush[T]) stops(d int) bool {
	return exact.Real(b.Snubber[d]) != 0 && (exact.Real(b.Gap[d]) != 0 || exact.Real(b.GapBack[d]) != 0)
}

// Radial returns the coupling of soft and stiff, which couples nothing unless
// the curves say so.
func (b *Bush[T]) Radial(curves *Curves) Radial[T] {
	if curves == nil || !curves.Elliptical {
		return Radial[T]{}
	}
	return Radial[T]{
		Soft: b.Soft, Stiff: b.Stiff, GapSoft: b.Gap[0], GapStiff: b.Gap[2],
		SnubberSoft: b.Snubber[0], SnubberStiff: b.Snubber[2], Run: b.SnubberRun, Bracket: b.Bracket,
	}
}

// SlotError is what is wrong with one slot, or with the curve beside it.
type SlotError struct{ Slot, Reason string }

func (e *SlotError) Error() string { return e.Slot + " " + e.Reason }

// CheckCurves tells which curve contradicts the slots.
func (b *Bush[T]) CheckCurves(curves *Curves) error {
	if curves == nil {
		return nil
	}
	own := b.rubberRates()
	for d, table := range curves.Tables {
		name := DirectionNames[d]
		switch {
		case table == nil:
		case exact.Real(own[d]) != 0:
			return &SlotError{name + "_curve", "gives the rate that " + name + " gives too; leave one out"}
		case d < 3 && (exact.Real(b.Gap[d]) != 0 || exact.Real(b.GapBack[d]) != 0):
			return &SlotError{name + "_curve", "shows itself where the void closes; leave " + name + "_gap out"}
		}
	}
	if !curves.Elliptical {
		return nil
	}
	for _, d := range [2]Direction{Soft, Stiff} {
		switch name := DirectionNames[d]; {
		case exact.Real(b.Gap[d]) == 0 || exact.Real(b.Snubber[d]) == 0:
			return &SlotError{"radial", "as an ellipse needs " + name + "_gap and " + name + "_snubber"}
		case exact.Real(b.GapBack[d]) != 0:
			return &SlotError{name + "_gap_back", "does not fit an elliptical radial, whose gap is the same both ways"}
		}
	}
	return nil
}

// CheckStops names a gap without its snubber, or a snubber without its gap.
func (b *Bush[T]) CheckStops() error {
	for d, snubber := range b.Snubber {
		name := DirectionNames[d]
		gap := exact.Real(b.Gap[d]) != 0 || exact.Real(b.GapBack[d]) != 0
		switch {
		case gap && exact.Real(snubber) == 0:
			return &SlotError{name + "_gap", "needs " + name + "_snubber, the rate once the void is closed"}
		case !gap && exact.Real(snubber) != 0:
			return &SlotError{name + "_snubber", "needs " + name + "_gap, the way until it acts"}
		}
	}
	return nil
}

// CheckDynamic names a dynamic value without its frequency, or a frequency at
// which nothing is said.
func (b *Bush[T]) CheckDynamic() error {
	at := exact.Real(b.DynamicFrequency) != 0
	switch {
	case exact.Real(b.DynamicRatio) != 0 && !at:
		return &SlotError{"dynamic_ratio", "needs dynamic_frequency, at which it holds"}
	case exact.Real(b.LossFactor) != 0 && !at:
		return &SlotError{"loss_factor", "needs dynamic_frequency, at which it holds"}
	case at && exact.Real(b.DynamicRatio) == 0 && exact.Real(b.LossFactor) == 0:
		return &SlotError{"dynamic_frequency", "needs dynamic_ratio or loss_factor, which hold at it"}
	}
	return nil
}
