package compliance

import (
	"testing"
)

// stoppedAxle is the plain twist beam with a stop over each spring's seat that
// closes after a gap.
func stoppedAxle(t testing.TB, gap float64) *Axle {
	axle := twistBeam(t)
	for side := range 2 {
		axle.Elements = append(axle.Elements, element(t, BumpStop, "bump", Side(1+side), Vehicle, side, values{
			"upper.x": 0, "upper.y": 600, "upper.z": 560, "lower.x": 0, "lower.y": 600, "lower.z": 320, "rate": 150, "gap": gap, "run": 8}))
	}
	return axle
}

// A stop with a gap changes nothing before it closes; past gap and run it pushes
// with rate·(closing − gap − run/2), the closed form of a rate that grows in
// proportion over the run, and the pad carries that at the ratio of the lever.
func TestStopWorksAfterItsGap(t *testing.T) {
	const gap, rate, run = 25, 150, 8
	plain, stopped := newMover(t, twistBeam(t)), newMover(t, stoppedAxle(t, gap))
	stop := len(stopped.solver.lines) - 1
	for h := -40.0; h <= 60; h += 10 {
		d := Demand{Pads: [2]Pad{{Held: true, Height: h}, {Held: true, Height: h}}}
		for _, m := range []*Mover{plain, stopped} {
			if err := m.Solve(&d); err != nil {
				t.Fatal(h, err)
			}
		}
		strain, load := stopped.Line(stop, 0)
		switch closed := -strain - gap; {
		case closed <= 0:
			if load != 0 || !near(stopped.Wheel(0).Pad, plain.Wheel(0).Pad, 1e-9, 1e3) {
				t.Errorf("at %g mm the stop is %g mm open and carries %g N", h, -closed, load)
			}
		case closed > run:
			if want := -rate * (closed - run/2); !near(load, want, 1e-9, -want) {
				t.Errorf("at %g mm the stop carries %g N, want %g", h, load, want)
			}
			if more := stopped.Wheel(0).Pad - plain.Wheel(0).Pad; more < 0.5*-load || more > 2*-load {
				t.Errorf("at %g mm the pad carries %g N more for %g N on the stop", h, more, load)
			}
		}
	}
	if strain, _ := stopped.Line(stop, 0); -strain < gap+run {
		t.Fatalf("at 60 mm the stop has closed by %g mm only: nothing was tested", -strain)
	}
}

// The linear answer of a stop with a gap is that without it, load at rest included.
func TestStopWithGapIsAbsentAtDesign(t *testing.T) {
	plain, stopped := twistBeam(t), stoppedAxle(t, 25)
	for _, axle := range []*Axle{plain, stopped} {
		axle.Static = &Static{WheelLoad: [2]float64{3500, 3500}, Unsprung: [2]float64{0.04, 0.04}}
	}
	comparePorts(t, "stop with a gap", complianceOf(t, stopped), complianceOf(t, plain))
}
