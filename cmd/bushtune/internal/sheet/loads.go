package sheet

import (
	"cmp"
	"math"
	"slices"

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
	slices.SortStableFunc(s.loads, func(a, b loaded) int {
		if a.state != b.state && a.state {
			return -1
		} else if a.state != b.state {
			return 1
		}
		return cmp.Compare(b.severe, a.severe)
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
	near := func(p, q [6]float64) bool {
		off, size := 0.0, 0.0
		for i := range p {
			off, size = max(off, math.Abs(p[i]-q[i])), max(size, math.Abs(p[i]), math.Abs(q[i]))
		}
		return off <= alike*size
	}
	return near(a.Load, b.Load) && near(a.Travel, b.Travel) && near(a.Rest, b.Rest)
}

// rest is the load at rest in N and N·mm; the same on both sides of an axle whose
// halves are alike.
func (s *Sheet) rest() [6]float64 {
	if len(s.loads) == 0 {
		return [6]float64{}
	}
	return s.loads[0].load.Rest
}

// resting is the deflection of the rubber from its free shape at rest, mm and rad.
func (s *Sheet) resting(d bushing.Direction) float64 {
	if s.absent(d) {
		return 0
	}
	return s.laws[d].Deflection(s.rest()[d])
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
		rest, law := s.resting(direction), &s.laws[d]
		least := leastReach[0]
		if about(direction) {
			least = leastReach[1]
		}
		low, high := min(0, rest)-least, max(0, rest)+least
		for i := range s.loads {
			travel := s.loads[i].load.Travel[d]
			low, high = min(low, rest+travel), max(high, rest+travel)
		}
		past := func(gap float64) float64 {
			if gap == 0 || law.Snubber == 0 {
				return 0
			}
			return gap + law.Run
		}
		allowed := s.allowedTravel(direction)
		s.reach[d] = [2]float64{min(low, rest-allowed, -past(law.GapMinus)), max(high, rest+allowed, past(law.GapPlus))}
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
