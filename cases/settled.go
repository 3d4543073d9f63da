package cases

import (
	"math"

	"bushtune/compliance"
)

// atSize is the study's own axle at full size, on which its states are found.
type atSize struct {
	full       *FullSize
	generation int   // of the study that it has taken over
	under      *load // the state that it stands under; nil: none
}

// settled is how a state stands at its size.
type settled struct {
	generation int // of the study for which it is current
	moved      [2]movement
	track      float64
	lost       error // why the axle cannot reach the state: *LostWay
}

// settle finds how a state stands, once a generation.
func (s *Study) settle(l *load) *settled {
	at := &l.settled
	if at.generation != s.generation {
		*at = settled{generation: s.generation, lost: s.standUnder(l)}
		if at.lost == nil {
			at.moved, at.track = s.atSize.full.moved, s.atSize.full.track()
		}
	}
	return at
}

// standUnder moves the study's axle to a state from the design position, so that the
// way does not depend on what was asked before.
func (s *Study) standUnder(l *load) (err error) {
	a := &s.atSize
	if a.full != nil && a.generation == s.generation && a.under == l {
		return nil
	}
	a.under = nil
	if a.full == nil {
		a.full, err = NewFullSize(s)
	} else {
		err = a.full.Reset()
	}
	on := s.goalImposed(l)
	if err != nil {
		return &LostWay{What: l.Name, Unit: on.symbol.Unit, Cause: err}
	}
	a.generation = s.generation
	if err := a.full.reach(on, 1, smallestStride); err != nil {
		return err
	}
	a.under = l
	return nil
}

// valueInState is a number of a state.
func (s *Study) valueInState(n *number) float64 {
	at := s.settle(s.answers[n.answers[0]].load)
	if at.lost != nil {
		return math.NaN()
	}
	in := inputs[float64]{track: at.track, vehicle: &s.vehicle}
	for k, a := range n.answers[:n.count] {
		answer := &s.answers[a]
		in.z[k] = answer.sensor.sense(&at.moved) * answer.scale
	}
	return n.formula.value(in)
}

// slopesInState writes the derivatives of a number of a state.
func (s *Study) slopesInState(n *number, slots []compliance.Slot, row []float64) {
	l := s.answers[n.answers[0]].load
	if s.settle(l).lost != nil || s.standUnder(l) != nil {
		for j := range row {
			row[j] = math.NaN()
		}
		return
	}
	s.atSize.full.goalSlopes(n, &goalPlace{load: l, on: s.goalImposed(l), share: 1}, slots, row)
}

// Lost says why a number has no value: its state lies beyond what the axle can hold,
// or a wheel has lifted before; a *LostWay with the place. Nil for a number that has a
// value.
func (s *Study) Lost(index int) error {
	n := &s.numbers[index]
	if n.state < 0 {
		return nil
	}
	return s.settle(s.answers[n.answers[0]].load).lost
}

// Cause is the part of one cause in the toe of the outer wheel in a state at its size.
type Cause struct {
	Name  string  // "roll", "lateral_force", "aligning_torque", "load", "braking_force"
	Title string  // "roll: the contact points move apart in height"
	Value float64 // rad
}

// causePoints are the points of the way to a state in which its causes are summed; steps
// are halved where that is not enough.
const causePoints = 5

// Causes splits the toe of the outer wheel in a state as OuterToe does; the causes sum
// to it. Nil for another number, or a state that the axle cannot reach.
func (s *Study) Causes(index int) []Cause {
	n := &s.numbers[index]
	if n.state < 0 || n.Name != totalOuterToe || s.settle(s.answers[n.answers[0]].load).lost != nil {
		return nil
	}
	s.atSize.under = nil
	curve, err := s.atSize.full.OuterToe(n.Case, 0, causePoints)
	if err != nil {
		return nil
	}
	var all []Cause
	left, size := s.Value(index), 0.0
	for _, c := range curve.Causes {
		value := c.Points[causePoints-1].Value * n.Unit.Factor
		all = append(all, Cause{c.Where, c.Title, value})
		left, size = left-value, size+math.Abs(value)
	}
	for i := range all { // the two ways to the state end a rounding of the mover apart
		if size > 0 {
			all[i].Value += left * math.Abs(all[i].Value) / size
		}
	}
	return all
}
