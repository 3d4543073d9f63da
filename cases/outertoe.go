package cases

import (
	"fmt"
	"math"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// cause is one of the things that turn the outer wheel in a corner.
type cause int

const (
	causeRoll cause = iota
	causeLateral
	causeAligning
	causeLoad
	causeBraking
	causes
)

var causeTitles = [causes]struct{ where, title string }{
	{"roll", "roll: the contact points move apart in height"},
	{"lateral_force", "lateral force, along the axes of the body, at the contact points, their heights held"},
	{"aligning_torque", "aligning torque, the heights of the contact points held"},
	{"load", "vertical load: the mean height of the contact points changes"},
	{"braking_force", "braking force at the contact points, their heights held"},
}

const causeFormula = "path integral along the sweep of (change of toe per change of this cause) times the change of the cause; the parts sum to the toe"

// ToeCurve is the toe of the outer wheel against acceleration and its causes.
type ToeCurve struct {
	Total       Series
	Causes      []Series
	Warnings    []string
	Evaluations int
}

// OuterToe sweeps a state from rest to an acceleration (mm/s², lateral; braking
// of a state without it) and splits the toe of its outer wheel into causes. The
// wheels float as in every state; yet what a lateral force does is counted at
// held heights of the contact points, as a rig does with level pads, and what
// follows from their heights is roll, or load if both move alike. With a *LostWay comes
// the curve up to there, or nil as from Sweep.
func (f *FullSize) OuterToe(state string, to float64, points int) (*ToeCurve, error) {
	w, err := f.newSweeping(Sweep{Case: state, To: to, Points: points})
	if err != nil {
		return nil, err
	}
	if w.on.state == nil {
		return nil, fmt.Errorf("%s: the toe of the outer wheel is split into causes for a state of the vehicle, not for a load case", state)
	}
	spent := f.Evaluations()
	if err := f.Reset(); err != nil {
		return nil, w.lost(0, err)
	}
	if err := w.goTo(0); err != nil {
		return nil, err
	}
	split := newToeSplit(w)
	curve := w.newToeCurve(points)
	curve.add(0, 0, &split.sum)
	at := func(n int) float64 { return w.to * float64(n) / float64(points-1) }
	var lost error
	for n := 1; n < points; n += 2 {
		marks := []float64{at(n), at(min(n+1, points-1))}
		report := func(h *toeHere) { curve.add(w.x(h.share), h.toe, &split.sum) }
		if lost = split.integrate(marks, report); lost != nil {
			if marks[1] > marks[0] && split.here.share < marks[0] {
				_ = split.integrate([]float64{marks[0], marks[0]}, report) // the first of the two may be reached all the same
			}
			break
		}
	}
	curve.Warnings = w.lifts()
	curve.Evaluations = f.Evaluations() - spent
	return curve, lost
}

// newToeCurve makes the series without points.
func (w *sweeping) newToeCurve(points int) *ToeCurve {
	c := &ToeCurve{Total: Series{Number: "outer_wheel_toe", Title: "toe of the outer wheel", Case: w.on.Name, Pads: w.on.Pads.String(), X: w.on.symbol,
		Unit: quantity.Degree.Name, Signs: handling(outerSigns, w.on.state), Step: 0.01, Formula: "toe of the outer wheel, change from the design position", Points: make([]Point, 0, points)}}
	for _, t := range causeTitles {
		s := c.Total
		s.Number, s.Title, s.Where, s.Formula, s.Points = "outer_wheel_toe_by", t.title, t.where, causeFormula, make([]Point, 0, points)
		c.Causes = append(c.Causes, s)
	}
	return c
}

func (c *ToeCurve) add(x, toe float64, parts *[causes]float64) {
	c.Total.Points = append(c.Total.Points, Point{x, quantity.Degree.Written(toe)})
	for i, v := range parts {
		c.Causes[i].Points = append(c.Causes[i].Points, Point{x, quantity.Degree.Written(v)})
	}
}

// toeHere is the toe of the outer wheel at one share of a state, and how fast each
// cause turns it as the share grows.
type toeHere struct {
	share, toe float64 // rad
	slopes     [causes]float64
}

// toeSplit integrates the slopes of the causes along a sweep.
type toeSplit struct {
	w    *sweeping
	here toeHere
	sum  [causes]float64
	room [causes]rate
}

func newToeSplit(w *sweeping) *toeSplit {
	s := &toeSplit{w: w}
	for i := range s.room {
		s.room[i].increment = w.f.mover.NewIncrement()
	}
	s.here = s.look()
	return s
}

// look reads the present posture. On floating wheels the rates under the force of
// each cause are found with the heights of the contact points held, by vertical
// forces there; the change of height that all forces together bring is then roll
// and load.
func (s *toeSplit) look() toeHere {
	w, f, outer := s.w, s.w.f, s.w.on.Outer
	h := toeHere{share: w.share, toe: f.moved[outer].along[toe]}
	d := f.demandRate(w.on)
	whole := w.rateHere()
	up := [2]float64{whole.wheels[0].along[patchZ], whole.wheels[1].along[patchZ]}
	h.slopes[causeLateral] = s.held(causeLateral, &d, func(from, to *compliance.WheelForce) {
		to.AtPatch[1], to.AtCentre = from.AtPatch[1], from.AtCentre
	})
	h.slopes[causeAligning] = s.held(causeAligning, &d, func(from, to *compliance.WheelForce) { to.Moment = from.Moment })
	if w.on.state.Braking != 0 {
		h.slopes[causeBraking] = s.held(causeBraking, &d, func(from, to *compliance.WheelForce) { to.Locked[0] = from.Locked[0] })
	}
	mean, apart := (up[0]+up[1])/2, (up[outer]-up[1-outer])/2
	raised := s.toeOfHeights()
	h.slopes[causeLoad] = mean * (raised[outer] + raised[1-outer])
	h.slopes[causeRoll] = apart * (raised[outer] - raised[1-outer])
	return h
}

// held is the slope of the outer wheel's toe under the part of a rate of demand
// that pick takes, with the contact points held in height.
func (s *toeSplit) held(c cause, d *compliance.Demand, pick func(from, to *compliance.WheelForce)) float64 {
	f := s.w.f
	var part compliance.Demand
	for w := range d.Wheels {
		pick(&d.Wheels[w], &part.Wheels[w])
	}
	f.advance(&part, &s.room[c])
	f.holdHeights(&s.room[c])
	return s.room[c].wheels[s.w.on.Outer].along[toe]
}

// holdHeights adds the vertical forces on floating wheels that keep the contact
// points where they are.
func (f *FullSize) holdHeights(r *rate) {
	f.prepareBasis()
	factors := solvePair(f.heightsOfForces(), [2]float64{-r.wheels[0].along[patchZ], -r.wheels[1].along[patchZ]})
	for w, factor := range factors {
		r.add(&f.basis[w], factor)
	}
}

// heightsOfForces is the height of contact point i by a vertical force at j.
func (f *FullSize) heightsOfForces() (m [2][2]float64) {
	for i := range m {
		for j := range m {
			m[i][j] = f.basis[j].wheels[i].along[patchZ]
		}
	}
	return m
}

// toeOfHeights is the change of toe of the outer wheel per height of each contact
// point, the other one held.
func (s *toeSplit) toeOfHeights() (per [2]float64) {
	f := s.w.f
	f.prepareBasis()
	for w := range per {
		var height [2]float64
		height[w] = 1
		forces := solvePair(f.heightsOfForces(), height)
		per[w] = forces[0]*f.basis[0].wheels[s.w.on.Outer].along[toe] + forces[1]*f.basis[1].wheels[s.w.on.Outer].along[toe]
	}
	return per
}

// solvePair solves two equations.
func solvePair(m [2][2]float64, b [2]float64) [2]float64 {
	det := m[0][0]*m[1][1] - m[0][1]*m[1][0]
	return [2]float64{(b[0]*m[1][1] - b[1]*m[0][1]) / det, (m[0][0]*b[1] - m[1][0]*b[0]) / det}
}

const (
	splitError = 1e-6 // rad: error of the integral in one step, far below the just-noticeable 0.01 deg
	deepest    = 8    // halvings of a step
)

// integrate goes on to two shares at equal steps, or to one if both are the same,
// adds what each cause has done on the way and reports each. Slopes are taken as
// parabolas through three points (Simpson's rule, and its halves); where the causes
// do not sum to the change of toe to splitError the steps are halved.
func (s *toeSplit) integrate(marks []float64, report func(*toeHere)) error {
	if marks[0] == marks[1] {
		if err := s.halve(marks[0], deepest); err != nil {
			return err
		}
		report(&s.here)
		return nil
	}
	first := s.here
	middle, last, err := s.lookTwice(marks[0], marks[1])
	if err != nil {
		return err
	}
	ahead, behind := halfParabola(&first, &middle, &last), halfParabola(&last, &middle, &first)
	for i := range behind {
		behind[i] = -behind[i]
	}
	if leftOver(&first, &middle, &ahead) > splitError || leftOver(&middle, &last, &behind) > splitError {
		for _, mark := range marks {
			if err := s.halve(mark, deepest); err != nil {
				return err
			}
			report(&s.here)
		}
		return nil
	}
	s.keep(&middle, &ahead)
	report(&s.here)
	s.keep(&last, &behind)
	report(&s.here)
	return nil
}

// halve integrates to a share by Simpson's rule with a middle point, in halved
// steps where that is not enough.
func (s *toeSplit) halve(share float64, depth int) error {
	first, half := s.here, (s.here.share+share)/2
	middle, last, err := s.lookTwice(half, share)
	if err != nil {
		return err
	}
	parts := halfParabola(&first, &middle, &last)
	for i, v := range halfParabola(&last, &middle, &first) {
		parts[i] -= v
	}
	if leftOver(&first, &last, &parts) > splitError && depth > 0 {
		if err := s.halve(half, depth-1); err != nil {
			return err
		}
		return s.halve(share, depth-1)
	}
	s.keep(&last, &parts)
	return nil
}

// halfParabola is the integral of the slopes from one point to the middle one of
// three that are evenly spread.
func halfParabola(from, middle, beyond *toeHere) (parts [causes]float64) {
	step := middle.share - from.share
	for i := range parts {
		parts[i] = step / 12 * (5*from.slopes[i] + 8*middle.slopes[i] - beyond.slopes[i])
	}
	return parts
}

// leftOver is by how much causes miss the change of toe between two points, rad.
func leftOver(from, to *toeHere, parts *[causes]float64) float64 {
	left := to.toe - from.toe
	for _, v := range parts {
		left -= v
	}
	return math.Abs(left)
}

// keep adds the causes of a step. What is left of rounding and of the rule, less
// than splitError, goes to the causes in proportion to what they did, so that they
// sum exactly.
func (s *toeSplit) keep(to *toeHere, parts *[causes]float64) {
	left, size := to.toe-s.here.toe, 0.0
	for _, v := range parts {
		left -= v
		size += math.Abs(v)
	}
	for i, v := range parts {
		if size > 0 {
			v += left * math.Abs(v) / size
		}
		s.sum[i] += v
	}
	s.here = *to
}

// lookTwice reads at two shares.
func (s *toeSplit) lookTwice(middle, last float64) (a, b toeHere, err error) {
	if a, err = s.lookAt(middle); err == nil {
		b, err = s.lookAt(last)
	}
	return a, b, err
}

// lookAt moves to a share and reads there.
func (s *toeSplit) lookAt(share float64) (toeHere, error) {
	if err := s.w.goTo(share); err != nil {
		return toeHere{}, err
	}
	return s.look(), nil
}
