package axlefile

import (
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
)

// checkWhole holds the parts of the file against each other, once each of them is
// sound.
func (r *partReader) checkWhole() {
	if r.part.Choice.Compound == rubber.Polyurethane {
		r.part.middleOfRange()
	}
	r.checkFree()
	r.checkFriction()
	r.checkCorners()
}

// middleShare is where in the range of a polyurethane a part is designed unless
// its file says otherwise; both ends of the range are answered anyway.
const middleShare = 0.5

func (f *PartFile) middleOfRange() {
	if d := &f.Dimensions[RangeShare(f.Part)]; !d.Given {
		d.From, d.To = middleShare, middleShare
	}
}

// RangeShare is the slot of a part that says where in the range of a polyurethane
// it lies.
func RangeShare(p *rubber.Part) int {
	return slices.IndexFunc(p.Fields, func(f quantity.Field) bool { return f.Name == rangeShareKey })
}

// checkCompound reports what a compound lacks, and keys that mean nothing with it.
// A polyurethane need not say where in its range it lies: both ends are answered.
func (r *partReader) checkCompound(t *table) {
	compound := r.part.Choice.Compound
	with := "with compound = " + quote(rubber.CompoundNames[compound])
	for _, name := range compoundNeeds[compound].must {
		if name != rangeShareKey && t.entries[name] == nil {
			r.wrong(t.line, partSection+"."+name, "missing "+with, "", compoundHints[name])
		}
	}
	for _, name := range idleKeys(compound) {
		if e := t.entries[name]; e != nil {
			r.wrong(e.line, partSection+"."+name, "means nothing "+with, "", "")
		}
	}
}

const rangeShareKey = "range_share"

// checkFree reports limits of what nobody chooses, and limits where nothing is
// wanted that could choose inside them.
func (r *partReader) checkFree() {
	for i := range r.part.Dimensions {
		d := &r.part.Dimensions[i]
		at := partSection + "." + d.Field.Name
		why := noChoice(d.Field.Name, r.part.Choice.Compound)
		switch {
		case !d.Free():
		case why != "":
			r.wrong(d.Line, at, why, "a number", "")
		case d.Field.Name == stopGapKey && d.From == 0:
			r.wrong(d.Line, at, touching, "from above 0", "")
		case len(r.part.Wanted) == 0:
			r.wrong(d.Line, at, "is free between limits, but nothing is wanted that could choose it",
				"a number, or a table ["+wantedSection+"] with rates", "")
		}
	}
}

// checkFriction reports wanted rates that are no stiffness where the rubber is not
// bonded.
func (r *partReader) checkFriction() {
	for _, w := range r.part.Wanted {
		if name := r.part.Part.Numbers[w.Number].Name; r.part.Friction(w.Number) {
			r.wrong(w.Line, wantedSection+"."+name, "is friction, not stiffness, where the rubber is not bonded", "", bondedKey+" = true, or want the other rates only")
		}
	}
}

// frictional are the numbers that need the bond between rubber and metal.
var frictional = []string{"torsion", "axial", "shear"}

// Friction tells whether a number is friction, not stiffness: torsion and axial
// load of a bush that is free in its sleeves, shear of a block that is free
// between its plates.
func (f *PartFile) Friction(number int) bool {
	return f.Choice.Free && slices.Contains(frictional, f.Part.Numbers[number].Name)
}

// checkCorners reports dimensions that cannot go together, at whatever corner of
// the limits, so that whatever is chosen can be made and computed.
func (r *partReader) checkCorners() {
	p := r.part
	low, high := make([]float64, len(p.Dimensions)), make([]float64, len(p.Dimensions))
	for i := range p.Dimensions {
		d := &p.Dimensions[i]
		low[i], high[i] = d.From*d.Field.Unit.Factor, d.To*d.Field.Unit.Factor
	}
	told := map[string]bool{}
	values := make([]float64, len(p.Part.Numbers))
	rubber.Corners(low, high, func(x []float64) bool {
		wrongs := wrongSlots(p.Check(x))
		for _, wrong := range wrongs {
			if !told[wrong.Slot] {
				told[wrong.Slot] = true
				r.wrong(p.lineOf(wrong.Slot), partSection+"."+wrong.Slot, wrong.Reason+p.corner(x, func(i int) bool { return p.matters(x, i, wrong.Slot) }), "", p.narrower())
			}
		}
		if len(wrongs) == 0 {
			p.Part.Values(x, p.Choice, values)
			r.checkThere(x, values, told)
		}
		return true
	})
}

// Check tells what of a part is impossible at slots in internal units.
func (f *PartFile) Check(slots []float64) error { return f.Part.Check(slots, f.Choice) }

// checkThere reports wanted numbers that are nothing at a corner.
func (r *partReader) checkThere(x, values []float64, told map[string]bool) {
	for _, w := range r.part.Wanted {
		name := r.part.Part.Numbers[w.Number].Name
		if values[w.Number] > 0 || r.part.Friction(w.Number) || told[wantedSection+name] {
			continue
		}
		told[wantedSection+name] = true
		hint := ""
		switch name {
		case "soft_gap", "soft_snubber":
			hint = "give void_arc and void_depth"
		case "axial_gap", "axial_snubber":
			hint = "give stop_gap, stop_diameter and stop_thickness"
		}
		r.wrong(w.Line, wantedSection+"."+name, "the part has none"+r.part.corner(x, func(int) bool { return true }), "", hint)
	}
}

// narrower is the hint for limits of which a corner is impossible.
func (f *PartFile) narrower() string {
	for i := range f.Dimensions {
		if f.Dimensions[i].Free() {
			return "narrow the limits until every corner can be made"
		}
	}
	return ""
}

// corner names the free dimensions at a corner that count; nothing where none does.
func (f *PartFile) corner(x []float64, counts func(i int) bool) string {
	var at []string
	for i := range f.Dimensions {
		if d := &f.Dimensions[i]; d.Free() && counts(i) {
			at = append(at, strings.TrimSpace(d.Field.Name+" "+decimal(d.Field.Unit.Written(x[i]))+" "+d.Field.Unit.Name))
		}
	}
	if at == nil {
		return ""
	}
	return ", at " + strings.Join(at, ", ")
}

// matters tells whether a slot that is wrong at a corner is right with one free
// dimension at its other end.
func (f *PartFile) matters(x []float64, i int, slot string) bool {
	d := &f.Dimensions[i]
	moved := slices.Clone(x)
	moved[i] = d.From * d.Field.Unit.Factor
	if x[i] == moved[i] {
		moved[i] = d.To * d.Field.Unit.Factor
	}
	return !slices.ContainsFunc(wrongSlots(f.Check(moved)), func(w *rubber.SlotError) bool { return w.Slot == slot })
}

// lineOf is the line of a dimension, or of its table.
func (f *PartFile) lineOf(name string) int {
	for i := range f.Dimensions {
		if f.Dimensions[i].Field.Name == name {
			return f.Dimensions[i].Line
		}
	}
	return f.source.root.sub(partSection).line
}
