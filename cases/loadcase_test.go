package cases

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/compliance"
)

func TestCustomCases(t *testing.T) {
	up := WheelLoad{Force: [3]float64{0, 0, 100}}
	if _, err := NewCase("lift", "", Level, BrakeOff, up, WheelLoad{}); err == nil || !strings.Contains(err.Error(), "vertical load on level pads") {
		t.Errorf("a vertical load on a level pad gives %v", err)
	}
	if _, err := NewCase("lift", "", Floating, BrakeOff, up, WheelLoad{}); err != nil {
		t.Errorf("a vertical load on floating pads gives %v", err)
	}
	if _, err := NewCase("nothing", "", Floating, BrakeOff, WheelLoad{}, WheelLoad{}); err == nil {
		t.Error("a case without a load is accepted")
	}
	right := WheelLoad{Force: [3]float64{0, -500, 0}}
	c, err := NewCase("right turn", "", Level, BrakeOff, right, right)
	if err != nil || c.Outer != LeftWheel {
		t.Errorf("a force to the right has outer wheel %s, error %v", WheelNames[c.Outer], err)
	}
	if _, err := NewStudy(twistBeam(t), UnknownVehicle(), []Case{{Name: "cornering", Wheels: [2]WheelLoad{right, right}}}, nil); err == nil {
		t.Error("a custom case may take the name of a built-in one")
	}
}

// A custom case that repeats a built-in one has the same answers, in its own units.
func TestCustomCaseRepeatsBuiltIn(t *testing.T) {
	var custom []Case
	for _, b := range BuiltIn() {
		c, err := NewCase("own "+b.Name, "", b.Pads, UsualBrake(b.Wheels[0], b.Wheels[1]), b.Wheels[0], b.Wheels[1])
		if err != nil {
			t.Fatal(err)
		}
		custom = append(custom, c)
	}
	s, err := NewStudy(linkedBeam(t), UnknownVehicle(), custom, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range BuiltIn() {
		for _, name := range []string{"left_wheel_toe", "right_centre_x", "left_patch_y"} {
			own := valueOf(t, s, name, "own "+b.Name, "")
			check(t, b.Name+": "+name, valueOf(t, s, name, b.Name, "")*b.Per.size(), own, 1e-12*math.Abs(own))
		}
	}
}

// An axle whose halves differ is run both ways; its mirror image has the figures
// of the other turn.
func TestTurnsOfAnAxleWhoseHalvesDiffer(t *testing.T) {
	axle := linkedBeam(t)
	mirrored := linkedBeam(t)
	mirrored.Elements[0].Slots, mirrored.Elements[1].Slots = mirrored.Elements[1].Slots, mirrored.Elements[0].Slots
	car := vehicleWith(t, carValues)
	s, m := studyOf(t, axle, car), studyOf(t, mirrored, car)
	if s.Symmetric() || !studyOf(t, twistBeam(t), car).Symmetric() {
		t.Fatal("symmetry is misjudged")
	}
	compared := 0
	for i, n := range s.Numbers() {
		other, ok := s.OtherTurn(i)
		if !ok {
			t.Fatalf("%s in %s has no other turn", n.Name, n.Case)
		}
		if back, _ := s.OtherTurn(other); back != i {
			t.Errorf("%s in %s: the other turn of the other turn is another number", n.Name, n.Case)
		}
		if n.Generic || strings.HasSuffix(n.Case, TurnRight) {
			continue
		}
		compared++
		want := valueOf(t, m, n.Name, n.Case, n.Where)
		check(t, n.Name+" in "+n.Case, s.Value(other), want, 1e-9*math.Abs(want)+1e-15)
	}
	if compared < 40 {
		t.Errorf("only %d numbers compared", compared)
	}
	a, b := valueOf(t, s, "lateral_force_steer", "cornering", ""), valueOf(t, s, "lateral_force_steer", "cornering"+TurnRight, "")
	if near(a, b, 1e-3, math.Abs(a)) {
		t.Errorf("a bush 20 %% softer on one side makes no difference: %g, %g", a, b)
	}
}

// On request an axle whose halves are alike is run both ways too, with the same
// figures: for a change on one side that is still to come.
func TestBothTurnsOnRequest(t *testing.T) {
	s, err := NewStudyBothTurns(twistBeam(t), vehicleWith(t, carValues), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, n := range s.Numbers() {
		other, ok := s.OtherTurn(i)
		if !ok {
			t.Fatalf("%s in %s has no other turn", n.Name, n.Case)
		}
		if !n.Generic {
			check(t, n.Name+" in "+n.Case, s.Value(other), s.Value(i), 1e-9*math.Abs(s.Value(i))+1e-15)
		}
	}
	if !slices.ContainsFunc(s.Warnings(), func(w string) bool {
		return strings.Contains(w, "may come to differ") && strings.Contains(w, TurnRight)
	}) {
		t.Errorf("warnings %q do not name the other turn", s.Warnings())
	}
	if _, ok := studyOf(t, twistBeam(t), UnknownVehicle()).OtherTurn(0); ok {
		t.Error("an axle whose halves are alike is run both ways unasked")
	}
}

// Stiff bushes leave more rounding in C, which is no difference of the halves; a
// spring softer by a thousandth is one.
func TestRoundingIsNoDifferenceOfTheHalves(t *testing.T) {
	for _, stiffer := range []float64{1, 1e4, 1e6} {
		stiff := with(bushValues, values{"soft": 700 * stiffer, "axial": 900 * stiffer, "stiff": 3000 * stiffer, "torsion": 0, "cone_soft": 0, "cone_stiff": 0})
		axle := beamAxle(t, wheelValues, stiff, with(springValues, values{"rate": 0.5}), beamValues)
		if s := studyOf(t, axle, UnknownVehicle()); !s.Symmetric() {
			t.Errorf("bushes %g times stiffer, condition %.2g: halves that are alike count as different", stiffer, s.Solver().Condition())
		}
		axle.Elements[3].Slots[compliance.Spring.FieldIndex("rate")] *= 0.999
		if s := studyOf(t, axle, UnknownVehicle()); s.Symmetric() {
			t.Errorf("bushes %g times stiffer, condition %.2g: a spring of the right side is softer, and the halves count as alike", stiffer, s.Solver().Condition())
		}
	}
}

// Plus is the inner sleeve against the outer: a strip pushes the arms rearward,
// so that inner sleeves on the vehicle stay ahead of outer ones on the arms. With
// the sleeves exchanged every sign changes.
func TestBushLoadIsOfTheInnerSleeve(t *testing.T) {
	axle := beamAxle(t, wheelValues, bushValues, with(springValues, values{"lower.x": -30, "lower.y": 490}), beamValues)
	outward := studyOf(t, axle, UnknownVehicle()).BushLoads()
	for i := range axle.Elements {
		axle.Elements[i].Choice.OuterIsFrom = true
	}
	inward := studyOf(t, axle, UnknownVehicle()).BushLoads()
	for i, b := range outward {
		for d := range b.Load {
			check(t, b.Element+" in "+b.Case, inward[i].Load[d], -b.Load[d], 1e-9*(1+math.Abs(b.Load[d])))
			check(t, b.Element+" in "+b.Case, inward[i].Travel[d], -b.Travel[d], 1e-9*(1+math.Abs(b.Travel[d])))
		}
		if b.Case == "impact" { // upright springs: the bushes carry the whole 1 kN a side
			check(t, b.Element+" over a strip", b.Load[bushing.Soft], 1000, 1e-6*1000)
		}
	}
}

// A model that can move without load is refused with the words of the model.
func TestFreeAxleIsRefused(t *testing.T) {
	axle := rigidBody(t, 3000, 600, 600, 0, 300)
	kept := axle.Elements[:0]
	for _, e := range axle.Elements {
		if e.Kind != compliance.Spring {
			kept = append(kept, e)
		}
	}
	axle.Elements = kept
	_, err := NewStudy(axle, UnknownVehicle(), nil, nil)
	var free *compliance.FreeMotion
	if !errors.As(err, &free) || len(free.Motions) != 1 {
		t.Errorf("an axle without springs gives %v", err)
	}
}

// Every number can be printed and explained.
func TestNumbersAreComplete(t *testing.T) {
	for name, s := range studies(t) {
		for i, n := range s.Numbers() {
			if n.Title == "" || n.Formula == "" || n.Step <= 0 || n.Unit.Factor <= 0 || (n.Signs.Plus == "") != (n.Signs.Minus == "") {
				t.Errorf("%s: %+v is not complete", name, n)
			}
			if f := s.Figure(i); f.Pads == "" || f.Number != n.Name || f.Value != n.Unit.Written(s.Value(i)) {
				t.Errorf("%s: figure %+v of %s", name, f, n.Name)
			}
		}
	}
}

func TestFind(t *testing.T) {
	s := studyOf(t, twistBeam(t), vehicleWith(t, carValues))
	for i, n := range s.Numbers() {
		if at, err := s.Find(n.Name, n.Case, n.Where); err != nil || at != i {
			t.Errorf("%s, %s, %q is found at %d, is at %d: %v", n.Name, n.Case, n.Where, at, i, err)
		}
	}
	for _, c := range []struct{ name, caseName, where, hint string }{
		{"lateral_force_ster", "", "", "lateral_force_steer"},
		{"impact_toe", "impct", "", "impact"},
		{"impact_toe", "cornering", "", "allowed: impact, impact_single"},
		{"roll_camber", "", "boddy", "body"},
	} {
		_, err := s.Find(c.name, c.caseName, c.where)
		var unknown *UnknownName
		if !errors.As(err, &unknown) || !strings.Contains(err.Error(), c.hint) {
			t.Errorf("%v gives %v", c, err)
		}
	}
}

// The bush loads of a case are those of the model: load is rate times travel, and
// a bracket in series takes its share of the travel but not of the load.
func TestBushLoadsAndLimits(t *testing.T) {
	bracket := with(bushValues, values{"bracket": 5000, "max_radial_load": 400, "max_axial_travel": 0.01})
	s := studyOf(t, beamAxle(t, wheelValues, bracket, springValues, beamValues), vehicleWith(t, carValues))
	loads := s.BushLoads()
	if want := 2 * len(s.Cases()); len(loads) != want {
		t.Fatalf("%d bush loads, want %d", len(loads), want)
	}
	rates := [3]float64{700, 900, 3000}
	for _, b := range loads {
		for i, rate := range rates {
			check(t, b.Element+" in "+b.Case, b.Load[i], rate*b.Travel[i], 1e-9*(1+math.Abs(b.Load[i])))
		}
	}
	unheld := studyOf(t, beamAxle(t, wheelValues, with(bracket, values{"stiff": 0}), springValues, beamValues), UnknownVehicle())
	for _, b := range unheld.BushLoads() {
		if travel := b.Travel[bushing.Stiff]; b.Load[bushing.Stiff] != 0 || travel == 0 || math.IsNaN(travel) {
			t.Errorf("%s in %s: without a stiff rate it carries %g N there and moves by %g mm", b.Element, b.Case, b.Load[bushing.Stiff], travel)
		}
	}
	text := strings.Join(s.Warnings(), "\n")
	for _, want := range []string{"static load: not included", "bush.pivot.left: radial load", "bush.pivot.right: axial travel"} {
		if !strings.Contains(text, want) {
			t.Errorf("no warning %q in:\n%s", want, text)
		}
	}
	loaded := vehicleWith(t, carValues)
	loaded.StaticLoad = true
	rest := studyOf(t, twistBeam(t), loaded)
	if b := rest.BushLoads()[0]; b.Rest == [6]float64{} {
		t.Error("a bush carries nothing at rest")
	}
	if strings.Contains(strings.Join(rest.Warnings(), "\n"), "not included") {
		t.Error("the static load is said to be left out, but it is in")
	}
}

// Set and Update give what a new study of the changed axle gives, and back.
func TestUpdateIsANewStudy(t *testing.T) {
	s := studyOf(t, linkedBeam(t), vehicleWith(t, carValues))
	changed := linkedBeam(t)
	for _, slot := range movable(s) {
		value := s.Solver().Axle().Value(slot)
		slots := changed.Wheels[0].Slots
		switch {
		case slot.Element >= 0:
			slots = changed.Elements[slot.Element].Slots
		case slot.Element == compliance.RightWheel:
			slots = changed.Wheels[1].Slots
		}
		slots[slot.Index] = value * 1.01
		s.Set(slot, value*1.01)
	}
	if err := s.Update(); err != nil {
		t.Fatal(err)
	}
	fresh := studyOf(t, changed, vehicleWith(t, carValues))
	for i, n := range s.Numbers() {
		room := 1e-8 * grossOf(s, i)
		if s.numbers[i].state >= 0 {
			room = 1e-7 * n.Step * n.Unit.Factor
		}
		check(t, n.Name+" in "+n.Case, s.Value(i), fresh.Value(i), room)
	}
}
