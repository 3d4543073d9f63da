package bushing

import (
	"fmt"
	"math"
	"sort"

	"bushtune/bushing/exact"
)

// Table is a measured load over deflection: a monotone piecewise cubic through
// the points whose load and tangent are continuous, continued in a straight line
// beyond its ends. It holds plain numbers and does not change once made.
//
// The tangents at the points are those of Fritsch & Carlson, Monotone piecewise
// cubic interpolation, SIAM J. Numer. Anal. 17 (1980): three-point differences,
// shortened until the tangents of each interval, over its secant, lie in the
// circle of radius three. Both intervals of a point shorten its first tangent,
// so that the result does not depend on the order and an odd table stays odd.
type Table struct {
	x, y   []float64 // mm or rad, rising; N or N·mm, never falling
	slope  []float64 // tangents at the points
	energy []float64 // integral of the load from zero deflection
	mirror *Table    // −load(−x)
}

// NewTable makes a table from points in mm and N, or rad and N·mm. Points on
// the positive side only describe both directions, as an odd function. The curve
// passes through (0, 0), which need not be among the points. The error says in
// which point (counted from one) the list is no such curve.
func NewTable(points [][2]float64) (*Table, error) {
	if len(points) < 2 {
		return nil, fmt.Errorf("a curve needs two points at least, got %d", len(points))
	}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if !(b[0] > a[0]) {
			return nil, &PointError{i + 1, "deflections must rise from point to point, so that each has one load"}
		}
		if !(b[1] >= a[1]) {
			return nil, &PointError{i + 1, "the load falls; a curve must never fall"}
		}
	}
	whole, err := throughZero(points)
	if err != nil {
		return nil, err
	}
	t := newTable(whole)
	opposite := make([][2]float64, len(whole))
	for i, p := range whole {
		opposite[len(whole)-1-i] = [2]float64{-p[0], -p[1]}
	}
	t.mirror = newTable(opposite)
	t.mirror.mirror = t
	return t, nil
}

// PointError is what is wrong with one point of a curve, counted from one.
type PointError struct {
	Point  int
	Reason string
}

func (e *PointError) Error() string { return fmt.Sprintf("point %d: %s", e.Point, e.Reason) }

// throughZero puts (0, 0) among the points and, if all lie on the positive side,
// their opposites before it.
func throughZero(points [][2]float64) ([][2]float64, error) {
	at := sort.Search(len(points), func(i int) bool { return points[i][0] >= 0 })
	if at == len(points) {
		return nil, &PointError{at, "the curve ends before zero deflection; give points on the positive side"}
	}
	var whole [][2]float64
	if at == 0 {
		for i := len(points) - 1; i >= 0 && points[i][0] > 0; i-- {
			whole = append(whole, [2]float64{-points[i][0], -points[i][1]})
		}
	}
	whole = append(append(whole, points[:at]...), [2]float64{})
	rest := points[at:]
	if rest[0][0] == 0 {
		if rest[0][1] != 0 {
			return nil, &PointError{at + 1, "the load at zero deflection must be zero; a load at rest is a preload"}
		}
		rest = rest[1:]
	}
	if at > 0 && points[at-1][1] > 0 {
		return nil, &PointError{at, "the curve must pass through zero load at zero deflection; here the load is positive already"}
	}
	if len(rest) > 0 && rest[0][1] < 0 {
		return nil, &PointError{len(points) - len(rest) + 1, "the curve must pass through zero load at zero deflection; here the load is negative still"}
	}
	return append(whole, rest...), nil
}

// newTable finds tangents and energies of points that pass through (0, 0).
func newTable(points [][2]float64) *Table {
	n := len(points)
	t := &Table{x: make([]float64, n), y: make([]float64, n), energy: make([]float64, n)}
	for i, p := range points {
		t.x[i], t.y[i] = p[0], p[1]
	}
	t.slope = MonotoneTangents(t.x, t.y)
	zero := sort.SearchFloat64s(t.x, 0)
	for i := zero + 1; i < n; i++ {
		t.energy[i] = cubicAt(t, i-1, i, t.x[i]).energy
	}
	for i := zero - 1; i >= 0; i-- {
		t.energy[i] = cubicAt(t, i+1, i, t.x[i]).energy
	}
	return t
}

// monotoneRadius bounds the tangents at both ends of an interval over its
// secant: inside this circle a cubic is monotone (Fritsch & Carlson 1980).
const monotoneRadius = 3

// MonotoneTangents are the tangents of Table at points whose x rise and whose y
// never fall, in y per x.
func MonotoneTangents(x, y []float64) []float64 {
	n := len(x)
	secant := make([]float64, n-1)
	for i := range secant {
		secant[i] = (y[i+1] - y[i]) / (x[i+1] - x[i])
	}
	first := threePointTangents(x, secant)
	tangents := append([]float64(nil), first...)
	for i, s := range secant {
		size := math.Hypot(first[i], first[i+1])
		if size <= monotoneRadius*s {
			continue
		}
		short := monotoneRadius * s / size
		tangents[i] = min(tangents[i], short*first[i])
		tangents[i+1] = min(tangents[i+1], short*first[i+1])
	}
	return tangents
}

// threePointTangents are those of the parabola through a point and its
// neighbours. At an end where that parabola falls, the secant: the curve goes on
// from there and must keep a rate.
func threePointTangents(x, secant []float64) []float64 {
	n := len(x)
	d := make([]float64, n)
	if n == 2 {
		return []float64{secant[0], secant[0]}
	}
	for i := 1; i < n-1; i++ {
		before, after := x[i]-x[i-1], x[i+1]-x[i]
		d[i] = (after*secant[i-1] + before*secant[i]) / (before + after)
	}
	if d[0] = 2*secant[0] - d[1]; d[0] <= 0 {
		d[0] = secant[0]
	}
	if d[n-1] = 2*secant[n-2] - d[n-2]; d[n-1] <= 0 {
		d[n-1] = secant[n-2]
	}
	return d
}

// Rate is the tangent at zero deflection, in N/mm or N·mm/rad.
func (t *Table) Rate() float64 { return tableAt(t, 0.0).slope }

// Points are the points of the curve in mm and N, or rad and N·mm, zero among them.
func (t *Table) Points() [][2]float64 {
	points := make([][2]float64, len(t.x))
	for i := range points {
		points[i] = [2]float64{t.x[i], t.y[i]}
	}
	return points
}

func (t *Table) from() float64 { return t.x[0] }
func (t *Table) to() float64   { return t.x[len(t.x)-1] }

// tableAt evaluates a table.
func tableAt[T exact.Number](t *Table, x T) point[T] {
	real, last := exact.Real(x), len(t.x)-1
	switch {
	case real < t.x[0]:
		return straightAt(t, 0, x)
	case real >= t.x[last]:
		return straightAt(t, last, x)
	}
	i := sort.SearchFloat64s(t.x, real) // the point at or above
	switch {
	case real < 0:
		return cubicAt(t, max(i, 1), max(i, 1)-1, x)
	case t.x[i] == real:
		return cubicAt(t, i, i+1, x)
	}
	return cubicAt(t, i-1, i, x)
}

// straightAt continues a table beyond its end i.
func straightAt[T exact.Number](t *Table, i int, x T) point[T] {
	y, d, u := exact.Lift[T](t.y[i]), exact.Lift[T](t.slope[i]), x-exact.Lift[T](t.x[i])
	return point[T]{exact.Lift[T](t.energy[i]) + u*(y+0.5*d*u), y + d*u, d, 0}
}

// cubicAt evaluates the cubic of Hermite between two neighbouring points,
// written from the one nearer to zero so that small loads keep their digits.
func cubicAt[T exact.Number](t *Table, near, far int, x T) point[T] {
	h := t.x[far] - t.x[near]
	secant := (t.y[far] - t.y[near]) / h
	y, d := exact.Lift[T](t.y[near]), exact.Lift[T](t.slope[near])
	c := exact.Lift[T]((3*secant - 2*t.slope[near] - t.slope[far]) / h)
	b := exact.Lift[T]((t.slope[near] + t.slope[far] - 2*secant) / (h * h))
	u := x - exact.Lift[T](t.x[near])
	return point[T]{
		energy:    exact.Lift[T](t.energy[near]) + u*(y+u*(d/2+u*(c/3+u*b/4))),
		load:      y + u*(d+u*(c+u*b)),
		slope:     d + u*(2*c+3*u*b),
		curvature: 2*c + 6*b*u,
	}
}
