package optimize

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

func dot(a, b []float64) float64 { return floats.Dot(a, b) }

// addScaled adds s·b to a.
func addScaled(a []float64, s float64, b []float64) { floats.AddScaled(a, s, b) }

// largest is the largest absolute value in a, 0 if a is empty.
func largest(a []float64) float64 {
	var m float64
	for _, v := range a {
		m = math.Max(m, math.Abs(v))
	}
	return m
}

func clone(a []float64) []float64 { return append([]float64(nil), a...) }

// square returns an n×n matrix of zeros with d on its diagonal.
func square(n int, d float64) [][]float64 {
	h := make([][]float64, n)
	for i := range h {
		h[i] = make([]float64, n)
		h[i][i] = d
	}
	return h
}

// multiply returns h·v for a square matrix h.
func multiply(h [][]float64, v []float64) []float64 {
	p := make([]float64, len(h))
	for i, row := range h {
		p[i] = dot(row, v)
	}
	return p
}
