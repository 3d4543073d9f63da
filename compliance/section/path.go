package section

import "bushtune/bushing/exact"

// path is a wall's midline, followed from its first node.
type path[T exact.Number] struct {
	thickness T        // mm
	length    T        // mm
	angle     T        // included angle of the arc, rad
	start     Point[T] // first node, mm
	reach     Point[T] // tangent at the first node times the length, mm

	first, last int         // its stations in the midline
	drop        perCause[T] // see network
	flow        perCause[T] // shear flow at the first node
	warping     T           // of a unit twist about the centroid at the first node, mm²
}

// station is one place on a path. Its running integrals start at the path's
// first node.
type station[T exact.Number] struct {
	piece    T        // length of midline that the station stands for, mm
	distance T        // along the midline from the first node, mm
	at       Point[T] // mm
	tangent  Point[T] // unit vector along the midline
	moment   Point[T] // running integral of the place, mm²
	sector   T        // running integral of the tangent's lever about the origin, mm²
}

// newPath draws the midline of a wall between two points. The chord of an arc
// is its length times sin(angle/2)/(angle/2) and points half the angle to the
// left of the first tangent.
func newPath[T exact.Number](from, to Point[T], w *Wall[T]) path[T] {
	chord := to.minus(from)
	half := w.Angle / 2
	c1, c2, _ := stumpff(half)
	sin, cos := half*c1, 1-half*half*c2
	return path[T]{
		thickness: w.Thickness,
		length:    exact.Sqrt(chord.dot(chord)) / c1,
		angle:     w.Angle,
		start:     from,
		reach:     Point[T]{chord.F*cos + chord.U*sin, chord.U*cos - chord.F*sin}.times(1 / c1),
	}
}

// station walks a fraction (0 to 1) of the path. With x the angle turned so
// far, t and n the tangent and its left normal at the first node and c_k the
// Stumpff functions of x, the place is start + s(c1·t + x·c2·n); its integral
// over s and that of the lever place × tangent follow in closed form.
func (p *path[T]) station(fraction T) station[T] {
	x := p.angle * fraction
	c1, c2, c3 := stumpff(x)
	t := p.reach
	n := Point[T]{-t.U, t.F}
	s := p.length * fraction
	step := t.times(fraction * c1).plus(n.times(fraction * x * c2))
	bend := t.times(fraction * c2).plus(n.times(fraction * x * c3))
	return station[T]{
		distance: s,
		at:       p.start.plus(step),
		tangent:  t.times(1 - x*x*c2).plus(n.times(x * c1)).times(1 / p.length),
		moment:   p.start.plus(bend).times(s),
		sector:   p.start.cross(step) + s*s*x*c3,
	}
}

// end is the station at the path's second node.
func (p *path[T]) end() station[T] { return p.station(1) }

// sample fills the path's points of Gauss quadrature and returns their number.
func (p *path[T]) sample(stations []station[T]) int {
	points := gaussRule(exact.Real(p.angle))
	for i, g := range points {
		stations[i] = p.station(exact.Lift[T](g.at))
		stations[i].piece = p.length * exact.Lift[T](g.weight)
	}
	return len(points)
}

func (a Point[T]) plus(b Point[T]) Point[T]  { return Point[T]{a.F + b.F, a.U + b.U} }
func (a Point[T]) minus(b Point[T]) Point[T] { return Point[T]{a.F - b.F, a.U - b.U} }
func (a Point[T]) times(s T) Point[T]        { return Point[T]{a.F * s, a.U * s} }
func (a Point[T]) dot(b Point[T]) T          { return a.F*b.F + a.U*b.U }

// cross is positive when b points to the left of a.
func (a Point[T]) cross(b Point[T]) T { return a.F*b.U - a.U*b.F }
