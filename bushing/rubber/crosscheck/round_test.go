package crosscheck

import (
	"math"
	"testing"
)

// TestRoundMesh: bricks around rounded corners are of one hand and hold the volume of the
// rubber, which is known in closed form. Bricks with straight edges miss it by what goes
// with the square of their size, which two densities tell.
func TestRoundMesh(t *testing.T) {
	plan := &Plans()[2]
	fine := Density{Skin: 3, Void: 12, Arc: 24, Leg: 24, Along: 2, Ratio: 1}
	finer := Density{Skin: 6, Void: 24, Arc: 48, Leg: 48, Along: 2, Ratio: 1}
	for i, place := range append(plan.fitPlaces(), plan.edgePlaces()...) {
		s := place.Sample()
		for _, d := range []Density{plan.Density, plan.Density.finer()} {
			faceArea(t, &s, d)
		}
		if i%4 != 0 {
			continue
		}
		coarse, twice := faceArea(t, &s, fine), faceArea(t, &s, finer)
		got := (4*twice - coarse) / 3
		want := math.Pi/4*(s.Outside*s.Outside-s.Inside*s.Inside) - newOutline(&s).area()
		if math.Abs(got/want-1) > 1e-4 {
			t.Errorf("%v: area %.6g mm² from %.6g and %.6g, want %.6g", place, got, coarse, twice, want)
		}
	}
}

// faceArea is the area of a mesh's end face in mm²; a brick that is turned inside out
// fails the test.
func faceArea(t *testing.T, s *Sample, d Density) (area float64) {
	t.Helper()
	g := newMesh(s, d)
	for n, b := range g.bricks {
		face := 0.0
		for corner := range 4 {
			p, q := g.at(g.nodes[b[corner]]), g.at(g.nodes[b[(corner+1)%4]])
			face += (p[0]*q[1] - p[1]*q[0]) / 2
			before := g.at(g.nodes[b[(corner+3)%4]])
			if turn := (q[0]-p[0])*(before[1]-p[1]) - (q[1]-p[1])*(before[0]-p[0]); !(turn > 0) {
				t.Fatalf("%v, %v: brick %d is turned inside out at a corner", *s, d, n)
			}
		}
		if g.nodes[b[0]][2] == 0 {
			area += face
		}
	}
	return area
}

// area is that inside half of the outline in closed form, mm²: that with square corners
// less what lies between each fillet and its corner.
func (o *outline) area() float64 {
	area := o.half / 2 * (o.round[1]*o.round[1] - o.round[0]*o.round[0])
	for i, side := range []float64{-1, 1} {
		lean := math.Asin(min(1, o.radius/o.centre[i]))
		triangle := o.centre[i] * o.radius * math.Cos(lean) / 2 // axis, middle of the fillet, where it touches the flank
		sector := o.radius * o.radius / 2 * o.sweep[i]
		wedge := o.round[i] * o.round[i] / 2 * lean
		area -= side*(wedge-triangle) - sector
	}
	return area
}
