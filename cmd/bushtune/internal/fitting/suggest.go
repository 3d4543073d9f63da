package fitting

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// Test is a reading that is worth adding to the rig data.
type Test struct {
	optimize.Addition
	Case, Channel, Side string
	Load                float64       // in Unit
	Unit                quantity.Unit // of the load
	Measured            bool          // the rig, or a test before, has this reading already: more of it
	Shrinks             int           // the parameter whose standard error it shrinks most, as a ratio
}

// Usual loads of a rig: common practice, no source.
const (
	usualForce    = 3e3   // N
	usualVertical = 1e3   // N: on floating pads it moves the wheel tens of millimetres
	usualMoment   = 200e3 // N·mm
	testsAsked    = 3
)

// suggest looks for the readings that would tell most of what is still open: every
// built-in case, channel and side at a usual load, linear.
func (o *Outcome) suggest(file *axlefile.File, offsets []gauge) error {
	tests, rows := o.possibleTests()
	study, err := Study(file)
	if err != nil {
		return err
	}
	b, err := newBridge(study, file.Search, rows, false)
	if err != nil {
		return err
	}
	x := make([]float64, len(o.Parameters))
	for j := range x {
		x[j] = o.Estimates[j].Value
	}
	slopes := mat.NewDense(len(rows), len(x), nil)
	if err := b.evaluate(x, make([]float64, len(rows)), slopes); err != nil {
		return err
	}
	candidates, expected := make([]optimize.Candidate, len(rows)), map[string]float64{}
	for _, c := range cases.Channels() {
		expected[c.Name] = o.expected(c)
	}
	for i, r := range rows {
		candidates[i] = optimize.Candidate{Slopes: slices.Clone(slopes.RawRowView(i)), Deviation: expected[r.Channel]}
		for _, g := range offsets {
			has := 0.0
			if g.channel == r.Channel && g.side == r.Side {
				has = 1
			}
			candidates[i].Slopes = append(candidates[i].Slopes, has)
		}
	}
	for _, a := range o.Additions(candidates, testsAsked) {
		a.Before, a.After = a.Before[:len(x)], a.After[:len(x)]
		t := tests[a.Candidate]
		t.Addition, t.Shrinks = a, mostShrunk(a)
		tests[a.Candidate].Measured = true // if it comes again
		o.Tests = append(o.Tests, t)
	}
	return nil
}

// mostShrunk is the parameter whose standard error falls most as a ratio.
func mostShrunk(a optimize.Addition) int {
	best, least := 0, math.Inf(1)
	for j := range a.Before {
		if ratio := a.After[j] / a.Before[j]; quantity.Exceeds(least, ratio) {
			best, least = j, ratio
		}
	}
	return best
}

// possibleTests lists what a rig could read: left and right wheel in every built-in
// case, turning left.
func (o *Outcome) possibleTests() (tests []Test, rows []axlefile.RigRow) {
	for _, c := range cases.BuiltIn() {
		for _, channel := range cases.Channels() {
			for _, side := range cases.WheelNames {
				index, err := o.Before.FindChannel(channel.Name, side, c.Name)
				if err != nil {
					continue
				}
				size := o.usualSize(&c)
				unit := o.Before.SizeUnit(index)
				tests = append(tests, Test{Case: c.Name, Channel: channel.Name, Side: side, Load: unit.Written(size), Unit: unit,
					Measured: o.measured(c.Name, channel.Name, side)})
				rows = append(rows, axlefile.RigRow{Number: index, Size: size, Case: c.Name, Channel: channel.Name, Side: side})
			}
		}
	}
	return tests, rows
}

// measured tells whether the rig has a reading already, whatever it calls the wheel.
func (o *Outcome) measured(caseName, channel, side string) bool {
	return slices.ContainsFunc(o.Rows, func(r axlefile.RigRow) bool {
		return r.Case == caseName && r.Channel == channel && sideOf(&r, o.Before) == side
	})
}

// sideOf is the side of the wheel that a row reads.
func sideOf(r *axlefile.RigRow, study *cases.Study) string {
	if slices.Contains(cases.WheelNames, r.Side) {
		return r.Side
	}
	at := slices.IndexFunc(study.Cases(), func(c cases.Case) bool { return c.Name == r.Case })
	wheel := study.Cases()[at].Outer
	if r.Side != "outer" {
		wheel = 1 - wheel
	}
	return cases.WheelNames[wheel]
}

// usualSize is the load at which a case would be run: the largest that the rig has
// put on in it, or a usual one.
func (o *Outcome) usualSize(c *cases.Case) float64 {
	size := 0.0
	for _, r := range o.Rows {
		if r.Case == c.Name {
			size = max(size, math.Abs(r.Size))
		}
	}
	switch {
	case size > 0:
		return size
	case c.Per == cases.Per100NewtonMetre:
		return usualMoment
	case c.Pads == cases.Floating && c.Wheels[cases.RightWheel].Force[2] != 0:
		return usualVertical
	}
	return usualForce
}

// expected is the standard deviation that a reading of a channel would have: the
// mean of those of its rows, else the usual one.
func (o *Outcome) expected(channel cases.Channel) float64 {
	sum, n := 0.0, 0
	for i, r := range o.Rows {
		if r.Channel == channel.Name {
			sum += o.Deviation(i)
			n++
		}
	}
	if n == 0 {
		return usualDeviation(channel)
	}
	return sum / float64(n)
}
