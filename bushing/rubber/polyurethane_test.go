package rubber

import (
	"math"
	"testing"
)

// Stress of polyurethanes at 100 % extension in lbf/in² with its 95 % limits, design
// tables of the Rubber Manufacturers Association, read in a reproduction; the last
// column is the middle in MPa as worked out by hand, to two decimals.
var urethaneRows = []struct{ shoreA, stress, low, high, megapascal float64 }{
	{55, 150, 105, 205, 1.03},
	{60, 200, 140, 265, 1.38},
	{68, 300, 210, 400, 2.07},
	{73, 400, 295, 530, 2.76},
	{77, 500, 365, 650, 3.45},
	{80, 600, 430, 795, 4.14},
	{83, 700, 500, 910, 4.83},
	{86, 800, 580, 1060, 5.52},
	{90, 1000, 700, 1350, 6.89},
	{92, 1150, 800, 1550, 7.93},
}

func urethane(shoreA, share float64) Moduli[float64] {
	b := natural55()
	b.Hardness, b.RangeShare = shoreA, share
	return b.Moduli(Choice{Compound: Polyurethane})
}

// A secant modulus at 100 % extension is 1.75 times the G of a neo-Hookean solid.
func TestPolyurethaneLimitsArePublished(t *testing.T) {
	for _, row := range urethaneRows {
		soft, stiff := urethane(row.shoreA, 0), urethane(row.shoreA, 1)
		if !near(1.75*soft.G/poundPerSquareInch, row.low, digits) || !near(1.75*stiff.G/poundPerSquareInch, row.high, digits) {
			t.Errorf("%g Shore A: G %.4f to %.4f MPa, table %g to %g lbf/in²", row.shoreA, soft.G, stiff.G, row.low, row.high)
		}
		middle := 1.75 * urethane(row.shoreA, 0.5).G
		if !near(middle, row.stress*poundPerSquareInch, 0.04) || math.Abs(row.stress*poundPerSquareInch-row.megapascal) > 0.005 {
			t.Errorf("%g Shore A: middle %.3f MPa, table %.2f", row.shoreA, middle, row.megapascal)
		}
	}
}

// The pages tell ±33 % at 95 % confidence; the limits of the table, rounded to
// 5 and 50 lbf/in², lie between 26 % below and 37 % above.
func TestPolyurethaneLimitsAreAThird(t *testing.T) {
	for i, row := range urethaneRows {
		if polyurethanes.stress[i] != row.stress {
			t.Errorf("row %d: %g lbf/in², table %g", i, polyurethanes.stress[i], row.stress)
		}
		if down, up := 1-row.low/row.stress, row.high/row.stress-1; down < 0.26 || down > 0.31 || up < 0.29 || up > 0.37 {
			t.Errorf("%g Shore A: −%.2f and +%.2f", row.shoreA, down, up)
		}
	}
}

// The neo-Hookean secant by its own definition: nominal stress G(λ − 1/λ²) over an
// extension λ − 1; small-strain limit 3G = E.
func TestNeoHookeanSecant(t *testing.T) {
	secant := func(extension float64) float64 {
		stretch := 1 + extension
		return (stretch - 1/(stretch*stretch)) / extension
	}
	if secant(1) != neoHookeanSecant {
		t.Errorf("secant at 100 %% is %g, constant %g", secant(1), neoHookeanSecant)
	}
	if !near(secant(1e-6), 3, 2e-6) {
		t.Errorf("secant at no strain %g, want 3", secant(1e-6))
	}
}

// The share of the range goes by the logarithm, from limit to limit, and never
// falls with hardness.
func TestShareOfTheRange(t *testing.T) {
	for h := 55.0; h <= 92; h += 0.5 {
		soft, half, stiff := urethane(h, 0).G, urethane(h, 0.5).G, urethane(h, 1).G
		if !near(half*half, soft*stiff, 10*digits) || !(soft < half && half < stiff) {
			t.Errorf("%g Shore A: %g, %g, %g MPa", h, soft, half, stiff)
		}
		if next := urethane(h+0.5, 0.3).G; next <= urethane(h, 0.3).G {
			t.Errorf("softer at %g than at %g", h+0.5, h)
		}
	}
}

// E = 3G with compression factor one, and a bulk modulus far above both.
func TestPolyurethaneIsIncompressible(t *testing.T) {
	for _, row := range urethaneRows {
		m := urethane(row.shoreA, 0.5)
		if !near(m.E, 3*m.G, digits) || m.Factor != 1 || m.Bulk/m.G < 300 {
			t.Errorf("%g Shore A: %+v", row.shoreA, m)
		}
	}
}

// Urethane of 80 Shore A is softer at 100 % than Gent's relation at small strain
// tells, because urethanes soften as they stretch: the table gives no E.
func TestPolyurethaneSecantIsBelowGent(t *testing.T) {
	for _, row := range urethaneRows {
		if row.shoreA > gentHardest {
			break
		}
		if ratio := urethane(row.shoreA, 0.5).G / GentModuli(row.shoreA).G; ratio > 0.8 || ratio < 0.5 {
			t.Errorf("%g Shore A: %.2f of Gent's G", row.shoreA, ratio)
		}
	}
}

// The bulk modulus is from memory. A quarter of it either way must not matter: it
// moves the radial rate of usual bushes (a/b 0.4 to 0.7, length up to four walls)
// by less than 1 %.
func TestPolyurethaneBulkHardlyMatters(t *testing.T) {
	const little = 0.01
	most := 0.0
	for _, row := range urethaneRows {
		m := urethane(row.shoreA, 0.5)
		for _, inside := range []float64{8, 10, 14} {
			c := Cylinder[float64]{Inside: inside, Outside: 20, Length: 4 * (20 - inside), G: m.G, Bulk: m.Bulk}
			rate := c.Radial()
			for _, factor := range []float64{0.75, 1.25} {
				c.Bulk = factor * m.Bulk
				most = max(most, math.Abs(c.Radial()/rate-1))
			}
		}
	}
	if most > little {
		t.Errorf("radial rate moves by %.3f", most)
	}
	t.Logf("radial rate moves by %.4f at most", most)
}
