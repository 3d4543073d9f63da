package cases

import (
	"fmt"

	"bushtune/bushing/quantity"

	"bushtune/compliance"
)

// shortCoil is the share of its length at design height below which a coil is
// likely to be solid: common practice, no source.
const shortCoil = 0.4

// watchCoils says once for each coil of unknown solid length where it becomes so
// short that it is likely to be solid.
func (f *FullSize) watchCoils(x float64, c *curves) {
	axle := f.study.rig.solver.Axle()
	for i := range axle.Elements {
		e := &axle.Elements[i]
		if e.Kind != compliance.Spring || e.Slots[e.Kind.FieldIndex("solid_length")] != 0 || c.outside[e.Label()] {
			continue
		}
		if now, design := f.mover.SpringLength(i); now < shortCoil*design {
			c.outside[e.Label()] = true
			c.warnings = append(c.warnings, fmt.Sprintf("%s: %.4g mm long at %.4g %s, %.0f %% of its length at design height: many coils are solid by then; give solid_length to know",
				e.Label(), now, x, c.x.Unit, 100*now/design))
		}
	}
}

// negativeRates names every rate of the wheels that falls below zero, and from where.
func negativeRates(series []Series) []string {
	var all []string
	for i := range series {
		s := &series[i]
		if s.Number != "wheel_rate" && s.Number != "roll_rate" {
			continue
		}
		worst := Point{}
		for _, p := range s.Points {
			if quantity.Exceeds(worst.Value, p.Value) {
				worst = p
			}
		}
		if worst.Value < 0 {
			all = append(all, fmt.Sprintf("%s, %s: %.4g %s at %.4g %s, so the spring drives the wheel on there instead of holding it: check the coil's places and its solid_length",
				s.Title, s.Case, worst.Value, s.Unit, worst.X, s.X.Unit))
		}
	}
	return all
}
