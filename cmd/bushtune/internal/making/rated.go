package making

import (
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
)

// Rated is what is known of a part at its dimensions.
type Rated struct {
	File     *axlefile.PartFile
	Class    rubber.Class
	Slots    []float64 // every dimension, internal units
	Values   []float64 // of each number, internal units
	Softest  []float64 // of a polyurethane: at both ends of its range; else nil
	Stiffest []float64
	Between  []rubber.Between // of each number, internal units; zero where none
	Bands    [][]rubber.Band  // of each number
	Warnings []string
	Compound Compound
}

// Compound is what the moduli of a part are.
type Compound struct {
	Hardness      float64 // as the part's slots say; 0 if moduli are given
	Moduli        rubber.Moduli[float64]
	Low, High     rubber.Moduli[float64]
	Lindley, Gent float64 // G in MPa of natural rubber by both; 0 of others
	// HarderLindley and HarderGent are the factors on G of HarderBy points more; 0
	// where the table ends before.
	HarderLindley, HarderGent float64
	Dynamic                   rubber.Dynamic
	Typical                   bool // Dynamic is that of a natural rubber of this hardness, from memory
}

// HarderBy is the step of hardness whose effect is told, IRHD: compounds are ordered
// with a tolerance of about it (common practice, no source).
const HarderBy = 5

// Rate computes a part at dimensions x in written units.
func Rate(file *axlefile.PartFile, x []float64, class rubber.Class) *Rated {
	b := newBridge(file)
	r := &Rated{File: file, Class: class}
	r.Values = append(r.Values, b.at(b.freeOf(x))...)
	r.Slots = append(r.Slots, b.slots...)
	if file.Choice.Compound == rubber.Polyurethane {
		r.Softest, r.Stiffest = b.atShare(r.Slots, 0), b.atShare(r.Slots, 1)
	}
	part := file.Part
	r.Between, r.Bands = part.Limits(r.Slots, file.Choice), part.Bands(r.Slots, file.Choice, class)
	if part.Warnings != nil {
		r.Warnings = part.Warnings(r.Slots, file.Choice)
	}
	r.Compound = r.compound()
	return r
}

// atShare computes a part at one share of the range of a polyurethane.
func (b *bridge) atShare(slots []float64, share float64) []float64 {
	moved := append([]float64(nil), slots...)
	moved[axlefile.RangeShare(b.file.Part)] = share
	values := make([]float64, len(b.values))
	b.file.Part.Values(moved, b.file.Choice, values)
	return values
}

// compound looks the moduli up as those of a bush of the same rubber.
func (r *Rated) compound() Compound {
	bush, choice := r.bushOfTheSameRubber(), r.File.Choice
	c := Compound{Hardness: bush.Hardness, Moduli: bush.Moduli(choice)}
	c.Low, c.High = rubber.ModuliRange(&bush, choice)
	switch choice.Compound {
	case rubber.Natural:
		c.Lindley, c.Gent = rubber.Spread(bush.Hardness)
		if r.allows(bush.Hardness + HarderBy) {
			lindley, gent := rubber.Spread(bush.Hardness + HarderBy)
			c.HarderLindley, c.HarderGent = lindley/c.Lindley, gent/c.Gent
		}
		c.Dynamic, c.Typical = rubber.TypicalDynamic(bush.Hardness), true
	case rubber.Given:
		c.Hardness = 0
	}
	return c
}

// allows tells whether the part could have another hardness.
func (r *Rated) allows(hardness float64) bool {
	moved := append([]float64(nil), r.Slots...)
	for i, f := range r.File.Part.Fields {
		if f.Unit == quantity.Hardness {
			moved[i] = hardness
		}
	}
	return r.File.Check(moved) == nil
}

// bushOfTheSameRubber has the slots of the rubber, which have the same names in
// every part, and no dimensions.
func (r *Rated) bushOfTheSameRubber() rubber.Bush[float64] {
	slots := make([]float64, len(rubber.Fields))
	for i, f := range rubber.Fields {
		for j, g := range r.File.Part.Fields {
			if f.Name == g.Name {
				slots[i] = r.Slots[j]
			}
		}
	}
	return rubber.New(slots)
}
