package compliance

import (
	"fmt"
	"math"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Section holds the constants of a cross-section in its own axes, forward f and
// up u, in mm, measured from the line between the beam's ends.
type Section[T exact.Number] struct {
	Area                              T    // mm²
	Forward, Up, Mixed                T    // mm⁴: ∫f²dA, ∫u²dA, ∫f·u dA about the centroid
	ShearForward, ShearUp, ShearMixed T    // 1/mm²: strain energy per length = ½·Vᵀ·S·V/G
	Torsion                           T    // mm⁴, St Venant
	Warping, SecondWarping            T    // mm⁶: of the midline, through the thickness
	Centroid, ShearCentre             [2]T // mm: f, u
	Wagner                            T    // mm⁶: ∫r⁴dA − (∫r²dA)²/A about the shear centre
	Monosymmetry                      [2]T // mm: f, u of the bending part of r² about the shear centre
}

// Beam is a prismatic beam whose section is given by its constants.
var Beam = &Kind{
	Table: "beam", Meaning: "a beam between two bodies, its section given by numbers",
	Fields: append(beamFields(), sectionFields()...), Lines: beamLineNames,
	values: numberBeam[float64], exact: numberBeam[complex128], check: checkNumberBeam,
}

// beamLineNames are the words for the lines of a beam; one for warping exists for
// each continuous end.
var beamLineNames = []string{"axial", "shear fore-aft", "shear vertical", "bending fore-aft", "bending vertical", "twist", "warping at from", "warping at to"}

// warpingLine is the line of the first continuous end.
const warpingLine = 6

// LineWord is the word for one line of the element: "soft", "warping at to".
func (e *Element) LineWord(line int) string {
	if line == warpingLine && e.Kind.Table == Beam.Table && e.Choice.Ends[0] != Continuous {
		line++ // the to end alone is continuous
	}
	return e.Kind.Lines[line]
}

// beamFields place a beam: at and ends_y for a cross-member, or start and end.
func beamFields() []quantity.Field {
	fields := quantity.Vector("at", quantity.Millimetre, "cross-member: middle of the line between its ends, where the section's origin lies")
	fields = append(fields, quantity.Field{Name: "ends_y", Unit: quantity.Millimetre, Above: true, Max: quantity.Far, Meaning: "cross-member: its ends lie this far left and right of at"})
	fields = append(fields, quantity.Vector("start", quantity.Millimetre, "any beam: end on the from side; write the end further left here, then f of the section points ahead, otherwise to the rear")...)
	fields = append(fields, quantity.Vector("end", quantity.Millimetre, "any beam: end on the to side")...)
	return append(fields,
		quantity.Field{Name: "tilt", Unit: quantity.Degree, Min: -360, Max: 360, Meaning: "turn of the section about the beam's axis; cross-member: + top leans forward"},
		quantity.Field{Name: "youngs_modulus", Unit: quantity.Megapascal, Above: true, Max: 1e12, Default: 210000, Meaning: "Young's modulus; absent: steel, 210000"},
		quantity.Field{Name: "poissons_ratio", Unit: quantity.None, Min: -0.99, Max: 0.5, Default: 0.3, Meaning: "Poisson's ratio; absent: steel, 0.3"})
}

// beamSlots is the number of slots before those of the section.
const beamSlots = 13

// sectionFields lists the constants of a section in the order of Section.Slots.
func sectionFields() []quantity.Field {
	must := func(name string, unit quantity.Unit, meaning string) quantity.Field {
		return quantity.Field{Name: name, Unit: unit, Above: true, Max: 1e18, Required: true, Meaning: meaning}
	}
	may := func(name string, unit quantity.Unit, low float64, meaning string) quantity.Field {
		return quantity.Field{Name: name, Unit: unit, Min: low, Max: 1e18, Meaning: meaning}
	}
	return []quantity.Field{
		must("area", quantity.SquareMillimetre, "area of the section"),
		must("inertia_forward", quantity.Millimetre4, "second moment ∫f²dA about the centroid: resists fore-aft bending"),
		must("inertia_up", quantity.Millimetre4, "second moment ∫u²dA about the centroid: resists vertical bending"),
		may("inertia_mixed", quantity.Millimetre4, -1e18, "product ∫f·u dA about the centroid"),
		may("shear_forward", quantity.PerSquareMillimetre, 0, "shear flexibility fore-aft, one over the shear area; absent: rigid in shear"),
		may("shear_up", quantity.PerSquareMillimetre, 0, "shear flexibility vertical, one over the shear area; absent: rigid in shear"),
		may("shear_mixed", quantity.PerSquareMillimetre, -1e18, "mixed term of the shear flexibility"),
		must("torsion_constant", quantity.Millimetre4, "St Venant torsion constant"),
		may("warping_constant", quantity.Millimetre6, 0, "warping constant of the midline about the shear centre"),
		may("second_warping_constant", quantity.Millimetre6, 0, "warping constant through the thickness"),
		may("centroid.f", quantity.Millimetre, -1e18, "centroid forward of the section's origin"),
		may("centroid.u", quantity.Millimetre, -1e18, "centroid above the section's origin"),
		may("shear_centre.f", quantity.Millimetre, -1e18, "shear centre forward of the section's origin"),
		may("shear_centre.u", quantity.Millimetre, -1e18, "shear centre above the section's origin"),
		may("wagner_constant", quantity.Millimetre6, 0, "∫r⁴dA − (∫r²dA)²/A about the shear centre: stiffens large twist; absent: it does not"),
		may("monosymmetry.f", quantity.Millimetre, -1e18, "forward part of (∫f²dA ∫fu dA; ∫fu dA ∫u²dA)⁻¹·∫r²(f, u)dA about the shear centre: large twist bows the beam; absent: it does not"),
		may("monosymmetry.u", quantity.Millimetre, -1e18, "its part up"),
	}
}

func numberBeam[T exact.Number](e *Element, slots []T, centre exact.Vec[T], out *Lines[T]) {
	s := slots[beamSlots:]
	section := Section[T]{
		Area: s[0], Forward: s[1], Up: s[2], Mixed: s[3], ShearForward: s[4], ShearUp: s[5], ShearMixed: s[6],
		Torsion: s[7], Warping: s[8], SecondWarping: s[9], Centroid: [2]T{s[10], s[11]}, ShearCentre: [2]T{s[12], s[13]}, Wagner: s[14], Monosymmetry: [2]T{s[15], s[16]},
	}
	beamLines(e, slots, &section, centre, out)
}

// beamAxis is the line of a beam and the axes of its section.
type beamAxis[T exact.Number] struct {
	middle      exact.Vec[T] // mm from the axle's centre
	axis        exact.Vec[T] // unit, from the to end toward the from end: + left for a cross-member
	forward, up exact.Vec[T] // unit, section axes; (forward, axis, up) is right-handed
	length      T            // mm
}

// at is the point of the mid-span section with coordinates f, u.
func (b *beamAxis[T]) at(p [2]T) exact.Vec[T] { return b.middle.Add(b.direction(p[0], p[1])) }

// direction is f forward plus u up.
func (b *beamAxis[T]) direction(f, u T) exact.Vec[T] { return b.forward.Scale(f).Add(b.up.Scale(u)) }

// beamEnds returns the two ends as written: at ± ends_y, or start and end.
func beamEnds[T exact.Number](s []T) (start, end exact.Vec[T]) {
	if exact.Real(s[3]) != 0 {
		return exact.Vec[T]{s[0], s[1] + s[3], s[2]}, exact.Vec[T]{s[0], s[1] - s[3], s[2]}
	}
	return exact.Vec[T]{s[4], s[5], s[6]}, exact.Vec[T]{s[7], s[8], s[9]}
}

// newBeamAxis finds up as the vehicle's z square to the beam (x if the beam is
// upright) and turns the section by tilt about the axis.
func newBeamAxis[T exact.Number](s []T, centre exact.Vec[T]) beamAxis[T] {
	start, end := beamEnds(s)
	line := start.Sub(end)
	b := beamAxis[T]{middle: start.Add(end).Scale(0.5).Sub(centre), length: line.Norm()}
	b.axis = line.Scale(1 / b.length)
	reference := exact.Vec[T]{0, 0, 1}
	if math.Abs(exact.Real(b.axis[2])) > 0.999 {
		reference = exact.Vec[T]{1, 0, 0}
	}
	up := reference.Sub(b.axis.Scale(b.axis.Dot(reference))).Unit()
	forward := b.axis.Cross(up)
	sin, cos := exact.Sincos(s[10])
	b.up = up.Scale(cos).Add(forward.Scale(sin))
	b.forward = forward.Scale(cos).Sub(up.Scale(sin))
	return b
}

// beamLines writes a Timoshenko beam with rigid ends as lines at mid-span,
// where shear, bending and twist do not mix (Przemieniecki, Theory of Matrix
// Structural Analysis, 1968, ch. 5, in natural modes): EA/L at the centroid,
// (L³/12·(E·I)⁻¹ + L/G·S)⁻¹ at the shear centre, E·I/L, and the twist with
// warping.
func beamLines[T exact.Number](e *Element, slots []T, c *Section[T], centre exact.Vec[T], out *Lines[T]) {
	b := newBeamAxis(slots, centre)
	young := slots[11]
	shear := young / (2 * (1 + slots[12]))
	out.add(young*c.Area/b.length, exact.Force(b.axis.Scale(-1), b.at(c.Centroid)))
	bending := tensor[T]{c.Forward, c.Mixed, c.Up}
	bent := bending.inverse().scale(b.length * b.length * b.length / (12 * young))
	slides := b.shearLines(bent, c, shear, out)
	lines := bending.scale(young / b.length).principal()
	for _, p := range lines {
		out.add(p.rate, exact.Moment(b.axis.Cross(b.direction(p.forward, p.up))))
	}
	twist := twistLines(e, b.axis, b.length, shear*c.Torsion, young, c, out)
	at := b.at(c.ShearCentre)
	out.Anchor = Anchor[T]{From: at, To: at, Lean: 0.5}
	h := helix[T]{length: b.length, section: c, twist: &twist, shear: slides, bending: lines, bent: bent}
	h.write(young, out)
}

// shearLines adds shear to the bending flexibility at mid-span and returns the
// two lines.
func (b *beamAxis[T]) shearLines(flexibility tensor[T], c *Section[T], shearModulus T, out *Lines[T]) [2]principalLine[T] {
	slide := b.length / shearModulus
	flexibility.a += slide * c.ShearForward
	flexibility.b += slide * c.ShearMixed
	flexibility.c += slide * c.ShearUp
	lines := flexibility.inverse().principal()
	for _, p := range lines {
		out.add(p.rate, exact.Force(b.direction(p.forward, p.up), b.at(c.ShearCentre)))
	}
	return lines
}

// tensor is a symmetric 2×2 in section axes: a forward, c up, b mixed.
type tensor[T exact.Number] struct{ a, b, c T }

func (t tensor[T]) scale(s T) tensor[T] { return tensor[T]{s * t.a, s * t.b, s * t.c} }

func (t tensor[T]) inverse() tensor[T] {
	d := 1 / (t.a*t.c - t.b*t.b)
	return tensor[T]{t.c * d, -t.b * d, t.a * d}
}

// principalLine is a rate and the direction (forward, up) in which it acts.
type principalLine[T exact.Number] struct{ rate, forward, up T }

// principal splits a tensor into two lines, the first within 45 deg of forward.
// The axes are turned by the real principal angle; what is left of the mixed
// term, nothing in value but not in derivative, goes into the first direction.
// So derivatives stay exact where the two principal values meet.
func (t tensor[T]) principal() [2]principalLine[T] {
	a, b, c := exact.Real(t.a), exact.Real(t.b), exact.Real(t.c)
	angle := 0.5 * math.Atan2(math.Copysign(2*b, 2*b*(a-c)), math.Abs(a-c))
	sr, cr := math.Sincos(angle)
	sin, cos := exact.Lift[T](sr), exact.Lift[T](cr)
	first := cos*cos*t.a + 2*sin*cos*t.b + sin*sin*t.c
	mixed := sin*cos*(t.c-t.a) + (cos*cos-sin*sin)*t.b
	second := sin*sin*t.a - 2*sin*cos*t.b + cos*cos*t.c
	skew := mixed / first
	return [2]principalLine[T]{
		{first, cos - skew*sin, sin + skew*cos},
		{second - mixed*skew, -sin, cos},
	}
}

// checkBeamPlace wants either a cross-member or two different ends.
func checkBeamPlace(e *Element) error {
	start, end := beamEnds(e.Slots)
	if start == end {
		return fmt.Errorf("the beam has no length: give at and ends_y, or start and end")
	}
	return nil
}

func checkNumberBeam(e *Element) error {
	if err := checkBeamPlace(e); err != nil {
		return err
	}
	s := e.Slots[beamSlots:]
	if s[1]*s[2] <= s[3]*s[3] {
		return fmt.Errorf("inertia_mixed must be smaller than √(inertia_forward·inertia_up) = %.6g mm⁴", math.Sqrt(s[1]*s[2]))
	}
	if s[4]*s[5] < s[6]*s[6] {
		return fmt.Errorf("shear_mixed must not exceed √(shear_forward·shear_up) = %.6g 1/mm²", math.Sqrt(s[4]*s[5]))
	}
	return checkWarping(e, s[8])
}

// checkWarping wants something to pass on where warping is continuous.
func checkWarping(e *Element, constant float64) error {
	if constant <= 1e-6 && (e.Choice.Ends[0] == Continuous || e.Choice.Ends[1] == Continuous) {
		return fmt.Errorf("a continuous end needs a section with a warping constant above zero")
	}
	return nil
}

// BeamEnds are the ends of a beam on the From and the To side in mm, as its slots
// write them.
func (e *Element) BeamEnds() (start, end exact.Vec[float64]) { return beamEnds(e.Slots) }
