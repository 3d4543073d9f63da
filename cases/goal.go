package cases

import (
	"cmp"
	"fmt"
	"slices"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Goal is a number of the study under a load of any size.
type Goal struct {
	Number int // its index in the study
	// Size is the load on a wheel in N, of a case without a force the moment in
	// N·mm, of a state its lateral acceleration, or its braking if it has none, in
	// mm/s². Zero: the linear number.
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
		return newImposedState(l.Case, &s.states[l.state])
	}
	return newImposed(l.Case, [2]float64{})
}

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
// start from smaller ones. The error is that of CheckGoal, or a *LostWay.
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
	if g.Size != 0 {
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
	share := g.Size / at.on.size
	if share == at.share {
		return nil
	}
	d := f.demandAt(at.on, share)
	if err := f.solve(&d); err != nil {
		reached := at.share
		var lost *compliance.LostBalance
		if isLost(err, &lost) {
			reached += lost.Fraction * (share - at.share)
		}
		return &LostWay{What: at.on.Name, Place: at.on.written(reached * at.on.size), Unit: at.on.symbol.Unit, Cause: err}
	}
	at.share = share
	return nil
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
func (f *FullSize) secant(n *number, over float64) float64 {
	in := inputs[float64]{track: f.track(), vehicle: &f.study.vehicle}
	for k, a := range n.answers[:n.count] {
		answer := &f.study.answers[a]
		in.z[k] = answer.sensor.sense(&f.moved) * answer.scale / over
	}
	return n.formula.value(in)
}

// goalSlopes writes the derivatives of a number at the present posture. All that
// it reads, the track included, is one reading with the slopes of the formula as
// weights; the track at the design position and the loads of a state come on top.
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
	what[LeftWheel].Contact[1] += byTheTrack
	what[RightWheel].Contact[1] -= byTheTrack
	f.mover.Slopes([]compliance.Reading{what}, slots, [][]float64{row})
	s.clearWeights()
	s.addWeight(byTrack, byTheTrack)
	if at.on.state != nil && at.on.state.Lateral != 0 {
		st := at.on.stateAt(at.share)
		s.weighTransfer(&st, at.on.Outer, f.byTransfer(&what, at, &st))
	}
	s.differentiate(slots)
	s.room.addSlopes(s.room.weights, row)
}

// byTransfer is the derivative of a reading by the lateral transfer of a state.
func (f *FullSize) byTransfer(what *compliance.Reading, at *goalPlace, st *State) float64 {
	v := &f.study.vehicle
	outer, inner := forceRates(st, v, lateralTransfer(st, v, f.study.rollBehaviour(at.on.Outer)))
	d := at.on.demand(&outer, &inner)
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
