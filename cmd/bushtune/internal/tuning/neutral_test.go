package tuning

import (
	"context"
	"fmt"
	"math"
	"testing"

	"bushtune/optimize"
)

// planeAxle is one rigid body on an inclined bush pair without torsion and cones,
// 600 mm either side, its wheel axis 430 mm behind; upright springs at the wheels
// hold it in pitch alone. Pads float and the force acts at bush height.
const planeAxle = `
title = "a rigid axle on an inclined bush pair"
[wheel]
on = "axle"
centre = [0, 700, 300]
loaded_radius = 300
[body.axle]
side = "one"
[bush.pivot]
from = "vehicle"
to = "axle"
at = [430, 600, 300]
plan = 20
soft = 600
axial = %g
stiff = 3000
[spring.upright]
from = "vehicle"
to = "axle"
upper = [0, 700, 600]
lower = [0, 700, 300]
rate = 20
[case.sideways]
pads = "floating"
left = { at = "centre", force = [0, 500, 0] }
right = { at = "centre", force = [0, 500, 0] }
[search]
bush.pivot.plan = { from = 0, to = %g }
[want.neutral]
number = "outer_wheel_toe"
case = "sideways"
target = 0
`

func tunePlane(t *testing.T, axial, to float64) *Outcome {
	t.Helper()
	o, err := Tune(context.Background(), parse(t, fmt.Sprintf(planeAxle, axial, to)), optimize.Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// The optimiser finds by itself the angle at which a lateral force does not
// steer: with q = x_F/b and R = stiff/soft, tan a = [(R−1) ∓ √((R−1)² − 4Rq²)]/(2q)
// (inclined supports, Harris & Piersol, Shock and Vibration Handbook, ch. 3; the
// formula from memory, derived there and checked in package cases).
func TestNeutralAngleOfInclinedBushes(t *testing.T) {
	const lower, upper, digits = 48.264, 77.36, 0.006 // deg, as printed
	o := tunePlane(t, 3000, 65.9)                     // atan √5 = 65.905 deg: the lower root alone
	if math.Abs(o.X[0]-lower) > digits/10 {
		t.Errorf("plan %.4f deg, closed form %.3f", o.X[0], lower)
	}
	o = tunePlane(t, 3000, 90)
	for _, end := range o.Agreement.Ends {
		if end.Violation == 0 && end.Aim < 1e-8 && math.Abs(end.X[0]-lower) > digits && math.Abs(end.X[0]-upper) > digits {
			t.Errorf("an end without yaw at %.4f deg, want %.3f or %.2f", end.X[0], lower, upper)
		}
	}
	if found := math.Min(math.Abs(o.X[0]-lower), math.Abs(o.X[0]-upper)); found > digits {
		t.Errorf("plan %.4f deg, want %.3f or %.2f", o.X[0], lower, upper)
	}
	if len(o.Agreement.Ends) < 2 {
		t.Errorf("both roots should be shown, got %d ends", len(o.Agreement.Ends))
	}
}

// With R = 3 no angle is neutral: the best is 90° − ½·atan(b/x_F), with the yaw
// −F·(x_F − e)·Kyy/(2b²·kp·kq) that is left there.
func TestNoNeutralAngleIsNotReached(t *testing.T) {
	const half, behind, soft, stiff, force = 600.0, 430.0, 600.0, 1800.0, 1000.0
	o := tunePlane(t, stiff, 90)
	best := math.Pi/2 - math.Atan(half/behind)/2
	if math.Abs(o.X[0]-best*180/math.Pi) > 1e-3 {
		t.Errorf("plan %.5f deg, closed form %.5f", o.X[0], best*180/math.Pi)
	}
	tan := math.Tan(best)
	centre := half * (stiff/soft - 1) * tan / (stiff/soft + tan*tan)
	across := stiff*math.Pow(math.Cos(best), 2) + soft*math.Pow(math.Sin(best), 2)
	yaw := -force * (behind - centre) * across / (2 * half * half * stiff * soft)
	if got := o.Result.After.Values[0] * math.Pi / 180; math.Abs(got-yaw) > 1e-6*math.Abs(yaw) {
		t.Errorf("yaw %.9g rad, closed form %.9g", got, yaw)
	}
	if o.Status != optimize.NotReached && o.Status != optimize.AtCorner {
		t.Errorf("status %v, want not reached", o.Status)
	}
}
