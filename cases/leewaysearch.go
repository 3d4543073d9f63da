package cases

import (
	"math"
	"slices"

	"bushtune/bushing"
	"bushtune/compliance"
)

// leewaySearch looks for the first way out of the limits over octaves of a factor.
type leewaySearch struct {
	*Leeways
	rates  RateSet
	points int
}

// set multiplies the rates of the set by a factor.
func (s *leewaySearch) set(factor float64) {
	factors := bushing.Factors{1, 1, 1, 1, 1, 1}
	for d, on := range s.rates.Directions {
		if on {
			factors[d] = factor
		}
	}
	for i := range s.bushes {
		b := &s.bushes[i]
		if !slices.Contains(s.rates.Elements, b.element) {
			continue
		}
		set := func(index int, value float64) {
			s.study.Set(compliance.Slot{Element: b.element, Index: index}, value)
		}
		for _, end := range b.ends {
			set(end, factor*b.slots[end])
		}
		if b.ends == nil {
			factors.Slots(b.slots, set)
		}
	}
	s.setCurves(&factors)
}

// setCurves gives bushes that share their curves the same curves anew, so that
// the halves of the axle stay alike.
func (s *leewaySearch) setCurves(factors *bushing.Factors) {
	made := map[*bushing.Curves]*bushing.Curves{}
	for i := range s.bushes {
		b := &s.bushes[i]
		if b.curves == nil || !slices.Contains(s.rates.Elements, b.element) {
			continue
		}
		if made[b.curves] == nil {
			made[b.curves] = factors.Curves(b.curves)
		}
		s.study.rig.solver.SetCurves(b.element, made[b.curves])
	}
}

// standing is how the axle stands at one factor.
type standing struct {
	at     float64 // octaves
	margin float64 // of the limit with the least, in steps; not a number without an answer
	limit  int     // which limit that is; −1: none
	cause  error
}

func (p *standing) holds() bool { return p.cause == nil && !(p.margin < 0) && !math.IsNaN(p.margin) }

// at solves the axle at a factor of 2^octaves.
func (s *leewaySearch) at(octaves float64) standing {
	s.set(math.Exp2(octaves))
	p := standing{at: octaves, margin: math.Inf(1), limit: -1}
	if p.cause = s.study.Update(); p.cause == nil {
		p.cause = s.read()
	}
	if p.cause != nil {
		return p
	}
	for i := range s.limits {
		if slices.Contains(s.failing, i) {
			continue
		}
		if m := s.limits[i].margin(s.room.values[i]); !(m >= p.margin) {
			p.margin, p.limit = m, i
		}
	}
	return p
}

// read reads the limited numbers. Those that fail need not have a value.
func (s *leewaySearch) read() error {
	for i, g := range s.room.goals {
		switch {
		case slices.Contains(s.failing, i):
		case !s.study.AtSize(g):
			s.room.values[i] = s.study.Value(g.Number)
		default:
			if err := s.full.Goals(s.room.goals[i:i+1], s.room.values[i:i+1], nil, nil); err != nil {
				return err
			}
		}
	}
	return nil
}

// outward walks the grid to one side until a limit is passed.
func (s *leewaySearch) outward(side float64) Exit {
	step := side * math.Log2(LeewayRange) / float64(s.points)
	before, last := s.at(-step), s.at(0)
	for i := range s.points {
		next := s.at(step * float64(i+1))
		if passed, found := s.dip(&before, &last, &next); found {
			if i == 0 {
				before = last
			}
			return s.crossing(before, passed)
		}
		if !next.holds() {
			return s.crossing(last, next)
		}
		before, last = last, next
	}
	return Exit{Factor: math.Exp2(last.at), Limit: -1}
}

// closeCall is the share of the margin at the middle of three points that the
// parabola through them must leave at its lowest, else the dip is looked into: far
// more than the parabola is off over two steps of the grid.
const closeCall = 0.5

// dip looks into three neighbouring points of which the middle one has the least
// margin: between them the limit may be passed and kept again. It returns a point
// where it is passed.
func (s *leewaySearch) dip(a, b, c *standing) (standing, bool) {
	lower := b.margin <= a.margin && b.margin < c.margin || b.margin < a.margin && b.margin <= c.margin
	if !lower || a.at == b.at || !c.holds() || math.IsInf(a.margin+c.margin, 1) {
		return standing{}, false
	}
	curvature := a.margin - 2*b.margin + c.margin
	slope := (c.margin - a.margin) / 2
	if b.margin-slope*slope/(2*curvature) > closeCall*b.margin {
		return standing{}, false
	}
	return s.lowest(a.at, c.at)
}

// golden is the ratio of golden-section search.
const golden = 0.6180339887498949

// lowest searches the least margin between two points by golden section (Kiefer,
// Sequential minimax search for a maximum, Proc. AMS 4 (1953)) until one is
// negative.
func (s *leewaySearch) lowest(low, high float64) (standing, bool) {
	one, two := s.at(high-golden*(high-low)), s.at(low+golden*(high-low))
	for range 40 { // down to rounding
		for _, p := range [2]standing{one, two} {
			if !p.holds() {
				return p, true
			}
		}
		if one.margin < two.margin {
			high, two = two.at, one
			one = s.at(high - golden*(high-low))
		} else {
			low, one = one.at, two
			two = s.at(low + golden*(high-low))
		}
	}
	return standing{}, false
}

// crossingAccuracy is how near an exit is found, in octaves: 1e-10 of the factor.
const crossingAccuracy = 1.5e-10

// crossing narrows an interval in which the limits stop to hold: regula falsi with
// the Illinois step (Dowell & Jarratt, BIT 11 (1971)), by halves where there is no
// answer or the false position does not gain.
func (s *leewaySearch) crossing(in, out standing) Exit {
	a, b := in.margin, out.margin
	for i := 0; math.Abs(out.at-in.at) > crossingAccuracy && i < 200; i++ {
		share := a / (a - b)
		if i%3 == 2 || !(share > 0 && share < 1) {
			share = 0.5
		}
		p := s.at(in.at + share*(out.at-in.at))
		if p.at == in.at || p.at == out.at {
			break
		}
		if p.holds() {
			in, a, b = p, p.margin, b/2
		} else {
			out, b, a = p, p.margin, a/2
		}
	}
	exit := Exit{Factor: math.Exp2(in.at), Limit: out.limit, Cause: out.cause}
	if exit.Cause != nil {
		exit.Limit = -1
	}
	return exit
}
