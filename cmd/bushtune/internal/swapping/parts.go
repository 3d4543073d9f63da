package swapping

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
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
	if with[0].Kind == base.Kind {
		all = append(choiceChanges(base, &with[0]), slotChanges(base, with)...)
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

// wayOf says how a bush is given.
func wayOf(e *compliance.Element) string {
	switch e.Kind {
	case compliance.BushRubber:
		return "by dimensions"
	case compliance.BushMatrix:
		return "by a matrix"
	}
	return "by rates"
}

// choiceChanges lists choices that differ.
func choiceChanges(base, with *compliance.Element) (all []PartChange) {
	was, is := base.Choice.Rubber, with.Choice.Rubber
	if was.Compound != is.Compound {
		all = append(all, PartChange{What: "compound", Words: rubber.CompoundNames[was.Compound] + " → " + rubber.CompoundNames[is.Compound]})
	}
	if was.Free != is.Free {
		bond := map[bool]string{false: "bonded", true: "free in its sleeves"}
		all = append(all, PartChange{What: "rubber", Words: bond[was.Free] + " → " + bond[is.Free]})
	}
	if c, changes := hardnessScale(base, with); changes {
		all = append(all, c)
	}
	return append(all, curveChanges(base, with)...)
}

// hardnessScale words a hardness that goes to another scale: IRHD of natural rubber,
// Shore A of polyurethane.
func hardnessScale(base, with *compliance.Element) (c PartChange, changes bool) {
	if base.Kind != compliance.BushRubber || base.Choice.Rubber.Compound == with.Choice.Rubber.Compound {
		return c, false
	}
	i := compliance.BushRubber.FieldIndex(hardnessField)
	written := func(e *compliance.Element) string {
		switch e.Choice.Rubber.Compound {
		case rubber.Natural:
			return strconv.FormatFloat(e.Slots[i], 'g', -1, 64) + " IRHD"
		case rubber.Polyurethane:
			return strconv.FormatFloat(e.Slots[i], 'g', -1, 64) + " Shore A"
		}
		return "not told"
	}
	return PartChange{What: hardnessField, Words: written(base) + " → " + written(with)}, true
}

const hardnessField = "rubber.hardness"

// curveChanges lists the directions of which one has a curve, the other none or
// another one.
func curveChanges(base, with *compliance.Element) (all []PartChange) {
	was, is := curvesOf(base), curvesOf(with)
	for d, name := range bushing.DirectionNames {
		var before, after bushing.Curves
		before.Tables[d], after.Tables[d] = was.Tables[d], is.Tables[d]
		if before.Equal(&after) {
			continue
		}
		words := "another curve"
		if was.Tables[d] == nil || is.Tables[d] == nil {
			words = lawWords(base, &was, d) + " → " + lawWords(with, &is, d)
		}
		all = append(all, PartChange{What: name, Words: words})
	}
	if was.Elliptical != is.Elliptical {
		all = append(all, PartChange{What: "radial", Words: "another law between soft and stiff"})
	}
	return all
}

// curvesOf are the curves of a bush; none of other elements.
func curvesOf(e *compliance.Element) (c bushing.Curves) {
	if e.Choice.Curves != nil {
		c = *e.Choice.Curves
	}
	return c
}

// lawWords says by what a bush acts along a direction.
func lawWords(e *compliance.Element, c *bushing.Curves, d int) string {
	i := e.Kind.FieldIndex(bushing.DirectionNames[d])
	if c.Tables[d] != nil || i < 0 {
		return "a curve"
	}
	f := e.Kind.Fields[i]
	return strconv.FormatFloat(f.Unit.Written(e.Slots[i]), 'g', 4, 64) + " " + f.Unit.Name
}

// curved tells whether a curve takes the place of a rate.
func curved(e *compliance.Element, field string) bool {
	c := curvesOf(e)
	d := slices.Index(bushing.DirectionNames[:], field)
	return d >= 0 && c.Tables[d] != nil
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
