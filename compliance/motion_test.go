package compliance

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing"
)

// named is how exactly a free motion is found: an eigenvector of a matrix with
// entries up to 1e9, judged in mm and as a unit vector.
const named = 1e-5

// freeMotions makes a solver and returns the free motions it complains of.
func freeMotions(t *testing.T, axle *Axle) *FreeMotion {
	t.Helper()
	_, err := NewSolver(axle)
	var free *FreeMotion
	if !errors.As(err, &free) {
		t.Fatalf("error %v, want a free motion", err)
	}
	if lines := strings.Count(err.Error(), "\n"); lines != len(free.Motions) {
		t.Errorf("%d motions on %d lines:\n%v", len(free.Motions), lines, err)
	}
	return free
}

// checkScrew compares one motion of one body; wanted directions have their
// largest component positive.
func checkScrew(t *testing.T, m Motion, want Screw) {
	t.Helper()
	if len(m.Bodies) != 1 || m.Bodies[0].Body != want.Body || m.Bodies[0].Turns != want.Turns {
		t.Fatalf("motion %q, want that of %q", m, want)
	}
	got := m.Bodies[0]
	if got.Direction.Sub(want.Direction).Norm() > named || got.Point.Sub(want.Point).Norm() > named*1000 || math.Abs(got.Pitch-want.Pitch) > named*1000 {
		t.Errorf("found %q, want %q", got, want)
	}
}

// armsOnPivots is two arms, each on a bush alone that turns freely about its axis.
func armsOnPivots(t *testing.T, changes values) *Axle {
	axle := twistBeam(t)
	axle.Elements = bothSides(t, Bush, "pivot", with(testBush, changes))
	return axle
}

// foot is the point of a line nearest to the vehicle's origin.
func foot(at, direction vec) vec { return at.Sub(direction.Scale(at.Dot(direction))) }

// Each arm spins about its bush: two independent motions, one line each.
func TestArmsSpinAboutTheirBushes(t *testing.T) {
	for _, plan := range []float64{0, 30, -20} {
		free := freeMotions(t, armsOnPivots(t, values{"torsion": 0, "plan": plan, "lift": 10}))
		if len(free.Motions) != 2 || free.WhileStatic {
			t.Fatalf("found %v, want two motions", free)
		}
		sp, cp := math.Sincos(plan * math.Pi / 180)
		sl, cl := math.Sincos(10 * math.Pi / 180)
		axes := map[string]vec{"arm.left": {sp * cl, cp * cl, sl}, "arm.right": {-sp * cl, cp * cl, -sl}}
		points := map[string]vec{"arm.left": {430, 560, 330}, "arm.right": {430, -560, 330}}
		for _, m := range free.Motions {
			body := m.Bodies[0].Body
			checkScrew(t, m, Screw{Body: body, Turns: true, Point: foot(points[body], axes[body]), Direction: axes[body]})
		}
		if free.Motions[0].Bodies[0].Body == free.Motions[1].Bodies[0].Body {
			t.Error("both motions are of one arm")
		}
	}
}

// A ball joint leaves three turns to each arm, all through its centre.
func TestBallJointsLeaveThreeTurnsEach(t *testing.T) {
	free := freeMotions(t, armsOnPivots(t, values{"torsion": 0, "cone_soft": 0, "cone_stiff": 0}))
	count := map[string]int{}
	for _, m := range free.Motions {
		if len(m.Bodies) != 1 {
			t.Fatalf("%q moves two bodies", m)
		}
		b := m.Bodies[0]
		count[b.Body]++
		centre := vec{430, 560, 330}
		if b.Body == "arm.right" {
			centre[1] = -560
		}
		off := centre.Sub(b.Point)
		if off.Sub(b.Direction.Scale(off.Dot(b.Direction))).Norm() > named*1000 || math.Abs(b.Pitch) > named*1000 {
			t.Errorf("%q does not pass through the joint", m)
		}
	}
	if count["arm.left"] != 3 || count["arm.right"] != 3 {
		t.Errorf("motions found: %v, want three each", count)
	}
}

// A bush without axial rate lets its arm slide along the bush axis.
func TestArmSlides(t *testing.T) {
	axle := armsOnPivots(t, nil)
	left := &axle.Elements[0]
	left.Slots[Bush.FieldIndex("axial")] = 0
	free := freeMotions(t, axle)
	if len(free.Motions) != 1 {
		t.Fatalf("found %v, want one motion", free)
	}
	checkScrew(t, free.Motions[0], Screw{Body: "arm.left", Direction: vec{0, 1, 0}})
}

// A body that nothing holds has six motions, and no other body takes part.
func TestUnheldBodyIsNamed(t *testing.T) {
	axle := twistBeam(t)
	axle.Bodies = append(axle.Bodies, Body{Name: "loose"})
	free := freeMotions(t, axle)
	if len(free.Motions) != 6 {
		t.Fatalf("%d motions, want six", len(free.Motions))
	}
	for _, m := range free.Motions {
		if len(m.Bodies) != 1 || m.Bodies[0].Body != "loose" {
			t.Errorf("motion %q, want of the loose body alone", m)
		}
	}
}

// A cross-member joins both arms: heave, the turn of both about the line of the
// pivots, is one motion of two bodies.
func TestHeaveIsOneMotionOfBothArms(t *testing.T) {
	axle := armsOnPivots(t, values{"torsion": 0})
	axle.Elements = append(axle.Elements, element(t, Beam, "cross", Centre, 0, 1, testBeam))
	free := freeMotions(t, axle)
	if len(free.Motions) != 1 || len(free.Motions[0].Bodies) != 2 {
		t.Fatalf("found %v, want one motion of both arms", free)
	}
	for _, b := range free.Motions[0].Bodies {
		checkScrew(t, Motion{[]Screw{b}}, Screw{Body: b.Body, Turns: true, Point: vec{430, 0, 330}, Direction: vec{0, 1, 0}})
	}
}

// A rocker between links lets one arm up as the other goes down: the directions
// of one motion show who turns against whom, and no zero has a sign.
func TestArmsThatTurnOppositeWays(t *testing.T) {
	axle := armsOnPivots(t, values{"torsion": 0})
	axle.Bodies = append(axle.Bodies, Body{Name: "rocker"})
	rocker := element(t, Bush, "rocker", Centre, Vehicle, 2, with(testBush, values{"at.x": 0, "at.y": 0, "at.z": 500, "torsion": 0}))
	rocker.Choice.Base = bushing.Longitudinal
	axle.Elements = append(axle.Elements, rocker)
	for body, y := range []float64{500, -500} {
		axle.Elements = append(axle.Elements, element(t, Link, "drop", Centre, body, 2, values{"inner.y": y, "inner.z": 300, "outer.y": y, "outer.z": 500,
			"inner_rate": 4000, "outer_rate": 4000}))
	}
	free := freeMotions(t, axle)
	want := []vec{{0, 1, 0}, {0, -1, 0}, {1, 0, 0}}
	if len(free.Motions) != 1 || len(free.Motions[0].Bodies) != len(want) {
		t.Fatalf("found %v, want one motion of both arms and the rocker", free)
	}
	for i, b := range free.Motions[0].Bodies {
		if b.Direction.Sub(want[i]).Norm() > named {
			t.Errorf("%q, want the direction %v", b, want[i])
		}
	}
	if strings.Contains(free.Error(), "-0.0,") || strings.Contains(free.Error(), "-0.000") || strings.Contains(free.Error(), "pitch -0.00") {
		t.Errorf("a zero with a sign in %q", free)
	}
}

// A rod between two ball joints on the arms spins by itself while the arms
// heave: two motions, of which one is the rod's alone, about its own line,
// whatever the order of the bodies.
func TestRodSpinsApartFromHeave(t *testing.T) {
	for rod := range 3 {
		left, right := (rod+1)%3, (rod+2)%3
		axle := &Axle{Bodies: make([]Body, 3), Wheels: [2]Wheel{wheelOn(t, left, testWheel), wheelOn(t, right, testWheel)}}
		axle.Bodies[rod], axle.Bodies[left], axle.Bodies[right] = Body{Name: "rod"}, Body{"arm", Left}, Body{"arm", Right}
		ends := [2]vec{{100, 400, 250}, {120, -380, 310}}
		joint := values{"soft": 4000, "axial": 4000, "stiff": 4000}
		axle.Elements = []Element{
			element(t, Bush, "pivot", Left, Vehicle, left, with(testBush, values{"torsion": 0})),
			element(t, Bush, "pivot", Right, Vehicle, right, with(testBush, values{"torsion": 0})),
			element(t, Beam, "cross", Centre, left, right, testBeam),
			element(t, Bush, "left joint", Centre, left, rod, with(joint, point("at", ends[0]))),
			element(t, Bush, "right joint", Centre, right, rod, with(joint, point("at", ends[1]))),
		}
		free := freeMotions(t, axle)
		line := ends[0].Sub(ends[1]).Unit()
		alone := 0
		for _, m := range free.Motions {
			if len(m.Bodies) == 1 {
				checkScrew(t, m, Screw{Body: "rod", Turns: true, Point: foot(ends[0], line), Direction: line})
				alone++
			}
		}
		if len(free.Motions) != 2 || alone != 1 {
			t.Errorf("the rod as body %d: found %v, want the rod's spin and the heave of all three", rod, free)
		}
	}
}

// Five links leave a body one screw, with a pitch. Axis and pitch are those of
// the null vector of the five lines (Plücker coordinates) by singular values.
func TestFiveLinksLeaveAScrew(t *testing.T) {
	axle := twistBeam(t)
	ends := [5][2]vec{
		{{300, 300, 250}, {20, 600, 200}}, {{-200, 350, 220}, {-60, 620, 190}}, {{50, 300, 450}, {10, 580, 420}},
		{{350, 420, 400}, {30, 590, 380}}, {{-40, 250, 300}, {-80, 640, 330}}}
	axle.Elements = bothSides(t, Bush, "pivot", testBush)[1:]
	lines := mat.NewDense(5, 6, nil)
	for i, p := range ends {
		v := with(with(point("inner", p[0]), point("outer", p[1])), values{"inner_rate": 9000, "outer_rate": 7000})
		axle.Elements = append(axle.Elements, element(t, Link, string(rune('a'+i)), Left, Vehicle, 0, v))
		n := p[1].Sub(p[0]).Unit()
		m := p[0].Cross(n)
		lines.SetRow(i, []float64{n[0], n[1], n[2], m[0] / 300, m[1] / 300, m[2] / 300})
	}
	var svd mat.SVD
	svd.Factorize(lines, mat.SVDFullV)
	var v mat.Dense
	svd.VTo(&v)
	slide, turn := vec{v.At(0, 5), v.At(1, 5), v.At(2, 5)}, vec{v.At(3, 5), v.At(4, 5), v.At(5, 5)}.Scale(1.0/300)
	square := turn.Dot(turn)
	want := Screw{Body: "arm.left", Turns: true, Direction: turn.Unit().Scale(sense(turn)), Pitch: turn.Dot(slide) / square}
	want.Point = turn.Cross(slide).Scale(1 / square)
	if math.Abs(want.Pitch) < 1 {
		t.Fatalf("pitch %g: the test wants a helix", want.Pitch)
	}
	free := freeMotions(t, axle)
	if len(free.Motions) != 1 {
		t.Fatalf("found %v, want one motion", free)
	}
	checkScrew(t, free.Motions[0], want)
}

// A nut on its thread: a full 6×6 whose null vector is a helix. Its last pivot
// is zero but for rounding, of either sign.
func TestMatrixBushLeavesAHelix(t *testing.T) {
	for _, c := range []struct{ pitch, axial float64 }{{12, 800}, {-7.3, 613.7}, {0.1, 3}, {1.0 / 3, 999.1}, {31, 0.7}} {
		nut := values{"at.x": 430, "at.y": 560, "at.z": 330, "matrix.11": 700, "matrix.33": 3000, "matrix.44": 500, "matrix.66": 500,
			"matrix.22": c.axial, "matrix.25": -c.axial * c.pitch, "matrix.55": c.axial * c.pitch * c.pitch / 1000}
		axle := twistBeam(t)
		axle.Elements = append(bothSides(t, Bush, "pivot", testBush)[1:], element(t, BushMatrix, "nut", Left, Vehicle, 0, nut))
		free := freeMotions(t, axle)
		if len(free.Motions) != 1 {
			t.Fatalf("found %v, want one motion", free)
		}
		checkScrew(t, free.Motions[0], Screw{Body: "arm.left", Turns: true, Point: vec{430, 0, 330}, Direction: vec{0, 1, 0}, Pitch: c.pitch})
	}
}

// Torsion holds the arms, but bolts are tightened at design height: without it
// the arms cannot carry the wheel loads at rest.
func TestStaticLoadNeedsMoreThanTorsion(t *testing.T) {
	axle := armsOnPivots(t, values{"torsion": 50})
	newSolver(t, axle)
	axle.Static = &Static{WheelLoad: [2]float64{3000, 3000}}
	free := freeMotions(t, axle)
	if !free.WhileStatic || len(free.Motions) != 6 {
		t.Errorf("found %v, want six motions while static: three turns an arm", free)
	}
	if !strings.Contains(free.Error(), "static") {
		t.Errorf("%v: the error does not tell of the static load", free)
	}
	for i := range axle.Elements {
		axle.Elements[i].Choice.HoldsMoments = true
	}
	if free := freeMotions(t, axle); free.WhileStatic || !free.Unstable || !strings.Contains(free.Error(), "unstable") {
		t.Errorf("%v: cones of 7 N·m/deg do not hold 3 kN on a lever of half a metre", free)
	}
	for _, name := range []string{"cone_soft", "cone_stiff", "torsion"} {
		for i := range axle.Elements {
			axle.Elements[i].Slots[Bush.FieldIndex(name)] *= 100
		}
	}
	newSolver(t, axle)
}

// A rate a billion times softer than its neighbours still holds: stiff mounts
// with a real spring are no free motion.
func TestSoftIsNotFree(t *testing.T) {
	stiff := values{"soft": 1e7, "axial": 1e7, "stiff": 1e7, "cone_soft": 1e6, "cone_stiff": 1e6, "torsion": 0.1}
	s := newSolver(t, armsOnPivots(t, stiff))
	angle := s.Motion(&Port{4: 1000})[4]
	if want := 1000 / (0.1 * 1e3 * 180 / math.Pi); !near(angle, want, 1e-3, want) {
		t.Errorf("turn %g rad, want %g", angle, want)
	}
	// none at all, or so little that rounding decides
	for _, torsion := range []float64{0, 1e-9} {
		free := freeMotions(t, armsOnPivots(t, with(stiff, values{"torsion": torsion})))
		if len(free.Motions) != 2 {
			t.Errorf("torsion %g: found %v, want two motions", torsion, free)
		}
	}
}

// One arm spins while the other is held softly: only the free one is named.
func TestSoftNeighbourIsNotNamed(t *testing.T) {
	for _, rate := range []float64{1e4, 1e9} { // 1e9 N/mm: the largest that the fields allow
		axle := armsOnPivots(t, values{"soft": rate, "axial": rate, "stiff": rate, "torsion": 0.5})
		axle.Elements[0].Slots[Bush.FieldIndex("torsion")] = 0
		free := freeMotions(t, axle)
		if len(free.Motions) != 1 || free.Motions[0].Bodies[0].Body != "arm.left" {
			t.Errorf("%g N/mm: found %v, want the left arm alone", rate, free)
		}
	}
}

// A solver that met a free motion or a number that is not finite answers again
// once the slot is put right.
func TestSolverRecovers(t *testing.T) {
	axle := twistBeam(t)
	s, want := newSolver(t, axle), newSolver(t, axle)
	for _, c := range []struct {
		slot  Slot
		value float64
		word  string
	}{
		{Slot{0, Bush.FieldIndex("axial")}, math.NaN(), "bush.pivot.left: axial"},
		{Slot{4, Beam.FieldIndex("area")}, math.Inf(1), "beam.cross: area"},
		{Slot{4, Beam.FieldIndex("torsion_constant")}, math.NaN(), "torsion_constant"},
		{Slot{LeftWheel, 1}, math.NaN(), "wheel.left: centre.y"},
		{Slot{RightWheel, 6}, math.Inf(1), "wheel.right: hub_camber"},
	} {
		old := s.Axle().Value(c.slot)
		s.Set(c.slot, c.value)
		if err := s.Update(); err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("error %v, want it to name %q", err, c.word)
		}
		s.Set(c.slot, old)
		if err := s.Update(); err != nil {
			t.Fatalf("after %s: %v", c.word, err)
		}
		sameCompliance(t, "after "+c.word, s, want)
	}
	rates := []string{"soft", "axial", "stiff", "torsion", "cone_soft", "cone_stiff"}
	for _, name := range rates {
		for i := range 2 {
			s.Set(Slot{i, Bush.FieldIndex(name)}, 0)
		}
	}
	var free *FreeMotion
	if err := s.Update(); !errors.As(err, &free) || len(free.Motions) != 4 {
		t.Fatalf("an axle on two springs alone: %v, want four motions", err)
	}
	for _, name := range rates {
		for i := range 2 {
			s.Set(Slot{i, Bush.FieldIndex(name)}, want.Axle().Value(Slot{i, Bush.FieldIndex(name)}))
		}
	}
	if err := s.Update(); err != nil {
		t.Fatal(err)
	}
	sameCompliance(t, "after a free motion", s, want)
}

// Models that contradict themselves are refused, each for its reason.
func TestContradictionsAreRefused(t *testing.T) {
	link := values{"inner.x": 30, "inner.y": 230, "outer.x": 30, "outer.y": 230, "inner_rate": 1, "outer_rate": 1}
	nan := math.NaN()
	for name, spoil := range map[string]func(*Axle){
		"length is zero": func(a *Axle) { a.Elements = append(a.Elements, element(t, Link, "x", Left, Vehicle, 0, link)) },
		"same body":      func(a *Axle) { a.Elements[0].From = 0 },
		"does not exist": func(a *Axle) { a.Elements[0].To = 2 },
		"slots, want":    func(a *Axle) { a.Elements[0].Slots = a.Elements[0].Slots[1:] },
		"wheel.right":    func(a *Axle) { a.Wheels[1].Body = Vehicle },
		"wheel.left":     func(a *Axle) { a.Wheels[0].Slots = nil },
		"no length":      func(a *Axle) { a.Elements[4].Slots[3] = 0 },
		"inertia_mixed":  func(a *Axle) { a.Elements[4].Slots[Beam.FieldIndex("inertia_mixed")] = 1.3e6 },
		"shear_mixed":    func(a *Axle) { a.Elements[4].Slots[Beam.FieldIndex("shear_mixed")] = 1 },
		"soft_axis":      func(a *Axle) { a.Elements[0].Choice.Base = 3 },
		"soft is":        func(a *Axle) { a.Elements[0].Slots[Bush.FieldIndex("soft")] = nan },
		"hub_toe":        func(a *Axle) { a.Wheels[0].Slots[7] = nan },
		"youngs_modulus": func(a *Axle) { a.Elements[4].Slots[Beam.FieldIndex("youngs_modulus")] = math.Inf(1) },
		"wheel load":     func(a *Axle) { a.Static = &Static{WheelLoad: [2]float64{nan, 0}} },
		"axis": func(a *Axle) {
			a.Elements = append(a.Elements, element(t, TorsionBar, "x", Centre, 0, 1, values{"rate": 1}))
		},
		"negative energy": func(a *Axle) {
			a.Elements = append(a.Elements, matrixBush(t, values{"matrix.11": 1, "matrix.12": 2, "matrix.22": 3}))
		},
		"negative energy ": func(a *Axle) { a.Elements = append(a.Elements, matrixBush(t, values{"matrix.12": 2, "matrix.22": 3})) },
	} {
		axle := twistBeam(t)
		spoil(axle)
		if _, err := NewSolver(axle); err == nil || !strings.Contains(err.Error(), strings.TrimSpace(name)) {
			t.Errorf("want an error with %q, got %v", name, err)
		}
	}
}

func matrixBush(t *testing.T, v values) Element {
	return element(t, BushMatrix, "full", Left, Vehicle, 0, v)
}
