package making

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/optimize"
)

// lattice looks for a part on workshop steps that misses no want by more than a slack.
// Branch and bound, depth first: dimension by dimension takes a step, the one whose
// step matters most first, hardness before all; the rest is searched without steps, and
// where that finds nothing the branch is left. The first dimension takes every step. The
// others go outwards from where the search without steps ended, on either side until
// nothing is found: the parts that keep all sides are, by the logarithms of rates, near to
// a convex body, so beyond a step without any there is none.
type lattice struct {
	b        *bridge
	slack    float64 // share of what is wanted
	order    []int   // of the free dimensions, as indices into b.free
	low      []float64
	high     []float64 // limits of each free dimension, taken in as it is decided
	searches int       // so far
	most     int
}

// LatticeSearch says how far the search for workshop steps went.
type LatticeSearch struct {
	First    int  // index into File.Dimensions of the one of which every step was tried
	Searches int  // of rests without steps
	Cut      bool // it was ended before every branch was left
}

// mostSearches ends a search for steps: some seconds.
const mostSearches = 4000

// onSteps searches from every point given; nil if there is none, or none was found.
func (b *bridge) onSteps(ctx context.Context, from [][]float64, slack float64) ([]float64, LatticeSearch) {
	l := &lattice{b: b, slack: slack, most: mostSearches}
	for _, i := range b.free {
		d := &b.file.Dimensions[i]
		l.low, l.high = append(l.low, d.From), append(l.high, d.To)
	}
	l.sort(from[0])
	var found []float64
	for i := 0; i < len(from) && found == nil; i++ {
		found = l.every(ctx, from[i])
	}
	return found, LatticeSearch{b.free[l.order[0]], l.searches, l.searches >= l.most}
}

// sort orders the dimensions by how far their step moves the wanted rates at x, hardness
// first; those without a step come last.
func (l *lattice) sort(x []float64) {
	b := l.b
	values, slopes := make([]float64, len(b.values)), mat.NewDense(len(b.values), len(x), nil)
	_ = b.evaluate(x, values, slopes)
	moves := make([]float64, len(x))
	for k := range x {
		l.order = append(l.order, k)
		for _, w := range b.file.Wanted {
			moves[k] += math.Abs(slopes.At(w.Number, k)) * l.step(k)
		}
		if l.unit(k) == quantity.Hardness {
			moves[k] = math.Inf(1)
		}
	}
	slices.SortStableFunc(l.order, func(i, j int) int { return cmp.Compare(moves[j], moves[i]) })
}

func (l *lattice) unit(k int) quantity.Unit {
	return l.b.file.Dimensions[l.b.free[k]].Field.Unit
}
func (l *lattice) step(k int) float64 { return rubber.WorkshopStep(l.unit(k)) }

// every takes every step of the first dimension, the one nearest to x first.
func (l *lattice) every(ctx context.Context, x []float64) []float64 {
	k := l.order[0]
	step := l.step(k)
	if step == 0 {
		return nil
	}
	low, high := l.low[k], l.high[k]
	values := []float64{low, high}
	for n := math.Ceil(low / step); n <= math.Floor(high/step); n++ {
		values = append(values, stepAt(n, step))
	}
	slices.SortStableFunc(values, func(v, w float64) int { return cmp.Compare(math.Abs(v-x[k]), math.Abs(w-x[k])) })
	for _, v := range slices.Compact(values) {
		if found, _ := l.with(ctx, x, 0, v); found != nil {
			return found
		}
	}
	return nil
}

// stepAt is a multiple of a step, free of the rounding of 0.1.
func stepAt(n, step float64) float64 {
	if step < 1 {
		return n / math.Round(1/step)
	}
	return n * step
}

// with decides one dimension and goes deeper; it returns a part on steps, and whether a
// part without steps was found there at all.
func (l *lattice) with(ctx context.Context, x []float64, depth int, value float64) (found []float64, any bool) {
	k := l.order[depth]
	low, high := l.low[k], l.high[k]
	l.low[k], l.high[k] = value, value
	defer func() { l.low[k], l.high[k] = low, high }()
	at := slices.Clone(x)
	at[k] = value
	if depth == len(l.order)-1 {
		if l.b.missAt(at) <= l.slack+reachedTolerance && l.b.file.Check(l.b.slotsAt(at)) == nil {
			return at, true
		}
		return nil, false
	}
	at, ok := l.rest(ctx, at)
	if !ok {
		return nil, false
	}
	return l.outwards(ctx, at, depth+1), true
}

// outwards takes the steps of a dimension from where x stands, both ways.
func (l *lattice) outwards(ctx context.Context, x []float64, depth int) []float64 {
	k := l.order[depth]
	step := l.step(k)
	if step == 0 {
		found, _ := l.with(ctx, x, depth, x[k])
		return found
	}
	below, above := math.Floor(x[k]/step), math.Ceil(x[k]/step)
	if below == above {
		above++
	}
	down, up := true, true
	for down || up {
		if ctx.Err() != nil || l.searches >= l.most {
			return nil
		}
		upNext := up && (!down || stepAt(above, step)-x[k] < x[k]-stepAt(below, step))
		value := stepAt(below, step)
		if upNext {
			value = stepAt(above, step)
		}
		inside := min(max(value, l.low[k]), l.high[k])
		found, any := l.with(ctx, x, depth, inside)
		if found != nil {
			return found
		}
		any = any && inside == value // a limit is the last step
		if upNext {
			up, above = any, above+1
		} else {
			down, below = any, below-1
		}
	}
	return nil
}

// rest searches the dimensions that are not decided, from x, and tells whether a part was
// found that keeps every side.
func (l *lattice) rest(ctx context.Context, x []float64) ([]float64, bool) {
	if l.b.missAt(x) <= l.slack {
		return x, true
	}
	l.searches++
	p := &optimize.Problem{Parameters: l.b.parameters(x), Numbers: len(l.b.values), Evaluate: l.b.evaluate}
	for k := range p.Parameters {
		q := &p.Parameters[k]
		q.Lower, q.Upper = l.low[k], l.high[k]
	}
	for _, s := range l.b.sides() {
		w := optimize.Want{Name: "side", Number: s.number, Kind: optimize.AtLeast, Scale: sideScale, Value: math.Log(s.edge - l.slack*s.share)}
		if s.upper {
			w.Kind, w.Value = optimize.AtMost, math.Log(s.edge+l.slack*s.share)
		}
		if s.upper || s.edge > l.slack*s.share { // else every rate keeps it
			p.Wants = append(p.Wants, w)
		}
	}
	result, err := optimize.Solve(ctx, p, optimize.Options{Starts: -1, GlobalEvaluations: -1})
	if err != nil {
		return x, false
	}
	return result.X, l.b.missAt(result.X) <= l.slack+reachedTolerance
}
