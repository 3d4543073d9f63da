package cases

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// travelled runs a travel of an axle.
func travelled(t testing.TB, s *Study, travel Travel) *Travelled {
	t.Helper()
	r, err := fullSize(t, s).Travel(travel)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// pointsOf are the values of a series that must exist.
func pointsOf(t testing.TB, series []Series, number, caseName, where string) []Point {
	t.Helper()
	s := find(series, number, caseName, where)
	if s == nil {
		t.Fatalf("no series %s in %s at %q", number, caseName, where)
	}
	return s.Points
}

// turnAbout turns a point about the line through p along the unit vector d
// (Rodrigues), written out apart from the program.
func turnAbout(p, d, at [3]float64, angle float64) [3]float64 {
	r := [3]float64{at[0] - p[0], at[1] - p[1], at[2] - p[2]}
	sin, cos := math.Sincos(angle)
	dot := d[0]*r[0] + d[1]*r[1] + d[2]*r[2]
	cross := [3]float64{d[1]*r[2] - d[2]*r[1], d[2]*r[0] - d[0]*r[2], d[0]*r[1] - d[1]*r[0]}
	var out [3]float64
	for i := range out {
		out[i] = p[i] + r[i]*cos + cross[i]*sin + d[i]*dot*(1-cos)
	}
	return out
}

// rolledWheel is the left wheel of an equivalent arm turned about the line through
// pivot and shear centre until its contact point is lifted by a height: toe-in,
// camber top outward, and the movement of the contact point, wheel radius 300.
func rolledWheel(a equivalentArm, lift float64) (toe, camber float64, contact [3]float64) {
	pivot := [3]float64{a.length, a.pivotY, a.pivotZ}
	middle := [3]float64{a.length - a.behind, 0, a.shearZ}
	d := [3]float64{pivot[0] - middle[0], pivot[1] - middle[1], pivot[2] - middle[2]}
	size := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
	for i := range d {
		d[i] /= size
	}
	place := func(angle float64) ([3]float64, [3]float64) {
		centre := turnAbout(pivot, d, [3]float64{0, a.track / 2, 300}, angle)
		tip := turnAbout(pivot, d, [3]float64{0, a.track/2 + 1, 300}, angle)
		spin := [3]float64{tip[0] - centre[0], tip[1] - centre[1], tip[2] - centre[2]}
		flat := math.Sqrt(1 - spin[2]*spin[2])
		low := [3]float64{spin[0] * spin[2] / flat, spin[1] * spin[2] / flat, (spin[2]*spin[2] - 1) / flat}
		return spin, [3]float64{centre[0] + 300*low[0], centre[1] + 300*low[1], centre[2] + 300*low[2]}
	}
	low, high := -1.0, 1.0
	_, up := place(high)
	if up[2] < 0 {
		low, high = high, low
	}
	for range 200 {
		middle := (low + high) / 2
		if _, p := place(middle); p[2] < lift {
			low = middle
		} else {
			high = middle
		}
	}
	spin, p := place((low + high) / 2)
	p[1] -= a.track / 2
	return math.Atan2(spin[0], spin[1]), -math.Atan2(spin[2], spin[1]), p
}

// In roll each half turns about the line through its pivot and the shear centre,
// at finite angles too (Euromotor course on chassis design; Lee & Yang, Finite
// Elem. Anal. Des. 63, 2013). Turned by φ about two lines that are not one, the
// halves' ends would leave a kink of φ²·(d, zs − zp)/yp between them in the middle
// (vector algebra, second order). A member rigid in bending does not give it: the
// wheels share it, alike on both sides, and no more than it; their difference is
// off by third order, by less than φ²/2 of it. A shear-centre line through the
// pivots has no kink.
func TestWheelsTurnAboutPivotAndShearCentreAtLargeRoll(t *testing.T) {
	for _, row := range publishedArms {
		s := studyOf(t, limitAxle(t, row.equivalentArm), UnknownVehicle())
		r := travelled(t, s, Travel{Mode: RollBody, From: -80, To: 80, Points: 9})
		for i, lift := range []float64{-80, -60, -40, -20, 0, 20, 40, 60, 80} {
			angle := lift / row.arm()
			kink := quantity.Degree.Written(angle * angle * math.Max(row.behind, math.Abs(row.shearZ-row.pivotZ)) / row.pivotY)
			got := func(number string) (left, right float64) {
				return pointsOf(t, r.Series, number, "roll", "left")[i].Value, pointsOf(t, r.Series, number, "roll", "right")[i].Value
			}
			third := angle*angle/2 + limitError
			bumped, drooped := rolled(row.equivalentArm, lift), rolled(row.equivalentArm, -lift)
			for n, number := range []string{"wheel_toe", "wheel_camber"} {
				left, right := got(number)
				name := fmt.Sprint(row.equivalentArm, " at ", lift, " mm: ", number)
				check(t, name+", difference", right-left, bumped[n]-drooped[n], third*math.Abs(bumped[n]-drooped[n])+0.002)
				check(t, name+", sum", right+left, bumped[n]+drooped[n], kink+0.002)
			}
			left, right := got("patch_y")
			check(t, fmt.Sprint(row.equivalentArm, " at ", lift, " mm: y of the contact points, sum"), right+left, drooped[2]-bumped[2], third*math.Abs(drooped[2]-bumped[2])+0.02)
		}
	}
}

// rolled is toe and camber in deg and outward movement of the contact point in mm.
func rolled(a equivalentArm, lift float64) [3]float64 {
	toe, camber, contact := rolledWheel(a, lift)
	return [3]float64{quantity.Degree.Written(toe), quantity.Degree.Written(camber), contact[1]}
}

// Common practice, no source: both wheels together change neither toe nor camber
// at any travel while the cross-member is rigid in bending: so loading the boot
// does not either.
func TestBootLoadKeepsToeAndCamber(t *testing.T) {
	s := studyOf(t, limitAxle(t, publishedArms[3].equivalentArm), UnknownVehicle())
	r := travelled(t, s, Travel{Mode: Heave, From: -80, To: 100, Points: 10})
	for _, number := range []string{"wheel_toe", "wheel_camber"} {
		for _, p := range pointsOf(t, r.Series, number, "heave", "right") {
			check(t, fmt.Sprint(number, " in deg at ", p.X), p.Value, 0, 2e-3)
		}
	}
}

// Common practice, no source: the outer wheel gains negative camber to the body in
// roll, and leans outward against the ground.
func TestOuterWheelGainsNegativeCamberInRoll(t *testing.T) {
	r := travelled(t, studyOf(t, twistBeam(t), UnknownVehicle()), Travel{Mode: RollBody, From: 0, To: 60, Points: 7})
	body, ground := pointsOf(t, r.Series, "wheel_camber", "roll", "right"), pointsOf(t, r.Series, "camber_to_ground", "roll", "right")
	for i := 1; i < len(body); i++ {
		if !(body[i].Value < body[i-1].Value && ground[i].Value > ground[i-1].Value) {
			t.Errorf("at %g mm: camber to the body %.3f after %.3f, to the ground %.3f after %.3f deg", body[i].X, body[i].Value, body[i-1].Value, ground[i].Value, ground[i-1].Value)
		}
	}
}

// Common practice, no source: a stiffer bar in the cross-member raises the roll
// rate at every roll and no heave rate.
func TestBarAddsRollRateOnlyAtAnyTravel(t *testing.T) {
	barred := twistBeam(t)
	barred.Elements = append(barred.Elements, element(t, compliance.TorsionBar, "bar", compliance.Centre, 0, 1, values{"axis.y": 1, "rate": 60}))
	plain, with := studyOf(t, twistBeam(t), UnknownVehicle()), studyOf(t, barred, UnknownVehicle())
	rates := func(s *Study, mode Mode, name, caseName string) []Point {
		return pointsOf(t, travelled(t, s, Travel{Mode: mode, From: -60, To: 60, Points: 5}).Series, name, caseName, "")
	}
	before, after := rates(plain, RollBody, "roll_rate", "roll"), rates(with, RollBody, "roll_rate", "roll")
	for i := range before {
		if after[i].Value < before[i].Value+60 {
			t.Errorf("at %g mm of roll: roll rate %.1f with the bar, %.1f N·m/deg without", before[i].X, after[i].Value, before[i].Value)
		}
	}
	before, after = rates(plain, Heave, "wheel_rate", "heave"), rates(with, Heave, "wheel_rate", "heave")
	for i := range before {
		check(t, "wheel rate", after[i].Value, before[i].Value, 1e-7*before[i].Value)
	}
}

// Common practice, no source: a spring at the wheel has a motion ratio near one,
// so the wheel rate in heave is near the spring rate over the whole travel.
func TestSpringAtTheWheelHasMotionRatioNearOne(t *testing.T) {
	spring := values{"upper.y": 700, "upper.z": 600, "lower.y": 700, "lower.z": 300, "rate": 25}
	bush := with(bushValues, values{"torsion": 0, "cone_soft": 0, "cone_stiff": 0})
	s := studyOf(t, beamAxle(t, wheelValues, bush, spring, beamValues), UnknownVehicle())
	r := travelled(t, s, Travel{Mode: Heave, From: -60, To: 60, Points: 7})
	for _, p := range pointsOf(t, r.Series, "wheel_rate", "heave", "") {
		check(t, fmt.Sprint("motion ratio squared at ", p.X, " mm"), p.Value/25, 1, 0.1)
	}
}

// The shares of the roll rate sum to it, with a load at rest and without.
func TestRollRateSharesSum(t *testing.T) {
	loaded := vehicleWith(t, carValues)
	loaded.StaticLoad = true
	for name, s := range map[string]*Study{
		"plain": studyOf(t, twistBeam(t), UnknownVehicle()), "linked": studyOf(t, linkedBeam(t), loaded),
	} {
		r := travelled(t, s, Travel{Mode: RollBody, From: -50, To: 50, Points: 5})
		total := pointsOf(t, r.Series, "roll_rate", "roll", "")
		sum := make([]float64, len(total))
		hubs := pointsOf(t, r.Series, "roll_rate_share", "roll", "hubs")
		for i := range shares {
			for k, p := range pointsOf(t, r.Series, "roll_rate_share", "roll", shareTitles[i].where) {
				sum[k] += p.Value
			}
		}
		for k := range total {
			check(t, name+": sum of shares", sum[k], total[k].Value, 1e-9*total[k].Value)
			if name == "plain" { // no hub: nothing may be left for it
				check(t, name+": share of the hubs", hubs[k].Value, 0, 1e-7*total[k].Value)
			}
		}
	}
}

// The shares at the design position, without loads, are those of an independent
// sum: energy of every line under the linear roll couple.
func TestRollRateSharesAtDesignAreEnergies(t *testing.T) {
	s := studyOf(t, twistBeam(t), UnknownVehicle())
	r := travelled(t, s, Travel{Mode: RollBody, From: -10, To: 10, Points: 3})
	i, err := s.Find("outer_patch_z", "roll", "")
	if err != nil {
		t.Fatal(err)
	}
	whole, springs := 0.0, 0.0
	for _, p := range s.Parts(i) {
		whole += p.Value
		if p.Line == "along" {
			springs += p.Value
		}
	}
	share := pointsOf(t, r.Series, "roll_rate_share", "roll", "springs")[1].Value
	total := pointsOf(t, r.Series, "roll_rate", "roll", "")[1].Value
	check(t, "share of the springs", share/total, springs/whole, 1e-6)
}

// Roll-centre heights from the path of the contact points and from forces are the
// same by reciprocity, at any roll.
func TestRollCentresAgreeByReciprocity(t *testing.T) {
	for _, mode := range []Mode{Heave, RollBody, Single} {
		r := travelled(t, studyOf(t, toeLinkedBeam(t), UnknownVehicle()), Travel{Mode: mode, From: -50, To: 50, Points: 5})
		kinematic, forces := pointsOf(t, r.Series, "roll_centre_kinematic", "roll", ""), pointsOf(t, r.Series, "roll_centre_force", "cornering", "")
		for i := range kinematic {
			if mode != Heave && kinematic[i].X != 0 {
				continue // by both wheels alike only while the halves are
			}
			check(t, fmt.Sprint(mode, " at ", kinematic[i].X), kinematic[i].Value, forces[i].Value, 1e-6*300)
		}
	}
}

// The instant axis of each wheel in roll is the virtual semi-trailing arm: it runs
// through pivot and shear centre, in heave through both pivots; no slide.
func TestScrewAxesOfTheLimit(t *testing.T) {
	a := publishedArms[3].equivalentArm
	r := travelled(t, studyOf(t, limitAxle(t, a), UnknownVehicle()), Travel{Mode: RollBody, From: -10, To: 10, Points: 3})
	at := func(number, caseName string) float64 { return pointsOf(t, r.Series, number, caseName, "left")[1].Value }
	check(t, "roll: x in the middle", at("screw_middle_x", "roll"), a.length-a.behind, 0.5)
	check(t, "roll: z in the middle", at("screw_middle_z", "roll"), a.shearZ, 0.5)
	check(t, "roll: plan", at("screw_plan", "roll"), quantity.Degree.Written(math.Atan2(a.behind, a.pivotY)), 0.05)
	check(t, "roll: lift", at("screw_lift", "roll"), quantity.Degree.Written(math.Atan2(a.pivotZ-a.shearZ, math.Hypot(a.pivotY, a.behind))), 0.05)
	check(t, "roll: pitch", at("screw_pitch", "roll"), 0, 0.5)
	check(t, "heave: x at the wheel", at("screw_wheel_x", "heave"), a.length, 0.5)
	check(t, "heave: z at the wheel", at("screw_wheel_z", "heave"), a.pivotZ, 0.5)
	check(t, "heave: plan", at("screw_plan", "heave"), 0, 0.05)
}

// A body that screws about a known axis is found with its pitch.
func TestScrewOfKnownMotion(t *testing.T) {
	direction, on, centre := exact.Vec[float64]{1, 2, -2}.Scale(1.0/3), exact.Vec[float64]{40, 500, 200}, exact.Vec[float64]{0, 740, 300}
	turn := direction.Scale(0.02)
	slide := turn.Cross(centre.Sub(on)).Add(direction.Scale(0.02 * 35))
	a := screwOf(&exact.Wrench[float64]{slide[0], slide[1], slide[2], turn[0], turn[1], turn[2]}, centre, 1)
	check(t, "pitch", a.pitch, 35, 1e-9)
	off := a.point.Sub(on)
	check(t, "distance from the axis", off.Cross(direction).Norm(), 0, 1e-9)
	check(t, "direction", a.direction.Dot(direction), 1, 1e-12)
}

// At constant axle load the pads' forces sum to nothing and the roll angle is that
// with the body fixed.
func TestRollAtConstantAxleLoad(t *testing.T) {
	s := studyOf(t, twistBeam(t), UnknownVehicle())
	r := travelled(t, s, Travel{Mode: RollLoad, From: -60, To: 60, Points: 7})
	left, right := pointsOf(t, r.Series, "pad_load", "", "left"), pointsOf(t, r.Series, "pad_load", "", "right")
	z := [2][]Point{pointsOf(t, r.Series, "patch_z", "", "left"), pointsOf(t, r.Series, "patch_z", "", "right")}
	for i := range left {
		check(t, "sum of the pads in N", left[i].Value+right[i].Value, 0, 1e-3)
		check(t, "difference in height", z[1][i].Value-z[0][i].Value, 2*left[i].X, 1e-6)
	}
}

// The tangent numbers are the slopes of the curves: wheel rate of the pad's force,
// bump steer of toe. Held against central differences of a fine travel.
func TestTangentsAreTheSlopesOfTheCurves(t *testing.T) {
	r := travelled(t, studyOf(t, toeLinkedBeam(t), UnknownVehicle()), Travel{Mode: Heave, From: 38, To: 42, Points: 5})
	slope := func(number, where string) float64 {
		p := pointsOf(t, r.Series, number, "heave", where)
		return (8*(p[3].Value-p[1].Value) - (p[4].Value - p[0].Value)) / 12
	}
	check(t, "wheel rate", slope("pad_load", "right"), pointsOf(t, r.Series, "wheel_rate", "heave", "")[2].Value, 1e-6*25)
	check(t, "bump steer in deg/m", slope("wheel_toe", "right")*1e3, pointsOf(t, r.Series, "bump_steer", "heave", "")[2].Value, 1e-5)
	check(t, "wheelbase in mm/m", slope("wheelbase", "")*1e3, pointsOf(t, r.Series, "wheelbase_change", "heave", "")[2].Value, 1e-3)
}

// Pads further apart than the arms can turn, which are 430 mm long, are lost with
// the place and the body that is out of balance.
func TestTravelThatCannotBeIsLost(t *testing.T) {
	_, err := fullSize(t, studyOf(t, toeLinkedBeam(t), UnknownVehicle())).Travel(Travel{Mode: RollBody, From: 0, To: 3000, Points: 9})
	var way *LostWay
	var lost *compliance.LostBalance
	if !errors.As(err, &way) || !errors.As(err, &lost) {
		t.Fatalf("error %v, want a *LostWay with a *compliance.LostBalance", err)
	}
	if way.Place < 430 || way.Place > 3000 || way.Unit != "mm" || lost.Body == "" {
		t.Errorf("lost at %g %s: %v", way.Place, way.Unit, lost)
	}
}

func TestTravelRefusesNonsense(t *testing.T) {
	f := fullSize(t, studyOf(t, twistBeam(t), UnknownVehicle()))
	for _, travel := range []Travel{{Points: 5}, {To: 5, Points: 1}, {From: 5, To: -5, Points: 3}, {To: 5, Points: 3, Mode: 9}, {To: 5, Points: 3, TurnRight: true},
		{To: math.Inf(1), Points: 3}, {To: math.NaN(), Points: 3}} {
		if _, err := f.Travel(travel); err == nil {
			t.Errorf("%+v is accepted", travel)
		}
	}
}

// drawnAxle is the plain twist beam with a pressed V as its cross-member.
func drawnAxle(t testing.TB) *compliance.Axle {
	axle := twistBeam(t)
	for _, kind := range compliance.ProfileBeams {
		if kind.Variant != "V" {
			continue
		}
		cross := element(t, kind, "cross", compliance.Centre, 0, 1, values{"at.x": 270, "at.z": 280, "ends_y": 550,
			"profile.leg": 80, "profile.radius": 30, "profile.half_angle": 30, "profile.wall": 5})
		cross.Choice.Ends = [2]compliance.Warping{compliance.BuiltIn, compliance.BuiltIn}
		axle.Elements[len(axle.Elements)-1] = cross
	}
	return axle
}

// Stresses of a drawn cross-member: twist in roll gives torsion and warping, both
// odd in roll, so alike in size both ways and at both ends; heave gives neither. A
// section by numbers has none and says so.
func TestStressOfTheCrossMember(t *testing.T) {
	s := studyOf(t, drawnAxle(t), UnknownVehicle())
	roll := travelled(t, s, Travel{Mode: RollBody, From: -60, To: 60, Points: 5})
	heave := travelled(t, s, Travel{Mode: Heave, From: -60, To: 60, Points: 5})
	torsion := pointsOf(t, roll.Series, "stress_torsion", "", "beam.cross")
	check(t, "torsion both ways", torsion[0].Value, torsion[4].Value, 1e-6*torsion[4].Value)
	for _, end := range []string{"beam.cross at arm.left", "beam.cross at arm.right"} {
		w := pointsOf(t, roll.Series, "stress_warping", "", end)
		if !(w[4].Value > 5 && torsion[4].Value > 5 && w[2].Value < 1e-6) {
			t.Errorf("%s in roll: warping %.2f, torsion %.2f MPa at 60 mm, warping %.2g at rest", end, w[4].Value, torsion[4].Value, w[2].Value)
		}
		check(t, end+": warping in heave", pointsOf(t, heave.Series, "stress_warping", "", end)[4].Value, 0, 1e-3*w[4].Value)
	}
	numbers := travelled(t, studyOf(t, twistBeam(t), UnknownVehicle()), Travel{Mode: Heave, From: -1, To: 1, Points: 3})
	if find(numbers.Series, "stress_torsion", "", "") != nil || len(numbers.Warnings) != 1 {
		t.Errorf("a section by numbers: warnings %q", numbers.Warnings)
	}
}

// A bush that travels beyond its limit is named with the worst point.
func TestTravelWarnsOfBushLimits(t *testing.T) {
	bush := with(bushValues, values{"max_radial_travel": 0.05})
	r := travelled(t, studyOf(t, beamAxle(t, wheelValues, bush, springValues, beamValues), UnknownVehicle()), Travel{Mode: RollBody, From: -60, To: 60, Points: 5})
	s := find(r.Series, "bush_radial_travel", "", "bush.pivot.left")
	if s == nil || s.Limit != 0.05 || len(r.Warnings) < 2 {
		t.Errorf("series %+v, warnings %q", s, r.Warnings)
	}
}

// A bump stop raises the wheel rate once its gap has closed, by its own rate times
// the square of its lever ratio over the travel, and carries no load before.
func TestBumpStopInTravel(t *testing.T) {
	axle := twistBeam(t)
	stop := values{"upper.x": 0, "upper.y": 740, "upper.z": 600, "lower.x": 0, "lower.y": 740, "lower.z": 300, "rate": 150, "gap": 30, "run": 5}
	axle.Elements = append(axle.Elements, bothSides(t, compliance.BumpStop, "bump", stop)...)
	with := travelled(t, studyOf(t, axle, UnknownVehicle()), Travel{Mode: Heave, From: -20, To: 60, Points: 9}).Series
	without := travelled(t, studyOf(t, twistBeam(t), UnknownVehicle()), Travel{Mode: Heave, From: -20, To: 60, Points: 9}).Series
	load := pointsOf(t, with, "stop_load", "heave", "stop.bump.left")
	a, b := pointsOf(t, with, "wheel_rate", "heave", ""), pointsOf(t, without, "wheel_rate", "heave", "")
	for i, x := range []float64{-20, -10, 0, 10, 20, 30, 40, 50, 60} {
		more := a[i].Value - b[i].Value
		switch {
		case x < 30:
			check(t, fmt.Sprint("load of the open stop at ", x), load[i].Value, 0, 1e-9)
			check(t, fmt.Sprint("wheel rate added at ", x), more, 0, 1e-6)
		case x >= 40: // over the wheel: a ratio of one, less what arm and seat tilt
			check(t, fmt.Sprint("wheel rate added at ", x), more, 150, 15)
		}
	}
}

// The rate of a bush with a void is in the travel, and rises where it closes.
func TestTravelShowsTheRateOfVoids(t *testing.T) {
	r := travelled(t, studyOf(t, stoppedBeam(t), UnknownVehicle()), Travel{Mode: RollBody, From: -100, To: 100, Points: 5})
	p := pointsOf(t, r.Series, "bush_rate", "roll", "bush.pivot.left soft")
	check(t, "rate at the design position", p[2].Value, 500, 1e-9)
	for _, q := range p {
		if q.Value < 500 {
			t.Errorf("rate %g N/mm at %g mm", q.Value, q.X)
		}
	}
}
