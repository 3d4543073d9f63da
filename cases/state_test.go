package cases

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing/quantity"
)

// The forces of a state obey the equilibrium of the car at any lean: turned back to
// the ground, the rear wheels carry their share of the lateral force and of the
// braking force, shared by their loads; wheel loads stand upright and sum to the axle
// load, less what braking moves to the front, and the couple is that of the transfer.
func TestStateForcesBalanceTheCar(t *testing.T) {
	const g, lean, transfer = quantity.StandardGravity, 0.06, 700.0
	v := vehicleWith(t, carValues)
	st := State{Name: "both", Lateral: 0.5 * g, Braking: 0.2 * g}
	outer, inner := forces(&st, &v, leaning[float64]{share: 1, lean: lean, transfer: transfer})
	type onGround struct{ side, load, weight, pull float64 }
	ground := func(f *tyreForces[float64]) onGround {
		sin, cos := math.Sincos(lean)
		up, down := f.up+v.WheelLoad(), f.weight.up-v.Unsprung*g
		return onGround{f.inward*cos - up*sin, f.inward*sin + up*cos, down*cos + f.weight.inward*sin, f.weight.inward*cos - down*sin}
	}
	out, in := ground(&outer), ground(&inner)
	moved := 1.25 * 0.2 * g * 550 / 2600
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"lateral", out.side + in.side, 1.25 * 0.42 * 0.5 * g},
		{"braking", outer.forward + inner.forward, -1.25 * 0.3 * 0.2 * g},
		{"load", out.load + in.load, 2*v.WheelLoad() - moved},
		{"transfer", (out.load - in.load) / 2, transfer},
		{"lateral by load", out.side / in.side, out.load / in.load},
		{"trail", outer.torque * math.Cos(lean), -25 * out.side},
		{"weight", out.weight + in.weight, -2 * 0.038 * g},
	} {
		check(t, c.what, c.got, c.want, 1e-9*math.Abs(c.want))
	}
	check(t, "weight along the ground", out.pull+in.pull, 0, 1e-9)
}

// With little lean the share of the rear wheels is that of the handbook, from roll
// rates K and roll-centre heights h of both axles, m·g·(height − axis) of the body's
// weight taken off the roll stiffness (Milliken & Milliken, Race Car Vehicle Dynamics,
// 1995, ch. 18, from memory; the weight as in Gillespie, Fundamentals of Vehicle
// Dynamics, 1992, ch. 6, from memory): the axle stands between springs that know no
// kinematics.
func TestShareOfTheRearWheelsOfTheHandbook(t *testing.T) {
	v := vehicleWith(t, with(carValues, values{"unsprung": 0}))
	const track, rearRate, rearCentre, a = 1480.0, 3e7, 130.0, 1e-3
	st := State{Lateral: a}
	front, frontLoad, rearLoad := v.FrontRollRate, (1-v.RearShare)*v.Mass*g, v.RearShare*v.Mass*g
	axis := (1-v.RearShare)*v.FrontRollCentre + v.RearShare*rearCentre
	// the roll rates are those under vertical forces that keep their direction, so the
	// loads with the heights of the roll centres belong to the springs' own
	springs := front + v.FrontRollCentre*frontLoad + rearRate + rearCentre*rearLoad
	lean := v.Mass * a * (v.GravityHeight - axis) / (springs - v.Mass*g*(v.GravityHeight-axis))
	couple := (rearRate+rearCentre*rearLoad)*lean + rearCentre*v.RearShare*v.Mass*a
	at := leaning[float64]{share: 1, lean: lean, transfer: couple / track}
	here := stance[float64]{apart: lean * track, track: track, inward: -rearCentre * lean}
	angle, moment := unbalance(&st, &v, at, here)
	check(t, "lean in rad", angle, 0, 1e-6*lean)
	check(t, "moment in N·mm", moment, 0, 1e-6*couple)
}

// A state beyond the load of the inner wheel has no figures: it names the
// acceleration, at which the load is just gone.
func TestStateThatLiftsAWheelIsTold(t *testing.T) {
	v := vehicleWith(t, with(carValues, values{"cg_height": 900, "rear_roll_share": 0.8}))
	states := []State{{Name: "hard", Title: "hard cornering", Lateral: 1.2 * quantity.StandardGravity}}
	s, err := NewStudy(twistBeam(t), v, nil, states)
	if err != nil {
		t.Fatal(err)
	}
	toe, _ := s.Find("total_outer_toe", "hard", "")
	if !math.IsNaN(s.Value(toe)) {
		t.Errorf("toe beyond lift-off = %v", s.Value(toe))
	}
	var lost *LostWay
	var lifted *LiftedWheel
	if err := s.Lost(toe); !errors.As(err, &lost) || !errors.As(err, &lifted) || lifted.Outer || !lifted.Inner {
		t.Fatalf("lost by %v", s.Lost(toe))
	}
	want := "hard: the inner wheel lifts at " + quantity.Signs{}.Read(lost.Place, 0.1).Text + " g lateral; the state \"hard cornering\" has no figures"
	if !slices.Contains(s.Warnings(), want) {
		t.Errorf("no warning %q in %q", want, s.Warnings())
	}
	for _, b := range s.BushLoads() {
		if b.Case == "hard" {
			t.Error("bush loads in a state that is not reached")
		}
	}
	at := []State{{Name: "just", Title: "just before", Lateral: lost.Place * quantity.StandardGravity}}
	near, err := NewStudy(twistBeam(t), v, nil, at)
	if err != nil {
		t.Fatal(err)
	}
	just := near.loadOf("just", 0)
	if err := near.standUnder(just); err != nil && !errors.As(err, &lifted) {
		t.Fatal(err)
	}
	_, inner := near.goalImposed(just).wheelLoads(near.atSize.full.leaning)
	check(t, "load of the inner wheel in N there", inner, 0, 1e-3*v.WheelLoad())
	for _, w := range studyOf(t, twistBeam(t), vehicleWith(t, carValues)).Warnings() {
		if strings.Contains(w, "lift") {
			t.Errorf("built-in states of an ordinary car: %s", w)
		}
	}
}

// States and numbers that need vehicle values which are missing are not offered
// and say what they need.
func TestMissingVehicleValuesAreNamed(t *testing.T) {
	s := studyOf(t, twistBeam(t), vehicleWith(t, values{"mass": 1200, "rear_share": 0.4, "cg_height": 500, "wheelbase": 2500}))
	needs := map[string]string{}
	for _, a := range s.Absent() {
		needs[a.Number] = strings.Join(a.Needs, " ")
	}
	for name, want := range map[string]string{
		"anti_lift_percent": "rear_brake_share", "ride_rate": "tyre_rate", "state_cornering": "front_roll_rate front_roll_centre",
		"state_combined": "front_roll_rate front_roll_centre rear_brake_share",
	} {
		if needs[name] != want {
			t.Errorf("%s needs %q, want %q", name, needs[name], want)
		}
		if _, err := s.Find(name, "", ""); err == nil || !strings.Contains(err.Error(), strings.Fields(want)[0]) {
			t.Errorf("looking for %s gives %v", name, err)
		}
	}
	unknown := studyOf(t, twistBeam(t), UnknownVehicle())
	if _, err := unknown.Find("total_outer_toe", "", ""); err == nil || !strings.Contains(err.Error(), "needs mass") {
		t.Errorf("the total toe of an unknown vehicle gives %v", err)
	}
	static := UnknownVehicle()
	static.StaticLoad = true
	if _, err := NewStudy(twistBeam(t), static, nil, nil); err == nil || !strings.Contains(err.Error(), "mass, rear_share") {
		t.Errorf("a static load without a mass gives %v", err)
	}
}
