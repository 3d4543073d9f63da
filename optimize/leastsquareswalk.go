package optimize

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	// metShare is how near, as a share, a profile meets τ where an interval ends.
	metShare = 0.002
	// mostTries is how many fits the way to one side of one parameter may take.
	mostTries = 40
)

// walk is the way along the profile of coordinate j to one side of a minimum.
type walk struct {
	*profiler
	held    *squares // with the coordinate kept
	end     *fitDescent
	j       int
	sign    float64
	columns []int
	along   []float64 // how the columns go along with the coordinate, by the slopes at the minimum
	perRoot float64   // how far it goes for a root of one
	room    float64   // to the bound
	tries   int
}

// profiled is one point of a profile.
type profiled struct {
	at       *fitPoint
	root     float64 // of the rise of the sum of squares; infinite where nothing can be evaluated
	distance float64 // of the coordinate from the minimum
}

func (m *profiler) walk(end *fitDescent, j int, sign float64) *walk {
	held := *m.squares
	held.held = slices.Clone(m.held)
	held.held[j] = true
	w := &walk{profiler: m, held: &held, end: end, j: j, sign: sign, room: m.room(end.at.y, j, sign)}
	s := m.reduce(end.at, end.jacobian)
	f := s.influence(m.free(end.at, s.gradient))
	w.columns, w.along = f.columns, make([]float64, len(f.columns))
	k := slices.Index(f.columns, j)
	if k < 0 { // on a bound there: no slope tells
		w.perRoot = math.Max((m.upper[j]-m.lower[j])/10, math.SmallestNonzeroFloat64)
		return w
	}
	alone := mat.Row(nil, k, f.toward)
	f.back(alone, w.along)
	variance := dot(alone, alone)
	for i := range w.along {
		w.along[i] /= variance
	}
	w.perRoot = math.Sqrt(variance)
	return w
}

// meetAll follows the profile until each target is met, or as far as it can be followed;
// cut tells that this is short of the last. The roots of the points rise.
func (w *walk) meetAll(targets []float64) (kept []profiled, cut bool) {
	here := profiled{at: w.end.at}
	for _, target := range targets {
		next, met := w.meet(here, target)
		if next.root > here.root {
			kept, here = append(kept, next), next
		}
		if !met {
			return kept, true
		}
	}
	return kept, false
}

// meet goes on from a point until a target is met: outward along the last slope, then
// between two points by false position kept off their ends.
func (w *walk) meet(here profiled, target float64) (low profiled, met bool) {
	low = here
	for high := (profiled{}); w.tries < mostTries && w.ctx.Err() == nil && w.better == nil; {
		distance := low.distance + (target-low.root)*w.perRoot
		if high.at != nil || math.IsInf(high.root, 1) {
			share := 0.5
			if high.at != nil {
				share = math.Min(math.Max((target-low.root)/(high.root-low.root), 0.1), 0.9)
			}
			distance = low.distance + share*(high.distance-low.distance)
		}
		p := w.fit(low.at, math.Min(distance, w.room))
		switch {
		case math.Abs(p.root-target) <= metShare*target:
			return p, true
		case p.root > target:
			high = p
			continue
		case p.root > low.root && p.distance > low.distance:
			w.perRoot = math.Min(math.Max((p.distance-low.distance)/(p.root-low.root), w.perRoot/4), 4*w.perRoot)
		default:
			w.perRoot *= 2
		}
		low = p
		if p.distance >= w.room {
			return p, false
		}
	}
	return low, false
}

// fit fits the others anew with the coordinate at a distance from the minimum, from a
// point of the profile near by.
func (w *walk) fit(from *fitPoint, distance float64) profiled {
	w.tries++
	y := clone(from.y)
	to := w.end.at.y[w.j] + w.sign*distance
	for i, c := range w.columns {
		y[c] = math.Min(math.Max(y[c]+(to-from.y[w.j])*w.along[i], w.lower[c]), w.upper[c])
	}
	y[w.j] = math.Min(math.Max(to, w.lower[w.j]), w.upper[w.j])
	d := w.held.descend(w.ctx, y, defaultFitIterations, offsetNear)
	if d.err != nil {
		return profiled{root: math.Inf(1), distance: distance}
	}
	if d.at.cost < w.best.at.cost-betterFall {
		w.better = clone(d.at.y)
	}
	return profiled{d.at, math.Sqrt(math.Max(d.at.cost-w.end.at.cost, 0)), distance}
}
