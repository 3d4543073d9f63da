package cases

import (
	"fmt"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// What every engineer of the trade expects of a rear axle. Common practice, no
// source: each test says where it is true.

// outerToe is the lateral-force steer of a twist beam with the given bushes.
func outerToe(t *testing.T, bush values, more ...compliance.Element) float64 {
	t.Helper()
	axle := beamAxle(t, wheelValues, bush, springValues, beamValues)
	axle.Elements = append(axle.Elements, more...)
	return writtenOf(t, studyOf(t, axle, UnknownVehicle()), "lateral_force_steer", "cornering", "")
}

// Without correction the loaded outer wheel toes out: plain cross bushes ahead of
// the wheel.
func TestPlainBushesToeTheOuterWheelOut(t *testing.T) {
	if toe := outerToe(t, bushValues); toe >= 0 {
		t.Errorf("lateral-force steer %.3f deg/kN, want toe-out", toe)
	}
}

// Angled bushes help if their stiff direction runs forward and outboard: with an
// axial rate above the fore-aft radial one that is a positive plan angle, with
// one below a negative one. The other hand makes it worse.
func TestAngledBushesOfTheRightHand(t *testing.T) {
	for _, c := range []struct {
		axial, soft float64
		right       float64 // sign of the plan angle that helps
	}{{2500, 600, 1}, {500, 1800, -1}} {
		bush := with(bushValues, values{"axial": c.axial, "soft": c.soft})
		plain := outerToe(t, bush)
		helped := outerToe(t, with(bush, values{"plan": c.right * 25}))
		spoilt := outerToe(t, with(bush, values{"plan": -c.right * 25}))
		if !(helped > plain && plain > spoilt) {
			t.Errorf("axial %g, fore-aft %g N/mm: plan %+g deg gives %.3f, 0 gives %.3f, %+g deg gives %.3f deg/kN",
				c.axial, c.soft, c.right*25, helped, plain, -c.right*25, spoilt)
		}
	}
}

// A toe-control link helps if its line runs forward and outboard, and harms the
// other way round; near the pivots, for nearer to the wheel axis its lateral rate
// helps by itself.
func TestToeLinkOfTheRightHand(t *testing.T) {
	link := func(forward float64) []compliance.Element {
		return bothSides(t, compliance.Link, "toe", values{"inner.x": 350 - forward, "inner.y": 300, "inner.z": 300,
			"outer.x": 350 + forward, "outer.y": 540, "outer.z": 300, "inner_rate": 4000, "outer_rate": 4000})
	}
	plain := outerToe(t, bushValues)
	helped, spoilt := outerToe(t, bushValues, link(100)...), outerToe(t, bushValues, link(-100)...)
	if !(helped > plain && plain > spoilt) {
		t.Errorf("link running forward %.3f, no link %.3f, link running rearward %.3f deg/kN", helped, plain, spoilt)
	}
}

// Softer fore-aft bushes give more recession and more toe error, at zero plan angle.
func TestSofterForeAftCostsToe(t *testing.T) {
	last := [2]float64{}
	for i, soft := range []float64{1500, 1000, 700, 450, 300} {
		s := studyOf(t, beamAxle(t, wheelValues, with(bushValues, values{"soft": soft}), springValues, beamValues), UnknownVehicle())
		now := [2]float64{writtenOf(t, s, "longitudinal_compliance", "impact", ""), -writtenOf(t, s, "lateral_force_steer", "cornering", "")}
		if i > 0 && (now[0] <= last[0] || now[1] <= last[1]) {
			t.Errorf("soft %g N/mm: recession %.3f mm/kN after %.3f, toe-out %.4f deg/kN after %.4f", soft, now[0], last[0], now[1], last[1])
		}
		last = now
	}
}

// A bar between the arms adds roll rate and no bump rate.
func TestBarAddsRollRateOnly(t *testing.T) {
	plain, barred := twistBeam(t), twistBeam(t)
	const rate = 60 // N·m/deg
	barred.Elements = append(barred.Elements, element(t, compliance.TorsionBar, "bar", compliance.Centre, 0, 1, values{"axis.y": 1, "rate": rate}))
	a, b := studyOf(t, plain, UnknownVehicle()), studyOf(t, barred, UnknownVehicle())
	if before, after := writtenOf(t, a, "roll_rate", "", ""), writtenOf(t, b, "roll_rate", "", ""); after < before+rate {
		t.Errorf("roll rate %.1f without the bar, %.1f N·m/deg with one of %d: a bar ahead of the wheels adds more than its own rate", before, after, rate)
	}
	before, after := valueOf(t, a, "wheel_rate", "heave", ""), valueOf(t, b, "wheel_rate", "heave", "")
	check(t, "wheel rate in heave", after, before, 1e-9*before)
}

// Outboard braking pulls the body down at the rear: pivots ahead of the wheels
// and above the ground.
func TestOutboardBrakingPullsTheBodyDown(t *testing.T) {
	for name, axle := range map[string]*compliance.Axle{"plain": twistBeam(t), "linked": linkedBeam(t)} {
		s := studyOf(t, axle, UnknownVehicle())
		outboard, inboard := writtenOf(t, s, "anti_lift_angle", "braking", ""), writtenOf(t, s, "anti_lift_angle", "braking_inboard", "")
		if outboard <= 0 || outboard <= inboard {
			t.Errorf("%s: anti-lift %.2f deg with outboard brakes, %.2f deg with inboard ones", name, outboard, inboard)
		}
	}
}

// Pads that float let the outer wheel droop, which is the reverse of a corner:
// more toe-out than on level pads, with the tyre in series in between. Tried with
// a shear centre above the pivots, so that droop is toe-out.
func TestPadsChangeTheAnswer(t *testing.T) {
	sprung := vehicleWith(t, carValues)
	sprung.TyreInSeries = true
	rigid, tyre := studyOf(t, twistBeam(t), vehicleWith(t, carValues)), studyOf(t, twistBeam(t), sprung)
	level := writtenOf(t, rigid, "lateral_force_steer", "cornering", "")
	floating := writtenOf(t, rigid, "lateral_force_steer", "cornering_floating", "")
	between := writtenOf(t, tyre, "lateral_force_steer", "cornering", "")
	if !(floating < between && between < level) {
		t.Errorf("lateral-force steer: floating %.3f, tyre in series %.3f, level %.3f deg/kN", floating, between, level)
	}
}

// Aligning steer is with the torque and compliances with their force, whatever
// the axle: the energy of a load is not negative.
func TestOwnMovementsArePositive(t *testing.T) {
	for name, s := range studies(t) {
		for _, own := range [][3]string{
			{"aligning_steer", "", ""}, {"lateral_compliance", "cornering_floating", "patch"}, {"longitudinal_compliance", "impact", ""},
			{"longitudinal_compliance", "impact_single", ""}, {"wheel_rate", "heave", ""}, {"wheel_rate", "roll", ""}, {"roll_rate", "", ""},
		} {
			if v := valueOf(t, s, own[0], own[1], own[2]); v <= 0 {
				t.Errorf("%s: %s is %g", name, own[0], v)
			}
		}
	}
}

// The steer-neutral point is where a lateral force gives no mean steer: a custom
// case with the force there proves it.
func TestForceAtTheSteerNeutralPointDoesNotSteer(t *testing.T) {
	first := studyOf(t, linkedBeam(t), UnknownVehicle())
	behind := valueOf(t, first, "steer_neutral_point", "", "")
	on := WheelLoad{Force: [3]float64{0, 1000, 0}, Moment: -behind * 1000, At: AtPatch}
	c, err := NewCase("neutral", "force at the steer-neutral point", Level, BrakeOff, on, on)
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewStudy(linkedBeam(t), UnknownVehicle(), []Case{c}, nil)
	if err != nil {
		t.Fatal(err)
	}
	mean := writtenOf(t, s, "outer_wheel_toe", "neutral", "") - writtenOf(t, s, "inner_wheel_toe", "neutral", "")
	check(t, fmt.Sprintf("mean steer in deg, force %.1f mm behind", behind), mean, 0, 1e-10*quantity.Degree.Factor)
}
