package making

import (
	"context"
	"math"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
)

// worthRounding are how much larger the largest miss may be for round dimensions where
// the wants are not reached anyway, the first that does: shares of what is wanted.
var worthRounding = []float64{1e-3, 3e-3, 1e-2}

// round takes the first of some parts that are as near to round dimensions, and tells
// whether there are such that miss no want by more: where the hardness stands on its
// nearest step, with the rest searched anew around it and rounded; else wherever a search
// of all steps finds some.
func (b *bridge) round(ctx context.Context, ends [][]float64) (best []float64, round bool, steps LatticeSearch) {
	x := ends[0]
	slacks := []float64{0}
	if miss := b.missAt(x); miss > reachedTolerance {
		slacks = nil
		for _, worth := range worthRounding {
			slacks = append(slacks, miss+worth)
		}
	}
	rounded := b.stepped(b.aroundHardness(ctx, x))
	if b.missAt(rounded) <= slacks[0]+reachedTolerance && b.file.Check(b.slotsAt(rounded)) == nil {
		return rounded, true, steps
	}
	for _, slack := range slacks {
		found, far := b.onSteps(ctx, ends, slack)
		if steps = far; found != nil {
			return found, true, steps
		}
	}
	return x, false, steps
}

// aroundHardness fixes a free hardness at its nearest step and searches the rest from
// where it is.
func (b *bridge) aroundHardness(ctx context.Context, x []float64) []float64 {
	fixed := *b.file
	fixed.Dimensions = append(fixed.Dimensions[:0:0], b.file.Dimensions...)
	whole := b.whole(x)
	for _, i := range b.free {
		if d := &fixed.Dimensions[i]; d.Field.Unit == quantity.Hardness {
			whole[i] = toStep(whole[i], rubber.WorkshopStep(quantity.Hardness), d.From, d.To)
			d.From, d.To = whole[i], whole[i]
		}
	}
	rest := newBridge(&fixed)
	if len(rest.free) == len(b.free) || len(rest.free) == 0 {
		return b.freeOf(whole)
	}
	result, err := rest.search(ctx, rest.freeOf(whole), 0)
	if err != nil {
		return x
	}
	return b.freeOf(rest.whole(result.X))
}

// stepped rounds every dimension to its step, inside its limits.
func (b *bridge) stepped(x []float64) []float64 {
	out := make([]float64, len(x))
	for k, i := range b.free {
		d := &b.file.Dimensions[i]
		out[k] = x[k]
		if step := rubber.WorkshopStep(d.Field.Unit); step > 0 {
			out[k] = toStep(x[k], step, d.From, d.To)
		}
	}
	return out
}

// toStep is the nearest multiple of a step, or the limit that lies nearer.
func toStep(x, step, from, to float64) float64 {
	return min(max(math.Round(x/step)*step, from), to)
}
