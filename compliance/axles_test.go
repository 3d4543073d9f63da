package compliance

import (
	"maps"
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/quantity"
)

// values are slots by field name in written units.
type values map[string]float64

// slotsOf fills a slot list from written values; a name that is no field fails the test.
func slotsOf(t testing.TB, fields []quantity.Field, v values) []float64 {
	t.Helper()
	slots := defaults(fields)
	for name, x := range v {
		i := fieldIndex(fields, name)
		if i < 0 {
			t.Fatalf("no field %q", name)
		}
		slots[i] = x * fields[i].Unit.Factor
	}
	return slots
}

func element(t testing.TB, kind *Kind, name string, side Side, from, to int, v values) Element {
	t.Helper()
	return Element{Kind: kind, Name: name, Side: side, From: from, To: to, Slots: slotsOf(t, kind.Fields, v)}
}

// with returns v with some values replaced.
func with(v, changes values) values {
	all := maps.Clone(v)
	maps.Copy(all, changes)
	return all
}

func wheelOn(t testing.TB, body int, v values) Wheel {
	t.Helper()
	return Wheel{Body: body, Slots: slotsOf(t, WheelFields, v)}
}

var (
	testWheel = values{"centre.x": 0, "centre.y": 740, "centre.z": 300, "loaded_radius": 300}
	testBush  = values{"at.x": 430, "at.y": 560, "at.z": 330, "soft": 700, "axial": 900, "stiff": 3000,
		"cone_soft": 7, "torsion": 2.1, "cone_stiff": 8.7}
	// testRubber is a bush by its dimensions, off the rows of hardness of the table.
	testRubber = values{"at.x": 430, "at.y": 560, "at.z": 330, "rubber.inner_diameter": 24, "rubber.outer_diameter": 56, "rubber.length": 50, "rubber.hardness": 57.3,
		"rubber.void_arc": 80, "rubber.void_depth": 6, "rubber.stop_gap": 3, "rubber.stop_diameter": 48, "rubber.stop_thickness": 8}
	testSpring = values{"upper.x": -30, "upper.y": 490, "upper.z": 560, "lower.x": -20, "lower.y": 500, "lower.z": 320, "rate": 24}
	testBeam   = values{"at.x": 270, "at.z": 310, "ends_y": 550, "area": 1114, "inertia_forward": 1.88e6, "inertia_up": 0.772e6, "inertia_mixed": 2e5,
		"shear_forward": 1 / 420.0, "shear_up": 1 / 230.0, "shear_mixed": 1e-4, "torsion_constant": 9285, "warping_constant": 3.37e7,
		"second_warping_constant": 2e6, "centroid.f": 3, "centroid.u": -8, "shear_centre.f": -5, "shear_centre.u": 45,
		"wagner_constant": 2e9, "monosymmetry.f": 25, "monosymmetry.u": -110}
)

// bothSides writes an element for the left and its mirror image.
func bothSides(t testing.TB, kind *Kind, name string, v values) []Element {
	return []Element{
		element(t, kind, name, Left, Vehicle, 0, v),
		element(t, kind, name, Right, Vehicle, 1, v),
	}
}

// twistBeam is a symmetric twist beam of two arms, without static load.
func twistBeam(t testing.TB) *Axle {
	axle := &Axle{
		Bodies: []Body{{"arm", Left}, {"arm", Right}},
		Wheels: [2]Wheel{wheelOn(t, 0, testWheel), wheelOn(t, 1, testWheel)},
	}
	axle.Elements = append(axle.Elements, bothSides(t, Bush, "pivot", testBush)...)
	axle.Elements = append(axle.Elements, bothSides(t, Spring, "coil", testSpring)...)
	beam := element(t, Beam, "cross", Centre, 0, 1, testBeam)
	beam.Choice.Ends = [2]Warping{BuiltIn, Primary}
	axle.Elements = append(axle.Elements, beam)
	return axle
}

// everything is an axle with every kind of element, not symmetric, loaded at
// rest, with a subframe, a chain of beams, hubs, toe and camber.
func everything(t testing.TB) *Axle {
	left := with(testWheel, values{"toe": 0.3, "camber": -1.2, "hub_camber": 0.02, "hub_toe": 0.03})
	axle := &Axle{
		Bodies: []Body{{"arm", Left}, {"arm", Right}, {"bracket", Centre}, {"subframe", Centre}},
		Wheels: [2]Wheel{wheelOn(t, 0, left), wheelOn(t, 1, with(left, values{"centre.y": 735, "loaded_radius": 297}))},
		Static: &Static{WheelLoad: [2]float64{3500, 3300}, Unsprung: [2]float64{0.04, 0.041}},
	}
	add := func(kind *Kind, name string, side Side, from, to int, v values, c Choice) {
		e := element(t, kind, name, side, from, to, v)
		e.Choice = c
		axle.Elements = append(axle.Elements, e)
	}
	turned := with(testBush, values{"plan": 23, "lift": 8, "clock": 12, "elastic_plan": 6, "elastic_lift": -3, "bracket": 20000, "tightened_at": 4, "preload.y": 50})
	add(Bush, "pivot", Left, 3, 0, turned, Choice{})
	add(Bush, "pivot", Right, 3, 1, with(turned, values{"soft": 500, "plan": 20}), Choice{OuterIsFrom: true})
	mount := values{"at.x": 300, "at.y": 400, "at.z": 350, "soft": 4000, "axial": 5000, "stiff": 6000, "cone_soft": 20, "torsion": 30, "cone_stiff": 40}
	add(Bush, "mount", Left, Vehicle, 3, with(mount, values{"lean_forward": 10, "lean_outboard": 5}), Choice{Base: 2})
	add(Bush, "mount", Right, Vehicle, 3, with(mount, values{"plan": 15, "lift": 5}), Choice{Base: 1, HoldsMoments: true})
	add(Bush, "rear mount", Centre, Vehicle, 3, with(mount, values{"at.x": 100, "at.y": 0, "axis.x": 1, "axis.y": 2, "axis.z": 0.3, "soft_axis.z": 1}), Choice{Base: 3})
	for side, arm := range []int{0, 1} {
		s := Side(1 + side)
		add(Spring, "coil", s, Vehicle, arm, with(testSpring, values{"load": 3000}), Choice{})
		add(Damper, "gas", s, Vehicle, arm, values{"upper.x": -80, "upper.y": 520, "upper.z": 700, "lower.x": -60, "lower.y": 560, "lower.z": 280, "gas_load": 200}, Choice{})
		add(BumpStop, "stop", s, Vehicle, arm, values{"upper.x": 0, "upper.y": 500, "upper.z": 500, "lower.x": 0, "lower.y": 500, "lower.z": 400, "rate": 50, "gap": 20 * float64(side), "load": 100}, Choice{})
		add(Link, "toe", s, 3, arm, values{"inner.x": 30, "inner.y": 230, "inner.z": 280, "outer.x": 40, "outer.y": 520, "outer.z": 270, "inner_rate": 4000, "outer_rate": 5000, "rod_rate": 30000}, Choice{})
	}
	half := with(testBeam, values{"ends_y": 0, "start.x": 270, "start.y": 550, "start.z": 310, "end.x": 272, "end.y": 20, "end.z": 312, "tilt": 17})
	add(Beam, "cross left", Centre, 0, 2, half, Choice{Ends: [2]Warping{BuiltIn, Continuous}})
	add(Beam, "cross right", Centre, 2, 1, with(half, values{"start.x": 272, "start.y": 20, "start.z": 312, "end.x": 270, "end.y": -550, "end.z": 310}), Choice{Ends: [2]Warping{Continuous, Free}})
	add(TorsionBar, "inner", Centre, 0, 1, values{"axis.y": 1, "axis.z": 0.1, "rate": 8}, Choice{})
	m := matrixValues()
	add(BushMatrix, "stay", Centre, 2, 3, m, Choice{OuterIsFrom: true})
	return axle
}

// matrixValues is a full positive definite 6×6 of modest size in written units.
func matrixValues() values {
	v := values{"at.x": 250, "at.y": 10, "at.z": 280, "plan": 10, "clock": 20}
	rng := rand.New(rand.NewPCG(3, 4))
	var root [6][6]float64
	for i := range root {
		for j := range root {
			root[i][j] = rng.Float64() - 0.5
		}
		root[i][i] += 2
	}
	scale := [6]float64{5, 5, 5, 50, 50, 50}
	names := map[[2]int]string{}
	for _, f := range BushMatrix.Fields[mountSlots:] {
		names[[2]int{int(f.Name[7] - '1'), int(f.Name[8] - '1')}] = f.Name
	}
	for at, name := range names {
		sum := 0.0
		for k := range 6 {
			sum += root[at[0]][k] * root[at[1]][k] * scale[at[0]] * scale[at[1]]
		}
		v[name] = sum / BushMatrix.Fields[fieldIndex(BushMatrix.Fields, name)].Unit.Factor
	}
	return v
}

func newSolver(t testing.TB, axle *Axle) *Solver {
	t.Helper()
	s, err := NewSolver(axle)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// close tells whether two numbers agree to a share of scale.
func near(a, b, tolerance, scale float64) bool { return math.Abs(a-b) <= tolerance*scale }
