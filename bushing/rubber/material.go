package rubber

import (
	"fmt"

	"bushtune/bushing/exact"
)

// lindley is the table of natural-rubber compounds in P. B. Lindley,
// Engineering Design with Natural Rubber, NR Technical Bulletin, MRPRA (table 3
// of the 4th edition, 1978), read in a transcription. Its own G must be taken:
// E0 is three times G for soft gum only and about four times above 50 IRHD.
// Its digits are those of kgf/cm² over ten, so all moduli are 2 % above the ones
// of its companion table in lbf/in².
var lindley = struct{ irhd, e0, g, k, bulk []float64 }{
	irhd: []float64{30, 35, 40, 45, 50, 55, 60, 65, 70, 75},
	e0:   []float64{0.92, 1.18, 1.50, 1.80, 2.20, 3.25, 4.45, 5.85, 7.35, 9.40}, // MPa
	g:    []float64{0.30, 0.37, 0.45, 0.54, 0.64, 0.81, 1.06, 1.37, 1.73, 2.22}, // MPa
	k:    []float64{0.93, 0.89, 0.85, 0.80, 0.73, 0.64, 0.57, 0.54, 0.53, 0.52},
	bulk: []float64{1000, 1000, 1000, 1000, 1030, 1090, 1150, 1210, 1270, 1330}, // MPa
}

// The columns of the table over hardness; E0 and G by their logarithms, because
// a point of hardness is about the same share of modulus everywhere.
var (
	lindleyLogE0  = newCurve(lindley.irhd, logarithms(lindley.e0))
	lindleyLogG   = newCurve(lindley.irhd, logarithms(lindley.g))
	lindleyFactor = newCurve(lindley.irhd, lindley.k)
	lindleyBulk   = newCurve(lindley.irhd, lindley.bulk)
	// bulkOfLogG is the bulk modulus in MPa over the logarithm of G in MPa.
	bulkOfLogG = newCurve(logarithms(lindley.g), lindley.bulk)
)

const naturalSoftest, naturalHardest = 30, 75 // IRHD, rows of Lindley's table

// HardnessScatter is the uncertainty of a hardness in IRHD, either way (Lindley).
const HardnessScatter = 2

// incompressible is the compression factor k of an incompressible solid with
// E = 3G: Ec = E(1 + 2·S²) (Gent & Lindley, Proc. IMechE 173, 1959). Lindley's
// smaller k belongs to his E0 above 3G and must not stand beside E = 3G.
const incompressible = 1

// NaturalModuli returns the small-strain moduli in MPa of a natural rubber by its
// hardness in IRHD: Lindley's rows, between them a monotone cubic with continuous
// tangent. Outside 30 to 75 it goes on in the last tangent, so that a search
// stays finite; Check refuses such a hardness.
func NaturalModuli[T exact.Number](hardness T) Moduli[T] {
	return Moduli[T]{
		E:      exact.Exp(curveAt(lindleyLogE0, hardness)),
		G:      exact.Exp(curveAt(lindleyLogG, hardness)),
		Bulk:   curveAt(lindleyBulk, hardness),
		Factor: curveAt(lindleyFactor, hardness),
	}
}

// GentModuli returns the moduli in MPa by hardness, Shore A 20 to 80 (the relation
// has a pole at 100), as a rigid indenter in an incompressible elastic solid gives
// them: A. N. Gent, On the relation between indentation hardness and Young's
// modulus, Trans. IRI 34 (1958) 46, formula read elsewhere. Its G is above
// Lindley's; Spread tells by how much. The bulk modulus is that of natural rubber
// of the same G.
func GentModuli[T exact.Number](hardness T) Moduli[T] {
	e := 0.0981 * (56 + 7.62336*hardness) / (0.137505 * (254 - 2.54*hardness))
	return elastic(e/3, bulkOfShear(e/3))
}

// Spread returns the shear moduli in MPa that Lindley's table and Gent's relation
// give to one hardness.
func Spread(hardness float64) (lindley, gent float64) {
	return NaturalModuli(hardness).G, GentModuli(hardness).G
}

// Moduli returns the small-strain moduli of a bush in MPa. The factors for
// temperature and ageing act on E and G; the bulk modulus stays.
func (b *Bush[T]) Moduli(c Choice) Moduli[T] {
	m := b.compound(c)
	factor := b.TemperatureFactor * b.AgeingFactor
	m.E *= factor
	m.G *= factor
	return m
}

// compound returns the moduli of the compound when new and at room temperature.
func (b *Bush[T]) compound(c Choice) Moduli[T] {
	switch c.Compound {
	case Polyurethane:
		return polyurethaneModuli(b.Hardness, b.RangeShare)
	case Given:
		if exact.Real(b.BulkModulus) > 0 {
			return elastic(b.ShearModulus, b.BulkModulus)
		}
		return elastic(b.ShearModulus, bulkOfShear(b.ShearModulus))
	}
	return NaturalModuli(b.Hardness)
}

// elastic returns the moduli of a nearly incompressible solid, E = 3G.
func elastic[T exact.Number](shear, bulk T) Moduli[T] {
	return Moduli[T]{E: 3 * shear, G: shear, Bulk: bulk, Factor: incompressible}
}

// bulkOfShear returns the bulk modulus in MPa of the natural rubber with a shear
// modulus in MPa, from the rows of Lindley's table.
func bulkOfShear[T exact.Number](shear T) T {
	return curveAt(bulkOfLogG, exact.Log(shear))
}

// ModuliRange returns the softest and the stiffest moduli in MPa that a compound of
// the bush's hardness may have: of natural rubber for a hardness 2 IRHD lower and
// higher, of a polyurethane its limits. Given moduli have no range: twice the same.
func ModuliRange(b *Bush[float64], c Choice) (low, high Moduli[float64]) {
	soft, stiff := *b, *b
	switch c.Compound {
	case Natural:
		soft.Hardness -= HardnessScatter
		stiff.Hardness += HardnessScatter
	case Polyurethane:
		soft.RangeShare, stiff.RangeShare = 0, 1
	}
	return soft.Moduli(c), stiff.Moduli(c)
}

// checkHardness tells whether the moduli of a compound are published for a
// hardness.
func checkHardness(c Choice, hardness float64) error {
	switch c.Compound {
	case Natural:
		if !(hardness >= naturalSoftest && hardness <= naturalHardest) {
			return fmt.Errorf("natural rubber has published moduli from %d to %d IRHD (Lindley), not at %.4g", naturalSoftest, naturalHardest, hardness)
		}
	case Polyurethane:
		if !(hardness >= polyurethaneSoftest && hardness <= polyurethaneHardest) {
			return fmt.Errorf("polyurethane has a published modulus from %d to %d Shore A (RMA), not at %.4g", polyurethaneSoftest, polyurethaneHardest, hardness)
		}
	}
	return nil
}
