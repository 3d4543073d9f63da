package cases

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

func swept(t testing.TB, s *Study, sweep Sweep) *Swept {
	t.Helper()
	r, err := fullSize(t, s).Sweep(sweep)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// smallLoad is the share by which secants and tangents under a load of
// smallShare of a case may differ from the linear answer: the second order of the
// movement, and the rounding of a movement of some 1e-5 mm over it.
const (
	smallLoad  = 1e-6
	smallShare = 1e-6
)

// Under small loads secants and tangents of every case and state are the linear
// numbers, load at rest included or not.
func TestSmallLoadsGiveTheLinearNumbers(t *testing.T) {
	loaded := vehicleWith(t, carValues)
	loaded.StaticLoad = true
	for name, s := range map[string]*Study{
		"plain": studyOf(t, toeLinkedBeam(t), vehicleWith(t, carValues)), "loaded": studyOf(t, toeLinkedBeam(t), loaded),
	} {
		for _, l := range s.loads {
			if l.state >= 0 {
				continue
			}
			on := newImposed(l.Case, [2]float64{})
			r := swept(t, s, Sweep{Case: l.Name, To: smallShare * on.size, Points: 2})
			for _, c := range r.Secants { // plain readings of the wheels among them; without load they are the tangent
				check(t, fmt.Sprint(name, ": secant of ", c.Number, " in ", c.Case, " ", c.Where), c.Points[1].Value, c.Points[0].Value, smallLoad*(math.Abs(c.Points[0].Value)+c.Step)*10)
			}
			for i := range s.numbers {
				n := &s.numbers[i]
				if n.Generic || n.Case != l.Name {
					continue
				}
				want := n.Unit.Written(s.Value(i))
				for kind, series := range map[string][]Series{"secant": r.Secants, "tangent": r.Tangents} {
					if c := find(series, n.Name, n.Case, n.Where); c != nil {
						check(t, fmt.Sprint(name, ": ", kind, " of ", n.Name, " in ", n.Case, " ", n.Where), c.Points[1].Value, want, smallLoad*(math.Abs(want)+n.Step)*10)
					} else if kind == "tangent" {
						t.Errorf("%s: no tangent of %s in %s", name, n.Name, n.Case)
					}
				}
			}
		}
	}
}

// A state at a small share of its accelerations moves the axle as the linear
// study does under the same forces.
func TestSmallStatesAreLinear(t *testing.T) {
	s := studyOf(t, toeLinkedBeam(t), vehicleWith(t, carValues))
	r := swept(t, s, Sweep{Case: "state_cornering", To: 1e-6 * 0.4 * quantity.StandardGravity, Points: 2})
	small := []State{{"small", "small", 1e-6 * 0.4 * quantity.StandardGravity, 0}}
	linear, err := NewStudy(toeLinkedBeam(t), vehicleWith(t, carValues), nil, small)
	if err != nil {
		t.Fatal(err)
	}
	want := writtenOf(t, linear, "total_outer_toe", "small", "")
	check(t, "toe of the outer wheel in deg", pointsOf(t, r.Totals, "wheel_toe", "", "outer")[1].Value, want, 1e-4*math.Abs(want)) // lateral forces of a state go with the square too
}

// The tangent is the slope of the curve of totals, the secant its chord.
func TestTangentAndSecantBelongToTheCurve(t *testing.T) {
	s := studyOf(t, toeLinkedBeam(t), vehicleWith(t, carValues))
	r := swept(t, s, Sweep{Case: "cornering", To: 5000, Points: 51})
	total, secant, tangent := pointsOf(t, r.Totals, "wheel_toe", "", "outer"), pointsOf(t, r.Secants, "lateral_force_steer", "", ""), pointsOf(t, r.Tangents, "lateral_force_steer", "", "")
	for i := 2; i < len(total)-2; i++ {
		slope := (8*(total[i+1].Value-total[i-1].Value) - (total[i+2].Value - total[i-2].Value)) / 12 / 0.1
		check(t, fmt.Sprint("slope in deg/kN at ", total[i].X, " N"), tangent[i].Value, slope, 1e-7)
		check(t, fmt.Sprint("chord in deg/kN at ", total[i].X, " N"), secant[i].Value, total[i].Value/total[i].X*1e3, 1e-9)
	}
}

// stoppedBeam has bushes whose fore-aft voids close: soft at first, with the toe
// correction of angled bushes, hard afterwards.
func stoppedBeam(t testing.TB) *compliance.Axle {
	bush := with(bushValues, values{"soft": 500, "axial": 3000, "plan": 25, "soft_gap": 0.8, "soft_snubber": 9000, "snubber_run": 0.6})
	axle := beamAxle(t, wheelValues, bush, springValues, beamValues)
	for i := range axle.Elements[:2] {
		axle.Elements[i].Choice.Curves = &bushing.Curves{}
	}
	return axle
}

// The void that closes is named with its bush, direction and load: there the
// deflection of the law is past its gap by the share of the run that doubles the
// rate, in closed form gap + run·rate/snubber.
func TestClosingVoidIsNamed(t *testing.T) {
	s := studyOf(t, stoppedBeam(t), UnknownVehicle())
	r := swept(t, s, Sweep{Case: "impact", To: 6000, Points: 241})
	if len(r.RunsOut) == 0 {
		t.Fatal("no void closes")
	}
	first := r.RunsOut[0]
	if first.What != "void closes" || first.Line != "soft" {
		t.Fatalf("first %+v, want the soft void", first)
	}
	travel := pointsOf(t, r.Totals, "bush_travel", "", first.Element+" soft")
	at := 0.0
	for i := 1; i < len(travel); i++ {
		if travel[i-1].X <= first.X && first.X <= travel[i].X {
			share := (first.X - travel[i-1].X) / (travel[i].X - travel[i-1].X)
			at = travel[i-1].Value + share*(travel[i].Value-travel[i-1].Value)
		}
	}
	check(t, "travel of the bush in mm where its void closes", math.Abs(at), 0.8+0.6*500.0/9000, 2e-3)
	recession := pointsOf(t, r.Tangents, "longitudinal_compliance", "", "")
	if last := recession[len(recession)-1].Value; last > 0.5*recession[0].Value {
		t.Errorf("longitudinal compliance %.3f mm/kN at first, %.3f with the voids closed", recession[0].Value, last)
	}
}

// Where the toe of the outer wheel turns, its tangent is zero, on a fine sweep too.
func TestToeCorrectionRunsOut(t *testing.T) {
	bush := with(bushValues, values{"soft": 150, "axial": 9000, "plan": 55, "soft_gap": 0.2, "soft_snubber": 9000, "snubber_run": 0.6})
	axle := beamAxle(t, wheelValues, bush, springValues, beamValues)
	for i := range axle.Elements[:2] {
		axle.Elements[i].Choice.Curves = &bushing.Curves{}
	}
	s := studyOf(t, axle, UnknownVehicle())
	var turns [2]*RunOut
	for n, points := range []int{21, 301} {
		r := swept(t, s, Sweep{Case: "cornering", To: 8000, Points: points})
		for i := range r.RunsOut {
			if r.RunsOut[i].What == toeTurned && turns[n] == nil {
				turns[n] = &r.RunsOut[i]
			}
		}
		if turns[n] == nil {
			p := pointsOf(t, r.Tangents, "lateral_force_steer", "", "")
			t.Fatalf("with %d points the toe never turns: tangent %g first, %g last", points, p[0].Value, p[len(p)-1].Value)
		}
	}
	check(t, "load in N at which toe turns", turns[0].X, turns[1].X, 0.05)
	if turns[0].Element == "" || turns[0].Stiffer <= 1 {
		t.Errorf("no bush named: %+v", turns[0])
	}
}

// carWithShare is a car whose share of the load transfer is given.
func carWithShare(t testing.TB) Vehicle {
	return vehicleWith(t, with(carValues, values{"rear_roll_share": 0.42}))
}

// Every case, state and event goes to full size; common practice, no source, for
// the sizes of the events.
func TestEverythingGoesToFullSize(t *testing.T) {
	f := fullSize(t, studyOf(t, toeLinkedBeam(t), carWithShare(t)))
	for _, name := range f.CaseNames() {
		sized, err := f.AtSize(name, 0)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, s := range sized {
			if math.IsNaN(s.Tangent.Value) || math.IsNaN(s.Secant.Value) || math.IsNaN(s.Total.Value) {
				t.Errorf("%s: %s is not a number", name, s.Tangent.Number)
			}
		}
	}
}

// The events carry what they say: the pads and bushes of the pothole's wheel.
func TestPotholeRaisesTheWheel(t *testing.T) {
	r := swept(t, studyOf(t, toeLinkedBeam(t), UnknownVehicle()), Sweep{Case: "pothole", Points: 5})
	z, x := pointsOf(t, r.Totals, "patch_z", "", "outer"), pointsOf(t, r.Totals, "centre_x", "", "outer")
	check(t, "rise of the outer contact point in mm", z[4].Value, potholeRise, 1e-6)
	if x[4].Value > -3 {
		t.Errorf("the wheel centre moves %g mm under 15 kN rearward", x[4].Value)
	}
}

// The causes of the outer wheel's toe sum to it; the small-acceleration limit is
// the linear understeer budget: roll steer times roll gradient, lateral-force
// steer on level pads times force, and so on (the split of Milliken & Milliken,
// Race Car Vehicle Dynamics, 1995, ch. 23; from memory).
func TestCausesOfOuterToe(t *testing.T) {
	v := carWithShare(t)
	s := studyOf(t, toeLinkedBeam(t), v)
	const g, smallCorner = quantity.StandardGravity, 1e-5
	c, err := fullSize(t, s).OuterToe("state_cornering", g, 21)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range c.Total.Points {
		sum := 0.0
		for _, part := range c.Causes {
			sum += part.Points[i].Value
		}
		check(t, fmt.Sprint("sum of causes in deg at ", p.X, " g"), sum, p.Value, 1e-12)
	}
	small, err := fullSize(t, s).OuterToe("state_cornering", smallCorner*g, 2)
	if err != nil {
		t.Fatal(err)
	}
	force := v.Mass * v.RearShare * g / 2 * smallCorner // N per wheel
	per := func(name, caseName string, by float64) float64 { return writtenOf(t, s, name, caseName, "") * by }
	check(t, "lateral force", small.Causes[causeLateral].Points[1].Value, per("lateral_force_steer", "cornering", force/1e3), 1e-4*math.Abs(per("lateral_force_steer", "cornering", force/1e3)))
	check(t, "aligning torque", small.Causes[causeAligning].Points[1].Value, -per("outer_wheel_toe", "aligning", force*v.Trail/1e5), 1e-4*per("outer_wheel_toe", "aligning", force*v.Trail/1e5))
	linear, err := NewStudy(toeLinkedBeam(t), v, nil, []State{{"small", "", smallCorner * g, 0}})
	if err != nil {
		t.Fatal(err)
	}
	roll := writtenOf(t, linear, "roll_angle", "small", "")
	check(t, "roll", small.Causes[causeRoll].Points[1].Value, per("roll_steer", "roll", roll), 1e-3*math.Abs(per("roll_steer", "roll", roll)))
}

// Finer steps change no cause: the integral has converged.
func TestCausesDoNotDependOnTheStep(t *testing.T) {
	s := studyOf(t, stoppedBeam(t), carWithShare(t))
	var last [2][causes]float64
	for n, points := range []int{6, 41} {
		c, err := fullSize(t, s).OuterToe("state_cornering", quantity.StandardGravity, points)
		if err != nil {
			t.Fatal(err)
		}
		for i := range c.Causes {
			last[n][i] = c.Causes[i].Points[points-1].Value
		}
	}
	for i := range last[0] {
		check(t, causeTitles[i].where+" in deg", last[0][i], last[1][i], 3e-3)
	}
}

func TestSweepRefusesNonsense(t *testing.T) {
	f := fullSize(t, studyOf(t, twistBeam(t), UnknownVehicle()))
	var unknown *UnknownName
	if _, err := f.Sweep(Sweep{Case: "corner", Points: 3}); !errors.As(err, &unknown) {
		t.Errorf("unknown case: %v", err)
	}
	if _, err := f.Sweep(Sweep{Case: "state_cornering_06", Points: 3}); !errors.As(err, &unknown) || unknown.Needs == nil {
		t.Errorf("state without a vehicle: %v", err)
	}
	for _, s := range []Sweep{{Case: "cornering", Points: 1}, {Case: "cornering", To: -5, Points: 3}, {Case: "cornering", To: math.NaN(), Points: 3}} {
		if _, err := f.Sweep(s); err == nil {
			t.Errorf("%+v is accepted", s)
		}
	}
	if _, err := f.OuterToe("cornering", 0, 3); err == nil {
		t.Error("causes of a load case are accepted")
	}
}

// A load that cannot be held is lost with the place.
func TestSweepThatLosesBalanceNamesThePlace(t *testing.T) {
	const torque = 1e9 // N·mm on each wheel: more than bushes of constant rates hold
	_, err := fullSize(t, studyOf(t, twistBeam(t), UnknownVehicle())).Sweep(Sweep{Case: "aligning", To: torque, Points: 21})
	var way *LostWay
	var lost *compliance.LostBalance
	if !errors.As(err, &way) || !errors.As(err, &lost) || way.Unit != "N·m" || !(way.Place > 0 && way.Place < torque/1e3) {
		t.Fatalf("error %v, want a *LostWay in N·m", err)
	}
}

// An axle whose halves are mirror images answers alike in both turns; one whose
// halves differ is offered both.
func TestBothTurnsAtSize(t *testing.T) {
	both, err := NewStudyBothTurns(toeLinkedBeam(t), carWithShare(t), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	f := fullSize(t, both)
	for _, name := range []string{"cornering", "state_cornering_06", "kerb_strike", "pothole"} {
		to := 0.0
		if name == "cornering" {
			to = 4000
		}
		left, err := f.Sweep(Sweep{Case: name, To: to, Points: 3})
		if err != nil {
			t.Fatal(name, err)
		}
		right, err := f.Sweep(Sweep{Case: name + TurnRight, To: to, Points: 3})
		if err != nil {
			t.Fatal(name, err)
		}
		for _, number := range []string{"wheel_toe", "wheel_camber", "centre_x"} {
			a, b := pointsOf(t, left.Totals, number, "", "outer")[2].Value, pointsOf(t, right.Totals, number, "", "outer")[2].Value
			check(t, name+": "+number, b, a, 1e-7*(1+math.Abs(a)))
		}
	}
	a, err := f.Travel(Travel{Mode: Single, From: -50, To: 50, Points: 3})
	if err != nil {
		t.Fatal(err)
	}
	b, err := f.Travel(Travel{Mode: Single, From: -50, To: 50, Points: 3, TurnRight: true})
	if err != nil {
		t.Fatal(err)
	}
	check(t, "toe of the wheel alone", pointsOf(t, b.Series, "wheel_toe", "", "left")[2].Value, pointsOf(t, a.Series, "wheel_toe", "", "right")[2].Value, 1e-7)
	check(t, "roll rate", pointsOf(t, b.Series, "roll_rate", "", "")[2].Value, pointsOf(t, a.Series, "roll_rate", "", "")[2].Value, 1e-5)
}
