package swapping

import (
	"math"
	"strings"

	"bushtune/bushing"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/compliance"
)

// Play is where a worn bush stands at rest along one of its axes. The linear answer
// has the worn rates and holds on the side where it bears, once the play is taken
// up.
type Play struct {
	Element   string // with its side
	Direction bushing.Direction
	Way       float64 // mm from the middle to either side
	Rest      float64 // N, + as from the inner sleeve pushed along + of the axis
	RestEnd   float64 // N, the same at the stiff end of a range
	Turns     bool    // it bears on one side or floats at one end of the range, not so at the other
	Towards   string  // where Rest pushes the inner sleeve; the two ways of the axis where it floats
	Floats    bool    // nothing holds it to one side
	Unknown   bool    // no static load is included
	Leaves    string  // the case that takes the load off first, empty: none within Reach
	At        float64 // kN on a wheel at which it does
}

// restNoise is the load in N below which a bush floats: less than parts weigh.
const restNoise = 1

// reach is the load in kN on a wheel up to which it is told where a bush leaves its
// side: more than a tyre of a passenger car can hand on.
const reach = 6

// plays lists the directions of the worn bushes of a set.
func plays(set *axlefile.Set, study *cases.Study) (all []Play) {
	axle := study.Solver().Axle()
	var loads []cases.BushLoad
	for i := range set.Rules {
		r := &set.Rules[i]
		if r.Kind != axlefile.Worn || r.FreePlay == 0 {
			continue
		}
		if loads == nil {
			loads = study.BushLoads()
		}
		for _, index := range r.Elements {
			e := &axle.Elements[index]
			b, is := e.Bush()
			if !is {
				continue
			}
			_, elastic := b.Axes(e.Choice.Base)
			for d := bushing.Soft; d <= bushing.Stiff; d++ {
				p := Play{Element: e.Label(), Direction: d, Way: r.FreePlay}
				p.atRest(study, loads)
				p.Towards = wayWord(elastic[d], p.Rest)
				if p.Floats || p.Unknown {
					p.Towards = wayWord(elastic[d], 1) + " or " + wayWord(elastic[d], -1)
				}
				all = append(all, p)
			}
		}
	}
	return all
}

// overRange completes what plays are at the soft end of a range by what they are at
// its stiff end.
func overRange(soft, stiff []Play) {
	for i := range soft {
		p, end := &soft[i], &stiff[i]
		p.RestEnd = end.Rest
		p.Turns = !p.Unknown && p.Towards != end.Towards
		switch {
		case p.Turns:
			p.Leaves = ""
		case end.Leaves != "" && (p.Leaves == "" || end.At < p.At):
			p.Leaves, p.At = end.Leaves, end.At
		}
	}
}

// atRest finds the load at rest, and the case per kN that takes it off with the
// least force. Where both halves are alike a turn to the right does to one side
// what a turn to the left does to the other.
func (p *Play) atRest(study *cases.Study, loads []cases.BushLoad) {
	p.Unknown = !study.Solver().Loaded()
	nearest := math.Inf(1)
	for i := range loads {
		b := &loads[i]
		switch {
		case b.Element == p.Element:
			p.Rest = b.Rest[p.Direction]
		case !study.Symmetric() || !twins(b.Element, p.Element):
			continue
		}
		if at := -b.Rest[p.Direction] / b.Load[p.Direction]; perKilonewton(study, b.Case) && !strings.HasPrefix(b.Case, "braking_inboard") && at > 0 && at < nearest && at <= reach {
			nearest, p.Leaves, p.At = at, b.Case, at
		}
	}
	if p.Floats = math.Abs(p.Rest) < restNoise; p.Floats || p.Unknown {
		p.Leaves = ""
	}
}

// twins tells whether two labels name the same part on two sides.
func twins(a, b string) bool {
	left, right := "."+compliance.Left.String(), "."+compliance.Right.String()
	return strings.TrimSuffix(a, left) == strings.TrimSuffix(b, right) || strings.TrimSuffix(a, right) == strings.TrimSuffix(b, left)
}

// perKilonewton tells whether a case is a force of 1 kN on wheels.
func perKilonewton(study *cases.Study, name string) bool {
	for _, c := range study.Cases() {
		if c.Name == name {
			return c.Per == cases.PerKilonewton
		}
	}
	return false
}

// wayWord says which way along a left-hand axis of the car a load pushes, by the
// largest component.
func wayWord(axis [3]float64, load float64) string {
	words := [3][2]string{{"forward", "rearward"}, {"outboard", "inboard"}, {"up", "down"}}
	most := 0
	for i := range axis {
		if math.Abs(axis[i]) > math.Abs(axis[most]) {
			most = i
		}
	}
	if axis[most]*load >= 0 {
		return words[most][0]
	}
	return words[most][1]
}

// Line is the word for the direction.
func (p *Play) Line() string { return bushing.DirectionNames[p.Direction] }
