package cases

import (
	"maps"
	"math"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// values are slots by field name in written units.
type values map[string]float64

// with returns v with some values replaced.
func with(v, changes values) values {
	all := maps.Clone(v)
	maps.Copy(all, changes)
	return all
}

// fill writes values into slots by the names of their fields.
func fill(t testing.TB, fields []quantity.Field, slots []float64, v values) {
	t.Helper()
	for name, x := range v {
		i := fieldIndex(fields, name)
		if i < 0 {
			t.Fatalf("no field %q", name)
		}
		slots[i] = x * fields[i].Unit.Factor
	}
}

func fieldIndex(fields []quantity.Field, name string) int {
	for i, f := range fields {
		if f.Name == name {
			return i
		}
	}
	return -1
}

func defaultsOf(fields []quantity.Field) []float64 {
	slots := make([]float64, len(fields))
	for i, f := range fields {
		slots[i] = f.Default * f.Unit.Factor
	}
	return slots
}

func element(t testing.TB, kind *compliance.Kind, name string, side compliance.Side, from, to int, v values) compliance.Element {
	t.Helper()
	e := compliance.Element{Kind: kind, Name: name, Side: side, From: from, To: to, Slots: kind.Defaults()}
	fill(t, kind.Fields, e.Slots, v)
	return e
}

func wheelOn(t testing.TB, body int, v values) compliance.Wheel {
	t.Helper()
	w := compliance.Wheel{Body: body, Slots: defaultsOf(compliance.WheelFields)}
	fill(t, compliance.WheelFields, w.Slots, v)
	return w
}

func vehicleWith(t testing.TB, v values) Vehicle {
	t.Helper()
	slots := defaultsOf(VehicleFields)
	fill(t, VehicleFields, slots, v)
	return NewVehicle(slots)
}

var (
	wheelValues = values{"centre.x": 0, "centre.y": 740, "centre.z": 300, "loaded_radius": 300}
	bushValues  = values{"at.x": 430, "at.y": 560, "at.z": 330, "soft": 700, "axial": 900, "stiff": 3000,
		"cone_soft": 7, "torsion": 2.1, "cone_stiff": 8.7}
	springValues = values{"upper.x": -30, "upper.y": 490, "upper.z": 560, "lower.x": -20, "lower.y": 500, "lower.z": 320, "rate": 24}
	beamValues   = values{"at.x": 270, "at.z": 310, "ends_y": 550, "area": 1114, "inertia_forward": 1.88e6, "inertia_up": 0.772e6,
		"shear_forward": 1 / 420.0, "shear_up": 1 / 230.0, "torsion_constant": 9285, "warping_constant": 3.37e7,
		"second_warping_constant": 2e6, "centroid.u": -8, "shear_centre.u": 45}
	carValues = values{"mass": 1250, "rear_share": 0.42, "wheelbase": 2600, "cg_height": 550, "unsprung": 38, "rear_brake_share": 0.3,
		"front_roll_rate": 480, "front_roll_centre": 45, "trail": 25, "tyre_rate": 210}
)

// bothSides writes an element between vehicle and arm for the left, and its
// mirror image.
func bothSides(t testing.TB, kind *compliance.Kind, name string, v values) []compliance.Element {
	return []compliance.Element{
		element(t, kind, name, compliance.Left, compliance.Vehicle, 0, v),
		element(t, kind, name, compliance.Right, compliance.Vehicle, 1, v),
	}
}

// beamAxle is a symmetric twist beam of two arms with the given parts.
func beamAxle(t testing.TB, wheel, bush, spring, beam values) *compliance.Axle {
	axle := &compliance.Axle{
		Bodies: []compliance.Body{{Name: "arm", Side: compliance.Left}, {Name: "arm", Side: compliance.Right}},
		Wheels: [2]compliance.Wheel{wheelOn(t, 0, wheel), wheelOn(t, 1, wheel)},
	}
	axle.Elements = append(axle.Elements, bothSides(t, compliance.Bush, "pivot", bush)...)
	axle.Elements = append(axle.Elements, bothSides(t, compliance.Spring, "coil", spring)...)
	cross := element(t, compliance.Beam, "cross", compliance.Centre, 0, 1, beam)
	cross.Choice.Ends = [2]compliance.Warping{compliance.BuiltIn, compliance.BuiltIn}
	axle.Elements = append(axle.Elements, cross)
	return axle
}

// twistBeam is a plain twist beam of 12 freedoms.
func twistBeam(t testing.TB) *compliance.Axle {
	return beamAxle(t, wheelValues, bushValues, springValues, beamValues)
}

// linkedBeam adds a toe link, angled bushes, hubs and wheel angles, and a softer
// bush on the right: an axle whose halves differ.
func linkedBeam(t testing.TB) *compliance.Axle {
	wheel := with(wheelValues, values{"toe": 0.2, "camber": -1.3, "hub_camber": 0.02, "hub_toe": 0.03})
	axle := beamAxle(t, wheel, with(bushValues, values{"plan": 24, "lift": 6, "clock": 9}), springValues, with(beamValues, values{"tilt": 20}))
	axle.Elements = append(axle.Elements, bothSides(t, compliance.Link, "toe", values{"inner.x": 40, "inner.y": 230, "inner.z": 260,
		"outer.x": 90, "outer.y": 520, "outer.z": 280, "inner_rate": 2000, "outer_rate": 3000})...)
	right := axle.Elements[1].Slots
	right[fieldIndex(compliance.Bush.Fields, "soft")] *= 0.8
	return axle
}

// rigidBody is one body on two bushes without torsion and cones, as the plane
// rigid axle of the textbooks: stiff rate along the bush axis, bushes at ±b.
func rigidBody(t testing.TB, stiff, soft, half, planDegrees, height float64) *compliance.Axle {
	bush := values{"at.x": 430, "at.y": half, "at.z": height, "axial": stiff, "soft": soft, "stiff": 3000, "plan": planDegrees}
	wheel := values{"centre.x": 0, "centre.y": 750, "centre.z": 300, "loaded_radius": 300}
	axle := &compliance.Axle{
		Bodies: []compliance.Body{{Name: "axle", Side: compliance.Centre}},
		Wheels: [2]compliance.Wheel{wheelOn(t, 0, wheel), wheelOn(t, 0, wheel)},
	}
	for _, side := range []compliance.Side{compliance.Left, compliance.Right} {
		axle.Elements = append(axle.Elements, element(t, compliance.Bush, "pivot", side, compliance.Vehicle, 0, bush))
		axle.Elements = append(axle.Elements, element(t, compliance.Spring, "coil", side, compliance.Vehicle, 0,
			values{"upper.x": 0, "upper.y": 500, "upper.z": 600, "lower.x": 0, "lower.y": 500, "lower.z": height, "rate": 20}))
	}
	return axle
}

func studyOf(t testing.TB, axle *compliance.Axle, vehicle Vehicle) *Study {
	t.Helper()
	s, err := NewStudy(axle, vehicle, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// valueOf reads a number in internal units.
func valueOf(t testing.TB, s *Study, name, caseName, where string) float64 {
	t.Helper()
	i, err := s.Find(name, caseName, where)
	if err != nil {
		t.Fatal(err)
	}
	return s.Value(i)
}

// writtenOf reads a number in its written unit.
func writtenOf(t testing.TB, s *Study, name, caseName, where string) float64 {
	t.Helper()
	i, err := s.Find(name, caseName, where)
	if err != nil {
		t.Fatal(err)
	}
	return s.Figure(i).Value
}

// near tells whether two numbers agree to a share of scale.
func near(a, b, tolerance, scale float64) bool { return math.Abs(a-b) <= tolerance*scale }
