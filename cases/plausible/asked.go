package plausible

import (
	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// sizes are the usual sizes of a load, by the unit in which it is asked for.
var sizes = []Range{
	{Key: "size", Unit: quantity.Kilonewton, From: 0.1, To: 12, Why: "on one wheel"},
	{Key: "size", Unit: quantity.NewtonMetre, From: 10, To: 600, Why: "on one wheel"},
	{Key: "size", Unit: quantity.Gravity, From: 0.05, To: 1.6},
}

// asked are the usual ranges of what is asked of a search: how far a parameter may
// go, how wanted numbers count.
var asked = []Range{
	{Key: "tolerance", Unit: quantity.Percent, From: 0.5, To: 60, Why: "of a parameter on a log scale"},
	{Key: "ratio", Unit: quantity.None, From: 1, To: 30, Why: "the upper bound of a log scale over the lower"},
	{Key: "span", Unit: quantity.Degree, From: 0, To: 90, Why: "of an angle"},
	{Key: "span", Unit: quantity.Millimetre, From: 0, To: 400, Why: "of a place"},
	{Key: "weight", Unit: quantity.None, From: 0.01, To: 100},
	{Key: "per", Unit: quantity.None, From: 0.05, To: 20, Why: "in just-noticeable steps"},
}

// Of returns the note of a range about a value under a path, in the written unit of
// the range; nil if it is usual, or if there is no range.
func (r *Range) Of(path string, written float64) []Note {
	if r == nil {
		return nil
	}
	if n, unusual := r.note(path, written); unusual {
		return []Note{n}
	}
	return nil
}

// Size is the range of the size of a load in a unit; nil if there is none.
func Size(unit quantity.Unit) *Range { return byUnit(sizes, "size", unit) }

// Asked is the range of what is asked of a search, in a unit: tolerance, ratio, span,
// weight, per. Nil if there is none.
func Asked(name string, unit quantity.Unit) *Range { return byUnit(asked, name, unit) }

func byUnit(table []Range, name string, unit quantity.Unit) *Range {
	for i := range table {
		if table[i].Key == name && table[i].Unit == unit {
			return &table[i]
		}
	}
	return nil
}

// Bush lists what is unusual of a bush on its own: slots in the order of
// compliance.Bush, curves may be nil, path is where it stands.
func Bush(path string, slots []float64, curves *bushing.Curves) []Note {
	e := compliance.Element{Kind: compliance.Bush, Name: "part", Slots: slots, Choice: compliance.Choice{Curves: curves}}
	axle := &compliance.Axle{Elements: []compliance.Element{e}}
	j := &judge{Subject: &Subject{Axle: axle}, seen: map[string]bool{}}
	j.fields(e.Kind.Table, "", path, e.Kind.Fields, slots, nil)
	if curves != nil {
		j.curves(path, curves)
	}
	for _, c := range rateChecks() {
		for _, f := range c.read(j) {
			if f.key = path + f.key[len("bush.part"):]; (f.value < c.low || f.value > c.high) && !j.told(f.key) {
				j.notes = append(j.notes, c.note(f))
			}
		}
	}
	return j.notes
}
