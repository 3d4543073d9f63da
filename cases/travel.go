package cases

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// travelTerms are the loads and numbers that a travel reads at every point.
type travelTerms struct {
	mode     Mode
	outer    int
	numbers  []int // of the study: tangents
	heave    int   // loads of the study
	roll     int
	rollRate int // number of the study
	previous float64
}

// travelNames are the numbers of the study that are read as tangents at every
// point of a travel, with the case they are read in.
var travelNames = []struct{ name, caseName string }{
	{"wheel_rate", "heave"}, {"wheel_rate", "roll"}, {"ride_rate", "heave"}, {"ride_rate", "roll"}, {"roll_rate", "roll"},
	{"bump_steer", "heave"}, {"bump_camber", "heave"}, {"track_change", "heave"}, {"wheelbase_change", "heave"},
	{"roll_steer", "roll"}, {"roll_camber", "roll"}, {"roll_centre_kinematic", "roll"}, {"roll_centre_force", "cornering"},
	{"anti_lift_angle", "braking"}, {"anti_lift_percent", "braking"}, {"anti_lift_angle", "braking_inboard"}, {"anti_lift_percent", "braking_inboard"},
}

// Travel moves the pads over a range and reads at every point where the wheels
// are, the study's numbers of heave, roll and braking as tangents there, the
// shares of the roll rate, the instant screw axes of both wheels, and every bush
// against its limits. The error is that of a request that makes no sense, or one or two
// *LostWay with the places; with those comes what was read until there, or nil if that
// is nothing.
func (f *FullSize) Travel(t Travel) (*Travelled, error) {
	terms, err := f.travelTerms(&t)
	if err != nil {
		return nil, err
	}
	spent := f.Evaluations()
	c := newCurves(Quantity{"travel of the outer pad", quantity.Millimetre.Name}, t.Points)
	if t.Mode == Heave {
		c.x.Name = "travel of both pads"
	}
	lost := f.walkTravel(&t, terms, c)
	if len(c.series) == 0 {
		return nil, lost
	}
	result := &Travelled{Series: c.series, Evaluations: f.Evaluations() - spent}
	result.Warnings = slices.Concat(c.warnings, negativeRates(c.series), limitsPassed(c.series), f.withoutOutline)
	return result, lost
}

// travelTerms checks a request and finds what it needs of the study.
func (f *FullSize) travelTerms(t *Travel) (*travelTerms, error) {
	turn, suffix := 0, ""
	if t.TurnRight {
		turn, suffix = 1, TurnRight
	}
	switch {
	case turn >= f.study.turns:
		return nil, fmt.Errorf("travel: the halves of the axle are alike; turning right is the mirror image of turning left")
	case t.Mode < Heave || t.Mode > Single:
		return nil, fmt.Errorf("travel: there is no mode %d", t.Mode)
	case t.Points < 2 || !(t.From < t.To) || math.IsInf(t.To-t.From, 0):
		return nil, fmt.Errorf("travel: from %g to %g mm in %d points; want at least 2 points and from below to", t.From, t.To, t.Points)
	}
	terms := &travelTerms{mode: t.Mode, outer: RightWheel - turn}
	for _, wanted := range travelNames {
		for i := range f.study.numbers {
			n := &f.study.numbers[i]
			if n.Name == wanted.name && n.Case == wanted.caseName+suffix {
				terms.numbers = append(terms.numbers, i)
			}
			if n.Name == "roll_rate" && n.Case == "roll"+suffix {
				terms.rollRate = i
			}
		}
	}
	var err error
	if terms.heave, err = f.loadIndex("heave" + suffix); err == nil {
		terms.roll, err = f.loadIndex("roll" + suffix)
	}
	return terms, err
}

// at is the travel of a point.
func (t *Travel) at(point int) float64 {
	return t.From + (t.To-t.From)*float64(point)/float64(t.Points-1)
}

// walkTravel starts at the design position and goes outward, first down, so that
// the points of every curve can be put in order at the end.
func (f *FullSize) walkTravel(t *Travel, terms *travelTerms, c *curves) error {
	first := 0
	for first < t.Points && t.at(first) < 0 {
		first++
	}
	down := f.goTravel(t, terms, c, first-1, -1)
	c.reverse()
	return errors.Join(down, f.goTravel(t, terms, c, first, t.Points))
}

// reverse turns the order of the points of every curve round.
func (c *curves) reverse() {
	for i := range c.series {
		p := c.series[i].Points
		for a, b := 0, len(p)-1; a < b; a, b = a+1, b-1 {
			p[a], p[b] = p[b], p[a]
		}
	}
}

// goTravel goes from the design position through points to one before end.
func (f *FullSize) goTravel(t *Travel, terms *travelTerms, c *curves, from, end int) error {
	step := 1
	if end < from {
		step = -1
	}
	if err := f.Reset(); err != nil {
		return f.lost(terms, 0, err)
	}
	terms.previous = 0
	last := 0.0
	for i := from; i != end; i += step {
		x := t.at(i)
		if err := f.moveTo(terms, x); err != nil {
			var lost *compliance.LostBalance
			if isLost(err, &lost) {
				last += lost.Fraction * (x - last)
			}
			return f.lost(terms, last, err)
		}
		last = x
		f.readTravel(terms, x, c)
	}
	return nil
}

func (f *FullSize) lost(terms *travelTerms, place float64, cause error) error {
	return &LostWay{What: "travel " + terms.mode.String(), Place: place, Unit: quantity.Millimetre.Name, Cause: cause}
}

// moveTo moves the pads to a travel.
func (f *FullSize) moveTo(terms *travelTerms, x float64) error {
	var d compliance.Demand
	heights := [2]float64{}
	outer, inner := terms.outer, 1-terms.outer
	switch terms.mode {
	case Heave:
		heights[outer], heights[inner] = x, x
	case Single:
		heights[outer] = x
	case RollBody:
		heights[outer], heights[inner] = x, -x
	case RollLoad:
		return f.rollAtLoad(terms, x)
	}
	f.holdPads(&d, heights[LeftWheel], heights[RightWheel])
	return f.solve(&d)
}

// axleLoadError is the share of the largest pad force by which the axle load may
// differ from that at rest: the balance that the mover itself keeps.
const axleLoadError = 1e-8

// rollAtLoad moves the pads apart by ±x and finds by Newton's method the mean
// height at which their forces sum to that at rest.
func (f *FullSize) rollAtLoad(terms *travelTerms, x float64) error {
	const most = 20
	mean := terms.previous
	for range most {
		var d compliance.Demand
		heights := [2]float64{}
		heights[terms.outer], heights[1-terms.outer] = mean+x, mean-x
		f.holdPads(&d, heights[LeftWheel], heights[RightWheel])
		if err := f.solve(&d); err != nil {
			return err
		}
		excess := f.moved[0].pad + f.moved[1].pad
		if math.Abs(excess) <= axleLoadError*max(1, math.Abs(f.moved[0].pad), math.Abs(f.moved[1].pad)) {
			terms.previous = mean
			return nil
		}
		f.prepareBasis()
		slope := 0.0
		for _, b := range f.basis {
			slope += b.wheels[0].pad + b.wheels[1].pad
		}
		mean -= excess / slope
	}
	return fmt.Errorf("at %g mm of roll no height keeps the axle load", x)
}

// readTravel reads everything at one point.
func (f *FullSize) readTravel(terms *travelTerms, x float64, c *curves) {
	f.readWheelsMoved(terms.mode.String(), Level, x, c)
	f.readAxle(terms.mode.String(), Level, terms.outer, x, c)
	for _, i := range terms.numbers {
		n := &f.study.numbers[i]
		s := seriesOf(&n.Number)
		value := n.Unit.Written(f.Tangent(i))
		c.add(&s, x, value)
		if n.Name == "roll_steer" {
			s.Unit, s.Step = quantity.Percent.Name, s.Step/quantity.Percent.Factor
			c.add(&s, x, value/quantity.Percent.Factor)
		}
	}
	f.readRollShares(terms, x, c)
	f.readScrews(terms.heave, "heave", x, c)
	f.readScrews(terms.roll, "roll", x, c)
	f.readBushes(terms.mode.String(), x, c)
	f.readStops(terms.mode.String(), x, c)
	f.watchCoils(x, c)
	f.readStress(terms.mode.String(), x, c)
}

// readWheelsMoved reads where both wheels are.
func (f *FullSize) readWheelsMoved(caseName string, pads Pads, x float64, c *curves) {
	for w := range f.moved {
		for i := range genericReadings {
			g := &genericReadings[i]
			s := seriesOfReading(g, TheLoad, WheelNames[w], caseName, pads)
			c.add(&s, x, g.unit(TheLoad).Written(f.moved[w].along[g.direction]))
		}
		if pads == Level {
			s := seriesOfReading(&padReading, TheLoad, WheelNames[w], caseName, pads)
			c.add(&s, x, f.moved[w].pad)
		}
	}
}

// readAxle reads track, wheelbase and roll angle, and camber against the ground.
func (f *FullSize) readAxle(caseName string, held Pads, outer int, x float64, c *curves) {
	pads := held.String()
	left, right := &f.moved[LeftWheel].along, &f.moved[RightWheel].along
	track := Series{Number: "track", Title: "change of track", Case: caseName, Pads: pads, Unit: quantity.Millimetre.Name, Signs: largerSign, Step: 0.1,
		Formula: "distance of the contact points along y, less that at the design position"}
	c.add(&track, x, left[patchY]-right[patchY])
	base := Series{Number: "wheelbase", Title: "change of wheelbase", Case: caseName, Pads: pads, Unit: quantity.Millimetre.Name, Signs: largerSign, Step: 0.1,
		Formula: "mean −x of the wheel centres, less that at the design position"}
	c.add(&base, x, -(left[centreX]+right[centreX])/2)
	roll := f.rollAngle(outer)
	angle := Series{Number: "roll_angle", Title: "roll angle on the suspension", Case: caseName, Pads: pads, Unit: quantity.Degree.Name,
		Signs: quantity.Signs{Plus: "body leans outward", Minus: "body leans inward"}, Step: 0.05, Formula: "atan of the contact points' difference in height (outer − inner) over their distance along y, tyres excluded"}
	c.add(&angle, x, quantity.Degree.Written(roll))
	for w := range f.moved {
		lean := roll
		if w != outer {
			lean = -roll
		}
		s := Series{Number: "camber_to_ground", Title: "camber to the ground", Case: caseName, Where: WheelNames[w], Pads: pads,
			Unit: quantity.Degree.Name, Signs: topSigns, Step: 0.02, Formula: "change of camber to the body, plus the roll angle for the outer wheel, minus it for the inner"}
		c.add(&s, x, quantity.Degree.Written(f.moved[w].along[camber]+lean))
	}
}

// rollAngle is the slope of the line between the contact points in rad, + outer
// one up.
func (f *FullSize) rollAngle(outer int) float64 {
	return math.Atan2(f.moved[outer].along[patchZ]-f.moved[1-outer].along[patchZ], f.track())
}

// limitsPassed names each series that goes beyond its limit, with its worst point.
func limitsPassed(series []Series) []string {
	var all []string
	for i := range series {
		s := &series[i]
		if s.Limit <= 0 {
			continue
		}
		worst := 0.0
		at := 0.0
		for _, p := range s.Points {
			if quantity.Exceeds(math.Abs(p.Value), worst) {
				worst, at = math.Abs(p.Value), p.X
			}
		}
		if worst > s.Limit {
			all = append(all, fmt.Sprintf("%s: %s %.4g %s at %.4g %s, the limit is %.4g %s", s.Where, s.Title, worst, s.Unit, at, s.X.Unit, s.Limit, s.Unit))
		}
	}
	return all
}
