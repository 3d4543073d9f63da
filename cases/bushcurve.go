package cases

import (
	"fmt"
	"slices"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// outsideWarnings name each direction of each bush whose load at rest lies
// beyond the ends of its measured curve.
func (s *Study) outsideWarnings() []string {
	solver := s.rig.solver
	var all []string
	for _, b := range s.bushes {
		for d, name := range bushing.DirectionNames {
			if !solver.Outside(b.element, d, solver.Operating(b.element, d)) {
				continue
			}
			unit := loadUnit(bushing.Direction(d))
			all = append(all, fmt.Sprintf("%s %s: the load at rest, %.4g %s, is beyond the end of its curve, which is continued in a straight line",
				b.label, name, unit.Written(solver.Axle().Elements[b.element].Choice.InnerSense()*solver.StaticLoad(b.element, d)), unit.Name))
		}
	}
	return all
}

// loadUnit is the written unit of a load in a direction of a bush.
func loadUnit(d bushing.Direction) quantity.Unit {
	if d >= bushing.ConeSoft {
		return quantity.NewtonMetre
	}
	return quantity.Newton
}

// curvesAlike tells whether bushes with curves or stops are the same on both
// sides; with little load their difference does not show in the compliance.
func curvesAlike(axle *compliance.Axle) bool {
	for i := range axle.Elements {
		e := &axle.Elements[i]
		b, is := e.Bush()
		if !is || e.Side == compliance.Centre {
			continue
		}
		twin := func(o compliance.Element) bool {
			return o.Kind == e.Kind && o.Name == e.Name && o.Side != e.Side && o.Choice == e.Choice && slices.Equal(o.Slots, e.Slots)
		}
		if b.Curved(e.Choice.Curves) && !slices.ContainsFunc(axle.Elements, twin) {
			return false
		}
	}
	return true
}
