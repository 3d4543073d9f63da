package bushing

import (
	"math"

	"bushtune/bushing/exact"
)

// Radial couples the soft and the stiff radial of a bush whose void closes along
// an ellipse. With s and t the deflections along both,
//
//	U = ½·Soft·s² + ½·Stiff·t² + W(s, t)
//
// W is zero inside the ellipse s²/GapSoft² + t²/GapStiff² = 1. Outside, the
// curve on which W has the value w is the ellipse with the semi-axes GapSoft + y_s
// and GapStiff + y_t to which the stop of each direction alone would have been
// pressed by the energy w. So W is exactly the stop of one direction along each
// axis and elliptical in between; load and tangent are continuous. W is convex,
// so the tangent never turns negative: the square of a semi-axis g + y is
// concave in w because the load of a stop grows at least in proportion to its
// press. The zero value couples nothing.
//
// A Bracket, if not zero, stands in series with both directions.
type Radial[T exact.Number] struct {
	Soft, Stiff               T // N/mm, cores
	GapSoft, GapStiff         T // mm
	SnubberSoft, SnubberStiff T // N/mm when fully in
	Run                       T // mm
	Bracket                   T // N/mm; 0: rigid
}

// LiftRadial turns a coupling of plain numbers into one without derivatives.
func LiftRadial[T exact.Number](r Radial[float64]) Radial[T] {
	lift := exact.Lift[T]
	return Radial[T]{lift(r.Soft), lift(r.Stiff), lift(r.GapSoft), lift(r.GapStiff),
		lift(r.SnubberSoft), lift(r.SnubberStiff), lift(r.Run), lift(r.Bracket)}
}

// Plain tells whether no number of the coupling carries a derivative.
func (r *Radial[T]) Plain() bool {
	return plain(r.Soft) && plain(r.Stiff) && plain(r.GapSoft) && plain(r.GapStiff) &&
		plain(r.SnubberSoft) && plain(r.SnubberStiff) && plain(r.Run) && plain(r.Bracket)
}

// Coupled tells whether the directions are coupled at all.
func (r *Radial[T]) Coupled() bool { return exact.Real(r.GapSoft) > 0 && exact.Real(r.GapStiff) > 0 }

// Symmetric2 is a symmetric 2×2 matrix over soft and stiff, in N/mm.
type Symmetric2[T exact.Number] struct{ Soft, Cross, Stiff T }

// Load is the load along soft and stiff in N: the gradient of the energy.
func (r *Radial[T]) Load(e [2]T) [2]T { return r.rubber(r.behind(e)).load }

// Energy is the potential in N·mm.
func (r *Radial[T]) Energy(e [2]T) T {
	p := r.rubber(r.behind(e))
	if exact.Real(r.Bracket) == 0 {
		return p.energy
	}
	return p.energy + (p.load[0]*p.load[0]+p.load[1]*p.load[1])/(2*r.Bracket)
}

// Tangent is the derivative of the load by the deflections.
func (r *Radial[T]) Tangent(e [2]T) Symmetric2[T] {
	k := r.rubber(r.behind(e)).tangent
	b := r.Bracket
	if exact.Real(b) == 0 {
		return k
	}
	// K·(K + b)⁻¹·b
	det := (k.Soft+b)*(k.Stiff+b) - k.Cross*k.Cross
	own := k.Soft*k.Stiff - k.Cross*k.Cross
	return Symmetric2[T]{b * (own + b*k.Soft) / det, b * b * k.Cross / det, b * (own + b*k.Stiff) / det}
}

// radialPoint is the potential of the rubber at one deflection.
type radialPoint[T exact.Number] struct {
	energy  T
	load    [2]T
	tangent Symmetric2[T]
}

func (r *Radial[T]) rubber(x [2]T) radialPoint[T] {
	s, t := x[0], x[1]
	p := radialPoint[T]{0.5 * (r.Soft*s*s + r.Stiff*t*t), [2]T{r.Soft * s, r.Stiff * t}, Symmetric2[T]{r.Soft, 0, r.Stiff}}
	press, touches := r.press(s, t)
	if !touches {
		return p
	}
	// G(s, t, w) = s²/a² + t²/b² − 1 = 0 defines w; a' and a'' are by w
	soft, stiff := progressive(r.SnubberSoft, r.Run, press[0]), progressive(r.SnubberStiff, r.Run, press[1])
	a, b := growing(r.GapSoft+press[0], soft), growing(r.GapStiff+press[1], stiff)
	gs, gt := s*a.square, t*b.square
	gw := s*s*a.first + t*t*b.first
	gsw, gtw := 2*s*a.first, 2*t*b.first
	gww := s*s*a.second + t*t*b.second
	ws, wt := -2*gs/gw, -2*gt/gw
	second := func(own, wi, wj, giw, gjw T) T { return -(own + giw*wj + gjw*wi + gww*wi*wj) / gw }
	p.energy += soft.energy
	p.load[0] += ws
	p.load[1] += wt
	p.tangent.Soft += second(2*a.square, ws, ws, gsw, gsw)
	p.tangent.Cross += second(0, ws, wt, gsw, gtw)
	p.tangent.Stiff += second(2*b.square, wt, wt, gtw, gtw)
	return p
}

// growth is 1/a² of a semi-axis a with its first two derivatives by the energy w.
type growth[T exact.Number] struct{ square, first, second T }

// growing differentiates 1/a² of a semi-axis: da/dw = 1/load, as dw = load·da.
func growing[T exact.Number](a T, stop point[T]) growth[T] {
	rate := 1 / stop.load
	square := 1 / (a * a)
	return growth[T]{square, -2 * square / a * rate, square / a * rate * rate * (6/a + 2*stop.slope*rate)}
}

// touching is the press, as a share of the gap, from which a stop counts: the
// load of less than that is beyond the last digit.
const touching = 1e-12

// press returns how far the stops of both directions are pressed on the ellipse
// through (s, t), or false inside the void.
func (r *Radial[T]) press(s, t T) (y [2]T, touches bool) {
	if !r.Coupled() {
		return y, false
	}
	size := math.Hypot(exact.Real(s/r.GapSoft), exact.Real(t/r.GapStiff))
	if size <= 1+touching {
		return y, false
	}
	soft, stiff := r.pressValues(exact.Real(s), exact.Real(t), size-1)
	// one more step of Newton's method on both conditions carries the derivatives
	y = [2]T{exact.Lift[T](soft), exact.Lift[T](stiff)}
	a, b := r.GapSoft+y[0], r.GapStiff+y[1]
	p, q := progressive(r.SnubberSoft, r.Run, y[0]), progressive(r.SnubberStiff, r.Run, y[1])
	miss, unequal := s*s/(a*a)+t*t/(b*b)-1, p.energy-q.energy
	by, at := -2*s*s/(a*a*a), -2*t*t/(b*b*b)
	det := -by*q.load - at*p.load
	y[0] += (miss*q.load + at*unequal) / det
	y[1] += (p.load*miss - by*unequal) / det
	return y, true
}

// pressValues solves for plain numbers: both stops hold the same energy, and the
// point lies on the ellipse. past is how far the point is outside, over the void.
func (r *Radial[T]) pressValues(s, t, past float64) (soft, stiff float64) {
	gapSoft, gapStiff, run := exact.Real(r.GapSoft), exact.Real(r.GapStiff), exact.Real(r.Run)
	rateSoft, rateStiff := exact.Real(r.SnubberSoft), exact.Real(r.SnubberStiff)
	other := func(soft float64) float64 {
		return pressedBy(progressive(rateSoft, run, soft).energy, rateStiff, run)
	}
	high := max(gapSoft*past, pressedBy(progressive(rateStiff, run, gapStiff*past).energy, rateSoft, run))
	soft = rising(0, high, func(y float64) (float64, float64) {
		z := other(y)
		a, b := gapSoft+y, gapStiff+z
		p, q := progressive(rateSoft, run, y), progressive(rateStiff, run, z)
		return 1 - s*s/(a*a) - t*t/(b*b), 2*s*s/(a*a*a) + 2*t*t/(b*b*b)*p.load/q.load
	})
	return soft, other(soft)
}

// pressedBy is how far a stop is pressed when it holds an energy: the inverse of
// progressive.
func pressedBy(energy, rate, run float64) float64 {
	if energy < rate*run*run/6 {
		return math.Cbrt(6 * energy * run / rate)
	}
	return 0.5*run + math.Sqrt(2*energy/rate-run*run/12)
}

// behind is the deflection of the rubber when rubber and bracket together
// deflect by e.
func (r *Radial[T]) behind(e [2]T) [2]T {
	if exact.Real(r.Bracket) == 0 {
		return e
	}
	b := exact.Real(r.Bracket)
	x := r.settle(b, [2]float64{b * exact.Real(e[0]), b * exact.Real(e[1])}, [2]float64{})
	at := [2]T{exact.Lift[T](x[0]), exact.Lift[T](x[1])}
	p := r.rubber(at)
	miss := [2]T{p.load[0] - r.Bracket*(e[0]-at[0]), p.load[1] - r.Bracket*(e[1]-at[1])}
	k := p.tangent
	k.Soft += r.Bracket
	k.Stiff += r.Bracket
	step := k.Solve(miss)
	return [2]T{at[0] - step[0], at[1] - step[1]}
}

// Deflection is the inverse of Load, in mm from N.
func (r *Radial[T]) Deflection(load [2]float64) [2]float64 {
	if load == ([2]float64{}) {
		return load
	}
	pressed := [2]float64{2 * exact.Real(r.GapSoft), 2 * exact.Real(r.GapStiff)}
	x := r.settle(0, load, [2]float64{math.Copysign(pressed[0], load[0]), math.Copysign(pressed[1], load[1])})
	if b := exact.Real(r.Bracket); b != 0 {
		x[0] += load[0] / b
		x[1] += load[1] / b
	}
	return x
}

// Solve returns the deflections under loads.
func (k *Symmetric2[T]) Solve(load [2]T) [2]T {
	det := k.Soft*k.Stiff - k.Cross*k.Cross
	return [2]T{(k.Stiff*load[0] - k.Cross*load[1]) / det, (k.Soft*load[1] - k.Cross*load[0]) / det}
}

// settle minimises U(x) + ½·rate·|x|² − pull·x for plain numbers from a start, by
// Newton's method with halved steps: the potential is convex.
func (r *Radial[T]) settle(rate float64, pull, x [2]float64) [2]float64 {
	height := func(x [2]float64) float64 {
		u := exact.Real(r.rubber([2]T{exact.Lift[T](x[0]), exact.Lift[T](x[1])}).energy)
		return u + 0.5*rate*(x[0]*x[0]+x[1]*x[1]) - pull[0]*x[0] - pull[1]*x[1]
	}
	for range 100 {
		p := r.rubber([2]T{exact.Lift[T](x[0]), exact.Lift[T](x[1])})
		k := Symmetric2[float64]{exact.Real(p.tangent.Soft) + rate, exact.Real(p.tangent.Cross), exact.Real(p.tangent.Stiff) + rate}
		step := k.Solve([2]float64{
			pull[0] - exact.Real(p.load[0]) - rate*x[0],
			pull[1] - exact.Real(p.load[1]) - rate*x[1],
		})
		next := [2]float64{x[0] + step[0], x[1] + step[1]}
		for here := height(x); height(next) > here+1e-12*math.Abs(here) && next != x; {
			step = [2]float64{step[0] / 2, step[1] / 2}
			next = [2]float64{x[0] + step[0], x[1] + step[1]}
		}
		if math.Hypot(step[0], step[1]) <= 1e-15*math.Hypot(x[0], x[1]) {
			return next
		}
		x = next
	}
	return x
}

// PastGap is how far the rubber is past the ellipse of the void at the deflections
// e of soft and stiff, in mm along the way to it from the middle: negative while the
// void is open.
func (r *Radial[T]) PastGap(e [2]float64) float64 {
	x := r.behind([2]T{exact.Lift[T](e[0]), exact.Lift[T](e[1])})
	s, t := exact.Real(x[0]), exact.Real(x[1])
	share := math.Hypot(s/exact.Real(r.GapSoft), t/exact.Real(r.GapStiff))
	if share == 0 {
		return -min(exact.Real(r.GapSoft), exact.Real(r.GapStiff))
	}
	return math.Hypot(s, t) * (1 - 1/share)
}
