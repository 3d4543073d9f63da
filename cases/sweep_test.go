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

// A void that closes is named with its bush, direction and two loads, whatever points
// are read: where the deflection of the rubber is its gap, and where it is past the gap
// by the share of the run that doubles the rate, in closed form run·rate/snubber.
func TestClosingVoidIsNamed(t *testing.T) {
	s := studyOf(t, stoppedBeam(t), UnknownVehicle())
	const loadError = 0.1 // N
	var first []RunOut
	for _, points := range []int{2, 21, 97, 241} {
		r := swept(t, s, Sweep{Case: "impact", To: 6000, Points: points})
		if len(r.RunsOut) != 4 {
			t.Fatalf("with %d points: %+v; want gap and rate of two bushes", points, r.RunsOut)
		}
		if first == nil {
			first = r.RunsOut
		}
		for i, got := range r.RunsOut {
			check(t, fmt.Sprintf("load in N of %s with %d points", got.What, points), got.X, first[i].X, loadError)
			if want := [4]string{GapReached, GapReached, RateDoubled, RateDoubled}[i]; got.What != want || got.Line != "soft" || got.Element != first[i].Element {
				t.Errorf("with %d points: %+v, want %s along soft", points, got, want)
			}
		}
	}
	for i, want := range map[int]float64{0: 0.8, 2: 0.8 + 0.6*500.0/9000} {
		r := swept(t, s, Sweep{Case: "impact", To: first[i].X, Points: 3})
		travel := pointsOf(t, r.Totals, "bush_travel", "", first[i].Element+" soft")
		check(t, "travel of the bush in mm where "+first[i].What, math.Abs(travel[2].Value), want, 1e-5)
	}
	check(t, "rate over that at rest", first[2].Stiffer, 2, 1e-4)
	recession := pointsOf(t, swept(t, s, Sweep{Case: "impact", To: 6000, Points: 21}).Tangents, "longitudinal_compliance", "", "")
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
			if r.RunsOut[i].What == ToeTurns && turns[n] == nil {
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
	linear, err := NewStudy(toeLinkedBeam(t), v, nil, []State{{"small", "", smallCorner * g, 0}})
	if err != nil {
		t.Fatal(err)
	}
	roll := writtenOf(t, linear, "roll_angle", "small", "")
	force := v.Mass * v.RearShare * g / 2 * smallCorner // N per wheel
	lean := roll * math.Pi / 180
	across := force + v.WheelLoad()*lean // along the axes of the body, which the ground leans by
	weight := -v.Unsprung * g * lean     // at the wheel centres
	per := func(name, caseName string, by float64) float64 { return writtenOf(t, s, name, caseName, "") * by }
	atCentre := WheelLoad{Force: [3]float64{0, 1e3, 0}, At: AtCentre}
	centred, err := NewCase("centred", "", Level, BrakeOff, atCentre, atCentre)
	if err != nil {
		t.Fatal(err)
	}
	withCentred, err := NewStudy(toeLinkedBeam(t), v, []Case{centred}, nil)
	if err != nil {
		t.Fatal(err)
	}
	lateral := per("lateral_force_steer", "cornering", across/1e3) + writtenOf(t, withCentred, "outer_wheel_toe", "centred", "")*weight/1e3
	check(t, "lateral force", small.Causes[causeLateral].Points[1].Value, lateral, 1e-4*math.Abs(lateral))
	check(t, "aligning torque", small.Causes[causeAligning].Points[1].Value, -per("outer_wheel_toe", "aligning", force*v.Trail/1e5), 1e-4*per("outer_wheel_toe", "aligning", force*v.Trail/1e5))
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

// Secant and tangent of a state are per g, whatever its own accelerations are: the
// chord and the slope of the curve of totals over g.
func TestStatesArePerG(t *testing.T) {
	s := studyOf(t, toeLinkedBeam(t), carWithShare(t))
	const g = quantity.StandardGravity
	for _, name := range []string{"state_cornering", "state_cornering_09"} {
		r := swept(t, s, Sweep{Case: name, To: 0.6 * g, Points: 13})
		total, secant, tangent := pointsOf(t, r.Totals, "wheel_toe", "", "outer"), find(r.Secants, "wheel_toe", name, "outer"), find(r.Tangents, "wheel_toe", name, "outer")
		if secant.Unit != "deg/g" || tangent.Unit != "deg/g" {
			t.Errorf("%s: in %s and %s, want deg/g", name, secant.Unit, tangent.Unit)
		}
		for i := 1; i < len(total); i++ {
			check(t, fmt.Sprintf("%s: secant of toe in deg/g at %g g", name, total[i].X), secant.Points[i].Value, total[i].Value/total[i].X, 1e-9)
		}
		for i := 2; i < len(total)-2; i++ {
			slope := (8*(total[i+1].Value-total[i-1].Value) - (total[i+2].Value - total[i-2].Value)) / 12 / 0.05
			check(t, fmt.Sprintf("%s: tangent of toe in deg/g at %g g", name, total[i].X), tangent.Points[i].Value, slope, 1e-5)
		}
	}
}

// A sweep that is lost keeps what it read, and says in words what moves.
func TestALostSweepKeepsItsPoints(t *testing.T) {
	s := studyOf(t, twistBeam(t), UnknownVehicle())
	const torque = 1e9
	r, err := fullSize(t, s).Sweep(Sweep{Case: "aligning", To: torque, Points: 401})
	var lost *LostWay
	if !errors.As(err, &lost) || r == nil {
		t.Fatalf("%v, %v", r, err)
	}
	read := pointsOf(t, r.Totals, "wheel_toe", "", "outer")
	if last := read[len(read)-1].X; len(read) < 2 || len(read) > 400 || last > lost.Place {
		t.Errorf("%d points up to %g, lost at %g", len(read), last, lost.Place)
	}
	whole := swept(t, s, Sweep{Case: "aligning", To: torque / 400 * float64(len(read)-1), Points: len(read)})
	for i, p := range pointsOf(t, whole.Totals, "wheel_toe", "", "outer") {
		check(t, fmt.Sprint("toe in deg at ", p.X), read[i].Value, p.Value, 1e-6)
	}
}

// A bump stop is told at the load at which it touches: there its load begins.
func TestABumpStopThatTouchesIsTold(t *testing.T) {
	axle := twistBeam(t)
	stop := values{"upper.x": 0, "upper.y": 740, "upper.z": 600, "lower.x": 0, "lower.y": 740, "lower.z": 300, "rate": 150, "gap": 30, "run": 5}
	axle.Elements = append(axle.Elements, bothSides(t, compliance.BumpStop, "bump", stop)...)
	s := studyOf(t, axle, UnknownVehicle())
	r := swept(t, s, Sweep{Case: "heave", To: 2000, Points: 3})
	if len(r.RunsOut) != 2 || r.RunsOut[0].What != StopTouches {
		t.Fatalf("%+v, want two stops", r.RunsOut)
	}
	at, first := r.RunsOut[0].X, r.RunsOut[0].Element
	for share, wanted := range map[float64]bool{0.999: false, 1.001: true} {
		r := swept(t, s, Sweep{Case: "heave", To: share * at, Points: 2})
		if load := pointsOf(t, r.Totals, "stop_load", "", first)[1].Value; (load > 0) != wanted {
			t.Errorf("at %g of %g N the stop carries %g N", share, at, load)
		}
	}
}
