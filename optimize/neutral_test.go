package optimize_test

import (
	"context"
	"math"
	"testing"

	"bushtune/optimize"

	"gonum.org/v1/gonum/mat"
)

// A rigid axle on a pair of inclined bushes (the inclined supports of Harris &
// Piersol, Shock and Vibration Handbook, ch. 3): stiff rate R·soft along an axis
// turned alpha from transverse, at ±b; a lateral force acts xF behind. The yaw
// is zero where the elastic centre, b(R−1)tan α/(R+tan²α) behind, meets the force.
// The formulas are from memory, not copied from the handbook; they are derived
// from the two bushes themselves, and checked against them, in
// TestYawOfAssembledBushes.
const (
	halfBase  = 600.0 // b, mm
	behind    = 430.0 // xF, mm
	softRate  = 600.0 // N/mm
	force     = 1000.0
	yawPerKN  = 0.01 // just-noticeable, deg/kN
	yawExact  = 1e-6 // deg/kN, asked of the best yaw
	angleNear = 1e-3 // deg: the printed angles have three decimals
)

// yawOf is the yaw in deg per kN at an angle in deg, and its derivative.
func yawOf(ratio, angle float64) (yaw, slope float64) {
	// (xF − e)·Kyy = xF·Kyy − b(kp − kq) sin α cos α
	kp, kq, a := ratio*softRate, softRate, angle*math.Pi/180
	s, c := math.Sincos(a)
	lever := behind*(kp*c*c+kq*s*s) - halfBase*(kp-kq)*s*c
	turn := -2*behind*(kp-kq)*s*c - halfBase*(kp-kq)*(c*c-s*s)
	k := -force / (2 * halfBase * halfBase * kp * kq) * 180 / math.Pi
	return k * lever, k * turn * math.Pi / 180
}

// Two bushes at y = ±b, each two springs along its own axes, assembled in the
// plane (x forward, y left, yaw about z): a spring along the unit vector n at
// height y stretches by n·(δx − y·ψ, δy). The stiff axes are mirror images, the
// left one turned alpha from +y forward: prolonged inwards they meet behind.
func TestYawOfAssembledBushes(t *testing.T) {
	for _, ratio := range []float64{3, 5} {
		for _, angle := range []float64{0, 12, 48.264, 62.81, 77.36, 90} {
			s, c := math.Sincos(angle * math.Pi / 180)
			k := mat.NewDense(3, 3, nil)
			for _, side := range []float64{1, -1} {
				along, across := []float64{s, side * c}, []float64{c, -side * s}
				for rate, n := range map[float64][]float64{ratio * softRate: along, softRate: across} {
					stretch := mat.NewVecDense(3, []float64{n[0], n[1], -n[0] * side * halfBase})
					var spring mat.Dense
					spring.Outer(rate, stretch, stretch)
					k.Add(k, &spring)
				}
			}
			var q mat.VecDense
			// +y at x = −xF: a moment −xF·F about z
			if err := q.SolveVec(k, mat.NewVecDense(3, []float64{0, force, -behind * force})); err != nil {
				t.Fatal(err)
			}
			yaw, slope := yawOf(ratio, angle)
			if want := q.AtVec(2) * 180 / math.Pi; math.Abs(yaw-want) > 1e-12 {
				t.Errorf("ratio %g, %g deg: yaw %.15f, assembled %.15f", ratio, angle, yaw, want)
			}
			h := 1e-4 // deg: central differences err by h²
			up, _ := yawOf(ratio, angle+h)
			down, _ := yawOf(ratio, angle-h)
			if math.Abs((up-down)/(2*h)-slope) > 1e-9 {
				t.Errorf("ratio %g, %g deg: slope %g, differences %g", ratio, angle, slope, (up-down)/(2*h))
			}
		}
	}
}

func neutralAngle(ratio, upper float64) *optimize.Problem {
	return &optimize.Problem{
		Parameters: []optimize.Parameter{{Name: "bush.pivot.plan", Lower: 0, Upper: upper, Start: 0}},
		Wants:      []optimize.Want{{Name: "yaw", Kind: optimize.Target, Scale: yawPerKN}},
		Numbers:    1,
		Evaluate: func(x, values []float64, jacobian *mat.Dense) error {
			yaw, slope := yawOf(ratio, x[0])
			values[0] = yaw
			if jacobian != nil {
				jacobian.Set(0, 0, slope)
			}
			return nil
		},
	}
}

func solve(t *testing.T, p *optimize.Problem, o optimize.Options) *optimize.Result {
	t.Helper()
	r, err := optimize.Solve(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// neutralRoots are tan α = [(R−1) ∓ √((R−1)² − 4Rq²)]/(2q), q = xF/b, in deg.
func neutralRoots(ratio float64) (low, high float64) {
	q := behind / halfBase
	root := math.Sqrt((ratio-1)*(ratio-1) - 4*ratio*q*q)
	return math.Atan((ratio-1-root)/(2*q)) * 180 / math.Pi, math.Atan((ratio-1+root)/(2*q)) * 180 / math.Pi
}

func TestNeutralAngleLowerRoot(t *testing.T) {
	low, _ := neutralRoots(5)
	if math.Abs(low-48.264) > angleNear {
		t.Fatalf("closed form %.4f", low)
	}
	upper := math.Atan(math.Sqrt(5)) * 180 / math.Pi
	r := solve(t, neutralAngle(5, upper), optimize.Options{Seed: 1})
	if r.Status != optimize.Converged || math.Abs(r.X[0]-low) > angleNear || math.Abs(r.After.Values[0]) > yawExact {
		t.Errorf("%v at %.4f deg, yaw %g", r.Status, r.X[0], r.After.Values[0])
	}
	// The yaw is largest in size at 62.81 deg: a start beyond it truly ends on
	// the upper bound, and must say so as an end of its own.
	for _, e := range r.Agreement.Ends[1:] {
		if e.X[0] != upper {
			t.Errorf("end at %.4f deg is neither root nor bound", e.X[0])
		}
	}
}

func TestNeutralAngleBothRoots(t *testing.T) {
	low, high := neutralRoots(5)
	if math.Abs(high-77.36) > 0.005 {
		t.Fatalf("closed form %.4f", high)
	}
	r := solve(t, neutralAngle(5, 90), optimize.Options{Seed: 1})
	found := [2]bool{}
	for _, e := range r.Agreement.Ends {
		found[0] = found[0] || math.Abs(e.X[0]-low) < angleNear
		found[1] = found[1] || math.Abs(e.X[0]-high) < angleNear
	}
	if r.Status != optimize.Converged || !found[0] || !found[1] {
		t.Errorf("%v, ends %+v, want %.3f and %.3f among them", r.Status, r.Agreement.Ends, low, high)
	}
	if w := r.Agreement.PointSpread[0]; math.Abs(w-(high-low)) > angleNear {
		t.Errorf("ends of equal cost spread over %.3f deg, want %.3f", w, high-low)
	}
}

// With R 3 no angle is neutral: (xF − e)Kyy is least at 90° − ½·atan(b/xF).
func TestNeutralAngleNotReached(t *testing.T) {
	best := 90 - 0.5*math.Atan(halfBase/behind)*180/math.Pi
	kp, kq := 3*softRate, softRate
	lever := behind*(kp+kq)/2 - (kp-kq)/2*math.Hypot(behind, halfBase)
	yaw := -force * lever / (2 * halfBase * halfBase * kp * kq) * 180 / math.Pi
	if math.Abs(best-62.81) > 0.005 {
		t.Fatalf("closed form %.4f", best)
	}
	limit := neutralAngle(3, 90)
	limit.Wants[0].Kind = optimize.AtLeast
	for name, p := range map[string]*optimize.Problem{"target": neutralAngle(3, 90), "limit": limit} {
		t.Run(name, func(t *testing.T) {
			r := solve(t, p, optimize.Options{Seed: 1})
			if r.Status != optimize.NotReached || r.Status.Err() == nil {
				t.Errorf("%v: %s", r.Status, r.Reason)
			}
			if math.Abs(r.X[0]-best) > angleNear || math.Abs(r.After.Values[0]-yaw) > yawExact {
				t.Errorf("%.5f deg, yaw %.8f; closed form %.5f, %.8f", r.X[0], r.After.Values[0], best, yaw)
			}
			if r.Wants[0].Met || math.Abs(math.Abs(r.Wants[0].Miss)-math.Abs(yaw)) > yawExact {
				t.Errorf("outcome %+v, want a miss of %g", r.Wants[0], yaw)
			}
		})
	}
}
