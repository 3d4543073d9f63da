package cases

import "bushtune/bushing/quantity"

// curves gathers series point by point. Every point of a walk adds to the series
// that exist there; the order of the series is that of their first points.
type curves struct {
	series []Series
	at     map[curveKey]int
	x      Quantity
	points int
	next   int // the series that followed the last one before

	outside  map[string]bool // bush lines that have left their tables
	warnings []string
}

type curveKey struct{ number, caseName, where, unit string }

func newCurves(x Quantity, points int) *curves {
	return &curves{at: make(map[curveKey]int), x: x, points: points, outside: make(map[string]bool)}
}

// add adds a point with its value in the written unit of s, whose points are not
// looked at.
func (c *curves) add(s *Series, x, value float64) {
	i := c.place(s)
	c.next = i + 1
	c.series[i].Points = append(c.series[i].Points, Point{x, value})
}

// place finds a series, first where it would be if this point has the same series
// as the last one, and makes it if it is new.
func (c *curves) place(s *Series) int {
	key := keyOf(s)
	if c.next >= len(c.series) {
		c.next = 0
	}
	if len(c.series) > 0 && keyOf(&c.series[c.next]) == key {
		return c.next
	}
	i, known := c.at[key]
	if !known {
		i = len(c.series)
		c.at[key] = i
		c.series = append(c.series, *s)
		c.series[i].X, c.series[i].Points = c.x, make([]Point, 0, c.points)
	}
	return i
}

func keyOf(s *Series) curveKey { return curveKey{s.Number, s.Case, s.Where, s.Unit} }

// seriesOf is the series of a number of the study, without points.
func seriesOf(n *Number) Series {
	return Series{Number: n.Name, Title: n.Title, Case: n.Case, Where: n.Where, Pads: n.Pads.String(),
		Unit: n.Unit.Name, Signs: n.Signs, Step: n.Step, Formula: n.Formula}
}

// seriesOfReading is the series of a plain reading of one wheel under a load.
func seriesOfReading(g *genericReading, per Per, wheel, caseName string, pads Pads) Series {
	return Series{Number: g.name, Title: g.title, Case: caseName, Where: wheel, Pads: pads.String(),
		Unit: g.unit(per).Name, Signs: g.signs, Step: g.step, Formula: g.title + ", change from the design position"}
}

// find returns the series of a number, nil if there is none.
func find(series []Series, number, caseName, where string) *Series {
	for i := range series {
		s := &series[i]
		if s.Number == number && (caseName == "" || s.Case == caseName) && (where == "" || s.Where == where) {
			return s
		}
	}
	return nil
}

// millimetrePerRadian is the pitch of a screw.
var millimetrePerRadian = quantity.Unit{Name: "mm/rad", Factor: 1}
