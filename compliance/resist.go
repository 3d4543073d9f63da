package compliance

import "bushtune/bushing/exact"

// Resistance of an element at a finite movement.
//
// Every element has a potential U(δ, ψ): δ = Rᵀ(x_to − x_from) is the relative
// displacement of the points held, in axes R that turn with the force axes, and
// ψ the rotation vector of To against From. A line strains by e = a·δ + m·ψ and
// carries n(e); f = Σ n·a and m = Σ n·m are the derivatives of U. With
// g = x_to − x_from, F = R·f and J the spin of a rotation vector
//
//	force on To  F                 force on From  −F
//	moment of To against From      A·J⁻ᵀ(ψ)·m
//	moment of the turning axes     −g×F on the body that they turn with
//
// and for axes half way between both bodies, R = A·exp(ψ/2), the last one on
// From with −½·A·J⁻ᵀ(ψ)·Jᵀ(ψ/2)·Aᵀ(g×F) on To against From. The first derivative
// at the design position is the linear model of lines and levers.

// atEnds is what an element does to its two bodies: force (N) and moment (N·mm)
// about the moved point at the axle's centre, along fixed axes, and what it does
// to the rates of twist at its ends.
type atEnds[T exact.Number] struct {
	from, to exact.Wrench[T]
	warp     [2]T
}

// on is the wrench on From (end 0) or To (end 1).
func (a *atEnds[T]) on(end int) *exact.Wrench[T] {
	if end == 0 {
		return &a.from
	}
	return &a.to
}

// lineState is the strain of every line at a movement, and its load: what works
// on that strain. A beam's strains of the second order take part of its loads
// from line to line; own is what a line carries by itself.
type lineState[T exact.Number] struct {
	strain, load, own [maxLines]T
}

// arms are the force of each line and its moment about the point held.
type arms[T exact.Number] struct {
	force, moment [maxLines]exact.Vec[T]
}

// armsOf splits the wrenches of lines, which are about the axle's centre.
func armsOf[T exact.Number](lines *Lines[T]) (a arms[T]) {
	for l := range lines.Count {
		g := &lines.Wrench[l]
		a.force[l] = exact.Vec[T]{g[0], g[1], g[2]}
		a.moment[l] = exact.Vec[T]{g[3], g[4], g[5]}.Sub(lines.Anchor.To.Cross(a.force[l]))
	}
	return a
}

// resist evaluates an element. rest is the load of each line at the design
// position.
func resist[T exact.Number](lines *Lines[T], arm *arms[T], rest *[maxLines]T, from, to *pose[T], warp [2]T) (atEnds[T], lineState[T]) {
	if lines.Anchor.TwoPoint {
		return resistAlong(lines, rest, from, to)
	}
	an := &lines.Anchor
	relative := transposedOf(&from.turn).Mul(to.turn)
	turned := turnVector(&relative)
	axes := forceAxes(an, from, to, turned)
	gap := to.point(an.To).Sub(from.point(an.From))
	slid := back(&axes, gap)
	state := loadsOf(lines, arm, rest, slid, turned, warp)
	var force, moment exact.Vec[T]
	var out atEnds[T]
	for l := range lines.Count {
		force = force.Add(arm.force[l].Scale(state.load[l]))
		moment = moment.Add(arm.moment[l].Scale(state.load[l]))
		out.warp[0] += state.load[l] * lines.Warp[l][0]
		out.warp[1] += state.load[l] * lines.Warp[l][1]
	}
	force = axes.Apply(force)
	axesMoment := gap.Cross(force)
	against := inverseSpinTranspose(turned, moment) // on To against From, in From's axes
	onFrom, onTo := exact.Vec[T]{}, exact.Vec[T]{}
	switch an.Lean {
	case 0:
		onFrom = axesMoment.Scale(-1)
	case 1:
		onTo = axesMoment.Scale(-1)
	default:
		onFrom = axesMoment.Scale(-1)
		share := spinTranspose(turned.Scale(0.5), back(&from.turn, axesMoment)).Scale(0.5)
		against = against.Sub(inverseSpinTranspose(turned, share))
	}
	against = from.turn.Apply(against)
	out.from = wrenchAt(force.Scale(-1), from.turn.Apply(an.From), onFrom.Sub(against))
	out.to = wrenchAt(force, to.turn.Apply(an.To), onTo.Add(against))
	return out, state
}

// forceAxes are the axes in which the translational lines act.
func forceAxes[T exact.Number](an *Anchor[T], from, to *pose[T], turned exact.Vec[T]) exact.Mat3[T] {
	switch an.Lean {
	case 0:
		return from.turn
	case 1:
		return to.turn
	}
	return from.turn.Mul(turnOf(turned.Scale(0.5)))
}

// wrenchAt is a force at a lever with a moment of its own.
func wrenchAt[T exact.Number](force, lever, moment exact.Vec[T]) exact.Wrench[T] {
	m := lever.Cross(force).Add(moment)
	return exact.Wrench[T]{force[0], force[1], force[2], m[0], m[1], m[2]}
}

// loadsOf are strains and loads of a six-line element.
func loadsOf[T exact.Number](lines *Lines[T], arm *arms[T], rest *[maxLines]T, slid, turned exact.Vec[T], warp [2]T) lineState[T] {
	var s lineState[T]
	for l := range lines.Count {
		s.strain[l] = arm.force[l].Dot(slid) + arm.moment[l].Dot(turned) + lines.Warp[l][0]*warp[0] + lines.Warp[l][1]*warp[1]
	}
	s.load = lines.carry(rest, &s.strain)
	s.addSecondOrder(lines)
	return s
}

// addSecondOrder adds what the strains of the second order do: with e + q(e) for
// e in U, a line carries n = rest + k·(e + q), and the strain e_a the load
// n_a + Σ n·∂q/∂e_a. What the loads at rest do through q is what they do to the
// stiffness (see Solver.addSecondOrder).
func (s *lineState[T]) addSecondOrder(lines *Lines[T]) {
	for i := range lines.Second {
		t := &lines.Second[i]
		s.load[t.line] += lines.Rate[t.line] * t.by * s.strain[t.a] * s.strain[t.b]
	}
	s.own = s.load
	for i := range lines.Second {
		t := &lines.Second[i]
		pull := s.own[t.line] * t.by
		s.load[t.a] += pull * s.strain[t.b]
		s.load[t.b] += pull * s.strain[t.a]
	}
	var wound T
	for i := range lines.Wound {
		t := &lines.Wound[i]
		wound += t.by * s.strain[t.a] * s.strain[t.b]
	}
	for i := range lines.Wound {
		t := &lines.Wound[i]
		pull := lines.Helix * wound * t.by
		s.load[t.a] += pull * s.strain[t.b]
		s.load[t.b] += pull * s.strain[t.a]
	}
}

// resistAlong is an element along the line between two points: it strains by
// its change of length.
func resistAlong[T exact.Number](lines *Lines[T], rest *[maxLines]T, from, to *pose[T]) (atEnds[T], lineState[T]) {
	an := &lines.Anchor
	gap := to.point(an.To).Sub(from.point(an.From))
	length := gap.Norm()
	var s lineState[T]
	s.strain[0] = length - 1/an.Slender
	s.load = lines.carry(rest, &s.strain)
	force := gap.Scale(s.load[0] / length)
	none := exact.Vec[T]{}
	return atEnds[T]{
		from: wrenchAt(force.Scale(-1), from.turn.Apply(an.From), none),
		to:   wrenchAt(force, to.turn.Apply(an.To), none),
	}, s
}

func transposedOf[T exact.Number](m *exact.Mat3[T]) exact.Mat3[T] {
	return exact.Mat3[T]{m.Column(0), m.Column(1), m.Column(2)}
}
