package rubber

import (
	"errors"

	"bushtune/bushing/exact"
)

func pairNumbers[T exact.Number](s []T, c Choice, into []T) {
	b, block := newCompound(s[5:]), NewBlock(s[0], s[1], s[2])
	m := b.Moduli(c)
	pairOf(s, block.Compression(&m, c), block.Shear(&m, c), into)
}

// pairOf writes the numbers of a pair of mounts with given rates.
func pairOf[T exact.Number](s []T, compression, shear T, into []T) {
	p := InclinedPair[T]{HalfSpacing: s[3], Tilt: s[4], Compression: compression, Shear: shear}
	into[0], into[1], into[2], into[3] = p.Vertical(), p.Lateral(), p.Along(), p.Roll()
	into[4], into[5], into[6] = p.Centre(), p.Crossing(), p.Highest()
}

// pairRates is how many of its numbers are rates; the others are heights.
const pairRates = 4

func checkPair(s []float64, c Choice) error {
	var bond error
	if c.Free {
		bond = wrong("bonded", "must be true: an inclined pair bears load in shear, which friction alone does not")
	}
	p, b := NewBlock(s[0], s[1], s[2]), newCompound(s[5:])
	return errors.Join(bond, checkPad(&p, &b, c, checkBlock(s[0], s[1])))
}

// pairLimits takes the limits of one block. Rates rise with both of its rates; the
// heights rise with compression over shear.
func pairLimits(s []float64, c Choice) []Between {
	p, b := NewBlock(s[0], s[1], s[2]), newCompound(s[5:])
	m := b.Moduli(c)
	block := padLimits(&p, &m, c)
	press, shear := block[0], block[1]
	var soft, stiff, low, high [7]float64
	pairOf(s, press.Low, shear.Low, soft[:])
	pairOf(s, press.High, shear.High, stiff[:])
	pairOf(s, press.Low, shear.High, low[:])
	pairOf(s, press.High, shear.Low, high[:])
	limits := make([]Between, len(soft))
	for i := range limits {
		limits[i] = Between{soft[i], stiff[i], "blocks at both their lower limits", "blocks at both their upper limits"}
		if i >= pairRates {
			limits[i] = Between{low[i], high[i], "blocks soft in compression, stiff in shear", "blocks stiff in compression, soft in shear"}
		}
	}
	return limits
}

// pairBands carries the bands of one block through to the pair: those of the same
// source move compression and shear together.
func pairBands(s []float64, c Choice, class Class) [][]Band {
	p, compound := NewBlock(s[0], s[1], s[2]), newCompound(s[5:])
	m := compound.Moduli(c)
	press, shear := p.Compression(&m, c), p.Shear(&m, c)
	block := padBands(&p, s[5:], c, class, rectangleFilm(s[0], s[1]))
	var own, low, high [7]float64
	pairOf(s, press, shear, own[:])
	bands := make([][]Band, len(own))
	for _, source := range sourcesOf(block[0], block[1]) {
		a, b := bandOf(block[0], source), bandOf(block[1], source)
		pairOf(s, press*a.Low, shear*b.Low, low[:])
		pairOf(s, press*a.High, shear*b.High, high[:])
		for i := range bands {
			x, y := low[i]/own[i], high[i]/own[i]
			bands[i] = append(bands[i], Band{source, min(1, x, y), max(1, x, y)})
		}
	}
	for i := range bands {
		bands[i] = told(bands[i])
	}
	return bands
}

// sourcesOf lists the sources of two lists of bands, each once.
func sourcesOf(first, second []Band) []string {
	var sources []string
	for _, b := range first {
		sources = append(sources, b.Source)
	}
	for _, b := range second {
		if bandOf(first, b.Source).Source == "" {
			sources = append(sources, b.Source)
		}
	}
	return sources
}

// bandOf is the band of a source, or one of no width.
func bandOf(bands []Band, source string) Band {
	for _, b := range bands {
		if b.Source == source {
			return b
		}
	}
	return Band{Low: 1, High: 1}
}
