package rubber

import (
	"math"

	"bushtune/bushing/quantity"
)

// Scatter is how far parts that are made may differ from their drawing, each by itself.
type Scatter struct {
	Hardness float64 // points of the compound as it is ordered, either way
	Mould    MouldClass
}

// making is what gives a dimension its size.
type making int

const (
	asDrawn     making = iota // metal, whose tolerances are small against those of rubber
	fixedByOne                // one part of the mould
	overClosure               // parts of the mould that close on each other
	ofCompound                // hardness
)

// madeBy says what gives a slot of a part its size: common practice, no source.
func (p *Part) madeBy(name string, c Choice) making {
	switch name {
	case "hardness":
		return ofCompound
	case "void_arc", "void_depth", "void_radius", "stop_diameter":
		return fixedByOne
	case "stop_gap", "stop_thickness", "thickness":
		return overClosure
	case "inner_diameter", "outer_diameter": // sleeves of a bonded bush
		if p == BushPart && !c.Free {
			return asDrawn
		}
		return fixedByOne
	case "length":
		if p == BushPart {
			return overClosure
		}
		return fixedByOne
	case "width", "diameter":
		return fixedByOne
	}
	return asDrawn
}

// Tolerances returns how far each slot of a part may lie off, either way, in internal
// units: sizes that the mould makes by ISO 3302-1, hardness as ordered. What metal makes
// and what is not a size stays as drawn. An angle of a void goes by the length of its
// arc.
func (p *Part) Tolerances(slots []float64, c Choice, s Scatter) []float64 {
	off := make([]float64, len(slots))
	for i, f := range p.Fields {
		if slots[i] == 0 {
			continue // absent
		}
		size := slots[i]
		if f.Unit == quantity.Degree {
			size *= p.arcRadius(slots)
		}
		fixed, closure := MouldTolerance(s.Mould, size)
		switch p.madeBy(f.Name, c) {
		case fixedByOne:
			off[i] = fixed * slots[i] / size
		case overClosure:
			off[i] = closure
		case ofCompound:
			off[i] = s.Hardness
		}
	}
	return off
}

// arcRadius is where the angle of a void is measured as a length, mm.
func (p *Part) arcRadius(slots []float64) float64 {
	if p != BushPart {
		return 1
	}
	b := New(slots)
	ring := b.outerRing(&Moduli[float64]{})
	return (ring.Inside + ring.Outside) / 2
}

// perPoint is the factor on the moduli of a compound that is given for one point of
// hardness: a maker of mounts gives 1.161, 1.205 and 1.251 for four, five and six points.
const perPoint = 1.038

// WithScatter are slots of a part whose drawing says slots, moved by shares −1…1 of what each
// may lie off. Moduli that are given take the place of hardness.
func (p *Part) WithScatter(slots, off, shares []float64, c Choice, s Scatter, into []float64) {
	for i := range slots {
		into[i] = slots[i] + off[i]*shares[i]
	}
	if p == BushPart {
		keepRound(into)
	}
	if c.Compound != Given {
		return
	}
	for i, f := range p.Fields {
		switch f.Name {
		case "hardness":
			into[i] = slots[i]
		case "shear_modulus":
			into[i] = slots[i] * math.Pow(perPoint, s.Hardness*shares[p.hardness()])
		}
	}
}

// keepRound leaves corners of voids no rounder than fits.
func keepRound(slots []float64) {
	b := New(slots)
	given := b.VoidRadius
	b.VoidRadius = 0
	if full := b.CornerRadius(); b.VoidArc > 0 && given > full {
		for i, f := range Fields {
			if f.Name == "void_radius" {
				slots[i] = full
			}
		}
	}
}

// hardness is the slot of the hardness, which every part has.
func (p *Part) hardness() int {
	for i, f := range p.Fields {
		if f.Unit == quantity.Hardness {
			return i
		}
	}
	return -1
}
