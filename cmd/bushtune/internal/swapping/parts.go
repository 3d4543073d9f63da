package swapping

import (
	"math"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// PartChange is one number, or one choice, of a part that a set changes.
type PartChange struct {
	Path   string // "bush.pivot", with its side if only that one changes
	What   string // "soft"
	Unit   string
	Before float64
	Low    float64 // over the range of the set
	High   float64
	Words  string // instead of numbers: "natural → polyurethane"
}

// partChanges lists what differs between an axle and the same one with a set, at
// each place of its range. What is alike on both sides is told once.
func partChanges(base *compliance.Axle, with []*compliance.Axle) (all []PartChange) {
	var bySide [][]PartChange
	for i := range base.Elements {
		var same []compliance.Element
		for _, axle := range with {
			same = append(same, axle.Elements[i])
		}
		bySide = append(bySide, elementChanges(&base.Elements[i], same))
	}
	for i, changes := range bySide {
		e := &base.Elements[i]
		twin := slices.IndexFunc(base.Elements, func(o compliance.Element) bool {
			return o.Kind.Table == e.Kind.Table && o.Name == e.Name && o.Side != e.Side
		})
		path := e.Label()
		if twin >= 0 && slices.Equal(bySide[twin], changes) {
			if twin < i {
				continue
			}
			path = e.Kind.Table + "." + e.Name
		}
		for _, c := range changes {
			c.Path = path
			all = append(all, c)
		}
	}
	return all
}

// elementChanges lists what differs in one element: first as it is written, then, of
// a bush given by its dimensions, the rates that follow.
func elementChanges(base *compliance.Element, with []compliance.Element) (all []PartChange) {
	all = mountChanges(base, &with[0])
	if with[0].Kind == base.Kind {
		all = slices.Concat(all, choiceChanges(base, &with[0]), slotChanges(base, with))
	} else {
		all = append(all, PartChange{What: "given", Words: wayOf(base) + " → " + wayOf(&with[0])})
	}
	if base.Kind != compliance.BushRubber && with[0].Kind != compliance.BushRubber {
		return all
	}
	plain := base.ByRates()
	var plains []compliance.Element
	for i := range with {
		plains = append(plains, with[i].ByRates())
	}
	if plain.Kind != plains[0].Kind { // a full matrix has no rates of its own
		return all
	}
	told := func(c PartChange) bool {
		return slices.ContainsFunc(all, func(o PartChange) bool { return o.What == c.What })
	}
	rates := append(curveChanges(&plain, &plains[0]), slotChanges(&plain, plains)...)
	return append(all, slices.DeleteFunc(rates, told)...)
}

// wayOf says how a bush or a beam is given.
func wayOf(e *compliance.Element) string {
	switch e.Kind {
	case compliance.BushRubber:
		return "by dimensions"
	case compliance.BushMatrix:
		return "by a matrix"
	case compliance.Bush:
		return "by rates"
	case compliance.Beam:
		return "by the values of its section"
	}
	return "as " + e.Kind.Variant
}

// slotChanges lists the numbers that differ.
func slotChanges(base *compliance.Element, with []compliance.Element) (all []PartChange) {
	for i, f := range base.Kind.Fields {
		if curved(base, f.Name) || curved(&with[0], f.Name) || f.Name == hardnessField && base.Choice.Rubber.Compound != with[0].Choice.Rubber.Compound {
			continue // told in words
		}
		c := PartChange{What: f.Name, Unit: f.Unit.Name, Before: f.Unit.Written(base.Slots[i])}
		c.Low, c.High = math.Inf(1), math.Inf(-1)
		for k := range with {
			v := f.Unit.Written(with[k].Slots[i])
			c.Low, c.High = min(c.Low, v), max(c.High, v)
		}
		if c.Low != c.Before || c.High != c.Before {
			all = append(all, c.shortened(f))
		}
	}
	return all
}

// shortened leaves out what a reader need not see: the place in a range.
func (c PartChange) shortened(f quantity.Field) PartChange {
	if strings.HasSuffix(f.Name, "range_share") {
		c.What, c.Unit, c.Words = "modulus", "", "the whole range of its hardness"
	}
	return c
}
