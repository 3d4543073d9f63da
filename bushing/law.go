package bushing

import (
	"math"

	"bushtune/bushing/exact"
)

// Law is the load of one direction of a bush over its deflection: N over mm, or
// N·mm over rad. It is one of
//
//	linear      load = Rate·e
//	core+stop   load = Rate·e + snub(e − GapPlus) − snub(−e − GapMinus)
//	table       load through measured points; Rate is the tangent at zero
//
// with snub(x) = Snubber·x²/(2·Run) while 0 < x < Run and Snubber·(x − Run/2)
// beyond, so that load and tangent are continuous where the void closes. A gap
// of zero stands for a side without a stop. A Bracket, if not zero, stands in
// series with all that. The zero value carries nothing.
type Law[T exact.Number] struct {
	Rate              T // N/mm or N·mm/rad at zero deflection, without the bracket
	GapPlus, GapMinus T // mm: free way of the void towards + and towards −; 0: no stop
	Snubber           T // N/mm that the stop adds when it is fully in
	Run               T // mm over which the stop gains its rate
	Bracket           T // N/mm in series; 0: rigid
	Table             *Table
}

// LiftLaw turns a law of plain numbers into one without derivatives.
func LiftLaw[T exact.Number](l Law[float64]) Law[T] {
	lift := exact.Lift[T]
	return Law[T]{lift(l.Rate), lift(l.GapPlus), lift(l.GapMinus), lift(l.Snubber), lift(l.Run), lift(l.Bracket), l.Table}
}

// Plain tells whether no number of the law carries a derivative.
func (l *Law[T]) Plain() bool {
	return plain(l.Rate) && plain(l.GapPlus) && plain(l.GapMinus) && plain(l.Snubber) && plain(l.Run) && plain(l.Bracket)
}

func plain[T exact.Number](x T) bool { return x == exact.Lift[T](exact.Real(x)) }

// Linear tells whether the load is Rate·e everywhere.
func (l *Law[T]) Linear() bool { return l.Table == nil && !l.stops() && exact.Real(l.Bracket) == 0 }

func (l *Law[T]) stops() bool {
	return exact.Real(l.Snubber) != 0 && (exact.Real(l.GapPlus) > 0 || exact.Real(l.GapMinus) > 0)
}

// Flipped is the law of outer against inner sleeve for one of inner against
// outer, or back: −load(−e).
func (l *Law[T]) Flipped() Law[T] {
	f := *l
	f.GapPlus, f.GapMinus = l.GapMinus, l.GapPlus
	if l.Table != nil {
		f.Table = l.Table.mirror
	}
	return f
}

// Load is the load at the deflection e, in N or N·mm.
func (l *Law[T]) Load(e T) T { return l.rubber(l.behind(e)).load }

// Slope is the tangent at the deflection e, in N/mm or N·mm/rad.
func (l *Law[T]) Slope(e T) T {
	slope := l.rubber(l.behind(e)).slope
	if exact.Real(l.Bracket) == 0 {
		return slope
	}
	return slope * l.Bracket / (slope + l.Bracket)
}

// Curvature is the derivative of Slope by the deflection; at a point of a table
// and where a stop begins or is fully in, that of the side away from zero.
func (l *Law[T]) Curvature(e T) T {
	p := l.rubber(l.behind(e))
	if exact.Real(l.Bracket) == 0 {
		return p.curvature
	}
	share := l.Bracket / (p.slope + l.Bracket) // of the deflection that the rubber gets
	return p.curvature * share * share * share
}

// Energy is the integral of Load from zero deflection, in N·mm.
func (l *Law[T]) Energy(e T) T {
	p := l.rubber(l.behind(e))
	if exact.Real(l.Bracket) == 0 {
		return p.energy
	}
	return p.energy + p.load*p.load/(2*l.Bracket)
}

// Outside tells whether a table is continued beyond its ends at the deflection e.
func (l *Law[T]) Outside(e float64) bool {
	if l.Table == nil {
		return false
	}
	x := exact.Real(l.behind(exact.Lift[T](e)))
	return x < l.Table.from() || x > l.Table.to()
}

// point is a law at one deflection of the rubber.
type point[T exact.Number] struct {
	energy, load, slope, curvature T
}

// rubber evaluates the law without its bracket.
func (l *Law[T]) rubber(x T) point[T] {
	if l.Table != nil {
		return tableAt(l.Table, x)
	}
	p := point[T]{0.5 * l.Rate * x * x, l.Rate * x, l.Rate, 0}
	if exact.Real(l.Snubber) == 0 {
		return p
	}
	if exact.Real(l.GapPlus) > 0 {
		p = p.add(l.snub(x-l.GapPlus), 1)
	}
	if exact.Real(l.GapMinus) > 0 {
		p = p.add(l.snub(-x-l.GapMinus), -1)
	}
	return p
}

// add puts a stop that is pressed towards + or − on top.
func (p point[T]) add(stop point[T], towards T) point[T] {
	return point[T]{p.energy + stop.energy, p.load + towards*stop.load, p.slope + stop.slope, p.curvature + towards*stop.curvature}
}

// snub is a stop pressed by x.
func (l *Law[T]) snub(x T) point[T] { return progressive(l.Snubber, l.Run, x) }

// progressive is a spring that gains its rate over the way run, pressed by x.
func progressive[T exact.Number](rate, run, x T) point[T] {
	switch {
	case exact.Real(x) <= 0:
		return point[T]{}
	case exact.Real(x) < exact.Real(run):
		gain := rate / run
		return point[T]{gain * x * x * x / 6, 0.5 * gain * x * x, gain * x, gain}
	}
	past := x - 0.5*run
	return point[T]{rate * (0.5*past*past + run*run/24), rate * past, rate, 0}
}

// behind is the deflection of the rubber when rubber and bracket together
// deflect by e: x + load(x)/bracket = e.
func (l *Law[T]) behind(e T) T {
	if exact.Real(l.Bracket) == 0 {
		return e
	}
	bracket, whole := exact.Real(l.Bracket), exact.Real(e)
	x := rising(min(0, whole), max(0, whole), func(x float64) (float64, float64) {
		p := l.rubber(exact.Lift[T](x))
		return x + exact.Real(p.load)/bracket - whole, 1 + exact.Real(p.slope)/bracket
	})
	// one more step of Newton's method carries the derivatives
	at := exact.Lift[T](x)
	p := l.rubber(at)
	return at - (at+p.load/l.Bracket-e)/(1+p.slope/l.Bracket)
}

// Deflection is the inverse of Load: the deflection in mm or rad at which the
// law carries a load in N or N·mm. It is infinite if the law never carries so much.
func (l *Law[T]) Deflection(load float64) float64 {
	if load == 0 {
		return 0
	}
	if l.Linear() {
		return load / exact.Real(l.Rate)
	}
	x := l.rubberDeflection(load)
	if bracket := exact.Real(l.Bracket); bracket != 0 {
		x += load / bracket
	}
	return x
}

// farthest is a deflection that no bush survives, in mm or rad.
const farthest = 1e6

func (l *Law[T]) rubberDeflection(load float64) float64 {
	lacks := func(x float64) (float64, float64) {
		p := l.rubber(exact.Lift[T](x))
		return exact.Real(p.load) - load, exact.Real(p.slope)
	}
	reach := math.Copysign(1, load)
	for {
		miss, _ := lacks(reach)
		if miss == 0 || math.Signbit(miss) != math.Signbit(-load) {
			break
		}
		if reach *= 2; math.Abs(reach) > farthest {
			return math.Inf(int(reach))
		}
	}
	return rising(min(0, reach), max(0, reach), lacks)
}

// rising finds the root of a function that does not fall and changes its sign
// between low and high, by Newton's method kept inside the bracket by bisection
// (Press et al., Numerical Recipes, section 9.4). f returns value and slope.
func rising(low, high float64, f func(float64) (float64, float64)) float64 {
	x := 0.5 * (low + high)
	for range 200 { // bisection alone would need fewer
		value, slope := f(x)
		switch {
		case value == 0:
			return x
		case value < 0:
			low = x
		default:
			high = x
		}
		next := x - value/slope
		if !(next > low && next < high) {
			next = 0.5 * (low + high)
		}
		if next == x || next == low && x == low || next == high && x == high {
			return x
		}
		x = next
	}
	return x
}

// PastGap is how far in mm the rubber is past the gap of the side to which the
// deflection e moves it: negative while the void is open, −∞ without a stop there.
func (l *Law[T]) PastGap(e float64) float64 {
	if !l.stops() || l.Table != nil {
		return math.Inf(-1)
	}
	x := exact.Real(l.behind(exact.Lift[T](e)))
	past := math.Inf(-1)
	if gap := exact.Real(l.GapPlus); gap > 0 {
		past = x - gap
	}
	if gap := exact.Real(l.GapMinus); gap > 0 {
		past = max(past, -x-gap)
	}
	return past
}
