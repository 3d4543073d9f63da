package making

import (
	"context"
	"math"
	"slices"

	"bushtune/bushing/quantity"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// Outcome is a finished choice: the part that comes closest to what is wanted.
type Outcome struct {
	File    *axlefile.PartFile
	X       []float64     // every dimension as the new file holds it, in written units
	Got     []Got         // in the order of File.Wanted
	Reached bool          // every want, at X
	Rounded bool          // X stands on workshop steps
	Full    float64       // the largest miss in full digits
	Steps   LatticeSearch // how far steps were searched beyond the nearest; none where those do
	Certain bool          // no small change of the dimensions comes closer
	Reason  string        // one sentence of the search; empty where nothing was free
	Starts  int           // of the search
	Holds   []Hold        // limits that X lies on
	Others  [][]float64
	Reach   Reach
}

// Got is how one want fared.
type Got struct {
	Wanted  axlefile.WantedRate
	Value   float64 // written unit
	Off     float64 // share of what is wanted: how far from a target, how far a limit does not hold
	Miss    float64 // share of what is wanted: how far beyond what may be
	Reached bool
}

// starts are the extra starts of a search. A bush has few dimensions and smooth
// rates: from eight points spread over the box the round trip finds every bush.
const starts = 8

// Make chooses the free dimensions of a part file. The error is one of the
// optimiser: numbers that cannot be computed in the middle of the limits.
func Make(ctx context.Context, file *axlefile.PartFile) (*Outcome, error) {
	b := newBridge(file)
	o := &Outcome{File: file, X: b.whole(nil), Certain: true}
	if len(b.free) > 0 {
		if err := o.choose(ctx, b); err != nil {
			return nil, err
		}
	}
	o.judge(b)
	if len(b.free) > 0 {
		o.Holds = b.holds(ctx, o)
		o.Reach = b.reach(ctx)
	}
	return o, nil
}

// choose searches, keeps the best part and names others that fit as well.
func (o *Outcome) choose(ctx context.Context, b *bridge) error {
	result, err := b.search(ctx, nil, starts)
	if err != nil {
		return err
	}
	ends := b.fitting(result)
	o.Reason, o.Starts = result.Reason, result.Agreement.Starts
	o.Certain = result.Status != optimize.StoppedEarly
	if len(ends) == 0 {
		all := [][]float64{result.X}
		for _, e := range result.Agreement.Ends {
			all = append(all, e.X)
		}
		ends = [][]float64{b.nearest(ctx, all, starts)}
	} else {
		for _, x := range b.apart(ends) {
			other, _, _ := b.round(ctx, [][]float64{x})
			o.Others = append(o.Others, b.written(other))
		}
	}
	o.Full = b.missAt(ends[0])
	best, rounded, steps := b.round(ctx, ends)
	o.Rounded, o.Steps = rounded, steps
	o.X = b.written(best)
	return nil
}

// search runs the optimiser from x, or from the middle of the limits, and from so
// many other starts. Least squares may leave one target off by more than it may
// be where a better balance exists; so if not all are reached, a second search
// asks for exactly that.
func (b *bridge) search(ctx context.Context, x []float64, extra int) (*optimize.Result, error) {
	result, err := b.solve(ctx, b.wants(false), x, extra)
	if err != nil || b.reached(result.X) {
		return result, err
	}
	balanced, err := b.solve(ctx, b.wants(true), x, extra)
	if err == nil && b.reached(balanced.X) {
		return balanced, nil
	}
	return result, nil
}

func (b *bridge) solve(ctx context.Context, wants []optimize.Want, x []float64, extra int) (*optimize.Result, error) {
	if extra == 0 {
		extra = -1
	}
	p := &optimize.Problem{Parameters: b.parameters(x), Wants: wants, Numbers: len(b.values), Evaluate: b.evaluate}
	return optimize.Solve(ctx, p, optimize.Options{Seed: 1, Starts: extra, GlobalEvaluations: -1})
}

// judge compares what is wanted with what the part has at X.
func (o *Outcome) judge(b *bridge) {
	o.Got = b.got(b.freeOf(o.X))
	o.Reached = allReached(o.Got)
}

func allReached(got []Got) bool {
	return !slices.ContainsFunc(got, func(g Got) bool { return !g.Reached })
}

// reached tells whether every want is reached at the free dimensions x.
func (b *bridge) reached(x []float64) bool { return allReached(b.got(x)) }

// reachedTolerance is how much beyond a limit counts as on it, as a share: what
// the six digits of the written dimensions leave.
const reachedTolerance = 1e-4

// noOff is a share that is rounding noise.
const noOff = 1e-9

// got says how every want fares at the free dimensions x.
func (b *bridge) got(x []float64) []Got { return b.judge(b.at(x)) }

// judge says how every want fares with values of all numbers, in internal units.
func (b *bridge) judge(values []float64) []Got {
	all := make([]Got, len(b.file.Wanted))
	for i, w := range b.file.Wanted {
		g := Got{Wanted: w, Value: b.unit(w.Number).Written(values[w.Number])}
		off := g.Value/w.Value - 1
		allowed := reachedTolerance
		switch w.Goal {
		case optimize.AtLeast:
			off = min(0, off)
		case optimize.AtMost:
			off = max(0, off)
		default:
			allowed += w.Within / w.Value
		}
		if math.Abs(off) < noOff {
			off = 0
		}
		g.Off, g.Reached = off, math.Abs(off) <= allowed
		g.Miss = max(0, math.Abs(off)-(allowed-reachedTolerance))
		all[i] = g
	}
	return all
}

// freeOf picks the free dimensions.
func (b *bridge) freeOf(all []float64) []float64 {
	x := make([]float64, len(b.free))
	for k, i := range b.free {
		x[k] = all[i]
	}
	return x
}

// written are all dimensions as the new file holds them.
func (b *bridge) written(x []float64) []float64 {
	all := b.whole(x)
	for _, i := range b.free {
		all[i] = b.file.Dimensions[i].Round(all[i])
	}
	return all
}

// fitting lists the ends of a search that reach every want, the one that keeps
// farthest from its limits first.
func (b *bridge) fitting(result *optimize.Result) [][]float64 {
	var all [][]float64
	for _, e := range result.Agreement.Ends {
		if b.reached(e.X) {
			all = append(all, e.X)
		}
	}
	quantity.GreatestFirst(all, func(x []float64) float64 { return -b.fromMiddle(x) })
	return all
}

// fromMiddle is the largest distance from the middle of the limits, in ranges.
func (b *bridge) fromMiddle(x []float64) float64 {
	most := 0.0
	for k, i := range b.free {
		d := &b.file.Dimensions[i]
		most = max(most, math.Abs((x[k]-(d.From+d.To)/2)/(d.To-d.From)))
	}
	return most
}

const (
	others  = 3    // how many other parts are named
	another = 0.05 // how far apart two parts are that a supplier would tell apart, in ranges
)

// apart picks from parts that fit as well as the first those that differ most
// from it and from each other.
func (b *bridge) apart(fitting [][]float64) [][]float64 {
	picked := fitting[:1]
	for len(picked) <= others {
		var farthest []float64
		distance := another
		for _, x := range fitting {
			near := math.Inf(1)
			for _, y := range picked {
				near = min(near, b.distance(x, y))
			}
			if near > distance {
				farthest, distance = x, near
			}
		}
		if farthest == nil {
			break
		}
		picked = append(slices.Clip(picked), farthest)
	}
	return picked[1:]
}

// distance is the largest difference of a dimension, in ranges.
func (b *bridge) distance(x, y []float64) float64 {
	most := 0.0
	for k, i := range b.free {
		d := &b.file.Dimensions[i]
		most = max(most, math.Abs(x[k]-y[k])/(d.To-d.From))
	}
	return most
}
