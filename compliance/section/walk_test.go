package section_test

import (
	"math"
	"testing"

	. "bushtune/compliance/section"
)

// TestAlong walks a quarter circle of radius 10 mm, drawn from the front to the top.
func TestAlong(t *testing.T) {
	var p Profile[float64]
	front, top := p.AddNode(10, 0), p.AddNode(0, 10)
	p.AddArc(front, top, 2, math.Pi/2)
	within(t, "length", p.Length(0), 5*math.Pi, rounding)
	for _, fraction := range []float64{0, 0.25, 0.5, 1} {
		at, tangent := p.Along(0, fraction)
		sin, cos := math.Sincos(fraction * math.Pi / 2)
		within(t, "place f", at.F, 10*cos, rounding)
		within(t, "place u", at.U, 10*sin, rounding)
		within(t, "tangent f", tangent.F, -sin, rounding)
		within(t, "tangent u", tangent.U, cos, rounding)
	}
}
