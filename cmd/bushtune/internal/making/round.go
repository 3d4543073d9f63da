package making

import (
	"context"
	"math"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
)

// worthRounding is how much farther off a part may be for round dimensions, where
// the wants are not reached anyway: a share of the rates.
const worthRounding = 1e-3

// round takes a part to round dimensions, and tells so, if it still reaches its
// wants: first the hardness, whose step moves every rate, with the rest searched
// anew around it; then all others.
func (b *bridge) round(ctx context.Context, x []float64) (best []float64, round bool) {
	before := b.got(x)
	rounded := b.stepped(b.aroundHardness(ctx, x))
	reached := b.reached(rounded)
	if allReached(before) && !reached || !reached && rootMeanSquare(b.got(rounded)) > rootMeanSquare(before)+worthRounding {
		return x, false
	}
	if b.file.Check(b.slotsAt(rounded)) != nil {
		return x, false
	}
	return rounded, true
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
