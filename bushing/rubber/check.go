package rubber

import (
	"errors"
	"fmt"
	"math"

	"bushtune/bushing"
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// SlotError is what is wrong with one slot, and what is allowed.
type SlotError = bushing.SlotError

// thinnestWall is the least wall of rubber that is moulded, mm: common practice,
// no source.
const thinnestWall = 1

// Check tells what of a bush is impossible, or outside the range of a formula that
// it needs: joined SlotErrors. Ranges are looked at once the shape is possible.
func (b *Bush[T]) Check(c Choice) error {
	v := b.values()
	shape := errors.Join(checkCompound(&v, c), checkRings(&v), checkVoids(&v, c), checkStops(&v))
	if shape != nil {
		return shape
	}
	return checkRanges(&v, c)
}

// values is the bush without derivatives.
func (b *Bush[T]) values() Bush[float64] {
	real := exact.Real[T]
	return Bush[float64]{
		Inner: real(b.Inner), Outer: real(b.Outer), Length: real(b.Length), Hardness: real(b.Hardness),
		VoidArc: real(b.VoidArc), VoidDepth: real(b.VoidDepth), VoidRadius: real(b.VoidRadius),
		SleeveDiameter: real(b.SleeveDiameter), SleeveWall: real(b.SleeveWall),
		StopGap: real(b.StopGap), StopDiameter: real(b.StopDiameter), StopThick: real(b.StopThick),
		ShearModulus: real(b.ShearModulus), BulkModulus: real(b.BulkModulus), RangeShare: real(b.RangeShare),
		TemperatureFactor: real(b.TemperatureFactor), AgeingFactor: real(b.AgeingFactor),
	}
}

func wrong(slot, format string, values ...any) error {
	return &SlotError{Slot: slot, Reason: fmt.Sprintf(format, values...)}
}

// checkCompound looks at what the moduli come from.
func checkCompound(b *Bush[float64], c Choice) error {
	if err := checkHardness(c, b.Hardness); err != nil {
		return wrong("hardness", "is outside its table: %v", err)
	}
	if c.Compound == Given && b.ShearModulus <= 0 {
		return wrong("shear_modulus", "must be given, above 0 MPa, where compound is \"given\"")
	}
	return nil
}

// checkRings wants walls that can be moulded, on both sides of every sleeve.
func checkRings(b *Bush[float64]) error {
	least := b.Inner + b.SleeveWall + 2*thinnestWall // of the sleeve's mean diameter
	most := b.Outer - b.SleeveWall - 2*thinnestWall
	if err := checkFlatRing("outer_diameter", b.Outer, b.Inner); err != nil {
		return err
	}
	switch {
	case b.SleeveDiameter == 0 && b.SleeveWall != 0:
		return wrong("sleeve_wall", "needs sleeve_diameter")
	case b.SleeveDiameter != 0 && b.SleeveWall == 0:
		return wrong("sleeve_diameter", "needs sleeve_wall")
	case b.SleeveDiameter != 0 && most < least:
		return wrong("sleeve_wall", "must be at most %.4g mm, so that %d mm of rubber are left on both sides", max(0, (b.Outer-b.Inner)/2-2*thinnestWall), thinnestWall)
	case b.SleeveDiameter != 0 && (b.SleeveDiameter < least || b.SleeveDiameter > most):
		return wrong("sleeve_diameter", "must be from %.4g to %.4g mm, so that %d mm of rubber are left on both sides", least, most, thinnestWall)
	}
	return nil
}

// checkVoids wants arc and depth together, and a bond.
func checkVoids(b *Bush[float64], c Choice) error {
	switch {
	case b.VoidArc != 0 && b.VoidDepth == 0:
		return wrong("void_arc", "needs void_depth")
	case b.VoidArc == 0 && b.VoidDepth != 0:
		return wrong("void_depth", "needs void_arc")
	case b.VoidArc == 0 && b.VoidRadius != 0:
		return wrong("void_radius", "needs void_arc and void_depth")
	case c.Free && b.VoidArc != 0:
		return wrong("void_arc", "needs rubber that is bonded: a free ring with voids has no known rate")
	case c.Free && b.SleeveDiameter != 0:
		return wrong("sleeve_diameter", "needs rubber that is bonded: nothing holds a sleeve in a free ring")
	}
	return nil
}

// checkStops wants every dimension of the collars, in the range of a flat ring.
func checkStops(b *Bush[float64]) error {
	if b.StopThick == 0 {
		var errs []error
		if b.StopDiameter != 0 {
			errs = append(errs, wrong("stop_diameter", "needs stop_thickness"))
		}
		if b.StopGap != 0 {
			errs = append(errs, wrong("stop_gap", "needs stop_thickness and stop_diameter"))
		}
		return errors.Join(errs...)
	}
	if err := checkFlatRing("stop_diameter", b.StopDiameter, b.Inner); err != nil {
		return err
	}
	collar := b.collar()
	return checkShape(&collar, "stop_thickness")
}

// checkRanges looks at each ring of rubber; the one with the voids has a range of
// its own.
func checkRanges(b *Bush[float64], c Choice) error {
	m := b.Moduli(c)
	limits := &PlainRange
	if b.VoidArc != 0 {
		limits = &VoidRange
	}
	if !b.sleeved() {
		ring := b.outerRing(&m)
		return errors.Join(checkRing(b, &ring, limits, "inner_diameter"), checkVoidRange(b, &ring), checkBulk(b, c, limits))
	}
	outer, inner := b.outerRing(&m), b.innerRing(&m)
	return errors.Join(checkRing(b, &outer, limits, "sleeve_diameter"), checkVoidRange(b, &outer),
		checkRing(b, &inner, &PlainRange, "sleeve_diameter"), checkBulk(b, c, limits))
}

// checkRing holds a ring against the range of radii and length that its rates
// were fitted in; slot is the diameter to change.
func checkRing(b *Bush[float64], ring *Cylinder[float64], limits *[5][2]float64, slot string) error {
	var errs []error
	if share := ring.Inside / ring.Outside; outside(share, limits[0]) {
		errs = append(errs, wrong(slot, "makes a ring of rubber whose inside is %.4g of its outside; the formulas hold from %.4g to %.4g, here %.4g to %.4g mm inside %.4g mm",
			share, limits[0][0], limits[0][1], limits[0][0]*2*ring.Outside, limits[0][1]*2*ring.Outside, 2*ring.Outside))
	}
	if walls := b.Length / ring.wall(); outside(walls, limits[1]) {
		errs = append(errs, wrong("length", "must be from %.4g to %.4g mm, %.4g to %.4g times the wall of %.4g mm, where the formulas hold",
			limits[1][0]*ring.wall(), limits[1][1]*ring.wall(), limits[1][0], limits[1][1], ring.wall()))
	}
	return errors.Join(errs...)
}

// checkVoidRange holds the voids against the range that they were fitted in.
func checkVoidRange(b *Bush[float64], ring *Cylinder[float64]) error {
	if b.VoidArc == 0 {
		return nil
	}
	var errs []error
	arc, share := VoidRange[2], VoidRange[3]
	if outside(b.VoidArc/quantity.Degree.Factor, arc) {
		errs = append(errs, wrong("void_arc", "must be from %.4g to %.4g deg, where the formulas hold", arc[0], arc[1]))
	}
	if wall := ring.wall(); outside(b.VoidDepth/wall, share) {
		errs = append(errs, wrong("void_depth", "must be from %.4g to %.4g mm, %.4g to %.4g of the wall of %.4g mm, where the formulas hold",
			share[0]*wall, share[1]*wall, share[0], share[1], wall))
	}
	if full := ring.FullRound(b.VoidArc, b.VoidDepth); b.VoidRadius > full*(1+rangeRounding) {
		why := "half of void_depth"
		if full < b.VoidDepth/2*(1-rangeRounding) {
			why = "as round as a void of that void_arc can be"
		}
		errs = append(errs, wrong("void_radius", "must be at most %.4g mm, %s; absent it is as round as fits", full, why))
	}
	return errors.Join(errs...)
}

// checkBulk wants rubber that is nearly incompressible, more so than a limit; in a
// free ring no pressure builds up that would ask for it.
func checkBulk(b *Bush[float64], c Choice, limits *[5][2]float64) error {
	m, own, least := b.Moduli(c), b.compound(c), limits[4][0]
	if c.Free || m.Bulk >= least*m.G {
		return nil
	}
	slot := "hardness"
	switch {
	case own.Bulk >= least*own.G && b.AgeingFactor > b.TemperatureFactor:
		slot = "ageing_factor"
	case own.Bulk >= least*own.G:
		slot = "temperature_factor"
	case c.Compound == Given:
		slot = "bulk_modulus"
	}
	return wrong(slot, "gives a bulk modulus of %.3g times the shear modulus; the formulas hold from %.3g", m.Bulk/m.G, least)
}

// rangeRounding keeps a ratio of dimensions that is meant to lie on a limit inside.
const rangeRounding = 1e-9

func outside(x float64, limits [2]float64) bool {
	return math.IsNaN(x) || x < limits[0]*(1-rangeRounding) || x > limits[1]*(1+rangeRounding)
}
