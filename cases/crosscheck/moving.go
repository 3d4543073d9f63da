package crosscheck

import (
	"fmt"
	"math"

	"bushtune/compliance"
)

// contactAtCentre is the radius of a wheel so small that it takes its loads at
// its centre, mm.
const contactAtCentre = 1e-3

// MovingAxle is the same axle as SweepDeck's as a model whose wheels take their
// loads at the wheel centre.
func (a Axle) MovingAxle(s Stops) (*compliance.Axle, error) {
	a.LoadedRadius = contactAtCentre
	axle, err := a.Compliance(BuiltIn)
	if err != nil {
		return nil, err
	}
	for i := range axle.Elements {
		e := &axle.Elements[i]
		if e.Kind != compliance.Bush {
			continue
		}
		e.Choice.OuterIsFrom = true // its axes stay with the vehicle
		bush := part{*e}
		for name, value := range map[string]float64{
			"soft_gap": s.SoftGap, "soft_gap_back": s.SoftGapBack, "soft_snubber": s.SoftSnubber,
			"axial_gap": s.AxialGap, "axial_gap_back": s.AxialGapBack, "axial_snubber": s.AxialSnubber,
			"snubber_run": s.Run,
		} {
			bush.set(name, value)
		}
		*e = bush.Element
	}
	return axle, nil
}

// Follow moves the model along a sweep.
func Follow(model *compliance.Axle, sweep Sweep) ([]SweepAnswer, error) {
	solver, err := compliance.NewSolver(model)
	if err != nil {
		return nil, err
	}
	mover, err := compliance.NewMover(solver)
	if err != nil {
		return nil, err
	}
	var answers []SweepAnswer
	for i, station := range sweep.Stations {
		demand := station.demand()
		if err := mover.Solve(&demand); err != nil {
			return nil, fmt.Errorf("%s, station %d: %w", sweep.Name, i, err)
		}
		answer := SweepAnswer{Station: station}
		for side := range answer.Wheels {
			w := mover.Wheel(side)
			answer.Wheels[side] = WheelState{
				Centre: Point(w.Centre), ToeIn: w.Toe / degree, Camber: w.Camber / degree, WindUp: w.WindUp / degree, PadLoad: w.Pad,
			}
		}
		answers = append(answers, answer)
	}
	return answers, nil
}

// demand is the station for the model.
func (s Station) demand() (d compliance.Demand) {
	for side := range d.Wheels {
		if s.Rise != nil {
			d.Pads[side] = compliance.Pad{Held: true, Height: s.Rise[side]}
		} else {
			d.Wheels[side].AtCentre[1] = s.Force[side]
		}
	}
	return d
}

// figure is one number of both wheels along a sweep.
type figure struct {
	name string
	kind int // like figures: lengths, angles, loads
	of   func(*WheelState) float64
}

const (
	lengths = iota
	angles
	loads
	figureKinds
)

var figures = []figure{
	{"x", lengths, func(w *WheelState) float64 { return w.Centre[0] }},
	{"y", lengths, func(w *WheelState) float64 { return w.Centre[1] }},
	{"z", lengths, func(w *WheelState) float64 { return w.Centre[2] }},
	{"toe", angles, func(w *WheelState) float64 { return w.ToeIn }},
	{"camber", angles, func(w *WheelState) float64 { return w.Camber }},
	{"wind-up", angles, func(w *WheelState) float64 { return w.WindUp }},
	{"pad load", loads, func(w *WheelState) float64 { return w.PadLoad }},
}

// Distance is how far two answers to a sweep are apart in one figure of one wheel.
type Distance struct {
	Figure  string
	Side    int
	Most    float64 // largest difference at any station
	Station int     // where
	Range   float64 // largest size of the figure along the sweep, of either wheel
	Kind    float64 // largest size of any like figure along the sweep
}

// Distances compares the figures of both wheels over a whole sweep.
func Distances(got, want []SweepAnswer) []Distance {
	var size [figureKinds]float64
	var list []Distance
	for _, f := range figures {
		reach := 0.0
		for i := range want {
			for side := range want[i].Wheels {
				reach = math.Max(reach, math.Abs(f.of(&want[i].Wheels[side])))
			}
		}
		size[f.kind] = math.Max(size[f.kind], reach)
		for side := range 2 {
			d := Distance{Figure: f.name, Side: side, Range: reach}
			for i := range want {
				if miss := math.Abs(f.of(&got[i].Wheels[side]) - f.of(&want[i].Wheels[side])); !(miss <= d.Most) {
					d.Most, d.Station = miss, i
				}
			}
			list = append(list, d)
		}
	}
	for i := range list {
		list[i].Kind = size[figures[i/2].kind]
	}
	return list
}
