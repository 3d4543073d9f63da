package compliance

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/compliance/section"
)

// ProfileBeams are the kinds of beam whose section is given by its shape, one
// for each shape that package section can draw. Their shape slots are named
// "profile.leg" and so on.
var ProfileBeams = profileBeams()

func profileBeams() []*Kind {
	values, derivatives := section.Shapes[float64](), section.Shapes[complex128]()
	kinds := make([]*Kind, len(values))
	for i := range values {
		fields := beamFields()
		for _, f := range values[i].Fields {
			f.Name = "profile." + f.Name
			fields = append(fields, f)
		}
		kinds[i] = &Kind{
			Table: Beam.Table, Variant: values[i].Name, Meaning: "a beam between two bodies, its section a " + values[i].Meaning,
			Fields: fields, Lines: beamLineNames,
			values: shapeBeam(&values[i]), exact: shapeBeam(&derivatives[i]), check: shapeCheck(&values[i]),
		}
	}
	return kinds
}

// shapeBeam draws the shape, opens it as chosen and takes its constants. A shape
// that cannot be drawn is refused by shapeCheck; its lines stay empty here.
func shapeBeam[T exact.Number](shape *section.Shape[T]) func(*Element, []T, exact.Vec[T], *Lines[T]) {
	return func(e *Element, slots []T, centre exact.Vec[T], out *Lines[T]) {
		constants, err := drawn(shape, e.Choice.Opens, slots)
		if err != nil {
			return
		}
		s := SectionOf(&constants)
		beamLines(e, slots, &s, centre, out)
	}
}

func drawn[T exact.Number](shape *section.Shape[T], opens section.Opening, slots []T) (section.Constants[T], error) {
	var p section.Profile[T]
	shape.Draw(&p, slots[beamSlots:])
	p.Open(opens, 0)
	return p.Constants()
}

func shapeCheck(shape *section.Shape[float64]) func(*Element) error {
	return func(e *Element) error {
		if err := checkBeamPlace(e); err != nil {
			return err
		}
		constants, err := drawn(shape, e.Choice.Opens, e.Slots)
		if err != nil {
			return err
		}
		return checkWarping(e, constants.Warping)
	}
}

// SectionOf takes over the constants of a drawn profile.
func SectionOf[T exact.Number](c *section.Constants[T]) Section[T] {
	return Section[T]{
		Area: c.Area, Forward: c.SecondMoment.FF, Up: c.SecondMoment.UU, Mixed: c.SecondMoment.FU,
		ShearForward: c.ShearFlexibility.FF, ShearUp: c.ShearFlexibility.UU, ShearMixed: c.ShearFlexibility.FU,
		Torsion: c.Torsion, Warping: c.Warping, SecondWarping: c.WallWarping,
		Centroid: [2]T{c.Centroid.F, c.Centroid.U}, ShearCentre: [2]T{c.ShearCentre.F, c.ShearCentre.U},
		Wagner: c.Wagner, Monosymmetry: [2]T{c.Monosymmetry.F, c.Monosymmetry.U},
	}
}

// Slots writes the constants in the order of the fields of Beam after the ones
// that place it, for a profile that is drawn wall by wall.
func (s *Section[T]) Slots() []T {
	return []T{s.Area, s.Forward, s.Up, s.Mixed, s.ShearForward, s.ShearUp, s.ShearMixed, s.Torsion, s.Warping, s.SecondWarping,
		s.Centroid[0], s.Centroid[1], s.ShearCentre[0], s.ShearCentre[1],
		s.Wagner, s.Monosymmetry[0], s.Monosymmetry[1]}
}

// SectionFields lists the fields of a section given by numbers.
func SectionFields() []quantity.Field { return sectionFields() }
