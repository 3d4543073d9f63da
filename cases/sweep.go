package cases

import (
	"fmt"
	"math"

	"bushtune/bushing/quantity"
)

// imposed finds a case or state of the study, a state at size, or an event.
func (f *FullSize) imposed(name string) (*imposed, error) {
	for _, l := range f.study.loads {
		switch {
		case l.Name != name:
		case l.state >= 0:
			return newImposedState(l.Case, &f.study.states[l.state], &f.study.vehicle), nil
		default:
			return newImposed(l.Case, [2]float64{}), nil
		}
	}
	for _, on := range f.atSize() {
		if on.Name != name {
			continue
		}
		if on.state != nil {
			if missing := f.study.vehicle.missing(on.state.needs(&f.study.vehicle)); missing != nil {
				return nil, &UnknownName{What: "state", Name: name, Needs: missing}
			}
		}
		return on, nil
	}
	return nil, f.study.unknown("case", name, "", f.CaseNames())
}

// atSize lists the states at size and the events, in both turns if the halves of
// the axle differ.
func (f *FullSize) atSize() []*imposed {
	var all []*imposed
	for turn := range f.study.turns {
		for _, st := range StatesAtSize() {
			c := st.onTheRoad()
			if turn == 1 {
				c = c.mirrored()
			}
			all = append(all, newImposedState(c, &st, &f.study.vehicle))
		}
		for _, e := range Events() {
			c, raise := e.Case, e.Raise
			if turn == 1 {
				c, raise = c.mirrored(), [2]float64{raise[1], raise[0]}
			}
			all = append(all, newImposed(c, raise))
		}
	}
	return all
}

// CaseNames lists everything that can be imposed at full size: the cases and
// states of the study, the states at size that the vehicle allows, the events.
func (f *FullSize) CaseNames() []string {
	var names []string
	for _, l := range f.study.loads {
		names = append(names, l.Name)
	}
	for _, on := range f.atSize() {
		if on.state == nil || f.study.vehicle.missing(on.state.needs(&f.study.vehicle)) == nil {
			names = append(names, on.Name)
		}
	}
	return names
}

// newImposed measures a case by its largest force on a wheel, or by its largest
// moment if it has no force.
func newImposed(c Case, raise [2]float64) *imposed {
	i := &imposed{Case: c, raise: raise, symbol: Quantity{"force", quantity.Newton.Name}}
	for _, w := range c.Wheels {
		i.size = max(i.size, w.Force.Norm())
	}
	if i.size == 0 {
		i.symbol = Quantity{"moment", quantity.NewtonMetre.Name}
		for _, w := range c.Wheels {
			i.size = max(i.size, math.Abs(w.Moment))
		}
	}
	return i
}

// newImposedState measures a state by its lateral acceleration, or by its braking
// if it has none.
func newImposedState(c Case, st *State, v *Vehicle) *imposed {
	i := &imposed{Case: c, state: st, vehicle: v, size: st.Lateral, symbol: Quantity{"lateral acceleration", quantity.Gravity.Name}}
	if st.Lateral == 0 {
		i.size, i.symbol.Name = st.Braking, "braking deceleration"
	}
	return i
}

// written turns a size inside into the unit of the sweep.
func (i *imposed) written(size float64) float64 {
	switch i.symbol.Unit {
	case quantity.Gravity.Name:
		return quantity.Gravity.Written(size)
	case quantity.NewtonMetre.Name:
		return quantity.NewtonMetre.Written(size)
	}
	return size
}

// perLoad is to what secants and tangents of the sweep refer, per 1 kN, 100 N·m or 1 g
// of its load, as the built-in cases do: a plain unit so divided, and how much of that
// load the share 1 is. An event that also moves the pads has no such load; its own is
// taken.
func (i *imposed) perLoad(plain quantity.Unit) (per quantity.Unit, whole float64) {
	size := i.written(i.size)
	switch {
	case i.raise != [2]float64{}:
		return quantity.Unit{Name: plain.Name + "/event", Factor: plain.Factor}, 1
	case i.symbol.Unit == quantity.Gravity.Name:
		return quantity.Unit{Name: plain.Name + "/g", Factor: plain.Factor}, size
	case i.symbol.Unit == quantity.NewtonMetre.Name:
		return quantity.Unit{Name: plain.Name + "/(100 N·m)", Factor: plain.Factor}, size / 100
	}
	return quantity.Unit{Name: plain.Name + "/kN", Factor: plain.Factor}, size / 1e3
}

// Sweep scales a case or a state from nothing to a load and reads at every point
// where the wheels are, the numbers of the case as secants and as tangents, and
// the bushes; on the way it finds where things run out. The error is that of a request
// that makes no sense, or a *LostWay; with that comes what was read until there, or nil
// if not even the unloaded axle stands.
func (f *FullSize) Sweep(s Sweep) (*Swept, error) {
	w, err := f.newSweeping(s)
	if err != nil {
		return nil, err
	}
	spent := f.Evaluations()
	if err := f.Reset(); err != nil {
		return nil, w.lost(0, err)
	}
	if err := w.goTo(0); err != nil {
		return nil, err
	}
	look := newLookout(w)
	w.read()
	var lost error
	for n := 1; n < s.Points && lost == nil; n++ {
		if lost = look.goTo(w.to * float64(n) / float64(s.Points-1)); lost == nil {
			w.read()
		}
	}
	out := &Swept{Totals: w.totals.series, Secants: w.secants.series, Tangents: w.tangents.series, RunsOut: look.inOrder()}
	out.Warnings = append(append(w.totals.warnings, limitsPassed(w.totals.series)...), w.lifts()...)
	out.Warnings = append(out.Warnings, f.withoutOutline...)
	out.Evaluations = f.Evaluations() - spent
	return out, lost
}

// sweeping is a sweep under way.
type sweeping struct {
	f                         *FullSize
	on                        *imposed
	to, share                 float64 // shares of the size of the case
	totals, secants, tangents *curves
	numbers                   []int // of the study, that are read in this case alone
	rate                      rate
}

func (f *FullSize) newSweeping(s Sweep) (*sweeping, error) {
	on, err := f.imposed(s.Case)
	if err != nil {
		return nil, err
	}
	to := 1.0
	if s.To != 0 {
		to = s.To / on.size
	}
	if s.Points < 2 || !(to > 0) || math.IsInf(to, 0) {
		return nil, fmt.Errorf("sweep of %s: to %g in %d points; want a load above zero and at least 2 points", s.Case, s.To, s.Points)
	}
	w := &sweeping{f: f, on: on, to: to, rate: rate{increment: f.mover.NewIncrement()}}
	w.totals, w.secants, w.tangents = newCurves(on.symbol, s.Points), newCurves(on.symbol, s.Points), newCurves(on.symbol, s.Points)
	for i := range f.study.numbers {
		if n := &f.study.numbers[i]; !n.Generic && n.Case == on.Name {
			w.numbers = append(w.numbers, i)
		}
	}
	return w, nil
}

// lost is the error of a sweep that comes no further than a share.
func (w *sweeping) lost(share float64, cause error) error {
	return &LostWay{What: "sweep of " + w.on.Name, Place: w.x(share), Unit: w.on.symbol.Unit, Cause: cause}
}

// x is a share in the unit of the sweep.
func (w *sweeping) x(share float64) float64 { return w.on.written(share * w.on.size) }

// goTo moves to a share of the case.
func (w *sweeping) goTo(share float64) error {
	if reached, err := w.f.impose(w.on, share); err != nil {
		return w.lost(reached, err)
	}
	w.share = share
	return nil
}

// rateHere is the rate of everything as the share grows.
func (w *sweeping) rateHere() *rate {
	d := w.f.demandRate(w.on)
	w.f.follow(&d, &w.rate)
	return &w.rate
}

// read reads everything at the present share.
func (w *sweeping) read() {
	f, x := w.f, w.x(w.share)
	r := w.rateHere()
	for _, role := range [2]role{outerWheel, innerWheel} {
		wheel := role.wheel(&w.on.Case)
		for i := range genericReadings {
			g := genericReadings[i].with(w.on.Brake)
			w.readOne(&g, role, x, f.moved[wheel].along[g.direction], r.wheels[wheel].along[g.direction])
		}
		if w.on.Pads == Level {
			w.readOne(&padReading, role, x, f.moved[wheel].pad, r.wheels[wheel].pad)
		}
	}
	for _, i := range w.numbers {
		w.readNumber(i, x, r)
	}
	f.readAxle(w.on.Name, w.on.Pads, w.on.Outer, x, w.totals)
	f.readBushes(w.on.Name, x, w.totals)
	f.readStops(w.on.Name, x, w.totals)
	f.watchCoils(x, w.totals)
	f.readStress(w.on.Name, x, w.totals)
}

// readOne adds a plain reading: under the load, per load, and its slope.
func (w *sweeping) readOne(g *genericReading, who role, x, moved, slope float64) {
	s := seriesOfReading(g, TheLoad, roleNames[who], w.on.Name, w.on.Pads)
	w.totals.add(&s, x, g.unit(TheLoad).Written(moved))
	per, whole := w.on.perLoad(g.unit(TheLoad))
	s.Unit, s.Formula = per.Name, g.title
	secant := slope
	if w.share != 0 {
		secant = moved / w.share
	}
	w.secants.add(&s, x, per.Written(secant/whole))
	w.tangents.add(&s, x, per.Written(slope/whole))
}

// readNumber adds secant and tangent of a number of the study.
func (w *sweeping) readNumber(i int, x float64, r *rate) {
	n := &w.f.study.numbers[i]
	s := seriesOf(&n.Number)
	per, whole := n.Unit, 1.0
	if w.on.Per == TheLoad { // the number is one under the whole load
		per, whole = w.on.perLoad(n.Unit)
		s.Unit = per.Name
	}
	tangent := per.Written(w.number(n, &r.wheels, 1) / whole)
	w.tangents.add(&s, x, tangent)
	switch {
	case w.twoCases(n):
	case w.share == 0:
		w.secants.add(&s, x, tangent)
	default:
		w.secants.add(&s, x, per.Written(w.number(n, &w.f.moved, w.share)/whole))
	}
}

// twoCases tells whether a number needs the answer of another case too.
func (w *sweeping) twoCases(n *number) bool {
	for _, a := range n.answers[:n.count] {
		if w.f.study.answers[a].load.Name != w.on.Name {
			return true
		}
	}
	return false
}

// number is a number of the study from movements under a share of its load, or
// from their rates by the share; a part that another case answers is the tangent.
func (w *sweeping) number(n *number, wheels *[2]movement, share float64) float64 {
	f := w.f
	in := inputs[float64]{track: f.track(), vehicle: &f.study.vehicle}
	for k, a := range n.answers[:n.count] {
		answer := &f.study.answers[a]
		from := wheels
		over := share
		if answer.load.Name != w.on.Name {
			from, over = &f.tangent(f.indexOf(answer.load)).wheels, 1
		}
		in.z[k] = answer.sensor.sense(from) * answer.scale / over
	}
	return n.formula.value(in)
}

// lifts warns of a state that takes all load off a wheel.
func (w *sweeping) lifts() []string {
	if w.on.state == nil {
		return nil
	}
	if lifted := w.f.lifted(w.on); lifted != nil {
		return []string{fmt.Sprintf("%s: %v, before %.3g %s; its figures hold no longer", w.on.Name, lifted, w.x(w.to), w.on.symbol.Unit)}
	}
	return nil
}

// AtSize takes a case or state to a load and gives its numbers there: what has
// moved, the secant and the tangent.
func (f *FullSize) AtSize(name string, to float64) ([]Sized, error) {
	const points = 5 // so that each step is a small one
	w, err := f.newSweeping(Sweep{Case: name, To: to, Points: points})
	if err != nil {
		return nil, err
	}
	if err := f.Reset(); err != nil {
		return nil, w.lost(0, err)
	}
	for n := range points {
		if err := w.goTo(w.to * float64(n) / float64(points-1)); err != nil {
			return nil, err
		}
	}
	w.read()
	var all []Sized
	for i := range w.tangents.series {
		t := &w.tangents.series[i]
		one := Sized{Tangent: t.last()}
		if s := find(w.secants.series, t.Number, t.Case, t.Where); s != nil {
			one.Secant = s.last()
		}
		if s := find(w.totals.series, t.Number, t.Case, t.Where); s != nil {
			one.Total = s.last()
		}
		all = append(all, one)
	}
	return all, nil
}

// last is the last point of a series as a figure.
func (s *Series) last() Figure {
	value := s.Points[len(s.Points)-1].Value
	r := s.Signs.Read(value, s.Step)
	return Figure{Number: s.Number, Title: s.Title, Case: s.Case, Where: s.Where, Pads: s.Pads, Value: value, Unit: s.Unit, Text: r.Text, Words: r.Words}
}
