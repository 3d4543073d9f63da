package compliance

import (
	"strings"

	"bushtune/bushing"
)

// FitPart is the element with the bush of another one in its place: rates, stops,
// limits and curves are the other's; where it lies, how its eye is turned, its
// bracket and what the place loads it with stay. The other must be of the table
// bush.
func (e *Element) FitPart(part *Element) Element {
	fitted := *part
	fitted.Name, fitted.Side, fitted.From, fitted.To = e.Name, e.Side, e.From, e.To
	fitted.Choice.Base, fitted.Choice.OuterIsFrom, fitted.Choice.HoldsMoments = e.Choice.Base, e.Choice.OuterIsFrom, e.Choice.HoldsMoments
	fitted.Slots = append([]float64(nil), part.Slots...)
	for i, f := range part.Kind.Fields {
		if own := e.Kind.FieldIndex(f.Name); own >= 0 && placed(f.Name) {
			fitted.Slots[i] = e.Slots[own]
		}
	}
	return fitted
}

// placed tells whether a slot of a bush belongs to its place and not to the part.
// The clock is the part's here: a bush that goes to the other side of the car is
// pressed in by the mark on it, and its voids lie by the mark. Where a part of a
// catalogue is put in, which has no such mark, it is the other way round: the eye
// says how the voids are to lie.
func placed(field string) bool {
	name, _, _ := strings.Cut(field, ".")
	switch name {
	case "at", "plan", "lift", "lean_forward", "lean_outboard", "axis", "soft_axis", "bracket", "preload", "tightened_at":
		return true
	}
	return false
}

// noStop is a free way in mm that no bush uses up.
const noStop = 1e6

// OtherHand is a bush that was made for the other side of the car, fitted with the
// same side up and the same end of its axis outboard. In left-hand axes that is its
// mirror image across the soft radial: voids are clocked the other way, the elastic
// axes turn the other way in plan, what acted forward acts rearward.
func (e *Element) OtherHand() Element {
	other := *e
	other.Slots = append([]float64(nil), e.Slots...)
	for _, name := range []string{"clock", "elastic_plan"} {
		if i := e.Kind.FieldIndex(name); i >= 0 {
			other.Slots[i] = 0 - e.Slots[i]
		}
	}
	if gap, back := e.Kind.FieldIndex("soft_gap"), e.Kind.FieldIndex("soft_gap_back"); gap >= 0 && e.Slots[back] != 0 {
		other.Slots[gap], other.Slots[back] = e.Slots[back], e.Slots[gap]
		switch {
		case e.Slots[gap] == 0:
			other.Slots[back] = noStop
		case e.Slots[back] == noStop:
			other.Slots[gap] = 0
		}
	}
	if e.Kind == BushMatrix {
		mirrorMatrix(other.Slots[mountSlots:])
	}
	other.Choice.Curves = e.Choice.Curves.OtherHand()
	return other
}

// mirrorMatrix reflects the upper triangle of a 6×6 across the soft radial: its
// translation and the rotations about the other two axes turn their sign.
func mirrorMatrix(upper []float64) {
	sign := [6]float64{bushing.Soft: -1, bushing.Axial: 1, bushing.Stiff: 1, bushing.ConeSoft: 1, bushing.Torsion: -1, bushing.ConeStiff: -1}
	n := 0
	for r := range sign {
		for c := r; c < len(sign); c++ {
			upper[n] *= sign[r] * sign[c]
			n++
		}
	}
}
