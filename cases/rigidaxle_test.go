package cases

import (
	"fmt"
	"math"
	"testing"

	"bushtune/bushing/quantity"
)

// The plane rigid axle on two inclined bushes. Elastic centre, yaw stiffness and
// rates follow from the stiffness of an inclined pair (Harris & Piersol, Shock
// and Vibration Handbook, ch. 3, inclined supports; elastic centre as defined
// there). Stiff rate kp along an axis turned by a from transverse, soft rate kq
// across it, bushes at y = ±b, the wheel axis xF behind:
//
//	e = b·(R−1)·tan a/(R + tan² a), yaw stiffness = 2·b²·kp·kq/Kyy about it,
//	yaw = −F·(xF − e)·Kyy/(2·b²·kp·kq), fore-aft rate = 2·Kxx.
type plane struct{ stiff, soft, half, behind, angle float64 }

func (p plane) across() float64 { // Kyy of one bush
	return p.stiff*math.Pow(math.Cos(p.angle), 2) + p.soft*math.Pow(math.Sin(p.angle), 2)
}

func (p plane) along() float64 { // Kxx of one bush
	return p.stiff*math.Pow(math.Sin(p.angle), 2) + p.soft*math.Pow(math.Cos(p.angle), 2)
}

func (p plane) elasticCentre() float64 {
	ratio, tan := p.stiff/p.soft, math.Tan(p.angle)
	return p.half * (ratio - 1) * tan / (ratio + tan*tan)
}

func (p plane) yawRate() float64 { return 2 * p.half * p.half * p.stiff * p.soft / p.across() }

// planeStudy loads the rigid axle in its plane: forces at bush height, pads
// floating, 500 N or 0.5 N·m on each wheel.
func planeStudy(t *testing.T, p plane) *Study {
	t.Helper()
	const height = 300
	var custom []Case
	for _, c := range []struct {
		name string
		on   WheelLoad
	}{
		{"sideways", WheelLoad{Force: [3]float64{0, 500, 0}, At: AtCentre}},
		{"trailing", WheelLoad{Force: [3]float64{0, 500, 0}, Moment: -30 * 500, At: AtCentre}},
		{"twisting", WheelLoad{Moment: 500, At: AtCentre}},
		{"rearward", WheelLoad{Force: [3]float64{-500, 0, 0}, At: AtCentre}},
	} {
		made, err := NewCase(c.name, c.name, Floating, BrakeOff, c.on, c.on)
		if err != nil {
			t.Fatal(err)
		}
		custom = append(custom, made)
	}
	s, err := NewStudy(rigidBody(t, p.stiff, p.soft, p.half, p.angle*180/math.Pi, height), UnknownVehicle(), custom, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// exactly is rounding of a closed form.
const exactly = 1e-9

func TestPlaneRigidAxleAgainstInclinedSupports(t *testing.T) {
	for _, ratio := range []float64{2, 3, 5, 20} {
		for _, degrees := range []float64{0, 10, 25, 40, 45, 60} {
			p := plane{600 * ratio, 600, 600, 430, quantity.Degree.Factor * degrees}
			s := planeStudy(t, p)
			name := fmt.Sprintf("ratio %g at %g deg", ratio, degrees)
			yaw := valueOf(t, s, "outer_wheel_toe", "sideways", "")
			check(t, name+": yaw", yaw, -1000*(p.behind-p.elasticCentre())/p.yawRate(), exactly*1e-3)
			offset := p.behind + yaw/1000/(valueOf(t, s, "outer_wheel_toe", "twisting", "")/1000)
			check(t, name+": elastic centre", offset, p.elasticCentre(), 1e-6)
			lateral := 1000*math.Pow(p.behind-p.elasticCentre(), 2)/p.yawRate() + 1000/(2*p.across())
			check(t, name+": y at the wheel axis", valueOf(t, s, "outer_centre_y", "sideways", ""), lateral, exactly)
			check(t, name+": fore-aft", -valueOf(t, s, "outer_centre_x", "rearward", ""), 1000/(2*p.along()), exactly)
		}
	}
}

// Worked figures of the same formulas for kp 3000, kq 600 N/mm, b 600, force 430
// behind, per 1 kN of the axle, calculated apart from this program and rounded to
// five places.
func TestPlaneRigidAxleWorkedFigures(t *testing.T) {
	const half = 5.1e-6
	for _, row := range []struct{ degrees, yaw, y, along float64 }{
		{0, -0.05703, 0.59468, 0.83333}, {25, -0.02450, 0.28659, 0.48607}, {40, -0.00683, 0.25813, 0.31414},
	} {
		s := planeStudy(t, plane{3000, 600, 600, 430, quantity.Degree.Factor * row.degrees})
		name := fmt.Sprintf("%g deg", row.degrees)
		check(t, name+": yaw in deg", writtenOf(t, s, "outer_wheel_toe", "sideways", ""), row.yaw, half)
		check(t, name+": y in mm", writtenOf(t, s, "outer_centre_y", "sideways", ""), row.y, half)
		check(t, name+": fore-aft in mm", -writtenOf(t, s, "outer_centre_x", "rearward", ""), row.along, half)
	}
	s := planeStudy(t, plane{3000, 600, 600, 430, quantity.Degree.Factor * 25})
	check(t, "30 mm of trail: yaw in deg", writtenOf(t, s, "outer_wheel_toe", "trailing", ""), -0.02791, half)
}

// The neutral angle of the same formulas, tan a = [(R−1) − √((R−1)² − 4·R·q²)]/2q
// with q = xF/b: there a lateral force gives no yaw.
func TestPlaneRigidAxleIsNeutralAtItsAngle(t *testing.T) {
	const q = 430.0 / 600
	for _, ratio := range []float64{5, 15} {
		angle := math.Atan(((ratio - 1) - math.Sqrt((ratio-1)*(ratio-1)-4*ratio*q*q)) / (2 * q))
		s := planeStudy(t, plane{600 * ratio, 600, 600, 430, angle})
		check(t, fmt.Sprintf("ratio %g: yaw at the neutral angle", ratio), valueOf(t, s, "outer_wheel_toe", "sideways", ""), 0, 1e-12)
	}
}

// check compares with an absolute tolerance.
func check(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g to %.2g", what, got, want, tolerance)
	}
}
