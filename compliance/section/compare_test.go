package section_test

import (
	"math"
	"testing"

	"bushtune/bushing/exact"
	. "bushtune/compliance/section"
)

// rounding bounds what the order of summation and the quadrature of arcs
// change, over the natural size of a figure.
const rounding = 1e-11

const degree = math.Pi / 180

// figure is one section constant with its natural size: a length is measured
// by the radius of gyration, a shear flexibility by 1/area and so on, so that
// a zero by symmetry has a scale too.
type figure[T exact.Number] struct {
	name  string
	value T
	size  float64
}

// figures lists every section constant.
func figures[T exact.Number](c Constants[T]) []figure[T] {
	area := exact.Real(c.Area)
	second := exact.Real(c.SecondMoment.FF + c.SecondMoment.UU)
	radius := math.Sqrt(second / area)
	return []figure[T]{
		{"area", c.Area, area},
		{"centroid f", c.Centroid.F, radius},
		{"centroid u", c.Centroid.U, radius},
		{"second moment ff", c.SecondMoment.FF, second},
		{"second moment uu", c.SecondMoment.UU, second},
		{"second moment fu", c.SecondMoment.FU, second},
		{"shear flexibility ff", c.ShearFlexibility.FF, exact.Real(c.ShearFlexibility.FF)},
		{"shear flexibility uu", c.ShearFlexibility.UU, exact.Real(c.ShearFlexibility.UU)},
		{"shear flexibility fu", c.ShearFlexibility.FU, exact.Real(c.ShearFlexibility.FF + c.ShearFlexibility.UU)},
		{"shear centre f", c.ShearCentre.F, radius},
		{"shear centre u", c.ShearCentre.U, radius},
		{"torsion", c.Torsion, exact.Real(c.Torsion)},
		{"warping", c.Warping, second * radius * radius},
		{"wall warping", c.WallWarping, area * area * area / 500}, // a tube of that wall, warping as if slit
		{"polar moment", c.PolarMoment, exact.Real(c.PolarMoment)},
		{"wagner", c.Wagner, exact.Real(c.PolarMoment) * exact.Real(c.PolarMoment) / area},
		{"monosymmetry f", c.Monosymmetry.F, radius},
		{"monosymmetry u", c.Monosymmetry.U, radius},
	}
}

// drawn returns the profile that a function draws.
func drawn[T exact.Number](draw func(p *Profile[T])) *Profile[T] {
	var p Profile[T]
	draw(&p)
	return &p
}

// constants fails the test on an error.
func constants[T exact.Number](t *testing.T, p *Profile[T]) Constants[T] {
	t.Helper()
	c, err := p.Constants()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// near checks one figure relative to the wanted one.
func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	within(t, name, got, want, tolerance*math.Abs(want))
}

// within checks one figure to an absolute tolerance.
func within(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g, off by %.2g, allowed %.2g", name, got, want, got-want, tolerance)
	}
}

// same checks that two sections have the same constants.
func same(t *testing.T, got, want Constants[float64], tolerance float64) {
	t.Helper()
	wanted := figures(want)
	for i, f := range figures(got) {
		within(t, f.name, f.value, wanted[i].value, tolerance*wanted[i].size)
	}
}
