package rubber

import "math"

// elementErrors are the factors of own finite elements, not published, on the
// formulas of pads by shape factor: incompressible discs with E = 3G and k = 1 at
// S = 0.25, 0.5, 1, 2, 3 and 5 (1.063, 1.030, 0.985, 0.973, 0.977, 0.984), strips at
// 0.5, 1, 2 and 3 (1.050, 1.001, 0.972, 0.971), discs of B/G = 1000 at 5 and 10
// (0.950, 0.895). A band widens in straight lines between its corners.
var elementErrors = struct{ shape, low, high []float64 }{
	shape: []float64{0.25, 0.5, 1, 3, 5, 10},
	low:   []float64{0.97, 0.97, 0.97, 0.97, 0.94, 0.89},
	high:  []float64{1.07, 1.05, 1.01, 1.00, 1.00, 1.00},
}

// between interpolates in straight lines; x inside the table or the nearest end.
func between(xs, ys []float64, x float64) float64 {
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] {
			share := max(0, (x-xs[i-1])/(xs[i]-xs[i-1]))
			return ys[i-1] + share*(ys[i]-ys[i-1])
		}
	}
	return ys[len(ys)-1]
}

// A pad's pressure is that of a film: −∇²ψ = 1 inside its outline and ψ = 0 on it;
// the mean of ψ, in mm², says how much of it an outline holds.

// rectangleFilm is the mean of ψ of a rectangle, by the series of its torsion
// constant 4∫ψ (Timoshenko & Goodier, Theory of Elasticity).
func rectangleFilm(length, width float64) float64 {
	long, short := max(length, width), min(length, width)
	sum := 0.
	for n := 1.; n < 40; n += 2 {
		sum += math.Tanh(n*math.Pi*long/(2*short)) / math.Pow(n, 5)
	}
	return short * short / 12 * (1 - 192/math.Pow(math.Pi, 5)*short/long*sum)
}

// ringFilm is the mean of ψ of a ring, by the flow through it (Poiseuille flow in
// an annulus, Lamb, Hydrodynamics, from memory).
func ringFilm(outer, inner float64) float64 {
	a, b := inner*inner/4, outer*outer/4
	return (a + b - (b-a)/math.Log(outer/inner)) / 8
}

// formulaFilm is the mean of ψ that the formula stands for: 2S² or 4/3·S² of E.
func formulaFilm(p *Pad[float64]) float64 {
	square := p.Shape * p.Shape * p.Thickness * p.Thickness
	if p.Long {
		return square / 3
	}
	return square / 2
}

// Sources of bands of pads.
const (
	ofOutline = "one formula for all outlines, against the film in this one"
	ofSides   = "free sides carry no shear"
)

// compressionBands are what the formula of compression is off; film is the mean of
// ψ of the outline.
func compressionBands(p *Pad[float64], m *Moduli[float64], c Choice, film float64) []Band {
	bonded := p.Modulus(m, Choice{})
	if c.Free {
		return []Band{{ofFriction, 1, bonded / m.E}}
	}
	own := Band{againstElements, between(elementErrors.shape, elementErrors.low, p.Shape), between(elementErrors.shape, elementErrors.high, p.Shape)}
	other := *m
	other.Factor *= film / formulaFilm(p)
	ratio := p.Modulus(&other, c) / bonded
	return []Band{own, {ofOutline, min(1, ratio), max(1, ratio)}}
}

// padBands are the bands of a pad's compression, shear and shape factor.
func padBands(p *Pad[float64], compound []float64, c Choice, class Class, film float64) [][]Band {
	b := newCompound(compound)
	m := b.Moduli(c)
	soft, stiff := ModuliRange(&b, c)
	tolerance := classBand(class, b.Hardness, p.Thickness)
	rate := p.Compression(&m, c)
	press := append(compressionBands(p, &m, c, film),
		Band{compoundSource(c), p.Compression(&soft, c) / rate, p.Compression(&stiff, c) / rate}, tolerance)
	limits := padLimits(p, &m, c)[1]
	var shear []Band
	if !c.Free {
		shear = []Band{{ofSides, limits.Low / limits.High, 1}, {compoundSource(c), soft.G / m.G, stiff.G / m.G}, tolerance}
	}
	return [][]Band{told(press), told(shear), nil}
}

// noWidth is a width of a band that rounding makes.
const noWidth = 1e-9

// told leaves out bands of no width.
func told(bands []Band) []Band {
	var wide []Band
	for _, b := range bands {
		if b.High-b.Low > noWidth {
			wide = append(wide, b)
		}
	}
	return wide
}
