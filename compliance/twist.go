package compliance

import "bushtune/bushing/exact"

// twistSpread is how the twist of a beam is spread over its length, by the strains of
// its lines of twist and warping: with the rate of twist τ(x), x from the
// middle toward the to end, and the angle ϑ(x) against the mean of both ends.
type twistSpread[T exact.Number] struct {
	count  int                      // lines
	moment [3][maxTwist]T           // ∫xⁿϑdx
	square [2][maxTwist][maxTwist]T // ∫xⁿτ²dx, forms
}

// evenTwist is that of a beam whose warping nothing holds.
func evenTwist[T exact.Number](length T) twistSpread[T] {
	w := twistSpread[T]{count: 1}
	w.moment[1][0] = length * length / 12
	w.square[0][0][0] = 1 / length
	return w
}

// spread adds up the stretches. local gives (twist, rates at the ends) of each by
// those of the beam, shares those of the beam by the strains of its lines.
func (b *stretches[T]) spread(local *[2][maxTwist][maxTwist]T, shares *[maxTwist][maxTwist]T, count int) twistSpread[T] {
	w := twistSpread[T]{count: count}
	var passed [maxTwist]T // twist from the from end to the stretch
	for n := range b.count {
		own := times(&local[n], shares)
		w.add(&b.parts[n], &own, &passed, &shares[0])
		for t := range count {
			passed[t] += own[0][t]
		}
	}
	return w
}

// add adds a stretch. With ξ from −1 to 1 over it, its rate of twist is
//
//	τ = (φ/L)·ê(ξ) + ½(χ₀ + χ₁)·ĉ(ξ) + ½(χ₁ − χ₀)·s(ξ)
//
// of the shapes of rateMeans, from its twist φ and the rates χ at its ends. The
// integrals of ϑ follow by parts from those of ξⁿτ.
func (w *twistSpread[T]) add(p *stretch[T], own *[maxTwist][maxTwist]T, passed, whole *[maxTwist]T) {
	r := p.length / 2
	m := meansOf(r / p.a)
	var even, ends, odd, lean [maxTwist]T // factors of ê, ĉ, s; angle of the middle against the beam's mean
	for t := range w.count {
		even[t] = own[0][t] / p.length
		ends[t] = (own[1][t] + own[2][t]) / 2
		odd[t] = (own[2][t] - own[1][t]) / 2
		lean[t] = passed[t] + own[0][t]/2 - whole[t]/2
	}
	x := p.middle
	for t := range w.count {
		zero := -p.length * r * m.oneOdd * odd[t]
		one := p.length * r * r / 2 * (even[t]*(1-m.twoEven) - ends[t]*m.twoEnds)
		two := -p.length * r * r * r / 3 * m.threeOdd * odd[t]
		w.moment[0][t] += zero + p.length*lean[t]
		w.moment[1][t] += one + x*zero + x*p.length*lean[t]
		w.moment[2][t] += two + 2*x*one + x*x*zero + (x*x+r*r/3)*p.length*lean[t]
		for s := range w.count {
			square := p.length * (m.evenEven*even[t]*even[s] + m.evenEnds*(even[t]*ends[s]+ends[t]*even[s]) + m.endsEnds*ends[t]*ends[s] + m.oddOdd*odd[t]*odd[s])
			tilted := p.length * r * (m.evenOdd*(even[t]*odd[s]+odd[t]*even[s]) + m.endsOdd*(ends[t]*odd[s]+odd[t]*ends[s]))
			w.square[0][t][s] += square
			w.square[1][t][s] += tilted + x*square
		}
	}
}

// rateMeans are means over ξ from 0 to 1 of products of the shapes of the rate of
// twist, with X half the length over a, c = cosh Xξ/cosh X and e = 1 − c:
//
//	ê = e/⟨e⟩      ĉ = c − ⟨c⟩·ê      s = sinh Xξ/sinh X
//
// ê has the mean 1 and is zero at the ends, ĉ the mean 0 and 1 at the ends.
type rateMeans[T exact.Number] struct {
	evenEven, evenEnds, endsEnds, oddOdd T // ⟨êê⟩, ⟨êĉ⟩, ⟨ĉĉ⟩, ⟨ss⟩
	evenOdd, endsOdd                     T // ⟨ξês⟩, ⟨ξĉs⟩
	oneOdd, twoEven, twoEnds, threeOdd   T // ⟨ξs⟩, ⟨ξ²ê⟩, ⟨ξ²ĉ⟩, ⟨ξ³s⟩
}

// gaussSix is the Gauss–Legendre rule of six points on 0 to 1.
var gaussSix = [6][2]float64{
	{0.033765242898423975, 0.08566224618958517}, {0.16939530676686776, 0.18038078652406930}, {0.38069040695840156, 0.23395696728634552},
	{0.61930959304159844, 0.23395696728634552}, {0.83060469323313224, 0.18038078652406930}, {0.96623475710157603, 0.08566224618958517},
}

// meansOf evaluates them in closed form, or for short stretches, where that
// cancels, by the Gauss rule, whose error is rounding there.
func meansOf[T exact.Number](x T) (m rateMeans[T]) {
	const short = 1.0
	if exact.Real(x) <= short {
		return shortMeans(x)
	}
	h := exact.Tanh(x)
	g := h / x // ⟨c⟩
	e := 1 - g
	cc := 0.5 * (1 - h*h + g)
	ce := g - cc
	m.evenEven = (1 - 2*g + cc) / (e * e)
	m.evenEnds = ce/e - g*m.evenEven
	m.endsEnds = cc - 2*g*ce/e + g*g*m.evenEven
	m.oddOdd = 0.5 * (1/(x*h) - (1-h*h)/(h*h))
	m.oneOdd = 1/(x*h) - 1/(x*x)
	m.endsOdd = (1+h*h)/(4*x*h) - 1/(4*x*x) // ⟨ξcs⟩
	m.evenOdd = (m.oneOdd - m.endsOdd) / e
	m.endsOdd -= g * m.evenOdd
	c2 := g - 2/(x*x) + 2*g/(x*x) // ⟨ξ²c⟩
	m.twoEven = (exact.Lift[T](1.0/3) - c2) / e
	m.twoEnds = c2 - g*m.twoEven
	m.threeOdd = 1/(x*h) - 3/(x*x) + 6/(x*x*x*h) - 6/(x*x*x*x)
	return m
}

// shortMeans sums over the nodes, with e as a product free of cancellation.
func shortMeans[T exact.Number](x T) (m rateMeans[T]) {
	sinh := func(y T) T { p := exact.Exp(y); return (p - 1/p) / 2 }
	down := exact.Exp(-x)
	cosh := (down + 1/down) / 2
	var e [len(gaussSix)]T
	mean := exact.Lift[T](0)
	for n, g := range gaussSix {
		at := exact.Lift[T](g[0])
		e[n] = 2 * sinh(x*(1+at)/2) * sinh(x*(1-at)/2) / cosh
		mean += exact.Lift[T](g[1]) * e[n]
	}
	for n, g := range gaussSix {
		at, weight := exact.Lift[T](g[0]), exact.Lift[T](g[1])
		even := e[n] / mean
		ends := 1 - e[n] - (1-mean)*even
		odd := weight * sinh(x*at) / sinh(x)
		m.evenEven += weight * even * even
		m.evenEnds += weight * even * ends
		m.endsEnds += weight * ends * ends
		m.oddOdd += odd * odd / weight
		m.evenOdd += at * even * odd
		m.endsOdd += at * ends * odd
		m.oneOdd += at * odd
		m.twoEven += weight * at * at * even
		m.twoEnds += weight * at * at * ends
		m.threeOdd += at * at * at * odd
	}
	return m
}
