package rubber

import (
	"fmt"
	"slices"

	"bushtune/bushing"
)

// Band is how far a rate may lie from its number, as factors, and why.
type Band struct {
	Source    string
	Low, High float64
}

// Sources of bands. RMA bands name their class.
const (
	againstElements = "formula against own finite elements"
	ofHardness      = "hardness ±2 IRHD (Lindley)"
	ofPolyurethane  = "limits of 95 % of polyurethanes of that hardness (RMA)"
	ofFriction      = "friction, from none to as good as a bond"
	againstSeries   = "formula against own Ritz series"
	ofClosing       = "one rate for a void of which a quarter to all is closed"
)

// WorstBand is all bands at their worst at once, product of the factors: a rate
// outside it contradicts one of the sources. Scatter of the compound is what a
// hardness does not tell, the class what parts of one compound may differ by, the
// formula's error is the same for all of them.
func WorstBand(bands []Band) Band {
	worst := Band{Source: "all at their worst", Low: 1, High: 1}
	for _, b := range bands {
		worst.Low *= b.Low
		worst.High *= b.High
	}
	return worst
}

// symmetric is a band of an error either way, a share of the rate.
func symmetric(source string, share float64) Band { return Band{source, 1 - share, 1 + share} }

// Bands returns how far each rate of a bush may lie from Rates, in the order of
// bushing.Direction: the formula against finite elements, the compound that a
// hardness may stand for, the class of tolerance. A rate of zero and an exact
// formula have no band.
func Bands(b *Bush[float64], c Choice, class Class) [6][]Band {
	var bands [6][]Band
	rates := b.Rates(c)
	formula := formulaBands(b, c)
	compound := compoundBands(b, c)
	tolerance := classBand(class, b.Hardness, Wall(b))
	for i, rate := range rates.Six() {
		if rate == 0 {
			continue
		}
		bands[i] = told(slices.Concat(formula[i], compound[i], []Band{tolerance}))
	}
	return bands
}

// Wall is the thickness of rubber in mm by which the tolerance of rates goes: that
// of the thinner ring where an intermediate sleeve parts the rubber.
func Wall(b *Bush[float64]) float64 {
	outer := b.outerRing(&Moduli[float64]{})
	if !b.sleeved() {
		return outer.wall()
	}
	inner := b.innerRing(&Moduli[float64]{})
	return min(outer.wall(), inner.wall())
}

// classBand is that of a class of tolerance of rates, at the wide end of its range.
func classBand(class Class, hardness, wall float64) Band {
	narrow, wide := RateTolerance(class, hardness, wall)
	source := fmt.Sprintf("RMA class %s of rates", ClassNames[class])
	if narrow != wide {
		source += fmt.Sprintf(", ±%.0f to ±%.0f %%", 100*narrow, 100*wide)
	}
	return symmetric(source, wide)
}

// compoundBands are the rates with the softest and the stiffest compound of the
// hardness over the rates, found anew with their moduli.
func compoundBands(b *Bush[float64], c Choice) [6][]Band {
	own, ownRates := b.Moduli(c), [3]six{}
	soft, stiff := ModuliRange(b, c)
	for i, m := range []*Moduli[float64]{&own, &soft, &stiff} {
		r := b.ratesOf(m, c)
		ownRates[i] = r.Six()
	}
	var bands [6][]Band
	for i, rate := range ownRates[0] {
		if rate != 0 {
			bands[i] = []Band{{compoundSource(c), ownRates[1][i] / rate, ownRates[2][i] / rate}}
		}
	}
	return bands
}

// closedBands are those of the rate that a closed void adds. Behind an intermediate
// sleeve they are less.
func closedBands(b *Bush[float64], c Choice, class Class) []Band {
	var rates [3]float64
	own := b.Moduli(c)
	soft, stiff := ModuliRange(b, c)
	for i, m := range []*Moduli[float64]{&own, &soft, &stiff} {
		rates[i] = b.rubberRates(m, c).VoidSnubber
	}
	return told([]Band{
		symmetric(againstElements, SnubberError), {ofClosing, ClosedLow, ClosedHigh},
		{compoundSource(c), rates[1] / rates[0], rates[2] / rates[0]}, classBand(class, b.Hardness, Wall(b)),
	})
}

func compoundSource(c Choice) string {
	if c.Compound == Polyurethane {
		return ofPolyurethane
	}
	return ofHardness
}

// formulaBands are what the formulas are off, with the part of touching collars
// taken by its share of the rate.
func formulaBands(b *Bush[float64], c Choice) [6][]Band {
	m := b.Moduli(c)
	rubber := b.rubberRates(&m, c)
	whole := b.ratesOf(&m, c)
	own, all := rubber.Six(), whole.Six()
	bands := ringBands(b, &m, c)
	if own == all {
		return bands
	}
	collar := b.collar()
	pressed := compressionBands(&collar, &m, c, ringFilm(b.StopDiameter, b.Inner))
	for _, i := range []bushing.Direction{bushing.Axial, bushing.ConeSoft, bushing.ConeStiff} {
		share := own[i] / all[i]
		bands[i] = together(diluted(bands[i], share), diluted(pressed, 1-share))
	}
	return bands
}

// together are the bands of both parts of a rate, one band a source.
func together(one, other []Band) []Band {
	all := slices.Clone(one)
	for _, b := range other {
		at := slices.IndexFunc(all, func(a Band) bool { return a.Source == b.Source })
		if at < 0 {
			all = append(all, b)
			continue
		}
		all[at].Low += b.Low - 1
		all[at].High += b.High - 1
	}
	return all
}

// diluted are bands of a part of a rate, as bands of the rate.
func diluted(bands []Band, share float64) []Band {
	out := make([]Band, len(bands))
	for i, b := range bands {
		out[i] = Band{b.Source, 1 + share*(b.Low-1), 1 + share*(b.High-1)}
	}
	return out
}

// ringBands are those of the rubber between the sleeves. Two rings in series with
// the same error have that error.
func ringBands(b *Bush[float64], m *Moduli[float64], c Choice) [6][]Band {
	if c.Free {
		return slidingBands(b, m)
	}
	var bands [6][]Band
	errors := FitErrors(b.VoidArc != 0)
	plain := FitErrors(false)
	for i := range bands {
		share := errors[i]
		if b.sleeved() {
			share = max(share, plain[i])
		}
		bands[i] = []Band{symmetric(againstElements, share)}
	}
	if b.VoidArc == 0 {
		bands[bushing.Torsion] = nil // exact
	}
	return bands
}

// slidingBands are those of a free ring, whose rates are those without friction.
func slidingBands(b *Bush[float64], m *Moduli[float64]) [6][]Band {
	ring := b.outerRing(m)
	sliding, bonded := ring.free(), ring.plain()
	across := []Band{symmetric(againstSeries, FreeError), {ofFriction, 1, bonded.Soft / sliding.Soft}}
	tilting := []Band{symmetric(againstSeries, FreeError), {ofFriction, 1, bonded.ConeSoft / sliding.ConeSoft}}
	return [6][]Band{bushing.Soft: across, bushing.Stiff: across, bushing.ConeSoft: tilting, bushing.ConeStiff: tilting}
}
