package rubber

import (
	"math"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// curve is a monotone cubic with continuous tangent through the rows of a
// published table, continued in straight lines beyond its ends: what a search
// for dimensions needs. It does not change once made.
type curve struct {
	x, y, tangent []float64 // x rises; y never falls or never rises
}

// newCurve takes tangents from bushing.MonotoneTangents, on the mirror image if
// the table falls.
func newCurve(x, y []float64) *curve {
	c := &curve{x: x, y: y}
	if y[len(y)-1] >= y[0] {
		c.tangent = bushing.MonotoneTangents(x, y)
		return c
	}
	c.tangent = bushing.MonotoneTangents(x, scaled(y, -1))
	for i := range c.tangent {
		c.tangent[i] = -c.tangent[i]
	}
	return c
}

// curveAt evaluates a curve by the cubic of Hermite in the interval of x.
func curveAt[T exact.Number](c *curve, x T) T {
	real, last := exact.Real(x), len(c.x)-1
	switch {
	case real <= c.x[0]:
		return straightAt(c, 0, x)
	case real >= c.x[last]:
		return straightAt(c, last, x)
	}
	i := 0
	for c.x[i+1] <= real {
		i++
	}
	h := c.x[i+1] - c.x[i]
	secant := (c.y[i+1] - c.y[i]) / h
	second := exact.Lift[T]((3*secant - 2*c.tangent[i] - c.tangent[i+1]) / h)
	third := exact.Lift[T]((c.tangent[i] + c.tangent[i+1] - 2*secant) / (h * h))
	u := x - exact.Lift[T](c.x[i])
	return exact.Lift[T](c.y[i]) + u*(exact.Lift[T](c.tangent[i])+u*(second+u*third))
}

// straightAt continues a curve beyond its end i.
func straightAt[T exact.Number](c *curve, i int, x T) T {
	return exact.Lift[T](c.y[i]) + exact.Lift[T](c.tangent[i])*(x-exact.Lift[T](c.x[i]))
}

// logarithms returns the natural logarithms of a column.
func logarithms(column []float64) []float64 {
	logs := make([]float64, len(column))
	for i, v := range column {
		logs[i] = math.Log(v)
	}
	return logs
}

// scaled returns a column times a factor.
func scaled(column []float64, factor float64) []float64 {
	out := make([]float64, len(column))
	for i, v := range column {
		out[i] = factor * v
	}
	return out
}
