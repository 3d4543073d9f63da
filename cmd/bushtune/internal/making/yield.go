package making

import (
	"math"

	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
)

// Yield is the share of parts that meet what is wanted, when hardness and the sizes that
// a mould makes scatter about what is drawn: each part by itself, evenly inside its
// tolerance, since a batch inside its class says no more.
type Yield struct {
	Scatter  rubber.Scatter
	Each     []float64 // of the parts, 0 to 1, in the order of File.Wanted
	All      float64   // of the parts that meet every want
	Low, Hi  []float64 // least and greatest value of each want's number among the parts, written unit
	Scatters bool      // anything does
}

// yieldParts is how many parts are drawn. Points of a Halton sequence cover the
// tolerances so evenly that a share is known to half a percent.
const yieldParts = 8192

// YieldOf draws parts about dimensions x in written units; nil where nothing is wanted.
func YieldOf(file *axlefile.PartFile, x []float64, s rubber.Scatter) *Yield {
	if len(file.Wanted) == 0 {
		return nil
	}
	b := newBridge(file)
	slots := append([]float64(nil), b.slotsAt(b.freeOf(x))...)
	off := file.Part.Tolerances(slots, file.Choice, s)
	y := &Yield{Scatter: s, Each: make([]float64, len(file.Wanted))}
	for range file.Wanted {
		y.Low, y.Hi = append(y.Low, math.Inf(1)), append(y.Hi, math.Inf(-1))
	}
	moving := b.scattering(off)
	y.Scatters = len(moving) > 0
	shares, part := make([]float64, len(slots)), make([]float64, len(slots))
	for n := range yieldParts {
		for k, i := range moving {
			shares[i] = 2*radicalInverse(n+1, primes[k]) - 1
		}
		file.Part.WithScatter(slots, off, shares, file.Choice, s, part)
		file.Part.Values(part, file.Choice, b.values)
		all := 1.0
		for i, g := range b.judge(b.values) {
			if !math.IsNaN(g.Value) {
				y.Low[i], y.Hi[i] = min(y.Low[i], g.Value), max(y.Hi[i], g.Value)
			}
			if g.Reached {
				y.Each[i] += 1. / yieldParts
			} else {
				all = 0
			}
		}
		y.All += all / yieldParts
	}
	return y
}

// scattering are the slots that may lie off.
func (b *bridge) scattering(off []float64) []int {
	var moving []int
	for i, o := range off {
		if o > 0 && len(moving) < len(primes) {
			moving = append(moving, i)
		}
	}
	return moving
}

// primes are the bases of the sequence, enough for all slots of any part that scatter.
var primes = []int{2, 3, 5, 7, 11, 13, 17, 19}

// radicalInverse mirrors the digits of n at the point (Halton, Numerische Mathematik 2,
// 1960).
func radicalInverse(n, base int) (x float64) {
	for place := 1 / float64(base); n > 0; n /= base {
		x += place * float64(n%base)
		place /= float64(base)
	}
	return x
}
