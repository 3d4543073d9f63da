package sheet

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/cases"
)

// loadsPart gives load and travel of every case and state.
func (s *Sheet) loadsPart(d *document) {
	d.heading(2, "Loads and travel on the axle")
	d.prose(s.restNote())
	d.prose("Travels and turns are on top of rest, of the rubber alone. *Cones* is the larger of both conical angles, with its sign. " + s.turnNote())
	if t := s.loadTable(true, "N"); len(t.rows) > 0 {
		d.prose("**At full size**, worst first: states of the car, and cases with loads of their own. Loads include the load at rest.")
		d.table(t)
	}
	t := s.loadTable(false, "N")
	d.prose("**For a unit of load**, worst first: 1 kN, or 100 N·m, on each wheel that the case loads. Loads are on top of rest: multiply loads and travels by the kN that count, then add the load at rest. " + s.wheelNote())
	d.table(t)
	d.items(s.caseList()...)
	if notes := s.axle.Study.Warnings(); notes != nil {
		d.prose("Notes of the calculation, of the whole axle:")
		d.items(notes...)
	}
}

// loadTable is one row a case and side.
func (s *Sheet) loadTable(state bool, unit string) *table {
	t := newTable(words("case"), words("side"), numbers("soft "+unit), numbers("axial "+unit), numbers("stiff "+unit),
		numbers("soft mm"), numbers("axial mm"), numbers("stiff mm"), numbers("torsion deg"), numbers("cones deg"))
	for i := range s.loads {
		if l := &s.loads[i]; l.state == state {
			t.add(l.cells()...)
		}
	}
	return t
}

// cells are one row of a table of loads.
func (l *loaded) cells() []string {
	b := &l.load
	cells := []string{l.load.Case, l.where}
	if l.state {
		cells[0] = l.title
	}
	for d := range bushing.ConeSoft {
		load := b.Load[d]
		if l.state {
			load += b.Rest[d]
		}
		cells = append(cells, fixed(load, 0))
	}
	for d := range bushing.ConeSoft {
		cells = append(cells, fixed(b.Travel[d], 2))
	}
	cone := b.Travel[bushing.ConeSoft]
	if math.Abs(b.Travel[bushing.ConeStiff]) > math.Abs(cone) {
		cone = b.Travel[bushing.ConeStiff]
	}
	return append(cells, fixed(quantity.Degree.Written(b.Travel[bushing.Torsion]), 2), fixed(quantity.Degree.Written(cone), 2))
}

// caseList says what the names of unit cases stand for.
func (s *Sheet) caseList() []string {
	var all []string
	for _, c := range s.axle.Study.Cases() {
		if c.Per != cases.TheLoad {
			all = append(all, c.Name+": "+c.Title)
		}
	}
	return all
}

// wheelNote says how far the wheel goes in the unit cases of heave and roll.
func (s *Sheet) wheelNote() string {
	var parts []string
	for _, name := range []string{"heave", "roll"} {
		if i, err := s.axle.Study.Find("wheel_rate", name, ""); err == nil {
			parts = append(parts, fmt.Sprintf("%s mm in *%s*", figure(1e3/s.axle.Study.Value(i)), name))
		}
	}
	if parts == nil {
		return ""
	}
	return "The wheel then goes " + list(parts) + ", by which torsion over wheel travel follows."
}

// restNote says what the bush carries at rest.
func (s *Sheet) restNote() string {
	if !s.axle.Study.Solver().Loaded() {
		return "At rest: the axle file gives no static load, so the load at rest is not included anywhere on this page."
	}
	text := "At rest, at design height,"
	for i, r := range s.rests() {
		if i > 0 {
			text += ";"
		}
		text += " the " + strings.TrimPrefix(r.side+" bush", " ") + " carries " + carried(r.load)
	}
	text += "."
	switch tightened := quantity.Degree.Written(s.bush.TightenedAt); {
	case tightened != 0:
		text += fmt.Sprintf(" The bolt is tightened %s deg of torsion off design height.", exactFigure(math.Abs(tightened)))
	case !s.first.Choice.HoldsMoments:
		text += " Torsion and cones carry nothing there: the bolt is tightened at design height."
	}
	return text
}

// carried lists the loads at rest that are no rounding.
func carried(load [6]float64) string {
	var parts []string
	for d, name := range directionWords {
		u := unitsOf(bushing.Direction(d))
		if v := u.load.Written(load[d]); math.Abs(v) >= 0.05 {
			parts = append(parts, fmt.Sprintf("%s %s %s", name, signed(v), u.load.Name))
		}
	}
	if parts == nil {
		return "nothing"
	}
	return list(parts)
}

// turnNote says which way cases turn.
func (s *Sheet) turnNote() string {
	if s.axle.Study.Symmetric() && len(s.elements) == 2 {
		return "Cases turn left; in a turn to the right both sides change places, so each bush meets both rows."
	}
	return ""
}

// limitsPart compares loads and travels with the limits.
func (s *Sheet) limitsPart(d *document) {
	d.heading(2, "Limits and their use")
	t := newTable(words("limit"), words("unit"), numbers("allowed"), numbers("largest at full size"), numbers("used %"), words("in"), words("allowed is reached by"))
	worst := s.worstUsages()
	for n, u := range worst {
		allowed, used, largest := "none given", "", ""
		if u.in != "" {
			largest = figure(u.Value)
		}
		if u.Limit > 0 {
			allowed, used = exactFigure(u.Limit), fixed(100*u.Value/u.Limit, 0)
		}
		if u.Over() {
			used += ", exceeded"
		}
		t.add(u.What, u.Unit, allowed, largest, used, u.in, s.reachedBy(n))
	}
	d.table(t)
	d.prose("Radial is the resultant across the axis; loads include the load at rest. *Reached by* is the least load of the unit cases that goes to the limit, rates taken as constant: " +
		"hold it against a kerb strike or a pothole.")
}

// usage is the worst use of one limit at full size.
type usage struct {
	cases.Usage
	in string // empty: there is no case at full size
}

// worstUsages are the largest loads and travels, in the order of cases.Usages.
func (s *Sheet) worstUsages() (worst [4]usage) {
	for i := range s.loads {
		l := &s.loads[i]
		for n, u := range s.axle.Study.Usages(&l.load) {
			switch {
			case !l.state:
				worst[n].What, worst[n].Unit, worst[n].Limit = u.What, u.Unit, u.Limit
			case worst[n].in == "" || quantity.Exceeds(u.Value, worst[n].Value):
				worst[n] = usage{u, l.name()}
			}
		}
	}
	return worst
}

// sideNote adds the side to a case.
func sideNote(where string) string {
	if where == "" || where == "both" {
		return ""
	}
	return ", " + where
}

// reachedBy is the unit case that goes to a limit with the least load, by number of
// the usage.
func (s *Sheet) reachedBy(n int) string {
	least, in := math.Inf(1), ""
	for i := range s.loads {
		l := &s.loads[i]
		if l.state {
			continue
		}
		if times := s.timesToLimit(l, n); quantity.Exceeds(least, times) {
			least, in = times, l.name()
		}
	}
	if in == "" {
		return ""
	}
	unit := "kN"
	for _, c := range s.axle.Study.Cases() {
		if c.Per == cases.Per100NewtonMetre && strings.HasPrefix(in, c.Name) {
			least, unit = 100*least, "N·m"
		}
	}
	return fmt.Sprintf("%s %s of %s", figure(least), unit, in)
}

// timesToLimit is by how much a unit case must be multiplied to reach a limit: the
// least t ≥ 0 with |rest + t·load| = limit across or along the axis; infinite for no
// limit or one passed at rest.
func (s *Sheet) timesToLimit(l *loaded, n int) float64 {
	limit := s.axle.Study.Usages(&l.load)[n].Limit
	rest, load := l.load.Rest, l.load.Load
	if n >= 2 {
		rest, load = [6]float64{}, l.load.Travel
	}
	directions := []bushing.Direction{bushing.Soft, bushing.Stiff}
	if n%2 == 1 {
		directions = []bushing.Direction{bushing.Axial}
	}
	a, b, c := 0.0, 0.0, -limit*limit
	for _, d := range directions {
		a, b, c = a+load[d]*load[d], b+rest[d]*load[d], c+rest[d]*rest[d]
	}
	if limit == 0 || a == 0 || c > 0 {
		return math.Inf(1)
	}
	return (-b + math.Sqrt(b*b-a*c)) / a
}
