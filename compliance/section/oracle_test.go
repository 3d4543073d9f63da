package section_test

import (
	"math"
	"testing"

	. "bushtune/compliance/section"
)

// The oracle is a second, plain way to the constants of an open profile that
// is one unbranched line: trapezoidal sums on a fine polyline, the sectorial
// coordinate counted from its first point, the shear flow from its free end
// (Vlasov 1961; Megson). It shares no code with the package.
type oracle struct {
	f, u      []float64
	thickness float64 // the same everywhere
}

// finePieces per wall: the trapezoidal sums are off by about 1/pieces².
const (
	finePieces     = 4000
	oracleAccuracy = 1e-6
)

// trace follows a wall: a straight line, or an arc of the given angle.
func (o *oracle) trace(f0, u0, f1, u1, angle float64) {
	for i := 0; i <= finePieces; i++ {
		s := float64(i) / finePieces
		f, u := f0+s*(f1-f0), u0+s*(u1-u0)
		if angle != 0 { // about the centre, which lies to the left of the chord
			d := 0.5 / math.Tan(angle/2)
			cf, cu := (f0+f1)/2-d*(u1-u0), (u0+u1)/2+d*(f1-f0)
			sin, cos := math.Sincos(s * angle)
			f, u = cf+(f0-cf)*cos-(u0-cu)*sin, cu+(f0-cf)*sin+(u0-cu)*cos
		}
		o.f, o.u = append(o.f, f), append(o.u, u)
	}
}

// sum integrates a product of two functions of the point's index over the area
// by Simpson's rule for the product of two linear functions.
func (o *oracle) sum(a, b func(i int) float64) float64 {
	total := 0.0
	for i := 0; i+1 < len(o.f); i++ {
		dA := o.thickness * math.Hypot(o.f[i+1]-o.f[i], o.u[i+1]-o.u[i])
		total += dA / 6 * (2*a(i)*b(i) + 2*a(i+1)*b(i+1) + a(i)*b(i+1) + a(i+1)*b(i))
	}
	return total
}

// running integrates a function over the area from the first point to each point.
func (o *oracle) running(a func(i int) float64) []float64 {
	total := make([]float64, len(o.f))
	for i := 0; i+1 < len(o.f); i++ {
		dA := o.thickness * math.Hypot(o.f[i+1]-o.f[i], o.u[i+1]-o.u[i])
		total[i+1] = total[i] + dA*(a(i)+a(i+1))/2
	}
	return total
}

// solve returns the constants that do not need an arc's curvature.
func (o *oracle) solve() Constants[float64] {
	one := func(int) float64 { return 1 }
	at := func(values []float64) func(int) float64 { return func(i int) float64 { return values[i] } }
	area := o.sum(one, one)
	cf, cu := o.sum(at(o.f), one)/area, o.sum(at(o.u), one)/area
	f := func(i int) float64 { return o.f[i] - cf }
	u := func(i int) float64 { return o.u[i] - cu }
	ff, uu, fu := o.sum(f, f), o.sum(u, u), o.sum(f, u)
	det := ff*uu - fu*fu

	sectorial := make([]float64, len(o.f)) // swept about the centroid
	for i := 0; i+1 < len(o.f); i++ {
		sectorial[i+1] = sectorial[i] + f(i)*u(i+1) - u(i)*f(i+1)
	}
	w := at(sectorial)
	ef, eu := (ff*o.sum(w, u)-fu*o.sum(w, f))/det, -(uu*o.sum(w, f)-fu*o.sum(w, u))/det
	mean := o.sum(w, one) / area
	normal := func(i int) float64 { return sectorial[i] - mean - (ef*u(i) - eu*f(i)) }

	r2 := func(i int) float64 { return (f(i)-ef)*(f(i)-ef) + (u(i)-eu)*(u(i)-eu) }
	polar, helixF, helixU := o.sum(r2, one), o.sum(r2, f), o.sum(r2, u)

	flowF, flowU := o.running(f), o.running(u)
	energy := func(a, b []float64) float64 { // ∫q·q/t ds
		return o.sum(at(a), at(b)) / (o.thickness * o.thickness)
	}
	bff, buu, bfu := energy(flowF, flowF), energy(flowU, flowU), energy(flowF, flowU)
	return Constants[float64]{
		Area: area, Centroid: Point[float64]{F: cf, U: cu},
		SecondMoment: Tensor[float64]{FF: ff, UU: uu, FU: fu},
		ShearCentre:  Point[float64]{F: cf + ef, U: cu + eu},
		Warping:      o.sum(normal, normal),
		PolarMoment:  ff + uu + area*(ef*ef+eu*eu),
		Wagner:       o.sum(r2, r2) - polar*polar/area,
		Monosymmetry: Point[float64]{F: (uu*helixF - fu*helixU) / det, U: (ff*helixU - fu*helixF) / det},
		ShearFlexibility: Tensor[float64]{
			FF: (uu*uu*bff - 2*uu*fu*bfu + fu*fu*buu) / (det * det),
			UU: (fu*fu*bff - 2*ff*fu*bfu + ff*ff*buu) / (det * det),
			FU: (-uu*fu*bff + (ff*uu+fu*fu)*bfu - ff*fu*buu) / (det * det),
		},
	}
}

func TestAgainstSectorialIntegration(t *testing.T) {
	type leg struct{ f, u, angle float64 }
	const wall = 4.0
	for name, legs := range map[string][]leg{
		"unequal V":       {{-50, -80, 0}, {-26, 10, 0}, {26, 20, -2.2}, {70, -40, 0}},
		"zigzag":          {{0, 0, 0}, {30, 50, 0}, {70, 10, 0}, {95, 60, 0}, {160, 40, 0}},
		"arcs both ways":  {{0, 0, 0}, {40, 0, 2.5}, {80, 20, -1.1}, {90, 80, 0.3}},
		"more than half":  {{10, 0, 0}, {-10, 0, 5}, {-60, -30, 0}},
		"nearly straight": {{0, 0, 0}, {50, 0, 1e-3}, {90, 70, -1e-3}},
	} {
		t.Run(name, func(t *testing.T) {
			var p Profile[float64]
			o := oracle{thickness: wall}
			for i, l := range legs {
				p.AddNode(l.f, l.u)
				if i > 0 {
					p.AddArc(i-1, i, wall, l.angle)
					o.trace(legs[i-1].f, legs[i-1].u, l.f, l.u, l.angle)
				}
			}
			got, want := constants(t, &p), o.solve()
			want.Torsion, want.WallWarping = got.Torsion, got.WallWarping // not the oracle's
			same(t, got, want, oracleAccuracy)
		})
	}
}
