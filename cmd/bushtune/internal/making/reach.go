package making

import (
	"context"
	"math"

	"bushtune/bushing/quantity"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/rubber"
	"bushtune/optimize"
)

// Reach is what the limits of a part allow: the range of every wanted rate, and
// of every ratio of two of them, each alone.
type Reach struct {
	Rates  []Range
	Ratios []Range
}

// Range is the least and the most that a rate, or the ratio of two rates, can be.
type Range struct {
	Number, Over int     // indices into Part.Numbers; Over is −1 for a rate
	Least, Most  float64 // written unit of the rate, or of the two rates
	Low, High    float64 // what is wanted of it; Low 0 or High infinite where only one side is
	Exact        float64 // the wanted value where both are targets; else 0
}

// Inside tells whether what is wanted can be had at all.
func (r *Range) Inside() bool {
	return r.High >= r.Least*(1-reachedTolerance) && r.Low <= r.Most*(1+reachedTolerance)
}

// Missing is the factor by which the range falls short of what is wanted, 1 or less
// where it does not.
func (r *Range) Missing() float64 { return max(r.Least/r.High, r.Low/r.Most) }

// interval is what is wanted of one number.
type interval struct {
	number           int
	low, high, exact float64
}

// intervals joins the wants of each number.
func (b *bridge) intervals() []interval {
	var all []interval
	for _, w := range b.file.Wanted {
		v := interval{w.Number, 0, math.Inf(1), 0}
		at := -1
		for i := range all {
			if all[i].number == w.Number {
				at, v = i, all[i]
			}
		}
		switch w.Goal {
		case optimize.AtLeast:
			v.low = w.Value
		case optimize.AtMost:
			v.high = w.Value
		default:
			v.low, v.high, v.exact = w.Value-w.Within, w.Value+w.Within, w.Value
		}
		if at < 0 {
			all = append(all, v)
		} else {
			all[at] = v
		}
	}
	return all
}

// reach finds the ranges: from the best corner of the limits and from their middle
// the same optimiser goes as far as it can.
func (b *bridge) reach(ctx context.Context) Reach {
	var r Reach
	corners := b.corners()
	all := b.intervals()
	for i, v := range all {
		q := Range{Number: v.number, Over: -1, Low: v.low, High: v.high, Exact: v.exact}
		b.stretch(ctx, &q, corners)
		r.Rates = append(r.Rates, q)
		for _, u := range all[:i] {
			q := Range{Number: v.number, Over: u.number, Low: v.low / u.high, High: v.high / u.low}
			if v.exact > 0 && u.exact > 0 {
				q.Exact = v.exact / u.exact
			}
			b.stretch(ctx, &q, corners)
			r.Ratios = append(r.Ratios, q)
		}
	}
	return r
}

// corner is a corner of the limits with the logarithms of all numbers.
type corner struct{ x, values []float64 }

func (b *bridge) corners() []corner {
	var all []corner
	low, high := make([]float64, len(b.free)), make([]float64, len(b.free))
	for k, i := range b.free {
		low[k], high[k] = b.file.Dimensions[i].From, b.file.Dimensions[i].To
	}
	rubber.Corners(low, high, func(x []float64) bool {
		c := corner{append([]float64(nil), x...), make([]float64, len(b.values))}
		_ = b.evaluate(x, c.values, nil) // has no error without slopes
		all = append(all, c)
		return true
	})
	return all
}

// stretch finds both ends of a range, in written units.
func (b *bridge) stretch(ctx context.Context, q *Range, corners []corner) {
	factor := b.unit(q.Number).Factor
	if q.Over >= 0 {
		factor /= b.unit(q.Over).Factor
	}
	q.Least = math.Exp(b.extreme(ctx, q, optimize.MakeSmall, corners)) / factor
	q.Most = math.Exp(b.extreme(ctx, q, optimize.MakeLarge, corners)) / factor
}

// reachScale is the step in which a ratio is made large: 1 %.
const reachScale = 0.01

// extreme is the least or largest logarithm of a rate or ratio inside the limits.
func (b *bridge) extreme(ctx context.Context, q *Range, kind optimize.Kind, corners []corner) float64 {
	of := func(values []float64) float64 {
		if q.Over < 0 {
			return values[q.Number]
		}
		return values[q.Number] - values[q.Over]
	}
	sign := 1.0
	if kind == optimize.MakeSmall {
		sign = -1
	}
	best, start := math.Inf(-1), []float64(nil)
	for i := range corners {
		if v := sign * of(corners[i].values); quantity.Exceeds(v, best) {
			best, start = v, corners[i].x
		}
	}
	values, slopes := make([]float64, len(b.values)), mat.NewDense(len(b.values), len(b.free), nil)
	p := &optimize.Problem{Numbers: 1, Wants: []optimize.Want{{Name: "reach", Kind: kind, Scale: reachScale}}}
	p.Evaluate = func(x, out []float64, jacobian *mat.Dense) error {
		if jacobian == nil {
			err := b.evaluate(x, values, nil)
			out[0] = of(values)
			return err
		}
		err := b.evaluate(x, values, slopes)
		out[0] = of(values)
		for k := range b.free {
			slope := slopes.At(q.Number, k)
			if q.Over >= 0 {
				slope -= slopes.At(q.Over, k)
			}
			jacobian.Set(0, k, slope)
		}
		return err
	}
	for _, x := range [][]float64{start, nil} {
		p.Parameters = b.parameters(x)
		if result, err := optimize.Solve(ctx, p, optimize.Options{Starts: -1, GlobalEvaluations: -1}); err == nil {
			best = max(best, sign*result.After.Values[0])
		}
	}
	return sign * best
}
