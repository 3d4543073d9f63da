package rubber

import (
	"math"
	"math/cmplx"
	"testing"
)

// Exponents, rise for ten times and for fifteen times the frequency, worked out by
// hand from tan δ = tan(nπ/2), as printed.
func TestPowerLawValues(t *testing.T) {
	for _, c := range []struct{ loss, exponent, decade, fifteen float64 }{
		{0.05, 0.0318, 1.076, 1.090},
		{0.10, 0.0635, 1.157, 1.187},
		{0.15, 0.0948, 1.244, 1.293},
		{0.20, 0.1257, 1.336, 1.405},
	} {
		d := Dynamic{Ratio: 1, At: 1, Loss: c.loss}
		if got := d.Exponent(); math.Abs(got-c.exponent) > 5e-5 {
			t.Errorf("loss %g: exponent %.5f, want %.4f", c.loss, got, c.exponent)
		}
		for f, want := range map[float64]float64{10: c.decade, 15: c.fifteen} {
			if got := d.Stiffness(f); math.Abs(got-want) > 5e-4 {
				t.Errorf("loss %g at %g Hz: ×%.4f, want ×%.3f", c.loss, f, got, want)
			}
		}
	}
}

// The complex modulus c·(iω)ⁿ itself, by complex arithmetic: its loss factor and its
// rise are those of the formulas at every frequency.
func TestComplexModulus(t *testing.T) {
	for _, d := range []Dynamic{{1.3, 10, 0.08}, {1.8, 15, 0.16}, {1.2, 5, 0}} {
		modulus := func(f float64) complex128 {
			return cmplx.Pow(complex(0, 2*math.Pi*f), complex(d.Exponent(), 0))
		}
		for _, f := range []float64{10, 15, 40, 130} {
			g, at := modulus(f), modulus(d.At)
			if loss := imag(g) / real(g); math.Abs(loss-d.LossFactor(f)) > digits {
				t.Errorf("%+v at %g Hz: loss factor %g", d, f, loss)
			}
			if rise := real(g) / real(at); !near(d.Stiffness(f), d.Ratio*rise, 10*digits) {
				t.Errorf("%+v at %g Hz: ×%g, complex modulus ×%g", d, f, d.Stiffness(f), d.Ratio*rise)
			}
			if out := imag(g) / real(at); math.Abs(d.LossStiffness(f)-d.Ratio*out) > digits*10 {
				t.Errorf("%+v at %g Hz: %g out of phase, complex modulus %g", d, f, d.LossStiffness(f), d.Ratio*out)
			}
		}
	}
}

// The measured point is kept; the rate never falls below the static one, however
// slow; without loss it is the same everywhere above.
func TestDynamicStiffness(t *testing.T) {
	d := Dynamic{Ratio: 1.4, At: 15, Loss: 0.1}
	if d.Stiffness(15) != 1.4 {
		t.Errorf("%g at the measured point", d.Stiffness(15))
	}
	for _, f := range []float64{0, 1e-9, 1e-3} {
		if got := d.Stiffness(f); got != 1 {
			t.Errorf("at %g Hz ×%g, want the static rate", f, got)
		}
	}
	if flat := (Dynamic{Ratio: 1.4, At: 15}); flat.Stiffness(1) != 1.4 || flat.Stiffness(200) != 1.4 {
		t.Error("no loss, but stiffness changes with frequency")
	}
	for f := 1.0; f < 200; f *= 1.5 {
		if d.Stiffness(1.5*f) < d.Stiffness(f) {
			t.Errorf("stiffness falls above %g Hz", f)
		}
	}
}

// From memory, order of magnitude only: ranges that the typical values must lie in,
// so that nobody prints another compound's.
func TestTypicalFromMemory(t *testing.T) {
	for _, c := range []struct{ hardness, lowRatio, highRatio, lowLoss, highLoss float64 }{
		{40, 1.1, 1.2, 0.02, 0.05},
		{50, 1.2, 1.4, 0.06, 0.10},
		{60, 1.4, 1.6, 0.10, 0.18},
		{70, 1.6, 2.0, 0.10, 0.18},
	} {
		d := TypicalDynamic(c.hardness)
		if d.Ratio < c.lowRatio || d.Ratio > c.highRatio || d.Loss < c.lowLoss || d.Loss > c.highLoss || d.At != typicalFrequency {
			t.Errorf("%g Shore A: %+v", c.hardness, d)
		}
	}
	if TypicalDynamic(30) != TypicalDynamic(40) || TypicalDynamic(92) != TypicalDynamic(70) {
		t.Error("typical values are not held beyond their ends")
	}
}
