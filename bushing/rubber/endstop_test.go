package rubber

import (
	"math"
	"testing"
)

// Ring of 60 and 20 mm, 15 mm thick, with the compression modulus that Lindley's
// companion table gives to 65 Shore A, 830 lbf/in², and k = 0.54:
// K = 4/3·E0·π·Dm·(b/t)·(1 + kS²) = 1585.3 N/mm, worked by hand; bulk modulus apart.
func TestRingWorked(t *testing.T) {
	m := Moduli[float64]{E: 830 * poundPerSquareInch, G: 1, Bulk: math.Inf(1), Factor: 0.54}
	ring := NewRing(60.0, 20, 15)
	if !near(ring.Shape, 2./3, digits) {
		t.Errorf("shape factor %g, want 0.6667", ring.Shape)
	}
	if got := ring.Compression(&m, Choice{}); !near(got, 1585.3, 1e-4) {
		t.Errorf("rate %.6g N/mm, want 1585.3", got)
	}
}

func collared(gap float64) Bush[float64] {
	b := half()
	b.StopDiameter, b.StopThick, b.StopGap = 44, 6, gap
	return b
}

// With a gap the collar waits; without one it adds its rate along the axis and its
// stand against tilting; across and about the axis it adds nothing.
func TestEndStops(t *testing.T) {
	bare, gapped, touching := half(), collared(2), collared(0)
	c := Choice{}
	without, waiting, pressed := bare.Rates(c), gapped.Rates(c), touching.Rates(c)
	if waiting.EndGap != 2 || waiting.EndSnubber <= 0 {
		t.Errorf("gap %g mm, snubber %g N/mm", waiting.EndGap, waiting.EndSnubber)
	}
	waiting.EndGap = 0
	rate := waiting.EndSnubber
	waiting.EndSnubber = 0
	if waiting != without {
		t.Errorf("a collar with a gap changes rates: %+v, without %+v", waiting, without)
	}
	if !near(pressed.Axial, without.Axial+rate, digits) || pressed.EndGap != 0 || pressed.EndSnubber != 0 {
		t.Errorf("touching collars: %+v, one has %g N/mm", pressed, rate)
	}
	if pressed.Soft != without.Soft || pressed.Torsion != without.Torsion {
		t.Errorf("collars act across or about the axis: %+v, without %+v", pressed, without)
	}
	if got, want := pressed.ConeSoft-without.ConeSoft, pressedHalves(rate, 16, 1e-6); !near(got, want, 1e-6) {
		t.Errorf("collars add %.8g N·mm/rad against tilting, want %.8g", got, want)
	}
}

// pressedHalves is the moment per angle of two collars of a mean radius, each a
// ring of springs that press and do not pull, summed one by one.
func pressedHalves(rate, radius, angle float64) float64 {
	const springs = 4000
	moment := 0.0
	for i := range springs {
		arm := radius * math.Cos(2*math.Pi*(float64(i)+0.5)/springs)
		for _, side := range []float64{1, -1} {
			if way := side * angle * arm; way > 0 {
				moment += rate / springs * way * math.Abs(arm)
			}
		}
	}
	return moment / angle
}

// A free collar slides on both of its faces: E0·A/t.
func TestFreeCollar(t *testing.T) {
	b := collared(1)
	c := Choice{Free: true}
	m := b.Moduli(c)
	area := math.Pi / 4 * (44*44 - 20*20)
	if got, want := b.Rates(c).EndSnubber, m.E*area/6; !near(got, want, digits) {
		t.Errorf("%.10g N/mm, want %.10g", got, want)
	}
}
