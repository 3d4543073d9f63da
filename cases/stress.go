package cases

import (
	"fmt"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// drawnBeam is a beam whose section has an outline.
type drawnBeam struct {
	element int
	section *compliance.DrawnSection
}

// drawBeams finds the outlines of the beams for the present slots, and says of
// which beams there are none.
func (f *FullSize) drawBeams() {
	f.beams, f.withoutOutline = f.beams[:0], f.withoutOutline[:0]
	axle := f.study.rig.solver.Axle()
	for i := range axle.Elements {
		e := &axle.Elements[i]
		if e.Kind.Table != compliance.Beam.Table {
			continue
		}
		if d, ok := compliance.NewDrawnSection(e); ok {
			f.beams = append(f.beams, drawnBeam{i, d})
		} else {
			f.withoutOutline = append(f.withoutOutline, fmt.Sprintf("%s: its section is given by numbers and has no outline: no stress at its ends", e.Label()))
		}
	}
}

// readStress reads the nominal stresses at the ends of the beams: bending,
// warping and torsion apart, to compare designs; no verdict on fatigue.
func (f *FullSize) readStress(caseName string, x float64, c *curves) {
	axle := f.study.rig.solver.Axle()
	for _, b := range f.beams {
		e := &axle.Elements[b.element]
		stress := f.mover.Stress(b.element, b.section)
		one := func(number, title, where, formula string, value float64) {
			s := Series{Number: number, Title: title, Case: caseName, Where: where, Unit: quantity.Megapascal.Name, Step: 1, Formula: formula}
			c.add(&s, x, value)
		}
		for end, body := range [2]int{e.From, e.To} {
			where := e.Label() + " at " + bodyName(axle, body)
			one("stress_bending", "nominal stress, bending", where, "largest |N/A + bending in both planes| over the outline; nominal, no fatigue verdict", stress.Bending[end])
			one("stress_warping", "nominal stress, warping", where, "largest |bimoment / Iw · warping| over the outline; 0 at an end that warps freely or in a chain; nominal, no fatigue verdict", stress.Warping[end])
		}
		one("stress_torsion", "nominal shear stress, torsion", e.Label(), "St Venant shear where along the beam it is largest; nominal, no fatigue verdict", stress.Torsion)
	}
}

// bodyName is the label of a body, or the vehicle.
func bodyName(axle *compliance.Axle, body int) string {
	if body == compliance.Vehicle {
		return "vehicle"
	}
	return axle.Bodies[body].Label()
}
