package cases

import (
	"fmt"
	"math"
	"slices"

	"bushtune/compliance"
)

// Study is one axle under all cases: change slots with Set, call Update, read
// values. It allocates only when it is made and when parts or figures are asked
// for. Not safe for use by two goroutines.
type Study struct {
	rig     rig
	vehicle Vehicle
	states  []State
	custom  []Case // the author's own
	cases   []Case

	loads      []*load // cases, then states
	firstState int
	sensors    []*sensor
	answers    []answerOf
	numbers    []number
	absent     []Absent
	bushes     []bush

	symmetric   bool
	turns       int // 1: to the left; 2: both
	wheelsMoved bool
	generation  int // counts updates
	room        gradientRoom
	parts       partRoom
	atSize      atSize
}

// NewStudy makes a study of the built-in cases and states, the custom cases and
// the author's own states. The axle's static load is that of the vehicle. The
// error is that of the model, a vehicle value that is missing for the static load
// or the tyre in series, or a name used twice.
func NewStudy(axle *compliance.Axle, vehicle Vehicle, custom []Case, states []State) (*Study, error) {
	return newStudy(axle, vehicle, custom, states, false)
}

// NewStudyBothTurns is NewStudy with every built-in case run in both turns even
// while the halves are alike: for an axle that is to be changed on one side only.
func NewStudyBothTurns(axle *compliance.Axle, vehicle Vehicle, custom []Case, states []State) (*Study, error) {
	return newStudy(axle, vehicle, custom, states, true)
}

func newStudy(axle *compliance.Axle, vehicle Vehicle, custom []Case, states []State, bothTurns bool) (*Study, error) {
	static, missing := vehicle.Static()
	if missing != nil {
		return nil, fmt.Errorf("vehicle: the static load needs %s", list(missing))
	}
	loaded := axle.Clone()
	loaded.Static = static
	solver, err := compliance.NewSolver(loaded)
	if err != nil {
		return nil, withUnheld(err, loaded)
	}
	s := &Study{rig: rig{solver: solver}, vehicle: vehicle, generation: 1, turns: 1}
	if vehicle.TyreInSeries {
		if missing := vehicle.missing([]int{slotTyreRate}); missing != nil {
			return nil, fmt.Errorf("vehicle: a tyre in series with the pads needs %s", list(missing))
		}
		s.rig.tyre = 1 / vehicle.TyreRate
	}
	s.rig.place()
	if s.rig.track <= 0 {
		return nil, fmt.Errorf("the left contact point lies %.6g mm to the right of the right one: left-hand values have y > 0 on the left", -s.rig.track)
	}
	s.symmetric = isSymmetric(solver) && curvesAlike(solver.Axle())
	if bothTurns || !s.symmetric {
		s.turns = 2
	}
	s.states, s.custom = append(BuiltInStates(), states...), custom
	if err := s.list(custom); err != nil {
		return nil, err
	}
	s.listBushes()
	s.solveCases()
	return s, s.CheckParts()
}

// Again makes the same study, of the same cases, states and turns, of another axle.
func (s *Study) Again(axle *compliance.Axle) (*Study, error) {
	return newStudy(axle, s.vehicle, s.custom, s.states[len(BuiltInStates()):], s.turns == 2)
}

// Symmetric tells whether both halves of the axle were mirror images when the
// study was made; if not, every built-in case is run in both turns.
func (s *Study) Symmetric() bool { return s.symmetric }

// mirrorTolerance is the share of an entry of C by which two halves may differ
// and still count as mirror images. A stiffness of condition number κ leaves more
// by rounding: roundingShare·κ.
const (
	mirrorTolerance = 1e-9
	roundingShare   = 0x1p-50
)

// isSymmetric compares C with its mirror image and the wheels with each other.
func isSymmetric(solver *compliance.Solver) bool {
	wheels := solver.Axle().Wheels
	if !slices.Equal(wheels[0].Slots, wheels[1].Slots) {
		return false
	}
	unlike := unlikeness(solver.Compliance())
	return unlike <= mirrorTolerance || unlike <= roundingShare*solver.Condition()
}

// unlikeness is the largest difference between C and its mirror image, each as a
// share of the diagonal entries of its row and column.
func unlikeness(c *[compliance.Ports * compliance.Ports]float64) float64 {
	sign := [6]float64{1, -1, 1, -1, 1, -1}
	worst := 0.0
	for i := range compliance.Ports {
		for j := range compliance.Ports {
			own := c[i*compliance.Ports+j]
			mirrored := sign[i%6] * sign[j%6] * c[(i+6)%12*compliance.Ports+(j+6)%12]
			scale := math.Sqrt(c[i*(compliance.Ports+1)] * c[j*(compliance.Ports+1)])
			worst = max(worst, math.Abs(own-mirrored)/scale)
		}
	}
	return worst
}

// Set changes one slot of the axle, in internal units; Update makes it count.
func (s *Study) Set(slot compliance.Slot, value float64) {
	s.rig.solver.Set(slot, value)
	s.wheelsMoved = s.wheelsMoved || slot.Element < 0
}

// Update solves the axle and every case for the present slots. The error is
// that of the model; then nothing else is valid.
func (s *Study) Update() error {
	if err := s.rig.solver.Update(); err != nil {
		return err
	}
	if s.wheelsMoved {
		s.rig.place()
		s.wheelsMoved = false
	}
	s.generation++
	s.solveCases()
	return nil
}

// solveCases finds the motions of all cases. States are found when asked for.
func (s *Study) solveCases() {
	s.rig.measure()
	for _, l := range s.loads[:s.firstState] {
		l.solve(&s.rig)
	}
}

// turn is 0 if the right wheel is the outer one, else 1.
func turn(outer int) int { return RightWheel - outer }

// Solver is the model under the study, with its slots.
func (s *Study) Solver() *compliance.Solver { return s.rig.solver }

// Cases lists the load cases that are run, in order.
func (s *Study) Cases() []Case { return s.cases }

// States lists the states of the vehicle, offered or not.
func (s *Study) States() []State { return s.states }

// Numbers lists every number that can be read, named ones first.
func (s *Study) Numbers() []Number {
	all := make([]Number, len(s.numbers))
	for i := range s.numbers {
		all[i] = s.numbers[i].Number
	}
	return all
}

// Absent lists the numbers that are not offered and what they need.
func (s *Study) Absent() []Absent { return s.absent }

// Value is the number in internal units; in a state that of the state at its size,
// not a number if the axle cannot reach it: Lost says why.
func (s *Study) Value(index int) float64 {
	n := &s.numbers[index]
	if n.state >= 0 {
		return s.valueInState(n)
	}
	if n.formula.plain {
		return s.answers[n.answers[0]].value(&s.rig)
	}
	in := inputs[float64]{track: s.rig.track, vehicle: &s.vehicle}
	for i, a := range n.answers[:n.count] {
		in.z[i] = s.answers[a].value(&s.rig)
	}
	return n.formula.value(in)
}
