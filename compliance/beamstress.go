package compliance

import (
	"math"
	"slices"

	"bushtune/compliance/section"
)

// DrawnSection is the section of a beam whose shape is drawn: its constants and
// the places where stresses can be largest.
type DrawnSection struct {
	constants Section[float64]
	fibres    []section.Fibre[float64]
	shear     float64 // mm: largest St Venant shear per G and twist per length
}

// NewDrawnSection draws the section of a beam; false for an element that is no
// beam or has no outline: its section is given by numbers, or its constants have
// been moved since it was drawn.
func NewDrawnSection(e *Element) (*DrawnSection, bool) {
	p, ok := outline(e)
	if !ok {
		return nil, false
	}
	fibres, constants, err := p.Fibres()
	if err != nil {
		return nil, false
	}
	d := &DrawnSection{constants: SectionOf(&constants), fibres: fibres}
	if e.Kind == Beam && !slices.Equal(d.constants.Slots(), e.Slots[beamSlots:]) {
		return nil, false
	}
	for _, f := range fibres {
		d.shear = max(d.shear, f.Shear)
	}
	return d, true
}

// outline is the profile of a beam, drawn wall by wall or as a shape.
func outline(e *Element) (p section.Profile[float64], ok bool) {
	if e.Kind == Beam && e.Choice.Outline != nil {
		return *e.Choice.Outline, true
	}
	for i, kind := range ProfileBeams {
		if kind == e.Kind {
			section.Shapes[float64]()[i].Draw(&p, e.Slots[beamSlots:])
			p.Open(e.Choice.Opens, 0)
			return p, true
		}
	}
	return p, false
}

// BeamStress are the largest nominal stresses of a beam in MPa, from the loads of
// its lines and the constants of its section: no notch, no weld, no end plate. It
// compares designs and is no verdict on fatigue.
type BeamStress struct {
	Bending [2]float64 // at From and at To: bending in both planes with tension
	Warping [2]float64 // at From and at To: normal stress of the warping that is held there; 0 where it is free
	Torsion float64    // St Venant shear where along the beam it is largest
}

// Stress is the nominal stress of a beam at the present posture.
func (m *Mover) Stress(element int, d *DrawnSection) BeamStress {
	e, lines, arm := &m.solver.axle.Elements[element], &m.solver.lines[element], &m.plain[element]
	b := newBeamAxis(e.Slots, m.solver.centre)
	state := &m.states[element]
	var force, moment vec
	for l := range lines.Count {
		force = force.Add(arm.force[l].Scale(state.load[l]))
		moment = moment.Add(arm.moment[l].Scale(state.load[l]))
	}
	if e.Side == Right { // as its mirror image on the left, in whose terms the slots are
		force[1], moment[0], moment[2] = -force[1], -moment[0], -moment[2]
	}
	c := &d.constants
	toCentroid := b.direction(c.ShearCentre[0]-c.Centroid[0], c.ShearCentre[1]-c.Centroid[1])
	var out BeamStress
	for end, side := range [2]float64{0.5, -0.5} {
		at := moment.Sub(b.axis.Cross(force).Scale(side * b.length)).Add(toCentroid.Cross(force))
		out.Bending[end] = d.bending(-force.Dot(b.axis), at.Dot(b.forward), at.Dot(b.up))
	}
	d.twist(e, b.length, state.own[twistLine], &out)
	return out
}

// bending is the largest |N/A + bending| over the fibres, with moments about the
// section's axes in N·mm: ∫σ·f dA = −M·up and ∫σ·u dA = M·forward.
func (d *DrawnSection) bending(tension, aboutForward, aboutUp float64) float64 {
	c := &d.constants
	inverse := tensor[float64]{c.Forward, c.Mixed, c.Up}.inverse()
	f, u := -aboutUp*inverse.a+aboutForward*inverse.b, -aboutUp*inverse.b+aboutForward*inverse.c
	worst := 0.0
	for _, p := range d.fibres {
		worst = max(worst, math.Abs(tension/c.Area+f*(p.At.F-c.Centroid[0])+u*(p.At.U-c.Centroid[1])))
	}
	return worst
}

// twist writes the stresses of a torque T (Vlasov, Thin-Walled Elastic Beams,
// 1961; SCI P385, 2011). With a = √(E·Iw/(G·J)) and the length r over which a held
// end fades, half the beam if both are held, the bimoment there is T·a·tanh(r/a)
// and the St Venant part of the torque grows to T·(1 − 1/cosh(r/a)) at the other end.
func (d *DrawnSection) twist(e *Element, length, torque float64, out *BeamStress) {
	c := &d.constants
	young := e.Slots[11]
	gj := young / (2 * (1 + e.Slots[12])) * c.Torsion
	reach := length
	if e.Choice.Ends[0] != Free && e.Choice.Ends[1] != Free {
		reach = length / 2
	}
	freely := 1.0
	for end, w := range e.Choice.Ends {
		constant := c.Warping
		if w == BuiltIn {
			constant += c.SecondWarping
		}
		if w == Free || w == Continuous || constant <= 0 {
			continue
		}
		a := math.Sqrt(young * constant / gj)
		bimoment := torque * a * math.Tanh(reach/a)
		freely = min(freely, 1-1/math.Cosh(reach/a))
		for _, f := range d.fibres {
			warping := f.Midline
			if w == BuiltIn {
				warping = f.Warping
			}
			out.Warping[end] = max(out.Warping[end], math.Abs(bimoment/constant*warping))
		}
	}
	out.Torsion = math.Abs(torque) * freely * d.shear / c.Torsion
}
