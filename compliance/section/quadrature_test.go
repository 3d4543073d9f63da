package section

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"bushtune/bushing/exact"
)

// lastDigits is what a handful of operations in double precision leaves.
const lastDigits = 4e-15

// The points and weights against gonum's Legendre rules.
func TestGaussRules(t *testing.T) {
	for _, points := range [][]gaussPoint{threePoints, tenPoints, fourteenPoints} {
		at, weight := make([]float64, len(points)), make([]float64, len(points))
		quad.Legendre{}.FixedLocations(at, weight, 0, 1)
		for _, p := range points {
			found := false
			for i := range at {
				found = found || math.Abs(p.at-at[i]) < lastDigits && math.Abs(p.weight-weight[i]) < lastDigits
			}
			if !found {
				t.Errorf("%d points: no such point %v", len(points), p)
			}
		}
	}
}

// An arc in one piece against the same arc in eight: what the choice of the
// rule by angle leaves.
func TestQuadratureOfArcs(t *testing.T) {
	const left, pieces, wall, radius = 1e-12, 8, 3, 40
	for degrees := 10.; degrees <= 350; degrees += 10 {
		angle := degrees * math.Pi / 180
		draw := func(n int) Constants[float64] {
			var p Profile[float64]
			for i := range n + 1 {
				sin, cos := math.Sincos(angle * float64(i) / float64(n))
				p.AddNode(radius*cos, radius*sin)
				if i > 0 {
					p.AddArc(i-1, i, wall, angle/float64(n))
				}
			}
			c, err := p.Constants()
			if err != nil {
				t.Fatal(err)
			}
			return c
		}
		one, many := draw(1), draw(pieces)
		for name, pair := range map[string][2]float64{
			"second moment ff": {one.SecondMoment.FF, many.SecondMoment.FF},
			"shear ff":         {one.ShearFlexibility.FF, many.ShearFlexibility.FF},
			"shear uu":         {one.ShearFlexibility.UU, many.ShearFlexibility.UU},
			"shear centre f":   {one.ShearCentre.F + radius, many.ShearCentre.F + radius},
			"polar moment":     {one.PolarMoment, many.PolarMoment},
			"wall warping":     {one.WallWarping, many.WallWarping},
			"slit warping":     {one.Warping / one.PolarMoment, many.Warping / many.PolarMoment},
		} {
			scale := math.Abs(pair[1])
			if name == "slit warping" {
				scale = radius * radius // a short arc hardly warps
			}
			// The flatter the arc, the worse the condition of its second moments.
			condition := one.SecondMoment.FF + one.SecondMoment.UU
			_, smaller, _ := one.SecondMoment.Principal()
			if math.Abs(pair[0]-pair[1]) > left*scale*max(1, 1e-2*condition/smaller) {
				t.Errorf("%v deg, %s: %.15g, in pieces %.15g", degrees, name, pair[0], pair[1])
			}
		}
	}
}

// Both branches of the Stumpff functions against their definition in extended
// form: recursion c_k = 1/k! − x²c_(k+2) through the trigonometric functions.
func TestStumpff(t *testing.T) {
	for x := -6.2; x <= 6.2; x += 0.05 {
		c1, c2, c3 := stumpff(x)
		for name, pair := range map[string][2]float64{
			"x·c1":  {x * c1, math.Sin(x)},
			"x²·c2": {x * x * c2, 2 * math.Pow(math.Sin(x/2), 2)},
			"x³·c3": {x * x * x * c3, x - math.Sin(x)},
		} {
			if math.Abs(pair[0]-pair[1]) > lastDigits*max(1, math.Abs(x)) {
				t.Errorf("x = %v: %s = %v, want %v", x, name, pair[0], pair[1])
			}
		}
	}
}

// At the seam of the two branches both give the same digits, and the complex
// step meets the derivatives c1' = (cos x − c1)/x, c2' = (c1 − 2c2)/x,
// c3' = (c2 − 3c3)/x.
func TestStumpffSeamAndDerivatives(t *testing.T) {
	below1, below2, below3 := stumpff(math.Nextafter(seriesLimit, 0))
	above1, above2, above3 := stumpff(math.Nextafter(seriesLimit, 2))
	for i, d := range []float64{below1 - above1, below2 - above2, below3 - above3} {
		if math.Abs(d) > lastDigits/6 {
			t.Errorf("c%d jumps by %g", i+1, d)
		}
	}
	for _, x := range []float64{-5, -1.5, -0.7, 0.4, 0.99, 1.01, 3} {
		c1, c2, c3 := stumpff(exact.Seed(x))
		for i, pair := range [][2]float64{
			{exact.Derivative(c1), (math.Cos(x) - real(c1)) / x},
			{exact.Derivative(c2), (real(c1) - 2*real(c2)) / x},
			{exact.Derivative(c3), (real(c2) - 3*real(c3)) / x},
		} {
			if math.Abs(pair[0]-pair[1]) > lastDigits {
				t.Errorf("c%d'(%v) = %v, want %v", i+1, x, pair[0], pair[1])
			}
		}
	}
}
