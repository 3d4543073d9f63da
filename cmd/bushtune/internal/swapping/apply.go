// Package swapping compares one axle with itself under other sets of parts: what
// every set makes of the bushes, each number beside that of the axle as it is, what
// gets better and worse, and where worn bushes bear in their play.
package swapping

import (
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/compliance"
)

// Apply returns the axle of a set with its rules carried out, polyurethane at a
// share of the way from the soft to the stiff end of its range. Compounds come
// first, then factors, then the exchange of sides, so that the order in which
// rules are given does not matter. The error is axlefile.Mistakes.
func Apply(set *axlefile.Set, share float64) (*compliance.Axle, error) {
	axle := set.File.Axle.Clone()
	var wrong axlefile.Mistakes
	compounded := map[int]bool{}
	for i := range set.Rules {
		if r := &set.Rules[i]; r.Kind == axlefile.Hardness || r.Kind == axlefile.Polyurethane {
			wrong = append(wrong, compound(axle, r, share, compounded)...)
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	for i := range set.Rules {
		if r := &set.Rules[i]; r.Kind == axlefile.Rates || r.Kind == axlefile.Worn {
			multiply(axle, r)
		}
	}
	for i := range set.Rules {
		if r := &set.Rules[i]; r.Kind == axlefile.SwapSides {
			swapSides(axle, r)
		}
	}
	return axle, nil
}

// compound gives bushes another hardness or makes them polyurethane. What cannot be
// is told once for both sides of a bush.
func compound(axle *compliance.Axle, r *axlefile.Rule, share float64, done map[int]bool) (wrong axlefile.Mistakes) {
	for _, i := range r.Elements {
		e := &axle.Elements[i]
		key, path := r.Kind.String(), e.Kind.Table+"."+e.Name
		switch {
		case done[i]:
			wrong = append(wrong, r.Wrong(key, path+" is given a compound by another rule too", "", "one rule for each bush; at = [\"bush.NAME\"] limits a rule"))
			continue
		case e.Kind != compliance.BushRubber:
			wrong = append(wrong, r.Wrong(key, path+" is given by its rates, which do not tell a hardness", "",
				"give it by its dimensions, rubber = { inner_diameter = …, outer_diameter = …, length = …, hardness = … }, or change its rates by a factor: rates = 1.5"))
			continue
		case r.Kind == axlefile.Hardness && e.Choice.Rubber.Compound == rubber.Given:
			wrong = append(wrong, r.Wrong(key, path+" is given by the modulus of its compound, which does not tell a hardness", "", "change its rates by a factor: rates = 1.5"))
			continue
		}
		done[i] = true
		if r.Kind == axlefile.Hardness {
			e.Slots[rubberSlot("hardness")] += r.Value
		} else {
			mould(e, r, share)
		}
		wrong = append(wrong, impossible(e, r, path)...)
	}
	slices.SortStableFunc(wrong, func(a, b axlefile.Mistake) int { return strings.Compare(a.Wrong, b.Wrong) })
	return slices.Compact(wrong)
}

// rubberSlot is the slot of a dimension.
func rubberSlot(name string) int { return compliance.BushRubber.FieldIndex("rubber." + name) }

// mould makes a bush of polyurethane.
func mould(e *compliance.Element, r *axlefile.Rule, share float64) {
	e.Choice.Rubber = rubber.Choice{Compound: rubber.Polyurethane, Free: !r.Bonded}
	e.Slots[rubberSlot("hardness")] = r.Value
	e.Slots[rubberSlot("range_share")] = share
	e.Slots[rubberSlot("shear_modulus")], e.Slots[rubberSlot("bulk_modulus")] = 0, 0
	if r.Solid {
		for _, name := range []string{"void_arc", "void_depth", "void_radius", "sleeve_diameter", "sleeve_wall"} {
			e.Slots[rubberSlot(name)] = 0
		}
	}
}

// impossible says what of a changed bush nobody can make or no formula covers.
func impossible(e *compliance.Element, r *axlefile.Rule, path string) (wrong axlefile.Mistakes) {
	err := e.Check()
	if err == nil {
		return nil
	}
	hint := ""
	if r.Kind == axlefile.Polyurethane && !r.Solid {
		hint = "solid = true takes voids and the intermediate sleeve out, as many polyurethane bushes are made"
	}
	for text := range strings.Lines(err.Error()) {
		wrong = append(wrong, r.Wrong(r.Kind.String(), path+": "+strings.TrimSpace(text), "", hint))
	}
	return wrong
}

// multiply scales the load of bushes at every deflection. A bush given by its
// dimensions goes on as one given by its rates.
func multiply(axle *compliance.Axle, r *axlefile.Rule) {
	v := r.Value
	if v == 1 {
		return
	}
	factors := bushing.Factors{v, v, v, v, v, v}
	scaled := map[*bushing.Curves]*bushing.Curves{} // both sides go on sharing theirs
	for _, i := range r.Elements {
		e := &axle.Elements[i]
		if e.Kind == compliance.BushMatrix {
			scaleMatrix(e, v)
			continue
		}
		*e = e.ByRates()
		factors.Slots(slices.Clone(e.Slots), func(index int, value float64) { e.Slots[index] = value })
		if given := e.Choice.Curves; given != nil {
			if scaled[given] == nil {
				scaled[given] = factors.Curves(given)
			}
			e.Choice.Curves = scaled[given]
		}
	}
}

// scaleMatrix multiplies a full matrix.
func scaleMatrix(e *compliance.Element, factor float64) {
	for i, f := range e.Kind.Fields {
		if strings.HasPrefix(f.Name, "matrix.") {
			e.Slots[i] *= factor
		}
	}
}

// swapSides fits the left parts on the right and the right ones on the left.
func swapSides(axle *compliance.Axle, r *axlefile.Rule) {
	mirrored := map[*bushing.Curves]*bushing.Curves{}
	fit := func(place, part *compliance.Element) compliance.Element {
		e := place.FitPart(part)
		e = e.OtherHand()
		if given := part.Choice.Curves; given != nil {
			if mirrored[given] == nil {
				mirrored[given] = e.Choice.Curves
			}
			e.Choice.Curves = mirrored[given]
		}
		return e
	}
	for _, i := range r.Elements {
		left := &axle.Elements[i]
		if left.Side != compliance.Left {
			continue
		}
		for _, j := range r.Elements {
			if right := &axle.Elements[j]; right.Name == left.Name && right.Side == compliance.Right {
				*left, *right = fit(left, right), fit(right, left)
			}
		}
	}
}
