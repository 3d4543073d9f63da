package cases

import (
	"fmt"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// bushMoved is load and travel of a bush at the present posture.
func (f *FullSize) bushMoved(b *bush, caseName string) BushLoad {
	solver := f.study.rig.solver
	sense := solver.Axle().Elements[b.element].Choice.InnerSense()
	out := BushLoad{Element: b.label, Case: caseName, element: b.element}
	for i := range out.Load {
		strain, load := f.mover.Line(b.element, i)
		out.Rest[i] = sense * solver.StaticLoad(b.element, i)
		out.Load[i], out.Travel[i] = sense*load-out.Rest[i], sense*strain
	}
	f.study.takeOffBracket(b, &out)
	return out
}

// readBushes reads travel and load of every bush in its six directions, and the
// four that have limits.
func (f *FullSize) readBushes(caseName string, x float64, c *curves) {
	for i := range f.study.bushes {
		b := f.bushMoved(&f.study.bushes[i], caseName)
		for d, name := range bushing.DirectionNames {
			where := b.Element + " " + name
			way, load := quantity.Millimetre, quantity.Newton
			if bushing.Direction(d) >= bushing.ConeSoft {
				way, load = quantity.Degree, quantity.NewtonMetre
			}
			travel := Series{Number: "bush_travel", Title: "bush travel", Case: caseName, Where: where, Unit: way.Name, Step: 0.1,
				Formula: "movement of the rubber from the design position, inner sleeve against outer, bracket not counted"}
			c.add(&travel, x, way.Written(b.Travel[d]))
			force := Series{Number: "bush_load", Title: "bush load", Case: caseName, Where: where, Unit: load.Name, Step: 10, Formula: "load, that at rest included"}
			c.add(&force, x, load.Written(b.Rest[d]+b.Load[d]))
			if f.mover.Outside(b.element, d) {
				c.warnOutside(where, x, load, b.Rest[d]+b.Load[d])
			}
			if d < linesOfBush && f.mover.Curved(b.element) {
				rate := Series{Number: "bush_rate", Title: "bush rate", Case: caseName, Where: where, Unit: quantity.NewtonPerMillimetre.Name, Step: 10,
					Formula: "slope of the bush's law at its present deflection, the other directions held"}
				c.add(&rate, x, f.mover.LineRate(b.element, d))
			}
		}
		f.readUsages(&b, x, c)
	}
}

// readUsages reads what a bush carries and moves beside its limits.
func (f *FullSize) readUsages(b *BushLoad, x float64, c *curves) {
	for n, u := range f.study.Usages(b) {
		s := Series{Number: usageNumbers[n], Title: "bush " + u.What, Case: b.Case, Where: b.Element, Unit: u.Unit, Step: 0.1, Limit: u.Limit,
			Formula: u.What + ", beside the limit that the file gives"}
		c.add(&s, x, u.Value)
	}
	for n, u := range f.study.WorstStrains(b) {
		s := Series{Number: "bush_" + strainWords[n], Title: "bush " + strainWords[n], Case: b.Case, Where: b.Element, Unit: u.Unit, Step: 1, Limit: u.Limit,
			Formula: "greatest indicator of " + strainWords[n] + " of the rubber, the deflection at rest included, beside the published limit for long life"}
		c.add(&s, x, u.Value)
	}
}

// strainWords are the words for the worst strains of a bush, in their order.
var strainWords = [2]string{"compression", "shear"}

// readStops reads the load of every bump stop: none while its gap is open.
func (f *FullSize) readStops(caseName string, x float64, c *curves) {
	axle := f.study.rig.solver.Axle()
	for i := range axle.Elements {
		if e := &axle.Elements[i]; e.Kind == compliance.BumpStop {
			_, load := f.mover.Line(i, 0)
			s := Series{Number: "stop_load", Title: "load of the bump stop", Case: caseName, Where: e.Label(), Unit: quantity.Newton.Name, Step: 10,
				Formula: "compression; none while the gap is open"}
			c.add(&s, x, -load)
		}
	}
}

// usageNumbers are the names of the usages of a bush, in their order.
var usageNumbers = [4]string{"bush_radial_load", "bush_axial_load", "bush_radial_travel", "bush_axial_travel"}

// warnOutside says once for each bush and direction where its table ends.
func (c *curves) warnOutside(where string, x float64, unit quantity.Unit, load float64) {
	if c.outside[where] {
		return
	}
	c.outside[where] = true
	c.warnings = append(c.warnings, fmt.Sprintf("%s: beyond its table from %.4g %s on, at a load of %.4g %s; the curve is continued in a straight line",
		where, x, c.x.Unit, unit.Written(load), unit.Name))
}
