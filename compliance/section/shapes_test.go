package section_test

import (
	"testing"

	"bushtune/bushing/exact"
	. "bushtune/compliance/section"
)

// middling is a plausible value for each field of the shapes, in mm and rad.
var middling = map[string]float64{
	"leg": 80, "leg_front": 80, "leg_rear": 60, "radius": 30, "half_angle": 30 * degree, "wall": 5,
	"width": 90, "height": 60, "web": 100, "flange": 50, "web_wall": 4, "flange_wall": 3,
}

// values are the middling values of a shape in the order of its fields.
func values[T exact.Number](t *testing.T, s Shape[T]) []T {
	t.Helper()
	var list []T
	for _, field := range s.Fields {
		v, ok := middling[field.Name]
		if !ok || !field.Allows(v/field.Unit.Factor) {
			t.Fatalf("%s: field %s has no allowed value in this test", s.Name, field.Name)
		}
		if field.Meaning == "" || !field.Required {
			t.Errorf("%s: field %s has no meaning or is not required", s.Name, field.Name)
		}
		list = append(list, exact.Lift[T](v))
	}
	return list
}

// Fields and Draw belong together: each field moves some constant, and there
// is not one more.
func TestFieldsOfShapes(t *testing.T) {
	names := map[string]bool{}
	for _, s := range Shapes[float64]() {
		if names[s.Name] || s.Meaning == "" {
			t.Errorf("shape %q: twice, or without meaning", s.Name)
		}
		names[s.Name] = true
		v := values(t, s)
		before := constants(t, drawn(func(p *Profile[float64]) { s.Draw(p, v) }))
		for i, field := range s.Fields {
			v[i] *= 1.01
			after := constants(t, drawn(func(p *Profile[float64]) { s.Draw(p, v) }))
			if before == after {
				t.Errorf("%s: %s has no effect", s.Name, field.Name)
			}
			v[i] /= 1.01
		}
		if n := len(v); !panics(func() { s.Draw(&Profile[float64]{}, v[:n-1:n-1]) }) {
			t.Errorf("%s: Draw does not use its last field", s.Name)
		}
	}
}

func panics(f func()) (panicked bool) {
	defer func() { panicked = recover() != nil }()
	f()
	return false
}

// The crown arc runs on into the legs without a kink, for every half angle.
func TestCrownIsTangentToLegs(t *testing.T) {
	for _, halfAngle := range []float64{-20, 0, 15, 30, 60} {
		p := drawn(func(p *Profile[float64]) { p.DrawV(80, 60, 30, halfAngle*degree, 5) })
		for joint := range 2 {
			at, before := p.Along(joint, 1)
			from, after := p.Along(joint+1, 0)
			within(t, "joint f", from.F, at.F, 1e-12)
			within(t, "joint u", from.U, at.U, 1e-12)
			within(t, "direction f", after.F, before.F, 1e-12)
			within(t, "direction u", after.U, before.U, 1e-12)
		}
		crown, along := p.Along(1, 0.5)
		within(t, "crown f", crown.F, 0, 1e-12)
		near(t, "crown u", crown.U, 30, 1e-12)
		near(t, "crown runs rearward", along.F, -1, 1e-12)
	}
}

// A profile of unequal legs shows which way it was turned: the shear centre
// lies beyond the crown, and the longer leg pulls the centroid to its side.
func TestOpenings(t *testing.T) {
	for opening, want := range map[Opening]struct{ centroid, crown Point[float64] }{
		Down:     {Point[float64]{F: 1}, Point[float64]{U: 1}},
		Forward:  {Point[float64]{U: 1}, Point[float64]{F: -1}},
		Up:       {Point[float64]{F: -1}, Point[float64]{U: -1}},
		Rearward: {Point[float64]{U: -1}, Point[float64]{F: 1}},
	} {
		t.Run(opening.String(), func(t *testing.T) {
			p := drawn(func(p *Profile[float64]) { p.DrawV(80, 40, 30, 30*degree, 5) })
			p.Open(opening, 0)
			c := constants(t, p)
			if side := c.Centroid.F*want.centroid.F + c.Centroid.U*want.centroid.U; !(side > 1) {
				t.Errorf("the longer leg's side: centroid %v", c.Centroid)
			}
			if beyond := c.ShearCentre.F*want.crown.F + c.ShearCentre.U*want.crown.U; !(beyond > 30) {
				t.Errorf("beyond the crown: shear centre %v", c.ShearCentre)
			}
		})
	}
}

// A tilt leans the top forward: the shear centre of a U that opens down, above
// its crown, moves forward.
func TestTilt(t *testing.T) {
	p := drawn(func(p *Profile[float64]) { p.DrawV(70, 70, 40, 0, 5) })
	upright := constants(t, p).ShearCentre.U
	p.Open(Down, 35*degree)
	c := constants(t, p)
	near(t, "forward", c.ShearCentre.F, upright*0.573576436351046, rounding) // sin 35 deg
	near(t, "up", c.ShearCentre.U, upright*0.819152044288992, rounding)      // cos 35 deg
}
