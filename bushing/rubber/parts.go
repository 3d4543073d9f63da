package rubber

import "bushtune/bushing/quantity"

// BushPart is a bush as a part.
var BushPart = &Part{
	Name:    "bush",
	Meaning: "cylindrical bush between two sleeves",
	Fields:  Fields,
	Numbers: []quantity.Field{
		number("soft", quantity.NewtonPerMillimetre, "radial rate across the voids"),
		number("axial", quantity.NewtonPerMillimetre, "rate along the bush axis"),
		number("stiff", quantity.NewtonPerMillimetre, "radial rate square to the voids"),
		number("cone_soft", quantity.NewtonMetrePerDegree, "conical rate about the soft radial"),
		number("torsion", quantity.NewtonMetrePerDegree, "rate about the bush axis"),
		number("cone_stiff", quantity.NewtonMetrePerDegree, "conical rate about the stiff radial"),
		number("soft_gap", quantity.Millimetre, "way along the soft radial until a void closes"),
		number("soft_snubber", quantity.NewtonPerMillimetre, "rate that a closed void adds"),
		number("axial_gap", quantity.Millimetre, "way along the axis until a collar is pressed"),
		number("axial_snubber", quantity.NewtonPerMillimetre, "rate that a pressed collar adds"),
	},
	Values:   bushNumbers[float64],
	Lifted:   bushNumbers[complex128],
	Check:    func(s []float64, c Choice) error { b := New(s); return b.Check(c) },
	Bands:    bushBands,
	Limits:   bushLimits,
	Warnings: bushWarnings,
}

// The pads.
var (
	BlockPart = padPart("block", "rectangular block between two plates", padForms{
		fields:  []quantity.Field{length("length", "length of the plates", true), length("width", "width of the plates", true), thickness},
		values:  func(s []float64) Pad[float64] { return NewBlock(s[0], s[1], s[2]) },
		lifted:  func(s []complex128) Pad[complex128] { return NewBlock(s[0], s[1], s[2]) },
		film:    func(s []float64) float64 { return rectangleFilm(s[0], s[1]) },
		outline: func(s []float64) error { return checkBlock(s[0], s[1]) },
	})
	DiscPart = padPart("disc", "round block between two plates", padForms{
		fields:  []quantity.Field{length("diameter", "diameter of the plates", true), thickness},
		values:  func(s []float64) Pad[float64] { return NewDisc(s[0], s[1]) },
		lifted:  func(s []complex128) Pad[complex128] { return NewDisc(s[0], s[1]) },
		film:    func(s []float64) float64 { return s[0] * s[0] / 32 }, // Poiseuille flow in a pipe
		outline: func([]float64) error { return nil },
	})
	RingPart = padPart("ring", "flat ring between two plates", padForms{
		fields:  []quantity.Field{length("outer_diameter", "outer diameter of the ring", true), length("inner_diameter", "inner diameter of the ring", true), thickness},
		values:  func(s []float64) Pad[float64] { return NewRing(s[0], s[1], s[2]) },
		lifted:  func(s []complex128) Pad[complex128] { return NewRing(s[0], s[1], s[2]) },
		film:    func(s []float64) float64 { return ringFilm(s[0], s[1]) },
		outline: func(s []float64) error { return checkFlatRing("outer_diameter", s[0], s[1]) },
	})
	StripPart = padPart("strip", "long strip between two plates, that bulges across its width only", padForms{
		fields:  []quantity.Field{length("length", "length of the strip", true), length("width", "width of the strip", true), thickness},
		values:  func(s []float64) Pad[float64] { return NewStrip(s[0], s[1], s[2]) },
		lifted:  func(s []complex128) Pad[complex128] { return NewStrip(s[0], s[1], s[2]) },
		film:    func(s []float64) float64 { return rectangleFilm(s[0], s[1]) },
		outline: func(s []float64) error { return checkStrip(s[0], s[1]) },
	})
)

var thickness = length("thickness", "rubber between the plates", true)

// InclinedPairPart is two blocks that lean towards each other.
var InclinedPairPart = &Part{
	Name:    "inclined_pair",
	Meaning: "two equal blocks whose axes of compression lean towards each other",
	Fields: partOf(
		length("length", "length of each block", true), length("width", "width of each block", true), thickness,
		length("half_spacing", "middle of each block from the plane of symmetry", true),
		quantity.Field{Name: "tilt", Unit: quantity.Degree, Min: 0, Above: true, Max: 85, Required: true, Meaning: "axis of compression from the upright, tops towards each other"},
	),
	Numbers: []quantity.Field{
		number("vertical", quantity.NewtonPerMillimetre, "rate up and down"),
		number("lateral", quantity.NewtonPerMillimetre, "rate sideways at the elastic centre"),
		number("along", quantity.NewtonPerMillimetre, "rate square to both axes of compression"),
		number("roll", quantity.NewtonMetrePerDegree, "rate of rolling about the elastic centre"),
		number("centre_height", quantity.Millimetre, "elastic centre above the blocks"),
		number("crossing_height", quantity.Millimetre, "where the axes of compression meet, above the blocks"),
		number("highest_centre", quantity.Millimetre, "highest elastic centre of these blocks at any tilt"),
	},
	Values:   pairNumbers[float64],
	Lifted:   pairNumbers[complex128],
	Check:    checkPair,
	Bands:    pairBands,
	Limits:   pairLimits,
	Warnings: func(s []float64, _ Choice) []string { p := NewBlock(s[0], s[1], s[2]); return stability(&p) },
}
