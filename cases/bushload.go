package cases

import (
	"fmt"
	"math"

	"bushtune/bushing"
)

// BushLoad is what one bush carries in one case or state, in the order of
// bushing.Direction: along soft, axial, stiff, then about them. Plus is the inner
// sleeve moving or turning that way against the outer, in left-hand terms.
type BushLoad struct {
	Element string
	Case    string
	Rest    [6]float64 // N, N·mm at rest; zero if no static load is included
	Load    [6]float64 // N, N·mm on top of rest
	Travel  [6]float64 // mm, rad of the rubber on top of rest, bracket not counted

	element int
}

// bush is one bush of the axle: its element, its name, its first line in a
// strain vector.
type bush struct {
	element int
	label   string
	line    int
	bracket int // slot of the bracket's rate
}

// listBushes finds the bushes. One given by a full matrix has no axes of its own
// and is left out.
func (s *Study) listBushes() {
	axle := s.rig.solver.Axle()
	for i := range axle.Elements {
		e := &axle.Elements[i]
		if _, is := e.Bush(); is {
			s.bushes = append(s.bushes, bush{i, e.Label(), s.rig.solver.FirstLine(i), e.Kind.FieldIndex("bracket")})
		}
	}
}

// BushLoads lists load and travel of every bush in every case and state, case by
// case; a bush given by a full matrix is not listed. In a state they are those at its
// size; a state that the axle cannot reach is left out.
func (s *Study) BushLoads() []BushLoad { return s.appendBushLoads(nil) }

func (s *Study) appendBushLoads(all []BushLoad) []BushLoad {
	for _, l := range s.loads[:s.firstState] {
		all = s.appendBushesUnder(l, all)
	}
	for _, l := range s.loads[s.firstState:] {
		all = s.appendBushesInState(l, all)
	}
	return all
}

// appendBushesUnder reads the bushes in a case.
func (s *Study) appendBushesUnder(l *load, all []BushLoad) []BushLoad {
	l.update(&s.rig, s.generation)
	l.stretch(&s.rig, s.generation)
	for i := range s.bushes {
		all = append(all, BushLoad{Element: s.bushes[i].label, Case: l.Name, element: s.bushes[i].element})
		s.readBush(l, &s.bushes[i], &all[len(all)-1])
	}
	return all
}

// appendBushesInState reads the bushes in a state at its size.
func (s *Study) appendBushesInState(l *load, all []BushLoad) []BushLoad {
	if s.settle(l).lost != nil || s.standUnder(l) != nil {
		return all
	}
	for i := range s.bushes {
		all = append(all, s.atSize.full.bushMoved(&s.bushes[i], l.Name))
	}
	return all
}

// readBush reads one bush under one load. What the bracket gives is taken off
// the travel: the rubber keeps the share bracket/(rate + bracket).
func (s *Study) readBush(l *load, b *bush, out *BushLoad) {
	solver := s.rig.solver
	sense := solver.Axle().Elements[b.element].Choice.InnerSense()
	copy(out.Travel[:], l.strain[b.line:])
	solver.Loads(b.element, out.Travel[:], out.Load[:])
	for i := range out.Rest {
		out.Rest[i] = sense * solver.StaticLoad(b.element, i)
		out.Travel[i] *= sense
		out.Load[i] *= sense
	}
	s.takeOffBracket(b, out)
}

// takeOffBracket leaves of a bush's travel what the rubber moves.
func (s *Study) takeOffBracket(b *bush, out *BushLoad) {
	bracket := s.bracketOf(b)
	if bracket == 0 {
		return
	}
	for i := range 3 {
		out.Travel[i] -= out.Load[i] / bracket
	}
}

// bracketOf is the rate of a bush's bracket in N/mm; 0: rigid.
func (s *Study) bracketOf(b *bush) float64 {
	return s.rig.solver.Axle().Elements[b.element].Slots[b.bracket]
}

// Usage is a load or travel of a bush beside the limit it is given.
type Usage struct {
	What, Unit string
	Value      float64 // in Unit
	Limit      float64 // in Unit; 0: none given
}

// Over tells whether the limit is exceeded.
func (u Usage) Over() bool { return u.Limit > 0 && u.Value > u.Limit }

// Usages compares the load, rest included, and the travel of a bush with its
// limits. Radial is across the bush axis.
func (s *Study) Usages(b *BushLoad) [4]Usage {
	limits, _ := s.rig.solver.Axle().Elements[b.element].Bush()
	total := func(d bushing.Direction) float64 { return b.Rest[d] + b.Load[d] }
	return [4]Usage{
		{"radial load", "N", math.Hypot(total(bushing.Soft), total(bushing.Stiff)), limits.MaxRadialLoad},
		{"axial load", "N", math.Abs(total(bushing.Axial)), limits.MaxAxialLoad},
		{"radial travel", "mm", math.Hypot(b.Travel[bushing.Soft], b.Travel[bushing.Stiff]), limits.MaxRadialTravel},
		{"axial travel", "mm", math.Abs(b.Travel[bushing.Axial]), limits.MaxAxialTravel},
	}
}

// Warnings are footnotes to the answer: what it leaves out, a state that the axle
// cannot reach, a bush beyond its limits.
func (s *Study) Warnings() []string {
	var all []string
	if !s.rig.solver.Loaded() {
		all = append(all, "static load: not included")
	}
	if s.turns == 2 {
		why := "the two halves of the axle differ"
		if s.symmetric {
			why = "the two halves of the axle may come to differ"
		}
		all = append(all, fmt.Sprintf("%s: every built-in case is also run turning right, with the suffix %q", why, TurnRight))
	}
	all = append(all, s.Unheld()...)
	all = append(all, s.roundWarnings()...)
	all = append(all, s.outsideWarnings()...)
	all = append(all, s.stateWarnings()...)
	return append(all, s.limitWarnings()...)
}

// statesAre says what the numbers of states hold and what they leave out.
const statesAre = "states: numbers and bush loads are those of the state at its size, the load transfer that of the axle there, the ground tilted by the lean of the body. " +
	"Not counted: pitch of the body, inertia of the wheels, deflection of the tyres"

// stateWarnings say how states are found, and name each that the axle cannot reach with
// how far it comes.
func (s *Study) stateWarnings() []string {
	if s.firstState == len(s.loads) {
		return nil
	}
	all := []string{statesAre}
	for _, l := range s.loads[s.firstState:] {
		if lost := s.settle(l).lost; lost != nil {
			all = append(all, fmt.Sprintf("%v; the state %q has no figures", lost, l.Title))
		}
	}
	return all
}
