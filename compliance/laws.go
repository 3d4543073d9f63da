package compliance

import (
	"fmt"
	"math"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// Lines whose load is no straight line. A static load leaves each at its
// operating deflection, where its law carries the load at rest; there the linear
// model takes the tangent of the law. Deflections of a law count from the shape
// without load, strains from the design position: deflection = operating + strain.

// settle finds the deflection of each curved line at which it carries its
// load at rest; it names a line that never carries so much by its number, else −1.
func (l *Lines[T]) settle(rest *[maxLines]T) (lost int) {
	at, loads := &l.Settled, [maxLines]float64{}
	for i := range l.Count {
		at[i], loads[i] = 0, exact.Real(rest[i])
		if l.Law[i].Linear() && exact.Real(l.Law[i].Rate) == 0 {
			continue // what the author wrote as a preload, whatever deflects
		}
		if at[i] = l.Law[i].Deflection(loads[i]); math.IsInf(at[i], 0) {
			return i
		}
	}
	if l.Radial.Coupled() {
		both := l.Radial.Deflection([2]float64{loads[bushing.Soft], loads[bushing.Stiff]})
		at[bushing.Soft], at[bushing.Stiff] = both[0], both[1]
	}
	return -1
}

// settled is Settled with the derivatives that loads at rest and laws carry.
func (l *Lines[T]) settled(rest *[maxLines]T) (e [maxLines]T) {
	at := &l.Settled
	for i := range l.Count {
		e[i] = exact.Lift[T](at[i])
	}
	if l.plain(rest) {
		return e
	}
	for i := range l.Count {
		if slope := l.Law[i].Slope(e[i]); exact.Real(slope) != 0 {
			e[i] -= derivativeOf(l.Law[i].Load(e[i])-rest[i]) / slope
		}
	}
	if !l.Radial.Coupled() {
		return e
	}
	both := [2]T{exact.Lift[T](at[bushing.Soft]), exact.Lift[T](at[bushing.Stiff])}
	load, k := l.Radial.Load(both), l.Radial.Tangent(both)
	give := k.Solve([2]T{derivativeOf(load[0] - rest[bushing.Soft]), derivativeOf(load[1] - rest[bushing.Stiff])})
	e[bushing.Soft], e[bushing.Stiff] = both[0]-give[0], both[1]-give[1]
	return e
}

// plain tells whether neither loads at rest nor laws carry a derivative, as in
// every movement of an axle whose slots stand still.
func (l *Lines[T]) plain(rest *[maxLines]T) bool {
	for i := range l.Count {
		if derivativeOf(rest[i]) != 0 || !l.Law[i].Plain() {
			return false
		}
	}
	return l.Radial.Plain()
}

// derivativeOf takes its value from a number and leaves the derivative.
func derivativeOf[T exact.Number](x T) T { return x - exact.Lift[T](exact.Real(x)) }

// operate sets the rates of curved lines to the tangents under loads at rest.
func (l *Lines[T]) operate(rest *[maxLines]T) {
	e := l.settled(rest)
	for i := range l.Count {
		l.Rate[i] = l.Law[i].Slope(e[i])
	}
	if l.Radial.Coupled() {
		k := l.Radial.Tangent([2]T{e[bushing.Soft], e[bushing.Stiff]})
		l.Rate[bushing.Soft], l.Cross, l.Rate[bushing.Stiff] = k.Soft, k.Cross, k.Stiff
	}
}

// unload sets them to the tangents without load.
func (l *Lines[T]) unload() { l.Rate, l.Settled, l.Cross = l.AtZero, [maxLines]float64{}, 0 }

// carry is the load of each line after a strain from the design position, where
// it carries rest.
func (l *Lines[T]) carry(rest *[maxLines]T, strain *[maxLines]T) (load [maxLines]T) {
	for i := range l.Count {
		load[i] = rest[i] + l.Rate[i]*strain[i]
	}
	if !l.Curved {
		return load
	}
	if l.plain(rest) {
		return l.carryPlain(rest, strain)
	}
	e := l.settled(rest)
	for i := range l.Count {
		e[i] += strain[i]
		if law := &l.Law[i]; law.Linear() {
			load[i] = rest[i] + law.Rate*strain[i]
		} else {
			load[i] = law.Load(e[i])
		}
	}
	if l.Radial.Coupled() {
		both := l.Radial.Load([2]T{e[bushing.Soft], e[bushing.Stiff]})
		load[bushing.Soft], load[bushing.Stiff] = both[0], both[1]
	}
	return load
}

// carried is what curved lines carry at one set of deflections, with the tangents
// there.
type carried struct {
	known          bool
	at, load, rate [maxLines]float64
	cross          float64
}

// carryPlain is carry where only strains can carry a derivative: it goes through
// the tangent. The columns of a tangent share their values, so the last ones are
// kept.
func (l *Lines[T]) carryPlain(rest, strain *[maxLines]T) (load [maxLines]T) {
	at := l.Settled
	for i := range l.Count {
		at[i] += exact.Real(strain[i])
	}
	last := &l.last
	if !last.known || last.at != at {
		*last = l.carriedAt(&at)
	}
	for i := range l.Count {
		if law := &l.Law[i]; law.Linear() {
			load[i] = rest[i] + law.Rate*strain[i]
			continue
		}
		load[i] = exact.Lift[T](last.load[i]) + exact.Lift[T](last.rate[i])*derivativeOf(strain[i])
	}
	if last.cross != 0 {
		load[bushing.Soft] += exact.Lift[T](last.cross) * derivativeOf(strain[bushing.Stiff])
		load[bushing.Stiff] += exact.Lift[T](last.cross) * derivativeOf(strain[bushing.Soft])
	}
	return load
}

// carriedAt evaluates the laws that are not linear.
func (l *Lines[T]) carriedAt(at *[maxLines]float64) carried {
	c := carried{known: true, at: *at}
	for i := range l.Count {
		law, e := &l.Law[i], exact.Lift[T](at[i])
		if radial := i == int(bushing.Soft) || i == int(bushing.Stiff); law.Linear() || radial && l.Radial.Coupled() {
			continue
		}
		c.load[i], c.rate[i] = exact.Real(law.Load(e)), exact.Real(law.Slope(e))
	}
	if l.Radial.Coupled() {
		both := [2]T{exact.Lift[T](at[bushing.Soft]), exact.Lift[T](at[bushing.Stiff])}
		load, k := l.Radial.Load(both), l.Radial.Tangent(both)
		c.load[bushing.Soft], c.load[bushing.Stiff] = exact.Real(load[0]), exact.Real(load[1])
		c.rate[bushing.Soft], c.cross, c.rate[bushing.Stiff] = exact.Real(k.Soft), exact.Real(k.Cross), exact.Real(k.Stiff)
	}
	return c
}

// liftLaws gives lines the laws of others, without derivatives.
func (l *Lines[T]) liftLaws(a *Lines[float64]) {
	for i := range a.Count {
		l.AtZero[i] = exact.Lift[T](a.AtZero[i])
	}
	if !a.Curved {
		return
	}
	l.Curved, l.Settled, l.Cross = true, a.Settled, exact.Lift[T](a.Cross)
	for i := range a.Count {
		l.Law[i] = bushing.LiftLaw[T](a.Law[i])
	}
	l.Radial = bushing.LiftRadial[T](a.Radial)
}

// operate finds where an element's loads at rest leave it and takes its tangents
// there into the stiffness, which holds those at zero deflection.
func (s *Solver) operate(i int) error {
	lines := &s.lines[i]
	if lost := lines.settle(&s.preload[i]); lost >= 0 {
		return s.lostLoad(i, lost)
	}
	lines.operate(&s.preload[i])
	var more block
	for l := range lines.Count {
		more.addLine(lines.Rate[l]-lines.AtZero[l], &lines.Wrench[l])
	}
	if lines.Cross != 0 {
		more.addPair(lines.Cross, &lines.Wrench[bushing.Soft], &lines.Wrench[bushing.Stiff])
	}
	e := &s.axle.Elements[i]
	s.scatter(s.stiffness, e.From, e.To, &more, 1)
	return nil
}

// lostLoad says which law cannot hold the load at rest.
func (s *Solver) lostLoad(i, line int) error {
	e := &s.axle.Elements[i]
	return fmt.Errorf("%s: %s carries %.6g at rest, which its law never reaches however far it deflects", e.Label(), e.Kind.Lines[line], s.preload[i][line])
}

// addPair adds k·(G·Hᵀ + H·Gᵀ).
func (b *block) addPair(rate float64, g, h *exact.Wrench[float64]) {
	for r := range 6 {
		for c := r; c < 6; c++ {
			b[r][c] += rate * (g[r]*h[c] + h[r]*g[c])
		}
	}
}

// Operating returns the deflection of one line of an element at which its law
// carries the load at rest, in mm or rad; zero without a static load.
func (s *Solver) Operating(element, line int) float64 {
	if lines := &s.lines[element]; !lines.Curved && lines.Rate[line] != 0 {
		return s.preload[element][line] / lines.Rate[line]
	}
	return s.lines[element].Settled[line]
}

// Outside tells whether a deflection (mm or rad) of one line lies beyond the
// ends of its table.
func (s *Solver) Outside(element, line int, deflection float64) bool {
	lines := &s.lines[element]
	return lines.Curved && lines.Law[line].Outside(deflection)
}

// rateByLoad is how the tangents of a curved element change with its loads at rest.
type rateByLoad struct {
	own    [maxLines]float64              // ∂rate/∂load of each line by itself, per mm or rad
	radial [2]bushing.Symmetric2[float64] // of soft and stiff together, by the load of each
}

// ratesByLoad differentiates the tangents at the operating deflection.
func (s *Solver) ratesByLoad(i int) (d rateByLoad) {
	lines := &s.lines[i]
	for l := range lines.Count {
		law, at := &lines.Law[l], lines.Settled[l]
		if slope := law.Slope(at); slope != 0 {
			d.own[l] = law.Curvature(at) / slope
		}
	}
	if !lines.Radial.Coupled() {
		return d
	}
	d.own[bushing.Soft], d.own[bushing.Stiff] = 0, 0
	lifted := liftLines(lines, &Lines[complex128]{})
	for n, l := range [2]bushing.Direction{bushing.Soft, bushing.Stiff} {
		var rest [maxLines]complex128
		for k, v := range s.preload[i] {
			rest[k] = complex(v, 0)
		}
		rest[l] += complex(0, exact.Step)
		lifted.operate(&rest)
		d.radial[n] = bushing.Symmetric2[float64]{
			Soft:  exact.Derivative(lifted.Rate[bushing.Soft]),
			Cross: exact.Derivative(lifted.Cross),
			Stiff: exact.Derivative(lifted.Rate[bushing.Stiff]),
		}
	}
	return d
}

// form is what the change of the tangents by the load of line l does between two
// motions.
func (d *rateByLoad) form(lines *Lines[float64], l int, p, q *endMotion) float64 {
	sum := d.own[l] * p.strain(lines, l) * q.strain(lines, l)
	for n, m := range [2]bushing.Direction{bushing.Soft, bushing.Stiff} {
		if lines.Radial.Coupled() && l == int(m) {
			k := &d.radial[n]
			sum += k.Soft*p.strain(lines, 0)*q.strain(lines, 0) + k.Cross*crossForm(lines, p, q) + k.Stiff*p.strain(lines, 2)*q.strain(lines, 2)
		}
	}
	return sum
}

// crossForm is the strain of soft times that of stiff between two motions, both
// ways.
func crossForm(lines *Lines[float64], p, q *endMotion) float64 {
	const soft, stiff = int(bushing.Soft), int(bushing.Stiff)
	return p.strain(lines, soft)*q.strain(lines, stiff) + p.strain(lines, stiff)*q.strain(lines, soft)
}

// SetCurves changes the measured curves of a bush; Update makes it count.
func (s *Solver) SetCurves(element int, curves *bushing.Curves) {
	s.axle.Elements[element].Choice.Curves = curves
	s.findPartners()
	s.stale[element] = true
}
