package rubber

import "bushtune/bushing/exact"

// poundPerSquareInch is 1 lbf/in² in MPa, by definition of pound, inch and
// standard gravity.
const poundPerSquareInch = 0.45359237 * 9.80665 / (25.4 * 25.4)

// polyurethanes is the tensile stress of polyurethanes at 100 % extension over
// their hardness with the limits of 95 % of all compounds, in lbf/in², from the
// design tables of the Rubber Manufacturers Association, read in a reproduction.
// It is a secant modulus at large strain, not E.
var polyurethanes = struct{ shoreA, low, stress, high []float64 }{
	shoreA: []float64{55, 60, 68, 73, 77, 80, 83, 86, 90, 92},
	low:    []float64{105, 140, 210, 295, 365, 430, 500, 580, 700, 800},
	stress: []float64{150, 200, 300, 400, 500, 600, 700, 800, 1000, 1150},
	high:   []float64{205, 265, 400, 530, 650, 795, 910, 1060, 1350, 1550},
}

// The limits over hardness, by the logarithm of the stress in MPa.
var (
	logSoftestStress  = stressCurve(polyurethanes.low)
	logStiffestStress = stressCurve(polyurethanes.high)
)

const polyurethaneSoftest, polyurethaneHardest = 55, 92 // Shore A, rows of the table

// neoHookeanSecant is the nominal stress over G of a neo-Hookean solid at
// 100 % extension: λ − 1/λ² at λ = 2 (Treloar, The Physics of Rubber Elasticity,
// from memory).
const neoHookeanSecant = 2 - 1.0/4

// polyurethaneBulk is the bulk modulus of a polyurethane in MPa: from memory, the
// order of magnitude of solid elastomers. It hardly matters: a quarter of it moves
// the radial rate of a usual bush by less than 1 %.
const polyurethaneBulk = 2000

func stressCurve(column []float64) *curve {
	return newCurve(polyurethanes.shoreA, logarithms(scaled(column, poundPerSquareInch)))
}

// polyurethaneModuli returns the moduli in MPa of a polyurethane by its hardness,
// Shore A 55 to 92, at a share of the way from the soft to the stiff limit, by
// the logarithm: half way is the geometric mean, within 4 % of the published
// middle. One number for a hardness would pretend a knowledge nobody has.
func polyurethaneModuli[T exact.Number](hardness, share T) Moduli[T] {
	soft, stiff := curveAt(logSoftestStress, hardness), curveAt(logStiffestStress, hardness)
	stress := exact.Exp(soft + share*(stiff-soft))
	return elastic(stress/neoHookeanSecant, exact.Lift[T](polyurethaneBulk))
}
