package making

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"

	"bushtune/optimize"
)

// The miss of a want is how far its rate lies beyond what may be, as a share of what is
// wanted: beyond the limit, or farther from a target than it may be off. A part is as
// near as its largest miss is small. That measure chooses where not every want is
// reached, and the same is told.

// Worst is the index of the want with the largest miss, and that miss.
func (o *Outcome) Worst() (want int, miss float64) { return worst(o.Got) }

func worst(got []Got) (want int, miss float64) {
	for i, g := range got {
		if g.Miss > miss {
			want, miss = i, g.Miss
		}
	}
	return want, miss
}

func (b *bridge) missAt(x []float64) float64 {
	_, miss := worst(b.got(x))
	return miss
}

// side is one side of what may be of a rate: not below or not above an edge.
type side struct {
	want, number int
	edge         float64 // internal unit
	share        float64 // of what is wanted, internal unit: misses are counted in it
	upper        bool
}

// sides lists them.
func (b *bridge) sides() []side {
	var all []side
	for i, w := range b.file.Wanted {
		inside := w.Value * b.unit(w.Number).Factor
		within := 0.0
		if w.Goal == optimize.Target {
			within = w.Within / w.Value
		}
		if w.Goal != optimize.AtMost {
			all = append(all, side{i, w.Number, inside * (1 - within), inside, false})
		}
		if w.Goal != optimize.AtLeast {
			all = append(all, side{i, w.Number, inside * (1 + within), inside, true})
		}
	}
	return all
}

// sideScale is the share of a rate within which a side counts as kept, as the optimiser
// measures it.
const sideScale = 1e-3

// nearest searches the part whose largest miss is least: a minimax problem, whose slack is
// one more parameter (Nocedal & Wright, Numerical Optimization, 2nd ed. 2006, section
// 17.2: non-smooth penalties by smooth constraints). Then, with no want missed by more,
// the sum of all misses is made small. It starts from every point given and from as many
// more as asked for.
func (b *bridge) nearest(ctx context.Context, from [][]float64, extra int) []float64 {
	best := from[0]
	take := func(x []float64, err error) {
		if err == nil && b.missAt(x) < b.missAt(best)-keepMiss {
			best = x
		}
	}
	for i, x := range from {
		if i > 0 {
			extra = 0
		}
		take(b.slack(ctx, x, extra, math.Inf(1)))
	}
	least := b.missAt(best)
	if least <= reachedTolerance {
		return best
	}
	if x, err := b.slack(ctx, best, 0, least); err == nil && b.missAt(x) <= least+keepMiss {
		return x
	}
	return best
}

// keepMiss is a difference of misses that counts as none, a share of what is wanted: what
// decides between two ends, and what the largest may grow by for the sum of all.
const keepMiss = 1e-6

// slack makes misses small from x: the largest of all, or their sum with none above most.
func (b *bridge) slack(ctx context.Context, x []float64, extra int, most float64) ([]float64, error) {
	if extra == 0 {
		extra = -1
	}
	n, sides := len(b.free), b.sides()
	got := b.got(x)
	_, start := worst(got)
	slackOf := func(side) int { return n }
	slacks := []optimize.Parameter{{Name: "largest miss", Upper: 2*start + 1, Start: start}}
	if !math.IsInf(most, 1) {
		slacks = nil
		for _, g := range got {
			slacks = append(slacks, optimize.Parameter{Name: "miss", Upper: most + keepMiss, Start: min(g.Miss, most)})
		}
		slackOf = func(s side) int { return n + s.want }
	}
	p := &optimize.Problem{Parameters: append(b.parameters(x), slacks...), Numbers: len(sides) + len(slacks)}
	for i := range sides {
		p.Wants = append(p.Wants, optimize.Want{Name: "side", Number: i, Kind: optimize.AtLeast, Scale: sideScale})
	}
	for i := range slacks {
		p.Wants = append(p.Wants, optimize.Want{Name: "miss", Number: len(sides) + i, Kind: optimize.MakeSmall, Scale: limitScale})
	}
	values, slopes := make([]float64, len(b.values)), mat.NewDense(len(b.values), n, nil)
	p.Evaluate = func(x, out []float64, jacobian *mat.Dense) error {
		var rows *mat.Dense
		if jacobian != nil {
			rows = slopes
			jacobian.Zero()
		}
		if err := b.evaluate(x[:n], values, rows); err != nil {
			return err
		}
		for i, s := range sides {
			sign, rate := 1.0, math.Exp(values[s.number])
			if s.upper {
				sign = -1
			}
			out[i] = sign*(rate-s.edge)/s.share + x[slackOf(s)]
			for k := 0; jacobian != nil && k < n; k++ {
				jacobian.Set(i, k, sign*rate/s.share*slopes.At(s.number, k))
			}
			if jacobian != nil {
				jacobian.Set(i, slackOf(s), 1)
			}
		}
		for i := range slacks {
			out[len(sides)+i] = x[n+i]
			if jacobian != nil {
				jacobian.Set(len(sides)+i, n+i, 1)
			}
		}
		return nil
	}
	result, err := optimize.Solve(ctx, p, optimize.Options{Seed: 1, Starts: extra, GlobalEvaluations: -1})
	if err != nil {
		return nil, err
	}
	return result.X[:n:n], nil
}
