// Package rubber joins what a supplier chooses (compound, diameters, length,
// voids) with what an engineer needs (rates of a bush): materials from their
// hardness, rates from dimensions with the limits they must lie between and
// the error they carry, strains, tolerances, dynamic stiffness.
//
// Every formula that a dimension enters is written once over exact.Number, so
// rates have exact derivatives by dimensions and hardness. Inside: mm, N, rad,
// MPa. Rates are small-strain, quasi-static and of the sleeve axes: soft across
// the voids, axial, stiff along the rubber that the voids leave.
package rubber

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Compound says how the moduli of the rubber are found.
type Compound int

// The compounds.
const (
	Natural      Compound = iota // natural rubber from its hardness
	Polyurethane                 // a range from its hardness; RangeShare says where in it
	Given                        // shear and bulk modulus from the file
)

// CompoundNames are the words for the compounds, in order.
var CompoundNames = []string{"natural", "polyurethane", "given"}

// Choice is what is chosen from a list rather than measured.
type Choice struct {
	Compound Compound
	Free     bool // rubber not bonded: torsion and axial load are friction, not stiffness
}

// Bush is a cylindrical bush between two rigid sleeves, by its dimensions.
type Bush[T exact.Number] struct {
	Inner, Outer, Length             T // mm: diameters of the rubber inside and outside, length along the axis
	Hardness                         T // IRHD or Shore A
	VoidArc                          T // rad: each of the two voids, about the bush axis; 0: none
	VoidDepth                        T // mm: radial way of each void, in the middle of the wall
	VoidRadius                       T // mm: of the corners of the voids; 0: as large as fits, FullRound
	SleeveDiameter, SleeveWall       T // mm: intermediate sleeve, middle diameter and wall; 0: none
	StopGap, StopDiameter, StopThick T // mm: collar at each end, free way, outer diameter, thickness; StopThick 0: none
	ShearModulus, BulkModulus        T // MPa, compound given only
	RangeShare                       T // 0 to 1: where in the range of a polyurethane, soft to stiff
	TemperatureFactor, AgeingFactor  T // on all moduli, as the author says
}

// Fields lists the slots of a rubber bush in the order that New reads.
var Fields = []quantity.Field{
	length("inner_diameter", "diameter of the rubber on the inner sleeve", true),
	length("outer_diameter", "outer diameter of the rubber, inside the outer sleeve: not that of the housing, which is larger by twice the wall of that sleeve", true),
	length("length", "length of the rubber along the bush axis", true),
	{Name: "hardness", Unit: quantity.Hardness, Min: 30, Max: 95, Default: 55, Meaning: "hardness of the compound, IRHD or Shore A; absent: 55"},
	{Name: "void_arc", Unit: quantity.Degree, Min: 0, Max: 170, Meaning: "angle of each of the two kidney voids about the bush axis, middle at the soft radial; absent: no voids"},
	{Name: "void_depth", Unit: quantity.Millimetre, Min: 0, Max: 1e3, Meaning: "radial depth of each void, in the middle of the wall: the way of the rubber until it closes; with an intermediate sleeve the voids lie in the outer ring"},
	{Name: "void_radius", Unit: quantity.Millimetre, Min: 0, Above: true, Max: 1e3, Meaning: "radius of the corners of each void, at most half of its depth; absent: as round as fits, so that the ends of a void are half circles"},
	{Name: "sleeve_diameter", Unit: quantity.Millimetre, Min: 0, Max: 1e3, Meaning: "mean diameter of a rigid intermediate sleeve that splits the rubber in two rings; absent: none"},
	{Name: "sleeve_wall", Unit: quantity.Millimetre, Min: 0, Max: 1e2, Meaning: "wall of the intermediate sleeve"},
	{Name: "stop_gap", Unit: quantity.Millimetre, Min: 0, Max: 1e2, Meaning: "way along the axis until the rubber collar at one end is pressed; absent: the collars touch but are not pressed together, so that one acts at a time"},
	{Name: "stop_diameter", Unit: quantity.Millimetre, Min: 0, Max: 1e3, Meaning: "outer diameter of the collars; their inner diameter is inner_diameter"},
	{Name: "stop_thickness", Unit: quantity.Millimetre, Min: 0, Max: 1e2, Meaning: "thickness of the collar at each end; absent: no end stops"},
	{Name: "shear_modulus", Unit: quantity.Megapascal, Min: 0, Max: 1e3, Meaning: "small-strain shear modulus of a compound that is given"},
	{Name: "bulk_modulus", Unit: quantity.Megapascal, Min: 0, Max: 1e5, Meaning: "bulk modulus of a compound that is given; absent: as natural rubber of the same shear modulus"},
	{Name: "range_share", Unit: quantity.None, Min: 0, Max: 1, Meaning: "where a polyurethane lies in the range of its hardness, 0 soft end to 1 stiff end"},
	{Name: "temperature_factor", Unit: quantity.None, Min: 0.1, Max: 10, Default: 1, Meaning: "factor on the moduli for temperature, as its author knows it; absent: 1"},
	{Name: "ageing_factor", Unit: quantity.None, Min: 0.1, Max: 10, Default: 1, Meaning: "factor on the moduli for ageing, as its author knows it; absent: 1"},
}

func length(name, meaning string, required bool) quantity.Field {
	return quantity.Field{Name: name, Unit: quantity.Millimetre, Min: 0, Above: true, Max: 1e3, Required: required, Meaning: meaning}
}

// New reads a bush from its slots in the order of Fields, in internal units.
func New[T exact.Number](s []T) Bush[T] {
	return Bush[T]{
		Inner: s[0], Outer: s[1], Length: s[2], Hardness: s[3], VoidArc: s[4], VoidDepth: s[5], VoidRadius: s[6],
		SleeveDiameter: s[7], SleeveWall: s[8], StopGap: s[9], StopDiameter: s[10], StopThick: s[11],
		ShearModulus: s[12], BulkModulus: s[13], RangeShare: s[14], TemperatureFactor: s[15], AgeingFactor: s[16],
	}
}

// Rates are the small-strain rates of a bush, the free ways of its voids and end
// stops, and what these add once they are closed.
type Rates[T exact.Number] struct {
	Soft, Axial, Stiff           T // N/mm
	ConeSoft, Torsion, ConeStiff T // N·mm/rad; ConeSoft is the moment about the soft radial
	VoidGap, VoidSnubber         T // mm, N/mm along the soft radial; 0: no void
	EndGap, EndSnubber           T // mm, N/mm along the axis; 0: no end stop that leaves a gap
}

// Moduli are small-strain moduli.
type Moduli[T exact.Number] struct {
	E, G, Bulk T // MPa: Young's (Lindley's E0), shear, bulk
	Factor     T // Lindley's compression factor k
}
