package cases

import (
	"slices"

	"bushtune/bushing"
	"bushtune/compliance"
)

// Limit is a number of the study and what it must not pass.
type Limit struct {
	Goal
	Low, High float64 // in internal units; −∞, +∞ where there is none
	Scale     float64 // its just-noticeable step in internal units: how far is far
}

// margin is how far a value is inside the limit, in steps; negative outside, and
// not a number for no value.
func (l *Limit) margin(value float64) float64 {
	return min(value-l.Low, l.High-value) / l.Scale
}

// RateSet is a set of rates that one factor multiplies: of each of these bushes,
// by their places in the axle, those directions; of each of these links the bushes at
// both ends. On an axle whose halves are alike it holds both bushes of a pair.
type RateSet struct {
	Elements   []int
	Directions [6]bool
}

// EveryDirection is all six rates of a bush.
var EveryDirection = [6]bool{true, true, true, true, true, true}

// Leeway is how far a factor on rates may go, softer and stiffer than 1, before
// the first limit that holds now is passed.
type Leeway struct{ Softer, Stiffer Exit }

// Exit is the end of a leeway on one side.
type Exit struct {
	Factor float64
	Limit  int   // index of the limit that is passed there; −1: none
	Cause  error // why the axle has no answer beyond; nil if it has
}

// Open tells whether nothing ends the leeway up to the end of the search.
func (e *Exit) Open() bool { return e.Limit < 0 && e.Cause == nil }

// Leeways asks how far the rates of an axle's bushes may be off, those at the ends of
// links among them. It works on a study of its own, in which a factor of 1 is the axle
// as given. Not safe for use by two goroutines.
type Leeways struct {
	study   *Study
	full    *FullSize // nil unless a limit is for a load of full size
	limits  []Limit
	failing []int
	bushes  []givenBush
	room    leewayRoom
}

// givenBush is a bush at a factor of one, or a link with its bushes.
type givenBush struct {
	element int
	slots   []float64
	curves  *bushing.Curves
	ends    []int // of a link: the slots of the rates of its bushes
}

type leewayRoom struct {
	goals  []Goal
	values []float64
}

// Search range and grid of a leeway, in octaves of the factor. Numbers are smooth
// over octaves; a limit that is passed and kept again within a step shows as a dip
// of its margin at three points of the grid and is looked into. At full size a
// point costs as much as a thousand linear ones, so the grid is coarser.
const (
	LeewayRange  = 8.0 // factors from 1/8 to 8 are searched
	leewayPoints = 48  // grid points on each side
	fullPoints   = 12
)

// NewLeeways looks at the axle of a study as it stands, in the same cases, states and
// turns; the limits name numbers by their place in that study. The error is that of
// NewStudy, CheckGoal or NewFullSize.
func NewLeeways(of *Study, limits []Limit) (*Leeways, error) {
	plain := withPlainBushes(of.rig.solver.Axle())
	study, err := of.Again(plain)
	if err != nil {
		return nil, err
	}
	l := &Leeways{study: study, limits: limits, room: leewayRoom{values: make([]float64, len(limits))}}
	for i := range limits {
		if err := study.CheckGoal(limits[i].Goal); err != nil {
			return nil, err
		}
		l.room.goals = append(l.room.goals, limits[i].Goal)
	}
	if slices.ContainsFunc(limits, func(m Limit) bool { return study.AtSize(m.Goal) }) {
		if l.full, err = NewFullSize(study); err != nil {
			return nil, err
		}
	}
	for i := range plain.Elements {
		given := givenBush{element: i, slots: slices.Clone(plain.Elements[i].Slots)}
		switch e := &plain.Elements[i]; e.Kind {
		case compliance.Bush:
			given.curves = e.Choice.Curves
		case compliance.Link:
			given.ends = []int{e.Kind.FieldIndex("inner_rate"), e.Kind.FieldIndex("outer_rate")}
		default:
			continue
		}
		l.bushes = append(l.bushes, given)
	}
	l.findFailing()
	return l, nil
}

// findFailing lists the limits that do not hold, or have no value, as the axle is.
// They end no leeway.
func (l *Leeways) findFailing() {
	for i := range l.limits {
		value := l.study.Value(l.limits[i].Number)
		if l.full != nil {
			if l.full.Goals(l.room.goals[i:i+1], l.room.values[i:i+1], nil, nil) != nil {
				l.failing = append(l.failing, i)
				continue
			}
			value = l.room.values[i]
		}
		if !(l.limits[i].margin(value) >= 0) {
			l.failing = append(l.failing, i)
		}
	}
}

// Failing lists the limits that do not hold as the axle is, by their index.
func (l *Leeways) Failing() []int { return l.failing }

// All is every rate of every bush of the axle, those at the ends of links among them.
func (l *Leeways) All() RateSet {
	all := RateSet{Directions: EveryDirection}
	for i := range l.bushes {
		all.Elements = append(all.Elements, l.bushes[i].element)
	}
	return all
}

// Of searches the leeway of a set of rates, outward from 1 to LeewayRange each
// way. Where a limit is passed, kept and passed again, the first way out counts.
func (l *Leeways) Of(rates RateSet) Leeway {
	s := leewaySearch{Leeways: l, rates: rates, points: leewayPoints}
	if l.full != nil {
		s.points = fullPoints
	}
	w := Leeway{Softer: s.outward(-1), Stiffer: s.outward(1)}
	s.set(1)
	return w
}

// withPlainBushes is the axle with each bush that is given by its dimensions
// written as one given by its rates, which factors can multiply.
func withPlainBushes(axle *compliance.Axle) *compliance.Axle {
	plain := axle.Clone()
	for i := range plain.Elements {
		plain.Elements[i] = plain.Elements[i].ByRates()
	}
	return plain
}
