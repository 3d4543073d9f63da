package cases

import (
	"fmt"
	"math"

	"bushtune/bushing/quantity"

	"bushtune/compliance"
)

// shortCoil is the share of its length at design height below which a coil is
// likely to be solid: common practice, no source.
const shortCoil = 0.4

// watchCoils says once for each coil of unknown solid length where it becomes so
// short that it is likely to be solid, and once for each where it would have to pull.
func (f *FullSize) watchCoils(x float64, c *curves) {
	axle := f.study.rig.solver.Axle()
	for i := range axle.Elements {
		e := &axle.Elements[i]
		if e.Kind != compliance.Spring {
			continue
		}
		once := func(what, text string) {
			if key := e.Label() + what; !c.outside[key] {
				c.outside[key] = true
				c.warnings = append(c.warnings, text)
			}
		}
		if now, design := f.mover.SpringLength(i); e.Slots[e.Kind.FieldIndex("solid_length")] == 0 && now < shortCoil*design {
			once(" is short", fmt.Sprintf("%s: %.4g mm long at %.4g %s, %.0f %% of its length at design height: many coils are solid by then; give solid_length to know",
				e.Label(), now, x, c.x.Unit, 100*now/design))
		}
		if pull := f.pullOf(i); pull > 0 {
			once(" pulls", fmt.Sprintf("%s: pulls with %.4g N at %.4g %s: a coil that only stands in its seats is loose by then, and no longer adds to the rates",
				e.Label(), pull, x, c.x.Unit))
		}
	}
}

// roundingOfLoad is a share of a load that is rounding.
const roundingOfLoad = 1e-9

// pullOf is the tension in N of a coil that is pressed at design height; 0 of one that is
// still pressed, or whose load at design height is not known.
func (f *FullSize) pullOf(spring int) float64 {
	e := &f.study.rig.solver.Axle().Elements[spring]
	strain, load := f.mover.Line(spring, 0)
	if atRest := load - e.Slots[e.Kind.FieldIndex("rate")]*strain; atRest < -roundingOfLoad*math.Abs(load) {
		return max(0, load)
	}
	return 0
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
