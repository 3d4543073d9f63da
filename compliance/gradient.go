package compliance

import (
	"slices"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// Pair is two loads on the ports with the displacements they cause; it stands
// for the number Aᵀ·C·F.
type Pair struct {
	A, F   *Port
	UA, UF []float64 // from Displacement
}

// The numbers that one element's lines consist of, in one row.
const (
	atRate    = 0
	atLoad    = atRate + maxLines
	atWrench  = atLoad + maxLines
	atWarp    = atWrench + 6*maxLines
	atFrom    = atWarp + 2*maxLines
	atTo      = atFrom + 3
	atSlender = atTo + 3
	atZero    = atSlender + 1 // curved lines: rate at zero deflection
	atCross   = atZero + maxLines
	atSecond  = atCross + 1 // beam: strains of the second order
	entries   = atSecond + maxSecond
)

// cotangent is the derivative of −number with respect to every entry of one
// element's lines.
type cotangent [entries]float64

// slope is the derivative of one entry by a slot; a tangent lists those that
// are not zero.
type slope struct {
	entry int
	by    float64
}
type tangent []slope

// gradientRoom is what Derivatives works with; it grows to the largest call.
type gradientRoom struct {
	cotangents []cotangent
	place      []int // element → its place among the wanted elements, or −1
	wanted     []int
	tangents   []tangent           // one for each slot
	reaches    []reach             // of each element, for the pair at hand
	share      [][maxLines]float64 // d(−number)/d(load at rest) of each line, the load's own effect on other loads left out
	byLoad     []rateByLoad        // of each curved element
	mu         []float64
	slots      []complex128
	lines      Lines[complex128]
	seeded     int // the element whose RateSlots are all seeded in lines, or −1
}

// Derivatives writes out[k][j] = ∂(Aᵀ·C·F)/∂slot for pair k and slot j, exact,
// with A and F held, in the number's unit over the slot's internal unit. What a
// slot does through the load at rest is included. The method is the adjoint one
// (Haug, Choi & Komkov, Design Sensitivity Analysis of Structural Systems, 1986).
//
// From C = Bᵀ·K⁻¹·B with K = Σ k·G·Gᵀ + Σ N·∂²e and loads at rest N = N₀ + k·e₀
// from K₀·u₀ = f₀ follows, with e_a, e_f the strains under both loads, w = ∂²e
// between them and K₀·μ = Σ w·k·G,
//
//	d(Aᵀ·C·F) = −Σ [ dk·e_a·e_f + k·(de_a·e_f + e_a·de_f) + N·dw ] −
//	             Σ [ (w − e_μ)·(dN₀ + dk·e₀ + k·de₀) − N·de_μ ]
//
// where de = dGᵀ·u. Each dk, dG is the complex step of the element's formula. The
// tangent of a curved line follows its load at rest: dk is that at a held load,
// and w gains ∂k/∂N·e_a·e_f, while the k of K₀ is the tangent at zero deflection.
func (s *Solver) Derivatives(pairs []Pair, slots []Slot, out [][]float64) {
	s.prepareGradient(pairs, slots)
	room := &s.gradient
	for k := range pairs {
		mu := s.adjointAtRest(&pairs[k])
		for n, element := range room.wanted {
			s.transpose(element, &pairs[k], mu, &room.cotangents[k*len(room.wanted)+n])
		}
		for j, slot := range slots {
			if slot.Element < 0 {
				out[k][j] = s.wheelDerivative(&pairs[k], mu, slot)
			}
		}
	}
	for j, slot := range slots {
		if slot.Element < 0 {
			continue
		}
		s.differentiate(slots[:j+1])
		for k := range pairs {
			at := k*len(room.wanted) + room.place[slot.Element]
			out[k][j] = -room.cotangents[at].contract(room.tangents[j])
		}
	}
}

// prepareGradient lists the elements that the slots belong to and makes room.
func (s *Solver) prepareGradient(pairs []Pair, slots []Slot) {
	room := &s.gradient
	if room.place == nil {
		room.place = make([]int, len(s.lines))
		room.reaches = make([]reach, len(s.lines))
		room.share = make([][maxLines]float64, len(s.lines))
		room.byLoad = make([]rateByLoad, len(s.lines))
		room.mu = make([]float64, s.size)
	}
	for i := range room.place {
		room.place[i] = -1
		if s.loaded && s.lines[i].Curved {
			room.byLoad[i] = s.ratesByLoad(i)
		}
	}
	room.wanted, room.seeded = room.wanted[:0], -1
	for _, slot := range slots {
		if slot.Element >= 0 && room.place[slot.Element] < 0 {
			room.place[slot.Element] = len(room.wanted)
			room.wanted = append(room.wanted, slot.Element)
		}
	}
	if need := len(pairs) * len(room.wanted); need > len(room.cotangents) {
		room.cotangents = make([]cotangent, need)
	}
	for len(room.tangents) < len(slots) {
		room.tangents = append(room.tangents, make(tangent, 0, entries))
	}
}

// adjointAtRest solves K₀·μ = Σ w·k·G and keeps w for every line; nil without a
// static load.
func (s *Solver) adjointAtRest(pair *Pair) []float64 {
	if !s.loaded {
		return nil
	}
	room := &s.gradient
	clear(room.mu)
	for i := range s.lines {
		e, lines := &s.axle.Elements[i], &s.lines[i]
		p, q := s.ends(i, pair.UA), s.ends(i, pair.UF)
		r := &room.reaches[i]
		*r = reachOf(lines, &p, &q)
		var second [maxLines]float64
		if len(lines.Second) > 0 {
			second = secondForms(lines, &p, &q)
		}
		for l := range lines.Count {
			w := r.of(lines, l) + second[l]
			if lines.Curved {
				w += room.byLoad[i].form(lines, l, &p, &q)
			}
			room.share[i][l] = w
			if share := e.atRest(l); share != 0 {
				s.spread(i, l, w*share*lines.AtZero[l], room.mu)
			}
		}
	}
	lapack64.Potrs(s.released, blas64.General{Rows: s.size, Cols: 1, Stride: 1, Data: room.mu})
	return room.mu
}

// transpose collects the cotangent of one element for one pair.
func (s *Solver) transpose(i int, pair *Pair, mu []float64, c *cotangent) {
	lines := &s.lines[i]
	var p, q endMotion
	s.endsInto(i, pair.UA, &p)
	s.endsInto(i, pair.UF, &q)
	clear(c[atLoad:atWrench])
	clear(c[atFrom:atSecond])
	for l := range lines.Count {
		ep, eq := p.strain(lines, l), q.strain(lines, l)
		c[atRate+l] = ep * eq
		c.set(l, lines.Rate[l]*eq, &p, lines.Rate[l]*ep, &q)
	}
	if len(lines.Second) > 0 {
		s.transposeSecond(i, &p, &q, c)
	}
	if lines.Cross != 0 {
		c.cross(lines, &p, &q)
	}
	if mu != nil {
		s.transposeLevers(i, &p, &q, c)
		s.transposeRest(i, mu, c)
	}
}

// transposeSecond adds what a beam's loads at rest do through its strains of the
// second order.
func (s *Solver) transposeSecond(i int, p, q *endMotion, c *cotangent) {
	lines := &s.lines[i]
	var ep, eq, onP, onQ [maxLines]float64
	for l := range lines.Count {
		ep[l], eq[l] = p.strain(lines, l), q.strain(lines, l)
	}
	for n, t := range lines.Second {
		rest := s.preload[i][t.line]
		c[atSecond+n] = rest * (ep[t.a]*eq[t.b] + ep[t.b]*eq[t.a])
		onP[t.a] += rest * t.by * eq[t.b]
		onP[t.b] += rest * t.by * eq[t.a]
		onQ[t.a] += rest * t.by * ep[t.b]
		onQ[t.b] += rest * t.by * ep[t.a]
	}
	for l := range lines.Count {
		c.add(l, onP[l], p)
		c.add(l, onQ[l], q)
	}
}

// set writes f·p + g·q as the cotangent of the wrench and warping of line l.
func (c *cotangent) set(l int, f float64, p *endMotion, g float64, q *endMotion) {
	row := c.wrench(l)
	for r := range row {
		row[r] = f*p.relative[r] + g*q.relative[r]
	}
	c[atWarp+2*l] = f*p.warp[0] + g*q.warp[0]
	c[atWarp+2*l+1] = f*p.warp[1] + g*q.warp[1]
}

// cross adds what the coupling of soft and stiff does between two motions.
func (c *cotangent) cross(lines *Lines[float64], p, q *endMotion) {
	c[atCross] = crossForm(lines, p, q)
	for _, pair := range [2][2]int{{int(bushing.Soft), int(bushing.Stiff)}, {int(bushing.Stiff), int(bushing.Soft)}} {
		l, other := pair[0], pair[1]
		c.add(l, lines.Cross*q.strain(lines, other), p)
		c.add(l, lines.Cross*p.strain(lines, other), q)
	}
}

// add puts factor·motion into the cotangent of the wrench of line l.
func (c *cotangent) add(l int, factor float64, m *endMotion) {
	row := c.wrench(l)
	for r := range row {
		row[r] += factor * m.relative[r]
	}
	c[atWarp+2*l] += factor * m.warp[0]
	c[atWarp+2*l+1] += factor * m.warp[1]
}

// transposeRest adds what the element does to the loads at rest.
func (s *Solver) transposeRest(i int, mu []float64, c *cotangent) {
	e, lines := &s.axle.Elements[i], &s.lines[i]
	rest, adjoint := s.ends(i, s.rest), s.ends(i, mu)
	for l := range lines.Count {
		share := s.gradient.share[i][l] - adjoint.strain(lines, l)
		c[atLoad+l] = share
		c.add(l, -s.preload[i][l], &adjoint)
		share *= e.atRest(l)
		at := atRate + l
		if lines.Curved {
			at = atZero + l
		}
		c[at] += share * rest.strain(lines, l)
		c.add(l, share*lines.AtZero[l], &rest)
	}
}

// transposeLevers adds N·dw: directions and points of the element's static load.
func (s *Solver) transposeLevers(i int, p, q *endMotion, c *cotangent) {
	lines := &s.lines[i]
	r := &s.gradient.reaches[i]
	for l := range lines.Count {
		row := c.wrench(l)
		for k := range row {
			row[k] += s.preload[i][l] * r.through[k]
		}
	}
	total := s.staticWrench(i)
	f, an := linear(&total), &lines.Anchor
	c.shift(atTo, swing(rotation(&p.to), rotation(&q.to), f), 1)
	c.shift(atFrom, swing(rotation(&p.from), rotation(&q.from), f), -1)
	if an.TwoPoint {
		s.transposeAcross(i, p, q, c)
		return
	}
	// −f·(φ_p×((ω_q)×r) + φ_q×(ω_p×r)) with ω = θ_to − θ_from, and the shift of
	// the moment from the axle's centre to r.
	wp, wq := rotation(&p.relative), rotation(&q.relative)
	c.shift(atTo, wq.Cross(frame(an, p).Cross(f)).Add(wp.Cross(frame(an, q).Cross(f))), -1)
	onMoment := rotation(&p.from).Cross(rotation(&q.to)).Add(rotation(&q.from).Cross(rotation(&p.to))).Scale(-0.5)
	c.shift(atTo, f.Cross(onMoment), -1)
}

// shift adds factor·v to the cotangent of a point.
func (c *cotangent) shift(at int, v vec, factor float64) {
	for k, x := range v {
		c[at+k] += factor * x
	}
}

// wrench is the cotangent of the wrench of line l.
func (c *cotangent) wrench(l int) *[6]float64 { return (*[6]float64)(c[atWrench+6*l:]) }

// swing is ∂/∂r of f·turnTwice(p, q, r): ½(q×(p×f) + p×(q×f)).
func swing(p, q, f vec) vec { return turnTwice(p, q, f) }

// transposeAcross adds the derivative of T/length·(Δp·Δq − (n·Δp)(n·Δq)).
func (s *Solver) transposeAcross(i int, p, q *endMotion, c *cotangent) {
	lines := &s.lines[i]
	an, tension := &lines.Anchor, s.preload[i][0]
	n := linear(&lines.Wrench[0])
	dp, dq := slide(an, p), slide(an, q)
	xp, xq := dp.Sub(n.Scale(n.Dot(dp))), dq.Sub(n.Scale(n.Dot(dq)))
	c[atSlender] = tension * xp.Dot(xq)
	rate := tension * an.Slender
	onN := dp.Scale(n.Dot(dq)).Add(dq.Scale(n.Dot(dp))).Scale(-rate)
	c.shift(atWrench, onN, 1)
	c.shift(atTo, xq.Cross(rotation(&p.to)).Add(xp.Cross(rotation(&q.to))), rate)
	c.shift(atFrom, xq.Cross(rotation(&p.from)).Add(xp.Cross(rotation(&q.from))), -rate)
}

// differentiate writes the tangent of the last of the slots. If its element is
// written as the mirror image of another whose tangent by the same slot is
// there already, that one is mirrored, unless its tangents follow its own load at
// rest. Slots that each move one rate are seeded all at once, because each shows
// in its own line alone.
func (s *Solver) differentiate(slots []Slot) {
	room := &s.gradient
	j := len(slots) - 1
	slot := slots[j]
	curved := s.loaded && s.lines[slot.Element].Curved
	if partner := s.mirrored(slot.Element); partner >= 0 && !curved {
		for k, other := range slots[:j] {
			if other == (Slot{partner, slot.Index}) {
				room.tangents[j] = room.tangents[k].mirror(room.tangents[j][:0])
				return
			}
		}
	}
	e := &s.axle.Elements[slot.Element]
	if line := slices.Index(e.Kind.RateSlots, slot.Index); line >= 0 && !curved {
		if room.seeded != slot.Element {
			s.evaluate(slot.Element, e.Kind.RateSlots...)
			room.seeded = slot.Element
		}
		room.tangents[j] = room.tangents[j][:0].add(atRate+line, room.lines.Rate[line]).add(atLoad+line, room.lines.Load[line])
		return
	}
	lines := s.seededLines(slot)
	if curved {
		var rest [maxLines]complex128
		for l, v := range s.preload[slot.Element] {
			rest[l] = complex(v, 0)
		}
		lines.operate(&rest)
	}
	room.tangents[j] = room.tangents[j][:0].of(lines, s.loaded)
}

// seededLines are the lines of an element with one slot seeded; they stay valid
// until the next call.
func (s *Solver) seededLines(slot Slot) *Lines[complex128] {
	s.evaluate(slot.Element, slot.Index)
	s.gradient.seeded = -1
	s.gradient.lines.Settled = s.lines[slot.Element].Settled
	return &s.gradient.lines
}

// evaluate writes the lines of an element with some of its slots seeded.
func (s *Solver) evaluate(element int, seeds ...int) {
	room, e := &s.gradient, &s.axle.Elements[element]
	room.slots = liftSlots(e.Slots, room.slots[:0])
	for _, i := range seeds {
		room.slots[i] = exact.Seed(e.Slots[i])
	}
	room.lines.reset()
	e.Kind.exact(e, room.slots, exact.LiftVec[complex128](s.leftCentre(e.Side)), &room.lines)
	if e.Side == Right {
		room.lines.mirror()
	}
}

// liftSlots appends slots without derivatives.
func liftSlots(values []float64, to []complex128) []complex128 {
	for _, v := range values {
		to = append(to, complex(v, 0))
	}
	return to
}

// of lists the derivatives that lines carry, with those that only a load at rest
// asks for if there is one.
func (t tangent) of(lines *Lines[complex128], loaded bool) tangent {
	for l := range lines.Count {
		t = t.add(atRate+l, lines.Rate[l])
		for r, g := range lines.Wrench[l] {
			t = t.add(atWrench+6*l+r, g)
		}
		t = t.add(atWarp+2*l, lines.Warp[l][0]).add(atWarp+2*l+1, lines.Warp[l][1])
	}
	if !loaded {
		return t
	}
	for l := range lines.Count {
		t = t.add(atLoad+l, lines.Load[l])
	}
	if lines.Curved {
		for l := range lines.Count {
			t = t.add(atZero+l, lines.AtZero[l])
		}
		t = t.add(atCross, lines.Cross)
	}
	for r := range 3 {
		t = t.add(atFrom+r, lines.Anchor.From[r]).add(atTo+r, lines.Anchor.To[r])
	}
	for n := range lines.Second {
		t = t.add(atSecond+n, lines.Second[n].by)
	}
	return t.add(atSlender, lines.Anchor.Slender)
}

func (t tangent) add(entry int, x complex128) tangent {
	if imag(x) == 0 {
		return t
	}
	return append(t, slope{entry, exact.Derivative(x)})
}

// mirror appends the tangent of the mirror image to t.
func (source tangent) mirror(t tangent) tangent {
	for _, d := range source {
		switch at := d.entry; {
		case at >= atWrench && at < atWarp:
			d.by *= mirrorSigns[(at-atWrench)%6]
		case at >= atWarp && at < atFrom, at == atFrom+1, at == atTo+1:
			d.by = -d.by
		}
		t = append(t, d)
	}
	return t
}

// contract is the sum of cotangent times tangent.
func (c *cotangent) contract(t tangent) float64 {
	sum := 0.0
	for _, d := range t {
		sum += c[d.entry] * d.by
	}
	return sum
}

// wheelDerivative is the derivative by a slot of a wheel: its ports move, its
// hub yields, and the load at rest acts elsewhere.
func (s *Solver) wheelDerivative(pair *Pair, mu []float64, slot Slot) float64 {
	wheel := -1 - slot.Element
	w := &s.axle.Wheels[wheel]
	slots := liftSlots(w.Slots, nil)
	slots[slot.Index] = exact.Seed(w.Slots[slot.Index])
	g := NewWheelGeometry(slots)
	turnA, turnF := bodyRotation(pair.UA, w.Body), bodyRotation(pair.UF, w.Body)
	sum := 0.0
	for i, c := range sided(g.Centre, wheel) {
		move := unit(i).Scale(exact.Derivative(c))
		sum += turnF.Cross(move).Dot(vec(pair.A[6*wheel : 6*wheel+3]))
		sum += turnA.Cross(move).Dot(vec(pair.F[6*wheel : 6*wheel+3]))
	}
	var static *staticWheel[complex128]
	if s.axle.Static != nil {
		placed := newStaticWheel(slots, wheel, s.axle.Static, exact.LiftVec[complex128](s.centre))
		static = &placed
	}
	h := newHub(slots, static)
	onA, onF := exact.LiftVec[complex128](momentAt(pair.A, wheel)), exact.LiftVec[complex128](momentAt(pair.F, wheel))
	byA, byF := exact.LiftVec[complex128](turnA), exact.LiftVec[complex128](turnF)
	sum += exact.Derivative(h.yielded(onA, onF) + h.onCarrier(onA).Dot(byF) + h.onCarrier(onF).Dot(byA) - h.stiffness(byA, byF))
	if static == nil {
		return sum
	}
	for r, v := range static.load {
		sum -= mu[6*w.Body+r] * exact.Derivative(v)
	}
	return sum
}
