package sheet

import (
	"cmp"
	"math"
	"slices"

	"bushtune/bushing/quantity"

	"bushtune/bushing"
	"bushtune/cases"
)

// loaded is what the bush carries in one case or state.
type loaded struct {
	load   cases.BushLoad
	title  string
	where  string // "left", "right", "both"; empty for a bush alone
	state  bool   // a state of the car or a case of the author's, at full size; else for a unit of load
	severe float64
}

// readLoads takes the loads of the bush from the study, worst first.
func (s *Sheet) readLoads() {
	study := s.axle.Study
	full := map[string]bool{}
	titles := map[string]string{}
	for _, c := range study.Cases() {
		titles[c.Name], full[c.Name] = c.Title, c.Per == cases.TheLoad
	}
	labels := make([]string, len(s.elements))
	for i, e := range s.elements {
		labels[i] = study.Solver().Axle().Elements[e].Label()
	}
	loads := study.BushLoads()
	for _, b := range loads {
		at := slices.Index(labels, b.Element)
		if at < 0 {
			continue
		}
		l := loaded{load: b, title: titles[b.Case], state: full[b.Case], severe: s.severity(&b, full[b.Case])}
		if len(labels) > 1 {
			l.where = []string{"left", "right"}[at]
		}
		s.loads = append(s.loads, l)
	}
	s.joinSides()
	quantity.GreatestFirst(s.loads, func(l loaded) float64 { return l.severe })
	slices.SortStableFunc(s.loads, func(a, b loaded) int { // states first
		if a.state == b.state {
			return 0
		} else if a.state {
			return -1
		}
		return 1
	})
}

// severity orders loads: at full size the largest share of a given limit, the load
// at rest included, or the force where no limit is given; of a unit of load the
// force.
func (s *Sheet) severity(b *cases.BushLoad, state bool) float64 {
	share, force, atRest := 0.0, 0.0, 0.0
	for d := range bushing.ConeSoft {
		force, atRest = math.Hypot(force, b.Load[d]), math.Hypot(atRest, b.Rest[d]+b.Load[d])
	}
	if !state {
		return force
	}
	for _, u := range s.axle.Study.Usages(b) {
		if u.Limit > 0 {
			share = max(share, u.Value/u.Limit)
		}
	}
	if share == 0 {
		return atRest
	}
	return share
}

// alike is the share of the largest entry by which two sides may differ and still
// stand in one row: what a row shows of it is far coarser.
const alike = 1e-6

// joinSides puts a case in which both sides carry the same into one row.
func (s *Sheet) joinSides() {
	var joined []loaded
	for _, l := range s.loads {
		at := slices.IndexFunc(joined, func(o loaded) bool { return o.load.Case == l.load.Case && sameLoad(&o.load, &l.load) })
		if at < 0 {
			joined = append(joined, l)
			continue
		}
		joined[at].where = "both"
	}
	s.loads = joined
}

// sameLoad compares loads and travels of two bushes.
func sameLoad(a, b *cases.BushLoad) bool {
	return sameSix(a.Load, b.Load) && sameSix(a.Travel, b.Travel) && sameSix(a.Rest, b.Rest)
}

func sameSix(p, q [6]float64) bool {
	off, size := 0.0, 0.0
	for i := range p {
		off, size = max(off, math.Abs(p[i]-q[i])), max(size, math.Abs(p[i]), math.Abs(q[i]))
	}
	return off <= alike*size
}

// atRest is a load at rest and the side that carries it; no side where all carry the
// same.
type atRest struct {
	load [6]float64 // N and N·mm
	side string
}

// rests are the loads at rest: one where both sides carry the same.
func (s *Sheet) rests() []atRest {
	var all []atRest
	for i := range s.loads {
		b := &s.loads[i].load
		if !slices.ContainsFunc(all, func(r atRest) bool { return sameSix(r.load, b.Rest) }) {
			all = append(all, atRest{b.Rest, s.loads[i].where})
		}
	}
	if len(all) == 1 {
		all[0].side = ""
	}
	slices.SortFunc(all, func(a, b atRest) int { return cmp.Compare(a.side, b.side) })
	return all
}

// resting is the deflection of the rubber from its free shape, in mm or rad, under a
// load at rest in N or N·mm.
func (s *Sheet) resting(d bushing.Direction, rest float64) float64 {
	if s.absent(d) {
		return 0
	}
	return s.laws[d].Deflection(rest)
}

// leastReach is the reach of a direction in which no case moves the bush, in mm
// and rad: enough to measure a rate.
var leastReach = [2]float64{0.5, 0.02}

// findReach finds how far each direction goes from the free shape: as far as any
// case, state or allowed travel takes it, past every gap, both ways alike where the
// law is.
func (s *Sheet) findReach() {
	for d := range s.reach {
		direction := bushing.Direction(d)
		law := &s.laws[d]
		least, allowed := leastReach[0], s.allowedTravel(direction)
		if about(direction) {
			least = leastReach[1]
		}
		past := func(gap float64) float64 {
			if gap == 0 || law.Snubber == 0 {
				return 0
			}
			return gap + law.Run
		}
		low, high := -max(least, past(law.GapMinus)), max(least, past(law.GapPlus))
		for i := range s.loads {
			b := &s.loads[i].load
			rest := s.resting(direction, b.Rest[d])
			low = min(low, rest-max(least, allowed), rest+b.Travel[d])
			high = max(high, rest+max(least, allowed), rest+b.Travel[d])
		}
		s.reach[d] = [2]float64{low, high}
	}
}

// allowedTravel is how far a direction may go in mm: to the limit of travel, but no
// further than the limit of load lets it; zero without a limit of travel.
func (s *Sheet) allowedTravel(d bushing.Direction) float64 {
	travel, load := 0.0, 0.0
	switch d {
	case bushing.Soft, bushing.Stiff:
		travel, load = s.bush.MaxRadialTravel, s.bush.MaxRadialLoad
	case bushing.Axial:
		travel, load = s.bush.MaxAxialTravel, s.bush.MaxAxialLoad
	}
	if load > 0 && travel > 0 && !s.absent(d) {
		travel = min(travel, s.laws[d].Deflection(load))
	}
	return travel
}
