package cases

import (
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Sensitivity is what a rate of one element does to a number.
type Sensitivity struct {
	Element string  // "spring.coil.left"
	Side    string  // "left", "right"; empty for an element that exists once
	Rate    string  // the slot: "rate", "soft", "youngs_modulus"
	Value   float64 // ∂number/∂ln rate, internal unit: a hundredth of it for 1 % more
}

// Sensitivities lists ∂number/∂ln rate for every rate in the axle, exact: with what the
// rate does to loads at rest, and to both the reading and the travel or roll of a ratio.
// That is what parts do not say: they tell what makes a number, and only for one answer
// to one load without a load at rest they are what a change of the rate does, with the
// opposite sign. Rates that are nothing, or do nothing, are left out; a full matrix
// has no rates of its own. Nil for a number of a vehicle state.
func (s *Study) Sensitivities(index int) []Sensitivity {
	if s.numbers[index].state >= 0 {
		return nil
	}
	var list []Sensitivity
	var slots []compliance.Slot
	axle := s.rig.solver.Axle()
	for i := range axle.Elements {
		e := &axle.Elements[i]
		if e.Kind == compliance.BushMatrix {
			continue
		}
		for j, f := range e.Kind.Fields {
			if isRate(f) && e.Slots[j] != 0 {
				slots = append(slots, compliance.Slot{Element: i, Index: j})
				list = append(list, Sensitivity{Element: e.Label(), Side: e.Side.String(), Rate: f.Name})
			}
		}
	}
	row := [][]float64{make([]float64, len(slots))}
	s.Gradient([]int{index}, slots, row)
	kept := list[:0]
	for k, slot := range slots {
		if list[k].Value = row[0][k] * axle.Elements[slot.Element].Slots[slot.Index]; list[k].Value != 0 {
			kept = append(kept, list[k])
		}
	}
	return kept
}

// isRate tells whether a slot is a rate, or a factor or modulus to which the rates of
// its element are in proportion.
func isRate(f quantity.Field) bool {
	switch f.Unit {
	case quantity.NewtonPerMillimetre, quantity.NewtonMetrePerDegree:
		return true
	}
	return f.Name == "youngs_modulus" || f.Name == "rubber.temperature_factor"
}
