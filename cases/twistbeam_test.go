package cases

import (
	"fmt"
	"math"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Twist-beam kinematics: in roll each half turns about the line through its
// pivot and the shear centre of the cross-member at y = 0 (Euromotor course on
// chassis design; Lee & Yang, Finite Elem. Anal. Des. 63, 2013, 98–106). With
// pivot (0, yp, zp), shear centre (−d, 0, zs), wheel axis L behind the pivots and
// track t the rest is vector algebra:
//
//	Le = L + d·(t/2 − yp)/yp,  roll steer = (zs − zp)/yp·(t/2)/Le,
//	camber to the body = −d/yp·(t/2)/Le,  h = (t/2)·[(zs − zp)·L + d·zp]/(yp·Le).
//
// It holds in a limit: stiff bushes without torsion and cones, a cross-member
// rigid in bending and shear.
type equivalentArm struct{ length, behind, pivotY, pivotZ, shearZ, track float64 }

func (a equivalentArm) arm() float64 { return a.length + a.behind*(a.track/2-a.pivotY)/a.pivotY }

func (a equivalentArm) rollSteer() float64 {
	return (a.shearZ - a.pivotZ) / a.pivotY * (a.track / 2) / a.arm()
}

func (a equivalentArm) camber() float64 { return -a.behind / a.pivotY * (a.track / 2) / a.arm() }

func (a equivalentArm) rollCentre() float64 {
	return a.track / 2 * ((a.shearZ-a.pivotZ)*a.length + a.behind*a.pivotZ) / (a.pivotY * a.arm())
}

// publishedArms are the five worked rows, with the roll steer, camber to the
// ground and roll-centre height calculated apart from this program.
var publishedArms = []struct {
	equivalentArm
	steer, ground, height float64
}{
	{equivalentArm{400, 0, 750, 250, 250, 1500}, 0, 1, 0},
	{equivalentArm{400, 400, 750, 250, 280, 1500}, 0.07500, 0, 280.000},
	{equivalentArm{400, 160, 750, 250, 280, 1500}, 0.07500, 0.60000, 130.000},
	{equivalentArm{430, 150, 600, 240, 270, 1500}, 0.08021, 0.59893, 130.749},
	{equivalentArm{430, 150, 600, 240, 210, 1500}, -0.08021, 0.59893, 61.765},
}

// The limit: bush rates 1e4 times those of a car, bending 1e2 times a pressed
// member's, a spring that is small but holds heave. What is left of bush and
// bending compliance is below limitError.
const (
	stiffBush   = 1e7  // N/mm
	stiffBeam   = 1e8  // mm⁴
	smallSpring = 0.05 // N/mm, upright at the wheel centre
	limitError  = 1e-3
)

// limitAxle is the twist beam of an equivalent arm in the limit.
func limitAxle(t testing.TB, a equivalentArm) *compliance.Axle {
	wheel := values{"centre.y": a.track / 2, "centre.z": 300, "loaded_radius": 300}
	bush := values{"at.x": a.length, "at.y": a.pivotY, "at.z": a.pivotZ, "soft": stiffBush, "axial": stiffBush, "stiff": stiffBush}
	spring := values{"upper.y": a.track / 2, "upper.z": 600, "lower.y": a.track / 2, "lower.z": 300, "rate": smallSpring}
	beam := values{"at.x": a.length - a.behind, "at.z": a.shearZ, "ends_y": a.pivotY, "area": 1e5,
		"inertia_forward": stiffBeam, "inertia_up": stiffBeam, "torsion_constant": 40000}
	return beamAxle(t, wheel, bush, spring, beam)
}

func TestTwistBeamTurnsAboutPivotAndShearCentre(t *testing.T) {
	for _, row := range publishedArms {
		s := studyOf(t, limitAxle(t, row.equivalentArm), UnknownVehicle())
		name := fmt.Sprint(row.equivalentArm)
		steer := valueOf(t, s, "roll_steer", "", "")
		check(t, name+": roll steer", steer, row.rollSteer(), limitError*max(0.01, math.Abs(row.rollSteer())))
		check(t, name+": roll steer as printed", steer, row.steer, limitError*max(0.01, math.Abs(row.steer)))
		check(t, name+": roll camber to the body", valueOf(t, s, "roll_camber", "", "body"), row.camber(), limitError)
		check(t, name+": roll camber to the ground as printed", valueOf(t, s, "roll_camber", "", "ground"), row.ground, limitError)
		for _, way := range []string{"roll_centre_kinematic", "roll_centre_force"} {
			height := valueOf(t, s, way, "", "")
			check(t, name+": "+way, height, row.rollCentre(), limitError*300)
			check(t, name+": "+way+" as printed", height, row.height, limitError*300)
		}
	}
}

// The wheel toes in when bumped if the shear centre lies above the pivots, out if
// below: the sign changes with the height alone.
func TestRollSteerChangesSignAtPivotHeight(t *testing.T) {
	for _, above := range []float64{40, 5, -5, -40} {
		arm := equivalentArm{430, 150, 600, 240, 240 + above, 1500}
		s := studyOf(t, limitAxle(t, arm), UnknownVehicle())
		if steer := valueOf(t, s, "roll_steer", "", ""); steer*above <= 0 {
			t.Errorf("shear centre %g mm above the pivots: roll steer %g", above, steer)
		}
	}
}

// Antisymmetric wheel rate from the member's twist, kw = 2·kt/Le² with kt = G·J
// over the span (vector algebra as above): 24.6372 N/mm, a roll rate of 483.750
// N·m/deg, and 40.589 mm under ±1 kN, calculated apart from this program.
func TestTwistBeamWheelRate(t *testing.T) {
	arm := equivalentArm{430, 150, 600, 240, 270, 1500}
	axle := limitAxle(t, arm)
	beam := &axle.Elements[len(axle.Elements)-1]
	beam.Choice.Ends = [2]compliance.Warping{compliance.Free, compliance.Free}
	s := studyOf(t, axle, UnknownVehicle())
	rate := valueOf(t, s, "wheel_rate", "roll", "") - smallSpring
	check(t, "wheel rate in N/mm", rate, 24.6372, limitError*24.6372)
	kt := 210000 / 2.6 * 40000 / 1200
	check(t, "wheel rate against the formula", rate, 2*kt/math.Pow(arm.arm(), 2), limitError*24.6372)
	withSpring := 1 + smallSpring/24.6372
	check(t, "roll rate in N·m/deg", writtenOf(t, s, "roll_rate", "", ""), 483.750*withSpring, limitError*483.75)
	check(t, "travel under ±1 kN", valueOf(t, s, "outer_patch_z", "roll", "")*1e3, 40.589/withSpring, limitError*40.589)
}

// Braking with outboard brakes: both halves turn about the line through the
// pivots, so the side-view angle is atan(zp/L) and anti-lift p·(zp/L)·wheelbase/h
// (side-view geometry; from memory): 29.168 deg and 79.15 %.
func TestAntiLiftClosedForm(t *testing.T) {
	arm := equivalentArm{430, 150, 600, 240, 270, 1500}
	vehicle := vehicleWith(t, values{"wheelbase": 2600, "cg_height": 550, "rear_brake_share": 0.3})
	s := studyOf(t, limitAxle(t, arm), vehicle)
	check(t, "anti-lift angle in deg", writtenOf(t, s, "anti_lift_angle", "braking", ""), 29.168, limitError*29)
	check(t, "anti-lift", valueOf(t, s, "anti_lift_percent", "braking", ""), 0.7915, limitError)
	check(t, "wheelbase in bump, (zp − zw)/L", valueOf(t, s, "wheelbase_change", "", ""), (240.0-300)/430, limitError)
}

// Both wheels together change neither toe nor camber: common practice, no
// source; with a cross-member rigid in bending and stiff bushes.
func TestBothWheelsTogetherKeepToeAndCamber(t *testing.T) {
	for _, row := range publishedArms {
		s := studyOf(t, limitAxle(t, row.equivalentArm), UnknownVehicle())
		for _, name := range []string{"bump_steer", "bump_camber"} {
			check(t, fmt.Sprint(row.equivalentArm, ": ", name, " in rad/mm"), valueOf(t, s, name, "", ""), 0, limitError*quantity.DegreePerMetre.Factor)
		}
	}
}

// At the wheel axis the cross-member makes a dead axle: the wheels keep their
// angle to the ground in roll and the roll centre is the shear centre. Common
// practice, no source, and the limit d = L of the formulas above.
func TestCrossMemberAtTheWheelAxisIsADeadAxle(t *testing.T) {
	arm := equivalentArm{400, 400, 700, 250, 290, 1500}
	s := studyOf(t, limitAxle(t, arm), UnknownVehicle())
	check(t, "camber to the ground", valueOf(t, s, "roll_camber", "", "ground"), 0, limitError)
	check(t, "roll-centre height", valueOf(t, s, "roll_centre_kinematic", "", ""), 290, limitError*290)
}

// A shear-centre line through the pivots gives no toe or camber change to the
// body in roll and a roll centre at ground: common practice, no source; stiff bushes.
func TestShearCentreThroughThePivotsIsAPureTrailingArm(t *testing.T) {
	s := studyOf(t, limitAxle(t, equivalentArm{430, 0, 600, 240, 240, 1500}), UnknownVehicle())
	check(t, "roll steer", valueOf(t, s, "roll_steer", "", ""), 0, limitError*0.1)
	check(t, "roll camber to the body", valueOf(t, s, "roll_camber", "", "body"), 0, limitError)
	check(t, "roll-centre height", valueOf(t, s, "roll_centre_force", "", ""), 0, limitError*300)
}
