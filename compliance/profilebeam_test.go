package compliance

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/compliance/section"
)

// shapeValues draws each shape with modest numbers, by the end of its fields.
var shapeValues = values{"leg": 75, "leg_front": 80, "leg_rear": 60, "radius": 30, "half_angle": 25, "wall": 4, "width": 70, "height": 90,
	"web": 60, "flange": 50, "web_wall": 4, "flange_wall": 5}

func drawnBeam(t testing.TB, kind *Kind, opens section.Opening, changes values) Element {
	v := values{"at.x": 270, "at.z": 310, "ends_y": 550, "tilt": 20}
	for _, f := range kind.Fields[beamSlots:] {
		x, ok := shapeValues[strings.TrimPrefix(f.Name, "profile.")]
		if !ok {
			t.Fatalf("no value for %s of %s", f.Name, kind.Variant)
		}
		v[f.Name] = x
	}
	e := element(t, kind, "cross", Centre, 0, 1, with(v, changes))
	e.Choice = Choice{Ends: [2]Warping{BuiltIn, Primary}, Opens: opens}
	return e
}

// A beam with a drawn shape is the beam with the numbers of that shape, and its
// section turned by the opening is its section tilted.
func TestDrawnBeamIsBeamByNumbers(t *testing.T) {
	shapes := section.Shapes[float64]()
	for i, kind := range ProfileBeams {
		for _, opens := range []section.Opening{0, section.Rearward} {
			drawn := drawnBeam(t, kind, opens, nil)
			var p section.Profile[float64]
			shapes[i].Draw(&p, drawn.Slots[beamSlots:])
			p.Open(opens, 0)
			constants, err := p.Constants()
			if err != nil {
				t.Fatal(err)
			}
			s := SectionOf(&constants)
			if len(s.Slots()) != len(SectionFields()) {
				t.Fatalf("%d numbers of a section, %d fields", len(s.Slots()), len(SectionFields()))
			}
			numbers := drawn
			numbers.Kind, numbers.Slots = Beam, append(slices.Clone(drawn.Slots[:beamSlots]), s.Slots()...)
			axle, other := twistBeam(t), twistBeam(t)
			axle.Elements[4], other.Elements[4] = drawn, numbers
			got, want := complianceOf(t, axle), complianceOf(t, other)
			comparePorts(t, kind.Variant, got, want)
		}
	}
}

// Numbers that no shape has are refused by name: on making a solver, and later
// when a slot moves there; the axle without a cross-member is never solved
// instead.
func TestShapeThatCannotBeDrawn(t *testing.T) {
	for _, kind := range ProfileBeams {
		wall := slices.IndexFunc(kind.Fields, func(f quantity.Field) bool { return strings.HasSuffix(f.Name, "wall") })
		axle := twistBeam(t)
		axle.Elements[4] = drawnBeam(t, kind, 0, nil)
		s := newSolver(t, axle)
		good := axle.Elements[4].Slots[wall]
		s.Set(Slot{4, wall}, math.Copysign(good, -1))
		err := s.Update()
		var free *FreeMotion
		if err == nil || errors.As(err, &free) || !strings.Contains(err.Error(), "beam.cross") {
			t.Errorf("%s with a wall of −4 mm: %v", kind.Variant, err)
		}
		s.Set(Slot{4, wall}, good)
		if err := s.Update(); err != nil {
			t.Fatal(err)
		}
		sameCompliance(t, kind.Variant+" put right", s, newSolver(t, axle))
		axle.Elements[4].Slots[wall] = -good
		if _, err := NewSolver(axle); err == nil || !strings.Contains(err.Error(), "beam.cross") {
			t.Errorf("%s with a wall of −4 mm: %v", kind.Variant, err)
		}
	}
}

// Ends that meet and links without length are named when a slot moves there.
func TestLengthsThatVanish(t *testing.T) {
	axle := lopsided(t)
	s := newSolver(t, axle)
	last := len(axle.Elements) - 1
	for i, axis := range []string{"x", "y", "z"} {
		s.Set(Slot{last, i}, axle.Value(Slot{last, Link.FieldIndex("outer." + axis)}))
	}
	if err := s.Update(); err == nil || !strings.Contains(err.Error(), "link.toe.left") {
		t.Errorf("a link without length: %v", err)
	}
}
