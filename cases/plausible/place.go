package plausible

import (
	"math"
	"strings"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

type vec = exact.Vec[float64]

// point is a place of an element as its side writes it: left-hand, mm.
type point struct {
	name string // "at", "inner", "upper", "start"
	at   vec
}

// part is an element with its places.
type part struct {
	*compliance.Element
	index  int
	path   string // as in a file, with the side where the sides differ
	points []point
	twin   bool // the right one of two that are alike: what is said of the left one holds for it
}

// parts lists the elements with their places.
func (j *judge) parts() []part {
	all := make([]part, len(j.Axle.Elements))
	for i := range all {
		e := &j.Axle.Elements[i]
		path, left := j.pathOf(e)
		p := part{Element: e, index: i, path: path, points: pointsOf(e), twin: left != nil}
		if left != nil {
			for n, v := range e.Slots {
				p.twin = p.twin && (v == left[n] || math.IsNaN(v))
			}
			if p.twin {
				p.path = strings.TrimSuffix(path, ".right")
			}
		}
		all[i] = p
	}
	return all
}

// pointsOf lists the places of an element. Directions are none, and a beam is placed
// in one of two ways.
func pointsOf(e *compliance.Element) (points []point) {
	if e.Kind.Table == compliance.Beam.Table {
		start, end := e.BeamEnds()
		if f, u, is := sectionInCar(e); is {
			drawn := vec{f, 0, u}
			start, end = start.Add(drawn), end.Add(drawn)
		}
		return []point{{"start", start}, {"end", end}}
	}
	for i, f := range e.Kind.Fields {
		name, isX := strings.CutSuffix(f.Name, ".x")
		if isX && f.Unit == quantity.Millimetre && name != "axis" {
			points = append(points, point{name, vec(e.Slots[i : i+3])})
		}
	}
	return points
}

// sectionInCar is the centroid of a beam whose section is drawn, or given by numbers, where
// it lies in the car: its line runs through x = z = 0, so that the section's axes are the
// car's.
func sectionInCar(e *compliance.Element) (f, u float64, is bool) {
	i := e.Kind.FieldIndex("centroid.f")
	if i < 0 {
		return 0, 0, false
	}
	start, end := e.BeamEnds()
	for _, k := range []int{0, 2} {
		if start[k] != 0 || end[k] != 0 {
			return 0, 0, false
		}
	}
	return e.Slots[i], e.Slots[e.Kind.FieldIndex("centroid.u")], true
}

// wheelOf is the wheel beside an element, left-hand.
func (j *judge) wheelOf(e *compliance.Element) *compliance.WheelGeometry[float64] {
	w := 0
	if e.Side == compliance.Right {
		w = 1
	}
	g := compliance.NewWheelGeometry(j.Axle.Wheels[w].Slots)
	return &g
}

// ground is the height of the contact point of a wheel in mm.
func ground(w *compliance.WheelGeometry[float64]) float64 { return w.Centre[2] + w.Contact()[2] }

// inCar is a place of an element as it lies in the car.
func (p *part) inCar(at vec) vec {
	if p.Side == compliance.Right {
		at[1] = -at[1]
	}
	return at
}

// carries tells whether a body carries a wheel.
func (j *judge) carries(body int) bool {
	return body == j.Axle.Wheels[0].Body || body == j.Axle.Wheels[1].Body
}

// outside tells whether a body is the vehicle, or one in the middle that carries no
// wheel, such as a subframe.
func (j *judge) outside(body int) bool {
	return body == compliance.Vehicle || j.Axle.Bodies[body].Side == compliance.Centre && !j.carries(body)
}

// linksOn counts the links that hold a body.
func (j *judge) linksOn(body int) int {
	count := 0
	for i := range j.Axle.Elements {
		if e := &j.Axle.Elements[i]; e.Kind == compliance.Link && (e.From == body || e.To == body) {
			count++
		}
	}
	return count
}

// bodySide picks the end of a two-point element on the sprung side, and the other:
// the end of the vehicle, else that of a body that carries no wheel, else the upper.
func (j *judge) bodySide(p *part) (upper, lower vec) {
	upper, lower = p.points[0].at, p.points[1].at
	to := p.To == compliance.Vehicle || p.From != compliance.Vehicle && j.carries(p.From) && !j.carries(p.To)
	if to {
		upper, lower = lower, upper
	}
	return upper, lower
}

// cross tells whether a part joins the two sides of the axle: a cross-member.
func (j *judge) cross(p *part) bool {
	side := func(body int) compliance.Side {
		if body == compliance.Vehicle {
			return compliance.Centre
		}
		return j.Axle.Bodies[body].Side
	}
	a, b := side(p.From), side(p.To)
	return a != compliance.Centre && b != compliance.Centre && a != b
}
