package section

import (
	"math"
	"testing"
)

// The warping of the fibres is that of the constants: over an I-shaped set of
// plates sums are not taken here, so the largest value of known sections is held:
// a channel's flange tips, (h/2)·(b − e) with e = 3b²/(6b + h) for equal walls
// (Roark; Vlasov, Thin-Walled Elastic Beams, 1961), and a slit tube's edges, 2π·r²
// less the mean about a shear centre 2r from its centre: π·r².
func TestFibresWarpAsKnown(t *testing.T) {
	largest := func(p *Profile[float64]) float64 {
		fibres, _, err := p.Fibres()
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for _, f := range fibres {
			worst = max(worst, math.Abs(f.Midline))
		}
		return worst
	}
	var channel, tube Profile[float64]
	const h, b, wall = 80.0, 50.0, 2.0
	channel.DrawChannel(h, b, wall, wall)
	e := 3 * b * b / (6*b + h)
	if got, want := largest(&channel), h/2*(b-e); math.Abs(got-want) > 1e-9*want {
		t.Errorf("channel warps by %.9g mm², want %.9g", got, want)
	}
	const r = 40.0
	tube.DrawSlitTube(r, wall)
	if got, want := largest(&tube), math.Pi*r*r; math.Abs(got-want) > 1e-9*want {
		t.Errorf("slit tube warps by %.9g mm², want %.9g", got, want)
	}
}

// Shear per twist: T/J·t in an open section; in a closed tube T/(2·A·t) of Bredt
// and the wall's own T/J·t.
func TestFibresShearAsKnown(t *testing.T) {
	var p Profile[float64]
	const r, wall = 40.0, 2.0
	p.DrawTube(r, wall)
	fibres, c, err := p.Fibres()
	if err != nil {
		t.Fatal(err)
	}
	want := c.Torsion/(2*math.Pi*r*r*wall) + wall
	for _, f := range fibres {
		if math.Abs(f.Shear-want) > 1e-3*want { // J has the walls' own part too
			t.Errorf("tube: shear %.6g mm, want %.6g", f.Shear, want)
		}
		if out := math.Hypot(f.At.F, f.At.U); math.Abs(math.Abs(out-r)-wall/2) > 1e-9 {
			t.Errorf("a fibre %.6g mm from the centre, want %g ± %g", out, r, wall/2)
		}
	}
}
