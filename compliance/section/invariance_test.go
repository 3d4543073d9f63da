package section_test

import (
	"math"
	"testing"

	. "bushtune/compliance/section"
)

// subdivision allows for the quadrature of long arcs (see gaussRule) and for
// the condition of random sections, some of them nearly flat.
const subdivision = 1e-11

// everyRandom runs a check on random profiles with their constants.
func everyRandom(t *testing.T, check func(p *Profile[float64], c Constants[float64])) {
	t.Helper()
	r := seeded()
	for i := range randomProfiles {
		p := random(r)
		check(p, constants(t, p))
		if t.Failed() {
			t.Fatalf("random profile %d: %+v", i, *p)
		}
	}
}

func TestTranslation(t *testing.T) {
	const f, u = 137, -59
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		moved := clone(p)
		for i := range moved.Nodes {
			moved.Nodes[i].F += f
			moved.Nodes[i].U += u
		}
		for _, point := range []*Point[float64]{&c.Centroid, &c.ShearCentre} {
			point.F += f
			point.U += u
		}
		same(t, constants(t, moved), c, subdivision)
	})
}

func TestRotation(t *testing.T) {
	const angle = 0.7
	sin, cos := math.Sincos(angle)
	point := func(a Point[float64]) Point[float64] {
		return Point[float64]{F: a.F*cos + a.U*sin, U: a.U*cos - a.F*sin}
	}
	tensor := func(m Tensor[float64]) Tensor[float64] {
		return Tensor[float64]{
			FF: m.FF*cos*cos + 2*m.FU*sin*cos + m.UU*sin*sin,
			UU: m.FF*sin*sin - 2*m.FU*sin*cos + m.UU*cos*cos,
			FU: (m.UU-m.FF)*sin*cos + m.FU*(cos*cos-sin*sin),
		}
	}
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		turned := clone(p)
		turned.Turn(angle)
		c.Centroid, c.ShearCentre, c.Monosymmetry = point(c.Centroid), point(c.ShearCentre), point(c.Monosymmetry)
		c.SecondMoment, c.ShearFlexibility = tensor(c.SecondMoment), tensor(c.ShearFlexibility)
		same(t, constants(t, turned), c, subdivision)
	})
}

func TestMirror(t *testing.T) {
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		mirrored := clone(p)
		for i := range mirrored.Nodes {
			mirrored.Nodes[i].F *= -1
		}
		for i := range mirrored.Walls {
			mirrored.Walls[i].Angle *= -1
		}
		c.Centroid.F, c.ShearCentre.F, c.Monosymmetry.F = -c.Centroid.F, -c.ShearCentre.F, -c.Monosymmetry.F
		c.SecondMoment.FU, c.ShearFlexibility.FU = -c.SecondMoment.FU, -c.ShearFlexibility.FU
		same(t, constants(t, mirrored), c, subdivision)
	})
}

func TestReversedWalls(t *testing.T) {
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		reversed := clone(p)
		for i, w := range reversed.Walls {
			reversed.Walls[i] = Wall[float64]{From: w.To, To: w.From, Thickness: w.Thickness, Angle: -w.Angle}
		}
		same(t, constants(t, reversed), c, subdivision)
	})
}

func TestRenumberedNodes(t *testing.T) {
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		last := len(p.Nodes) - 1
		turned := clone(p)
		for i, n := range p.Nodes {
			turned.Nodes[last-i] = n
		}
		for i, w := range p.Walls {
			turned.Walls[len(p.Walls)-1-i] = Wall[float64]{From: last - w.From, To: last - w.To, Thickness: w.Thickness, Angle: w.Angle}
		}
		same(t, constants(t, turned), c, subdivision)
	})
}

// Every wall is cut in two, an arc at its own middle.
func TestSubdividedWalls(t *testing.T) {
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		cut := Profile[float64]{Nodes: append([]Point[float64](nil), p.Nodes...)}
		for _, w := range p.Walls {
			a, b := p.Nodes[w.From], p.Nodes[w.To]
			sag := math.Tan(w.Angle/4) / 2 // over the chord, to its right
			middle := cut.AddNode((a.F+b.F)/2+sag*(b.U-a.U), (a.U+b.U)/2-sag*(b.F-a.F))
			cut.AddArc(w.From, middle, w.Thickness, w.Angle/2)
			cut.AddArc(middle, w.To, w.Thickness, w.Angle/2)
		}
		same(t, constants(t, &cut), c, subdivision)
	})
}

// A section a times as large has its constants times a to the power of their
// dimension.
func TestScale(t *testing.T) {
	const a = 3.0
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		large := clone(p)
		for i := range large.Nodes {
			large.Nodes[i].F *= a
			large.Nodes[i].U *= a
		}
		for i := range large.Walls {
			large.Walls[i].Thickness *= a
		}
		power := []float64{2, 1, 1, 4, 4, 4, -2, -2, -2, 1, 1, 4, 6, 6, 4, 6, 1, 1}
		small := figures(c)
		for i, f := range figures(constants(t, large)) {
			within(t, f.name, f.value, small[i].value*math.Pow(a, power[i]), subdivision*f.size)
		}
	})
}

// The bounds that every section obeys: tensors positive definite, the shear
// area at most the area (Schwarz), St Venant's constant at least that of the
// walls, warping constants not negative.
func TestBoundsOfRandomProfiles(t *testing.T) {
	everyRandom(t, func(p *Profile[float64], c Constants[float64]) {
		if _, smaller, _ := c.SecondMoment.Principal(); !(smaller > 0) {
			t.Errorf("smaller second moment %g", smaller)
		}
		if _, smaller, _ := c.ShearFlexibility.Principal(); !(smaller*c.Area >= 1-rounding) {
			t.Errorf("largest shear area over area %g", 1/(smaller*c.Area))
		}
		strips := 0.0
		for _, w := range p.Walls {
			a, b := p.Nodes[w.From], p.Nodes[w.To]
			strips += walls(math.Hypot(b.F-a.F, b.U-a.U), w.Thickness) // chords: no longer than the walls
		}
		for _, w := range p.Walls {
			strips -= edges(2, w.Thickness) // at most: every end free
		}
		if !(c.Torsion >= strips*(1-rounding)) {
			t.Errorf("torsion %g below that of its walls %g", c.Torsion, strips)
		}
		b, i := c.Monosymmetry, c.SecondMoment
		if left := c.Wagner - (i.FF*b.F*b.F + 2*i.FU*b.F*b.U + i.UU*b.U*b.U); left < -rounding*c.Wagner {
			t.Errorf("of Wagner's constant %g curvature undoes more than all: %g", c.Wagner, left)
		}
		if !(c.Warping >= 0 && c.WallWarping >= 0 && c.Wagner >= 0) {
			t.Errorf("warping %g, wall warping %g, wagner %g", c.Warping, c.WallWarping, c.Wagner)
		}
	})
}
