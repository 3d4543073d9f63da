package sheet

import (
	"bushtune/bushing"
	"bushtune/cases"
	"context"
)

// wants sorts the wants of an axle file by what they do to leeways.
type wants struct {
	limits  []int // wants that are limits, in the order of Leeways' limits
	failing []int // those of them that do not hold
	open    []int // wants that limit nothing: targets and makes
}

// bearable is a set of rates with its leeway.
type bearable struct {
	what      string
	direction bushing.Direction // of a rate alone
	alone     bool
	leeway    cases.Leeway
}

// The rows of common factors.
const (
	ofThisBush  = "all rates of this bush"
	ofAllBushes = "all rates of all bushes"
)

// bear finds what the axle can bear of every sheet's rates.
func bear(ctx context.Context, a *Axle, sheets []*Sheet) error {
	var w wants
	var limits []cases.Limit
	for i := range a.Asked {
		if l, ok := a.Asked[i].Limit(); ok {
			limits, w.limits = append(limits, l), append(w.limits, i)
		} else {
			w.open = append(w.open, i)
		}
	}
	l, err := cases.NewLeeways(a.Study, limits)
	if err != nil {
		return err
	}
	for _, i := range l.Failing() {
		w.failing = append(w.failing, w.limits[i])
	}
	var every []int
	for _, s := range sheets {
		every = append(every, s.elements...)
	}
	all := bearable{what: ofAllBushes, leeway: l.Of(cases.RateSet{Elements: every, Directions: cases.EveryDirection})}
	for _, s := range sheets {
		if err := ctx.Err(); err != nil {
			return err
		}
		s.wants = w
		for d := range directionWords {
			direction := bushing.Direction(d)
			if s.absent(direction) {
				continue
			}
			set := cases.RateSet{Elements: s.elements}
			set.Directions[d] = true
			s.leeways = append(s.leeways, bearable{directionWords[d], direction, true, l.Of(set)})
		}
		s.leeways = append(s.leeways, bearable{what: ofThisBush, leeway: l.Of(cases.RateSet{Elements: s.elements, Directions: cases.EveryDirection})})
		s.leeways = append(s.leeways, all)
	}
	return nil
}

// fits tells whether a tolerance, up and down, lies inside a leeway.
func fits(w *cases.Leeway, tolerance float64) bool {
	return w.Softer.Factor <= 1-tolerance && w.Stiffer.Factor >= 1+tolerance
}

// enough says whether a leeway takes the tolerance of the page's class, and on
// which side it does not.
func (s *Sheet) enough(w *cases.Leeway) string {
	_, most := s.tolerance()
	switch softer, stiffer := w.Softer.Factor <= 1-most, w.Stiffer.Factor >= 1+most; {
	case softer && stiffer:
		return "enough"
	case softer:
		return "not enough stiffer"
	case stiffer:
		return "not enough softer"
	}
	return "not enough either way"
}

// endingWords names the want that ends a leeway.
func (s *Sheet) endingWords(e *cases.Exit) string {
	switch {
	case e.Cause != nil:
		return "the axle cannot be solved"
	case e.Limit < 0:
		return "nothing"
	}
	i := s.wants.limits[e.Limit]
	return s.axle.Asked[i].Name + ", " + s.axle.wording().Want(i)
}
