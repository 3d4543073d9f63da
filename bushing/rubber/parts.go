package rubber

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// The kinds of part.
var (
	BushPart = &Part{
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
		Values: bushNumbers[float64],
		Lifted: bushNumbers[complex128],
		Check:  func(s []float64, c Choice) error { b := New(s); return b.Check(c) },
	}
	BlockPart = &Part{
		Name:    "block",
		Meaning: "rectangular block between two plates",
		Fields: partOf(length("length", "length of the plates", true), length("width", "width of the plates", true),
			length("thickness", "rubber between the plates", true)),
		Numbers: padNumbers,
		Values:  blockNumbers[float64],
		Lifted:  blockNumbers[complex128],
	}
	DiscPart = &Part{
		Name:    "disc",
		Meaning: "round block between two plates",
		Fields:  partOf(length("diameter", "diameter of the plates", true), length("thickness", "rubber between the plates", true)),
		Numbers: padNumbers,
		Values:  discNumbers[float64],
		Lifted:  discNumbers[complex128],
	}
	RingPart = &Part{
		Name:    "ring",
		Meaning: "flat ring between two plates",
		Fields: partOf(length("outer_diameter", "outer diameter of the ring", true), length("inner_diameter", "inner diameter of the ring", true),
			length("thickness", "rubber between the plates", true)),
		Numbers: padNumbers,
		Values:  ringNumbers[float64],
		Lifted:  ringNumbers[complex128],
	}
	StripPart = &Part{
		Name:    "strip",
		Meaning: "long strip between two plates, that bulges across its width only",
		Fields: partOf(length("length", "length of the strip", true), length("width", "width of the strip", true),
			length("thickness", "rubber between the plates", true)),
		Numbers: padNumbers,
		Values:  stripNumbers[float64],
		Lifted:  stripNumbers[complex128],
	}
	InclinedPairPart = &Part{
		Name:    "inclined_pair",
		Meaning: "two equal blocks whose axes of compression lean towards each other",
		Fields: partOf(length("length", "length of each block, along the pair's axis", true), length("width", "width of each block", true),
			length("thickness", "rubber between the plates", true), length("half_spacing", "middle of each block from the plane of symmetry", true),
			quantity.Field{Name: "tilt", Unit: quantity.Degree, Min: 0, Above: true, Max: 85, Required: true, Meaning: "axis of compression from the upright, tops towards each other"}),
		Numbers: []quantity.Field{
			number("vertical", quantity.NewtonPerMillimetre, "rate up and down"),
			number("lateral", quantity.NewtonPerMillimetre, "rate sideways at the elastic centre"),
			number("along", quantity.NewtonPerMillimetre, "rate square to both axes"),
			number("roll", quantity.NewtonMetrePerDegree, "rate of rolling about the elastic centre"),
			number("centre_height", quantity.Millimetre, "elastic centre above the blocks"),
			number("crossing_height", quantity.Millimetre, "where the axes of compression meet, above the blocks"),
			number("highest_centre", quantity.Millimetre, "highest elastic centre that another tilt would give"),
		},
		Values: pairNumbers[float64],
		Lifted: pairNumbers[complex128],
	}
)

// padNumbers are what every pad answers.
var padNumbers = []quantity.Field{
	number("compression", quantity.NewtonPerMillimetre, "rate square to the plates"),
	number("shear", quantity.NewtonPerMillimetre, "rate along the plates"),
	number("shape_factor", quantity.None, "one loaded area over the free area of the sides"),
}

func bushNumbers[T exact.Number](s []T, c Choice, into []T) {
	b := New(s)
	r := b.Rates(c)
	six := r.Six()
	copy(into, six[:])
	into[6], into[7], into[8], into[9] = r.VoidGap, r.VoidSnubber, r.EndGap, r.EndSnubber
}

func blockNumbers[T exact.Number](s []T, c Choice, into []T) {
	p := NewBlock(s[0], s[1], s[2])
	p.answer(s[3:], c, into)
}

func discNumbers[T exact.Number](s []T, c Choice, into []T) {
	p := NewDisc(s[0], s[1])
	p.answer(s[2:], c, into)
}

func ringNumbers[T exact.Number](s []T, c Choice, into []T) {
	p := NewRing(s[0], s[1], s[2])
	p.answer(s[3:], c, into)
}

func stripNumbers[T exact.Number](s []T, c Choice, into []T) {
	p := NewStrip(s[0], s[1], s[2])
	p.answer(s[3:], c, into)
}

// answer writes the numbers of a pad from the slots of its compound.
func (p *Pad[T]) answer(compound []T, c Choice, into []T) {
	b := newCompound(compound)
	m := b.Moduli(c)
	into[0], into[1], into[2] = p.Compression(&m, c), p.Shear(&m, c), p.Shape
}

func pairNumbers[T exact.Number](s []T, c Choice, into []T) {
	b := newCompound(s[5:])
	m := b.Moduli(c)
	block := NewBlock(s[0], s[1], s[2])
	p := InclinedPair[T]{HalfSpacing: s[3], Tilt: s[4], Compression: block.Compression(&m, c), Shear: block.Shear(&m, c)}
	into[0], into[1], into[2], into[3] = p.Vertical(), p.Lateral(), p.Along(), p.Roll()
	into[4], into[5], into[6] = p.Centre(), p.Crossing(), p.Highest()
}
