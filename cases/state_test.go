package cases

import (
	"math"
	"strings"
	"testing"

	"bushtune/bushing/quantity"
)

// The loads of a state obey the equilibrium of the car: the rear wheels carry
// their share of the lateral force and of the braking force, and the load
// transfer has the moment share·m·a_y·h and m·a_x·h.
func TestStateLoadsBalanceTheCar(t *testing.T) {
	const g = quantity.StandardGravity
	v := vehicleWith(t, with(carValues, values{"rear_roll_share": 0.4}))
	st := State{Name: "both", Lateral: 0.5 * g, Braking: 0.2 * g}
	outer, inner := forces(&st, &v, lateralTransfer(&st, &v, rollBehaviour[float64]{track: 1500}))
	sum := func(a, b float64) float64 { return a + b }
	checks := []struct {
		what      string
		got, want float64
	}{
		{"lateral", sum(outer.inward, inner.inward), 1.25 * 0.42 * 0.5 * g},
		{"braking", sum(outer.forward, inner.forward), -1.25 * 0.3 * 0.2 * g},
		{"roll moment", (outer.up - inner.up) / 2 * 1500, 0.4 * 1.25 * 0.5 * g * 550},
		{"pitch moment", -sum(outer.up, inner.up) * 2600, 1.25 * 0.2 * g * 550},
		{"lateral by load", outer.inward / inner.inward, (v.WheelLoad() + outer.up) / (v.WheelLoad() + inner.up)},
		{"trail", outer.torque, -25 * outer.inward},
	}
	for _, c := range checks {
		check(t, c.what, c.got, c.want, 1e-9*math.Abs(c.want))
	}
}

// Without a given share the rear share and the front share, written for the front
// axle by exchanging the ends, add up to the whole load transfer.
func TestRollSharesOfBothAxlesSumToOne(t *testing.T) {
	v := vehicleWith(t, carValues)
	const track = 1480.0
	roll := rollBehaviour[float64]{travel: track * track / 3e7, track: track} // rear roll rate 3e7 N·mm/rad
	const rearCentre = 130.0
	roll.inward = -rearCentre * roll.travel / track
	front := v
	front.RearShare, front.FrontRollRate, front.FrontRollCentre = 1-v.RearShare, 3e7, rearCentre
	other := rollBehaviour[float64]{travel: track * track / v.FrontRollRate, track: track}
	other.inward = -v.FrontRollCentre * other.travel / track
	check(t, "rear and front share", rearRollShare(&v, roll)+rearRollShare(&front, other), 1, 1e-12)
}

// A state is the superposition of its loads: its toe is the sum of what each
// force does alone, read in custom cases.
func TestStateIsTheSumOfItsLoads(t *testing.T) {
	v := vehicleWith(t, carValues)
	plain := studyOf(t, twistBeam(t), v)
	l := plain.loadOf("state_combined", 0)
	var custom []Case
	for i, term := range l.terms {
		on := [2]WheelLoad{}
		brake := BrakeOff
		switch {
		case term.direction == yaw:
			on[term.wheel].Moment = term.factor
		case term.direction >= lockedX:
			brake = BrakeLocked
			on[term.wheel].Force[term.direction-lockedX] = term.factor
		default:
			on[term.wheel].Force[term.direction-patchX] = term.factor
		}
		c, err := NewCase(string(rune('a'+i)), "", Floating, brake, on[0], on[1])
		if err != nil {
			t.Fatal(err)
		}
		custom = append(custom, c)
	}
	s, err := NewStudy(twistBeam(t), v, custom, nil)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, c := range custom {
		sum += valueOf(t, s, "right_wheel_toe", c.Name, "")
	}
	check(t, "toe of the outer wheel in rad", valueOf(t, s, "total_outer_toe", "state_combined", ""), sum, 1e-12)
	if sum == 0 {
		t.Error("the state does nothing")
	}
}

// A state beyond the load of the inner wheel is a warning that names the
// acceleration; at that acceleration the load is just gone.
func TestStateThatLiftsAWheelWarns(t *testing.T) {
	v := vehicleWith(t, with(carValues, values{"cg_height": 900, "rear_roll_share": 0.8}))
	states := []State{{Name: "hard", Title: "hard cornering", Lateral: 1.2 * quantity.StandardGravity}}
	s, err := NewStudy(twistBeam(t), v, nil, states)
	if err != nil {
		t.Fatal(err)
	}
	// share·m·a·h/track = m·rear_share·g/2
	lift := 0.42 / 2 * s.rig.track / 900 / 0.8
	want := "hard: the inner wheel lifts at " + quantity.Signs{}.Read(lift, 0.1).Text + " g lateral"
	found := false
	for _, w := range s.Warnings() {
		found = found || strings.HasPrefix(w, want)
	}
	if !found {
		t.Errorf("no warning %q in %q", want, s.Warnings())
	}
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
