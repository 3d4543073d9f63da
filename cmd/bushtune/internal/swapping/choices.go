package swapping

import (
	"slices"
	"strconv"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/compliance"
	"bushtune/compliance/section"
)

// choiceChanges lists choices of rubber and curves that differ.
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

// mountChanges lists what differs in how an element is joined to its bodies.
func mountChanges(base, with *compliance.Element) (all []PartChange) {
	told := func(what, was, is string) {
		if was != is {
			all = append(all, PartChange{What: what, Words: was + " → " + is})
		}
	}
	if base.From != with.From || base.To != with.To {
		all = append(all, PartChange{What: "from, to", Words: "other bodies, or in the other order"})
	}
	if outerBody(base) != outerBody(with) && base.Kind.Table == compliance.Bush.Table {
		all = append(all, PartChange{What: "outer", Words: "the outer sleeve is on another body"})
	}
	was, is := &base.Choice, &with.Choice
	told("base", bushing.BaseNames[was.Base], bushing.BaseNames[is.Base])
	told("holds_moments", strconv.FormatBool(was.HoldsMoments), strconv.FormatBool(is.HoldsMoments))
	told("opens", section.Openings()[was.Opens], section.Openings()[is.Opens])
	warping := func(ends [2]compliance.Warping) string {
		return compliance.WarpingNames[ends[0]] + ", " + compliance.WarpingNames[ends[1]]
	}
	told("warping", warping(was.Ends), warping(is.Ends))
	return all
}

// outerBody is the body on which the outer sleeve of a bush is.
func outerBody(e *compliance.Element) int {
	if e.Choice.OuterIsFrom {
		return e.From
	}
	return e.To
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
