package rubber

import (
	"math"
	"testing"

	"bushtune/bushing/exact"
)

const (
	// digits is what logarithm, cubic and exponential leave of double precision.
	digits = 1e-14
	// differences is what extrapolated central differences leave.
	differences = 1e-8
)

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

// curves are all curves of the package, rising and falling.
func curves() map[string]*curve {
	return map[string]*curve{
		"log E0": lindleyLogE0, "log G": lindleyLogG, "k": lindleyFactor, "bulk": lindleyBulk, "bulk over log G": bulkOfLogG,
		"soft polyurethane": logSoftestStress, "stiff polyurethane": logStiffestStress,
		"typical ratio": typicalRatio, "typical loss": typicalLoss,
	}
}

// Every curve goes through its rows, and between two rows it neither leaves their
// values nor turns round (monotone, Fritsch & Carlson 1980).
func TestCurvesAreMonotone(t *testing.T) {
	for name, c := range curves() {
		way := math.Copysign(1, c.y[len(c.y)-1]-c.y[0])
		for i := range c.x {
			if got := curveAt(c, c.x[i]); got != c.y[i] {
				t.Errorf("%s: row %d is %.17g, read %.17g", name, i, c.y[i], got)
			}
		}
		for i := 1; i < len(c.x); i++ {
			before := c.y[i-1]
			for k := 1; k <= 50; k++ {
				y := curveAt(c, c.x[i-1]+(c.x[i]-c.x[i-1])*float64(k)/50)
				if way*(y-before) < -digits*math.Abs(y) {
					t.Fatalf("%s: turns round between %g and %g", name, c.x[i-1], c.x[i])
				}
				before = y
			}
		}
	}
}

// Value and tangent are continuous at every row, and the ends are continued in
// their tangents.
func TestCurvesHaveContinuousTangents(t *testing.T) {
	const beside = 1e-9 // away from a row, in units of x
	slope := func(c *curve, x float64) float64 { return exact.Derivative(curveAt(c, exact.Seed(x))) }
	for name, c := range curves() {
		steepest := 0.0
		for _, d := range c.tangent {
			steepest = max(steepest, math.Abs(d))
		}
		for i, x := range c.x {
			for _, at := range []float64{x - beside, x, x + beside} {
				if got := slope(c, at); math.Abs(got-c.tangent[i]) > 1e-6*steepest {
					t.Errorf("%s: tangent at %.12g is %g, at its row %g", name, at, got, c.tangent[i])
				}
			}
		}
		first, last := c.x[0], c.x[len(c.x)-1]
		if got, want := curveAt(c, first-3), c.y[0]-3*c.tangent[0]; !near(got, want, digits) {
			t.Errorf("%s: %g below its first row, tangent gives %g", name, got, want)
		}
		if got, want := curveAt(c, last+3), c.y[len(c.y)-1]+3*c.tangent[len(c.y)-1]; !near(got, want, digits) {
			t.Errorf("%s: %g above its last row, tangent gives %g", name, got, want)
		}
	}
}

// The complex step gives the slope that central differences give.
func TestCurveDerivatives(t *testing.T) {
	for name, c := range curves() {
		span := c.x[len(c.x)-1] - c.x[0]
		for _, share := range []float64{-0.1, 0.03, 0.31, 0.64, 0.93, 1.1} {
			x := c.x[0] + share*span
			h := 1e-4 * span
			wide := (curveAt(c, x+h) - curveAt(c, x-h)) / (2 * h)
			tight := (curveAt(c, x+h/2) - curveAt(c, x-h/2)) / h
			want := (4*tight - wide) / 3
			if got := exact.Derivative(curveAt(c, exact.Seed(x))); math.Abs(got-want) > differences*math.Abs(c.y[len(c.y)-1]-c.y[0])/span {
				t.Errorf("%s: slope at %g is %.12g, differences %.12g", name, x, got, want)
			}
		}
	}
}
