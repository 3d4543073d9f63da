// Package fitting joins an axle file and rig data to the least-squares solver: what
// [search] may change are the parameters, every reading of the rig is a row. The
// solver works in written units of the parameters, readings are in internal units.
package fitting

import (
	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// Study makes the study that rig data are read for: in both turns, so that a rig
// may load either side.
func Study(file *axlefile.File) (*cases.Study, error) {
	return cases.NewStudyBothTurns(file.Axle, file.Vehicle, file.Cases, file.States)
}

// bridge evaluates the readings of a rig.
type bridge struct {
	readings *tuning.Readings
	place    []int     // of each row among the numbers
	factor   []float64 // reading = number · factor
	values   []float64
	slopes   *mat.Dense
	offsets  []gauge // that have one: parameters after the others
}

// newBridge prepares the readings of the rows under loads of their size, or of
// the linear axle.
func newBridge(study *cases.Study, parameters []axlefile.Parameter, rows []axlefile.RigRow, atSize bool) (b *bridge, err error) {
	b = &bridge{}
	goals := make([]cases.Goal, len(rows))
	for i, r := range rows {
		linear, secant := study.Reading(r.Number, r.Size)
		goals[i].Number = r.Number
		if atSize && r.Size != 0 {
			goals[i].Size, linear = r.Size, secant
		}
		b.factor = append(b.factor, linear)
	}
	if b.readings, b.place, err = tuning.NewReadings(study, parameters, goals); err != nil {
		return nil, err
	}
	b.values, b.slopes = make([]float64, b.readings.Count()), mat.NewDense(b.readings.Count(), len(parameters), nil)
	return b, nil
}

// evaluate is the optimize.Evaluator of the rows.
func (b *bridge) evaluate(x, values []float64, jacobian *mat.Dense) error {
	slopes := b.slopes
	if jacobian == nil {
		slopes = nil
	}
	if err := b.readings.Evaluate(x[:len(x)-len(b.offsets)], b.values, slopes); err != nil {
		return err
	}
	for i, k := range b.place {
		values[i] = b.values[k] * b.factor[i]
		if jacobian == nil {
			continue
		}
		to := jacobian.RawRowView(i)
		for j, v := range slopes.RawRowView(k) {
			to[j] = v * b.factor[i]
		}
	}
	n := len(x) - len(b.offsets)
	for k, g := range b.offsets {
		for _, i := range g.rows {
			values[i] += x[n+k]
			if jacobian != nil {
				jacobian.Set(i, n+k, 1)
			}
		}
	}
	return nil
}

// channelOf finds a channel by name.
func channelOf(name string) cases.Channel {
	for _, c := range cases.Channels() {
		if c.Name == name {
			return c
		}
	}
	panic("fitting: no channel " + name) // the reader has looked it up
}

// usualDeviation is the standard deviation of a channel of which nothing is known:
// its just-noticeable step.
func usualDeviation(c cases.Channel) float64 { return c.Step * c.Unit.Factor }

// problem states the fit. Rows with a standard deviation share one factor on it;
// rows without share one for each channel. The offsets are parameters at the end.
func (b *bridge) problem(parameters []axlefile.Parameter, rows []axlefile.RigRow, priors bool) (p *optimize.FitProblem, groups []string) {
	p = &optimize.FitProblem{Evaluate: b.evaluate}
	for i := range parameters {
		p.Parameters = append(p.Parameters, parameterOf(&parameters[i]))
		if priors {
			p.Priors = append(p.Priors, priorOf(&parameters[i]))
		}
	}
	for _, g := range b.offsets {
		p.Parameters = append(p.Parameters, optimize.Parameter{Name: g.channel + " " + g.side, Lower: -g.reach, Upper: g.reach})
		if priors {
			p.Priors = append(p.Priors, optimize.Prior{})
		}
	}
	for _, r := range rows {
		name, deviation := r.Channel, usualDeviation(channelOf(r.Channel))
		if r.Deviation > 0 {
			name, deviation = "", r.Deviation
		}
		g := indexOrAdd(&groups, name)
		p.Observations = append(p.Observations, optimize.Observation{Value: r.Value, Deviation: deviation, Group: g})
	}
	return p, groups
}

func indexOrAdd(names *[]string, name string) int {
	for i, n := range *names {
		if n == name {
			return i
		}
	}
	*names = append(*names, name)
	return len(*names) - 1
}

func parameterOf(q *axlefile.Parameter) optimize.Parameter {
	scale := optimize.Linear
	if q.Log {
		scale = optimize.Log
	}
	return optimize.Parameter{Name: q.Path, Lower: q.From, Upper: q.To, Start: q.Start, Scale: scale}
}

// twoDeviations is how many standard deviations a tolerance stands for: the 95 %
// interval of a normal distribution.
const twoDeviations = 1.96

// priorOf is the present value with its tolerance.
func priorOf(q *axlefile.Parameter) optimize.Prior {
	deviation := q.Tolerance / twoDeviations
	if q.Log {
		deviation *= quantity.Percent.Factor
	}
	return optimize.Prior{Mean: q.Start, Deviation: deviation}
}
