package cases

import (
	"context"
	"errors"
	"fmt"
	"math"

	"bushtune/compliance"
)

// FullSize moves the axle of a study as far as it really goes: by any travel of
// its pads and under loads of any size. The body is fixed, as in the study. At
// every posture it reads the same numbers as the study, from the tangent there;
// at the design position they are those of the study. Make a new one, or Reset
// it, after an Update of the study. Not safe for use by two goroutines.
type FullSize struct {
	study        *Study
	mover        *compliance.Mover
	demand       compliance.Demand // that holds the axle where it is
	leaning      leaning[float64]  // of the state that it is in
	imposedShare float64           // of the case, event or state that it is under
	spent        int               // evaluations before the last return to the design position

	basis    [2]rate     // what one pad alone does: see prepareBasis
	tangents []rate      // to every load of the study, per its own size
	fresh    []int       // posture for which each tangent is current
	based    int         // the same for the basis
	posture  int         // counts postures
	moved    [2]movement // from the design position

	until context.Context // whose end stops every movement

	beams          []drawnBeam // for stresses
	withoutOutline []string    // warnings of beams that have none
}

// movement is how far one wheel has moved, or its rate: along every direction,
// in mm and rad, and the force of its pad in N.
type movement struct {
	along [directions]float64
	pad   float64
}

// rate is the rate of both wheels and of all freedoms under a rate of load.
type rate struct {
	wheels    [2]movement
	increment compliance.Increment
}

// NewFullSize starts at the design position of a study.
func NewFullSize(s *Study) (*FullSize, error) {
	mover, err := compliance.NewMover(s.rig.solver)
	if err != nil {
		return nil, err
	}
	f := &FullSize{study: s, mover: mover, posture: 1, until: context.Background()}
	for i := range f.basis {
		f.basis[i].increment = mover.NewIncrement()
	}
	f.tangents, f.fresh = make([]rate, len(s.loads)), make([]int, len(s.loads))
	for i := range f.tangents {
		f.tangents[i].increment = mover.NewIncrement()
	}
	f.drawBeams()
	return f, nil
}

// Reset goes back to the design position and takes over the study's present
// slots. The error is that of a design position out of balance.
func (f *FullSize) Reset() error {
	f.spent += f.mover.Evaluations()
	f.demand, f.leaning, f.imposedShare = compliance.Demand{}, leaning[float64]{}, 0
	f.moved = [2]movement{}
	f.posture++
	f.drawBeams()
	return f.mover.Reset()
}

// Evaluations counts residuals with tangents since the FullSize was made.
func (f *FullSize) Evaluations() int { return f.spent + f.mover.Evaluations() }

// Mover is the model that moves, at its present posture.
func (f *FullSize) Mover() *compliance.Mover { return f.mover }

// Until makes every movement from now on stop with the error of ctx once that is
// done.
func (f *FullSize) Until(ctx context.Context) { f.until = ctx }

// solve moves to a demand.
func (f *FullSize) solve(d *compliance.Demand) error {
	if err := f.until.Err(); err != nil {
		return err
	}
	return f.arrive(d, f.mover.Solve(d))
}

// step moves to a demand in one load step or not at all.
func (f *FullSize) step(d *compliance.Demand) error {
	if err := f.until.Err(); err != nil {
		return err
	}
	return f.arrive(d, f.mover.Step(d))
}

// arrive takes over where the mover has come under a demand, unless that failed.
func (f *FullSize) arrive(d *compliance.Demand, err error) error {
	if err != nil {
		return err
	}
	f.demand = *d
	f.posture++
	for w := range f.moved {
		f.moved[w] = movementOf(f.mover.Wheel(w))
	}
	return nil
}

// keep returns the way back to the present posture.
func (f *FullSize) keep() (back func()) {
	moverBack, demand, leans, moved := f.mover.Keep(), f.demand, f.leaning, f.moved
	return func() {
		moverBack()
		f.demand, f.leaning, f.moved = demand, leans, moved
		f.posture++
	}
}

// movementOf takes over what the mover reads. Yaw is no reading.
func movementOf(m compliance.WheelMotion) movement {
	return movement{pad: m.Pad, along: [directions]float64{
		toe: m.Toe, camber: m.Camber, windUp: m.WindUp,
		centreX: m.Centre[0], centreY: m.Centre[1], centreZ: m.Centre[2],
		patchX: m.Contact[0], patchY: m.Contact[1], patchZ: m.Contact[2],
		lockedX: m.Locked[0], lockedY: m.Locked[1],
	}}
}

// follow writes the slopes of everything that has moved since the design position
// at a rate of the demand.
func (f *FullSize) follow(d *compliance.Demand, out *rate) {
	for w, m := range f.mover.Advance(d, &out.increment) {
		out.wheels[w] = movementOf(m)
	}
}

// advance is the same for a small movement more at the present posture: a brake is
// locked there, not since the design position.
func (f *FullSize) advance(d *compliance.Demand, out *rate) {
	f.follow(d, out)
	for w := range out.wheels {
		here := f.mover.LockedHere(w, &out.increment)
		out.wheels[w].along[lockedX], out.wheels[w].along[lockedY] = here[0], here[1]
	}
}

// add adds factor times another rate.
func (r *rate) add(other *rate, factor float64) {
	r.increment.Add(&other.increment, factor)
	for w := range r.wheels {
		a, b := &r.wheels[w], &other.wheels[w]
		for i, v := range b.along {
			a.along[i] += factor * v
		}
		a.pad += factor * b.pad
	}
}

// held tells whether pads hold the wheels at the present posture.
func (f *FullSize) held() bool { return f.demand.Pads[0].Held }

// prepareBasis makes the basis current: the rate of each pad's height where pads
// hold the wheels, of 1 N up at each contact point where they float.
func (f *FullSize) prepareBasis() {
	if f.based == f.posture {
		return
	}
	f.based = f.posture
	for w := range f.basis {
		var d compliance.Demand
		if f.held() {
			d.Pads[w].Height = 1
		} else {
			d.Wheels[w].AtPatch[2] = 1
		}
		f.advance(&d, &f.basis[w])
	}
}

// tangent is the rate under a load of the study, on the pads of its case
// whatever pads hold the present posture.
func (f *FullSize) tangent(index int) *rate {
	out := &f.tangents[index]
	if f.fresh[index] == f.posture {
		return out
	}
	f.fresh[index] = f.posture
	l := f.study.loads[index]
	d := demandOf(l.terms)
	onPads := [2]float64{}
	if f.held() {
		onPads = takeVertical(&d)
	}
	if d == (compliance.Demand{}) {
		out.increment.Clear()
		out.wheels = [2]movement{}
	} else {
		f.advance(&d, out)
	}
	for w, v := range onPads {
		out.wheels[w].pad -= v
	}
	f.changePads(l.Pads, out)
	return out
}

// takeVertical takes the vertical forces at the contact points off a demand: a pad
// that is held takes all of them, and nothing moves.
func takeVertical(d *compliance.Demand) (vertical [2]float64) {
	for w := range d.Wheels {
		vertical[w] = d.Wheels[w].AtPatch[2]
		d.Wheels[w].AtPatch[2] = 0
	}
	return vertical
}

// changePads adds what the pads of a case do that are not those of the posture:
// floating ones keep their force where the posture's are held, and level ones
// keep their height where the posture's float.
func (f *FullSize) changePads(pads Pads, out *rate) {
	if f.held() == (pads == Level) {
		return
	}
	f.prepareBasis()
	var m [2][2]float64
	var wanted [2]float64
	for i := range m {
		for j := range m {
			if f.held() {
				m[i][j] = f.basis[j].wheels[i].pad
			} else {
				m[i][j] = f.basis[j].wheels[i].along[patchZ]
			}
		}
		wanted[i] = -out.wheels[i].pad
		if !f.held() {
			m[i][i] += f.study.rig.tyre
			wanted[i] = -out.wheels[i].along[patchZ]
		}
	}
	for w, factor := range solvePair(m, wanted) {
		out.add(&f.basis[w], factor)
		if !f.held() {
			out.wheels[w].pad += factor
		}
	}
}

// demandOf turns loads as multiples of wheel vectors into a demand.
func demandOf(terms []term) (d compliance.Demand) {
	for _, t := range terms {
		on := &d.Wheels[t.wheel]
		switch {
		case t.direction == yaw:
			on.Moment += t.factor
		case t.direction >= lockedX:
			on.Locked[t.direction-lockedX] += t.factor
		case t.direction >= patchX:
			on.AtPatch[t.direction-patchX] += t.factor
		default:
			on.AtCentre[t.direction-centreX] += t.factor
		}
	}
	return d
}

// holdPads holds both pads at heights in mm, through the tyres if the vehicle
// asks for it.
func (f *FullSize) holdPads(d *compliance.Demand, left, right float64) {
	rateOfTyre := 0.0
	if f.study.rig.tyre > 0 {
		rateOfTyre = 1 / f.study.rig.tyre
	}
	for w, height := range [2]float64{left, right} {
		d.Pads[w] = compliance.Pad{Held: true, Height: height, Tyre: rateOfTyre}
	}
}

// sense is a reading of the movements of both wheels.
func (a *sensor) sense(wheels *[2]movement) float64 {
	sum := a.pads[0]*wheels[0].pad + a.pads[1]*wheels[1].pad
	for _, t := range a.terms {
		sum += t.factor * wheels[t.wheel].along[t.direction]
	}
	return sum
}

// track is the distance of the contact points in mm at the present posture.
func (f *FullSize) track() float64 {
	return f.study.rig.track + f.moved[LeftWheel].along[patchY] - f.moved[RightWheel].along[patchY]
}

// loadIndex finds a load of the study by the name of its case or state.
func (f *FullSize) loadIndex(name string) (int, error) {
	for i, l := range f.study.loads {
		if l.Name == name {
			return i, nil
		}
	}
	var known []string
	for _, l := range f.study.loads {
		known = append(known, l.Name)
	}
	return 0, f.study.unknown("case", name, "", known)
}

// indexOf is the place of a load in the study's list.
func (f *FullSize) indexOf(l *load) int {
	for i, other := range f.study.loads {
		if other == l {
			return i
		}
	}
	panic("cases: load of another study")
}

// Tangent is a number of the study, by its index there, for a small movement
// more at the present posture, in internal units.
func (f *FullSize) Tangent(index int) float64 {
	n := &f.study.numbers[index]
	in := inputs[float64]{track: f.track(), vehicle: &f.study.vehicle}
	for i, a := range n.answers[:n.count] {
		answer := &f.study.answers[a]
		in.z[i] = answer.sensor.sense(&f.tangent(f.indexOf(answer.load)).wheels) * answer.scale
	}
	return n.formula.value(in)
}

// LostWay is the error of a travel, sweep or load that the axle cannot follow.
type LostWay struct {
	What  string  // "travel in roll", "sweep of cornering"
	Place float64 // how far it came, in Unit; not a number: not looked for
	Unit  string
	Cause error // *compliance.LostBalance, or that of a design position
}

// Error names the place and what went wrong there.
func (e *LostWay) Error() string {
	var lifted *LiftedWheel
	if errors.As(e.Cause, &lifted) {
		return e.What + ": " + lifted.Error()
	}
	why := e.Cause.Error()
	var lost *compliance.LostBalance
	if isLost(e.Cause, &lost) {
		why = lost.Reason() // the share of the last step says nothing here
	}
	if math.IsNaN(e.Place) {
		return e.What + ": the axle cannot hold it: " + why
	}
	return fmt.Sprintf("%s: no further than %.4g %s: %s", e.What, e.Place, e.Unit, why)
}

// Unwrap is the cause.
func (e *LostWay) Unwrap() error { return e.Cause }
