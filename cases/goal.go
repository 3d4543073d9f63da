package cases

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Goal is a number of the study under a load of any size.
type Goal struct {
	Number int // its index in the study
	// Size is the load on a wheel in N, of a case without a force the moment in
	// N·mm, of a state its lateral acceleration, or its braking if it has none, in
	// mm/s². Zero: the number of the study, which is linear, or of a state at its own
	// accelerations.
	// A number per load is then the secant; one under a load of the author's or in a
	// state is what it is under that load.
	Size float64
	// Straight asks how far the number is off the straight line through the design
	// position: less the linear number, or less its share of the author's load.
	Straight bool
}

// goalLoad is the load in which a number is read, nil if it needs two.
func (s *Study) goalLoad(n *number) *load {
	l := s.answers[n.answers[0]].load
	for _, a := range n.answers[:n.count] {
		if s.answers[a].load != l {
			return nil
		}
	}
	return l
}

// goalImposed is the load of a goal, to be put on at any size.
func (s *Study) goalImposed(l *load) *imposed {
	if l.state >= 0 {
		return newImposedState(l.Case, &s.states[l.state], &s.vehicle)
	}
	return newImposed(l.Case, [2]float64{})
}

// AtSize tells whether a goal is found by large movements: it has a size, or it is
// the number of a state.
func (s *Study) AtSize(g Goal) bool { return g.Size != 0 || s.numbers[g.Number].state >= 0 }

// CheckGoal says why a goal has no value, or nil.
func (s *Study) CheckGoal(g Goal) error {
	n := &s.numbers[g.Number]
	l := s.goalLoad(n)
	switch {
	case g.Size == 0 && !g.Straight:
		return nil
	case g.Size == 0:
		return fmt.Errorf("straightness needs a size up to which it counts")
	case l == nil:
		return fmt.Errorf("%s is made from two cases, so it has no size of load", n.Name)
	case g.Straight && l.state >= 0:
		return fmt.Errorf("the forces of %s do not grow in proportion to its accelerations, so there is no straight line", l.Name)
	}
	return nil
}

// SizeUnit is the written unit of the size of a number's load: kN, N·m or g.
func (s *Study) SizeUnit(index int) quantity.Unit {
	on := s.goalImposed(s.answers[s.numbers[index].answers[0]].load)
	switch on.symbol.Unit {
	case quantity.Gravity.Name:
		return quantity.Gravity
	case quantity.NewtonMetre.Name:
		return quantity.NewtonMetre
	}
	return quantity.Kilonewton
}

// Goals writes the value of every goal at the study's present slots and, unless
// slopes is nil, slopes[k][j] = ∂values[k]/∂slots[j], exact: by the implicit
// function theorem at each equilibrium, with what the slots do to the loads of a
// state. Goals under one load of one size share an equilibrium, larger sizes
// start from smaller ones. The error is that of CheckGoal, or a *LostWay, of a state
// without its place: HowFar finds it.
func (f *FullSize) Goals(goals []Goal, values []float64, slots []compliance.Slot, slopes [][]float64) error {
	var last goalPlace
	for _, k := range f.inOrder(goals) {
		g := &goals[k]
		if err := f.study.CheckGoal(*g); err != nil {
			return err
		}
		var row []float64
		if slopes != nil {
			row = slopes[k][:len(slots)]
		}
		if err := f.goal(g, &last, &values[k], slots, row); err != nil {
			return err
		}
	}
	return nil
}

// Foretell writes what Goals would, but the numbers of states from how the axle begins
// to move towards them: near enough to tell one axle from another at a sixth of the
// cost. The error is that of Goals.
func (f *FullSize) Foretell(goals []Goal, values []float64) error {
	if err := f.Reset(); err != nil {
		return err
	}
	var first rate
	first.increment = f.mover.NewIncrement()
	for k := range goals {
		n := &f.study.numbers[goals[k].Number]
		if n.state < 0 {
			continue
		}
		if err := f.study.CheckGoal(goals[k]); err != nil {
			return err
		}
		on := f.study.goalImposed(f.study.goalLoad(n))
		begins, err := f.leaningRate(on)
		if err != nil {
			return &LostWay{What: on.Name, Place: math.NaN(), Unit: on.symbol.Unit, Cause: err}
		}
		d := on.demandAlong(f.leaning, begins)
		f.follow(&d, &first)
		values[k] = f.read(n, &first.wheels, 1/on.share(goals[k].Size))
	}
	for k := range goals {
		if f.study.numbers[goals[k].Number].state >= 0 {
			continue
		}
		if err := f.Goals(goals[k:k+1], values[k:k+1], nil, nil); err != nil {
			return err
		}
	}
	return nil
}

// inOrder lists goals by load, then by size.
func (f *FullSize) inOrder(goals []Goal) []int {
	order := make([]int, len(goals))
	for k := range order {
		order[k] = k
	}
	loadOf := func(k int) int {
		return f.indexOf(f.study.answers[f.study.numbers[goals[k].Number].answers[0]].load)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(loadOf(a), loadOf(b)), cmp.Compare(goals[a].Size, goals[b].Size))
	})
	return order
}

// goalPlace is the equilibrium of the goal before.
type goalPlace struct {
	load  *load
	on    *imposed
	share float64
}

// goal writes value and slopes of one goal.
func (f *FullSize) goal(g *Goal, at *goalPlace, value *float64, slots []compliance.Slot, row []float64) error {
	*value = 0
	clear(row)
	linear := 1.0 // factor of the linear number
	if f.study.AtSize(*g) {
		if err := f.goTo(g, at); err != nil {
			return err
		}
		over := at.over()
		linear = 0
		if g.Straight {
			linear = -at.share / over
		}
		*value = f.secant(&f.study.numbers[g.Number], over)
		if row != nil {
			f.goalSlopes(&f.study.numbers[g.Number], at, slots, row)
		}
	}
	if linear == 0 {
		return nil
	}
	*value += linear * f.study.Value(g.Number)
	if row != nil {
		straight := [][]float64{make([]float64, len(slots))}
		f.study.Gradient([]int{g.Number}, slots, straight)
		for j, v := range straight[0] {
			row[j] += linear * v
		}
	}
	return nil
}

// goTo moves to the load of a goal, from the design position unless the axle is
// under a smaller one of the same kind.
func (f *FullSize) goTo(g *Goal, at *goalPlace) error {
	l := f.study.goalLoad(&f.study.numbers[g.Number])
	if at.load != l {
		*at = goalPlace{load: l, on: f.study.goalImposed(l)}
		if err := f.Reset(); err != nil {
			return &LostWay{What: at.on.Name, Unit: at.on.symbol.Unit, Cause: err}
		}
	}
	share := at.on.share(g.Size)
	if share == at.share {
		return nil
	}
	if err := f.reach(at.on, share, searchStride); err != nil {
		*at = goalPlace{}
		return err
	}
	at.share = share
	return nil
}

// reach moves to a share of a case or state, of a state in strides down to a least part
// of the way; both wheels must stand on the ground there. The error is a *LostWay.
func (f *FullSize) reach(on *imposed, share, least float64) error {
	lose := func(place float64, why error) error {
		return &LostWay{What: on.Name, Place: on.written(place * on.size), Unit: on.symbol.Unit, Cause: why}
	}
	if on.state == nil {
		reached, err := f.impose(on, share)
		if err != nil {
			return lose(reached, err)
		}
		return nil
	}
	reached, err := f.walk(on, share, least)
	f.imposedShare = reached
	switch lifts := f.offGround(on); { // a wheel off the ground may be why balance was lost
	case lifts && least > smallestStride:
		return lose(math.NaN(), f.liftedHere(on))
	case lifts:
		lifted := f.lifted(on)
		return lose(lifted.share, lifted)
	case err != nil && least > smallestStride:
		return lose(math.NaN(), err)
	case err != nil:
		return lose(reached, err)
	}
	return nil
}

// HowFar says how far the axle comes under the load of a goal: nil if it holds it, else
// a *LostWay with its place. It looks longer than Goals, which a search asks of
// thousands of axles: Goals may give up an axle that just holds a state.
func (f *FullSize) HowFar(g Goal) error {
	if !f.study.AtSize(g) {
		return nil
	}
	on := f.study.goalImposed(f.study.goalLoad(&f.study.numbers[g.Number]))
	if err := f.Reset(); err != nil {
		return &LostWay{What: on.Name, Unit: on.symbol.Unit, Cause: err}
	}
	return f.reach(on, on.share(g.Size), smallestStride)
}

// share is how much of a load a size is; a size of zero is the load itself.
func (i *imposed) share(size float64) float64 {
	if size == 0 {
		return 1
	}
	return size / i.size
}

// over is by what movements are divided: the share for numbers per load, 1 for
// those under the load itself.
func (at *goalPlace) over() float64 {
	if at.on.Per == TheLoad {
		return 1
	}
	return at.share
}

// secant is a number from the movements at the present posture.
func (f *FullSize) secant(n *number, over float64) float64 { return f.read(n, &f.moved, over) }

// read is a number from movements, divided as it is per load.
func (f *FullSize) read(n *number, moved *[2]movement, over float64) float64 {
	in := inputs[float64]{track: f.track(), vehicle: &f.study.vehicle}
	for k, a := range n.answers[:n.count] {
		answer := &f.study.answers[a]
		in.z[k] = answer.sensor.sense(moved) * answer.scale / over
	}
	return n.formula.value(in)
}

// goalSlopes writes the derivatives of a number at the present posture. All that
// it reads, the track included, is one reading with the slopes of the formula as
// weights; the track at the design position comes on top, and in a state the lean
// of the body and the transfer of wheel load, which follow from its balance.
func (f *FullSize) goalSlopes(n *number, at *goalPlace, slots []compliance.Slot, row []float64) {
	s, over := f.study, at.over()
	in := inputs[complex128]{track: complex(f.track(), 0), vehicle: &s.vehicle}
	for k, a := range n.answers[:n.count] {
		answer := &s.answers[a]
		in.z[k] = complex(answer.sensor.sense(&f.moved)*answer.scale/over, 0)
	}
	var what compliance.Reading
	for k, a := range n.answers[:n.count] {
		answer := &s.answers[a]
		answer.sensor.addTo(&what, n.formula.slope(in, k)*answer.scale/over)
	}
	byTheTrack := n.formula.slope(in, byTrack)
	addTrack(&what, byTheTrack)
	if at.on.state == nil || at.on.state.Lateral == 0 {
		f.slopesOf([]compliance.Reading{what}, []float64{byTheTrack}, slots, [][]float64{row})
		return
	}
	angle, moment, tracks := f.unbalanceReadings(at.on)
	rows := [][]float64{row, make([]float64, len(slots)), make([]float64, len(slots))}
	f.slopesOf([]compliance.Reading{what, angle, moment}, []float64{byTheTrack, tracks[0], tracks[1]}, slots, rows)
	j, _ := f.unbalanceSlopes(at.on)
	byLean, byTransfer := f.rateOf(&what, at.on, leaning[float64]{lean: 1}), f.rateOf(&what, at.on, leaning[float64]{transfer: 1})
	for k := range row {
		follows := solvePair(j, [2]float64{-rows[1][k], -rows[2][k]})
		row[k] += byLean*follows[0] + byTransfer*follows[1]
	}
}

// addTrack adds a weight on the track to a reading.
func addTrack(what *compliance.Reading, weight float64) {
	what[LeftWheel].Contact[1] += weight
	what[RightWheel].Contact[1] -= weight
}

// slopesOf writes the derivatives of readings at the present posture, each with a
// weight on the track at the design position, the loads held.
func (f *FullSize) slopesOf(what []compliance.Reading, tracks []float64, slots []compliance.Slot, rows [][]float64) {
	f.mover.Slopes(what, slots, rows)
	s := f.study
	s.clearWeights()
	s.differentiate(slots)
	for k, row := range rows {
		for j, v := range s.room.track {
			row[j] += tracks[k] * v
		}
	}
}

// unbalanceReadings are both unbalances of a state as readings of the wheels, with
// their slopes by the track.
func (f *FullSize) unbalanceReadings(on *imposed) (angle, moment compliance.Reading, tracks [2]float64) {
	here := f.stance(on.Outer)
	by := func(rate stance[float64]) (a, m float64) {
		x, y := unbalance(on.state, on.vehicle, f.leaning.along(leaning[float64]{}), here.along(rate))
		return exact.Derivative(x), exact.Derivative(y)
	}
	var apart, inward, rise [2]float64
	apart[0], apart[1] = by(stance[float64]{apart: 1})
	tracks[0], tracks[1] = by(stance[float64]{track: 1})
	inward[0], inward[1] = by(stance[float64]{inward: 1})
	rise[0], rise[1] = by(stance[float64]{rise: 1})
	for k, what := range [2]*compliance.Reading{&angle, &moment} {
		addTrack(what, tracks[k])
		for w := range what {
			what[w].Contact[1] += towardInside(on.Outer) * inward[k] / 2
			what[w].Contact[2] += rise[k] / 2
		}
		what[on.Outer].Contact[2] += apart[k]
		what[1-on.Outer].Contact[2] -= apart[k]
	}
	return angle, moment, tracks
}

// rateOf is how fast a reading changes at a rate of the leaning of a state.
func (f *FullSize) rateOf(what *compliance.Reading, on *imposed, rate leaning[float64]) float64 {
	d := on.demandAlong(f.leaning, rate)
	sum := 0.0
	for w, m := range f.mover.Rates(&d) {
		r := &what[w]
		sum += r.Toe*m.Toe + r.Camber*m.Camber + r.WindUp*m.WindUp + r.Centre.Dot(m.Centre) + r.Contact.Dot(m.Contact) + r.Locked.Dot(m.Locked) + r.Pad*m.Pad
	}
	return sum
}

// addTo adds factor times a sensor to a reading.
func (a *sensor) addTo(out *compliance.Reading, factor float64) {
	for w, v := range a.pads {
		out[w].Pad += factor * v
	}
	for _, t := range a.terms {
		v, on := factor*t.factor, &out[t.wheel]
		switch t.direction {
		case toe:
			on.Toe += v
		case camber:
			on.Camber += v
		case windUp:
			on.WindUp += v
		case centreX, centreY, centreZ:
			on.Centre[t.direction-centreX] += v
		case patchX, patchY, patchZ:
			on.Contact[t.direction-patchX] += v
		case lockedX, lockedY:
			on.Locked[t.direction-lockedX] += v
		}
	}
}
