// Package making joins a part file to the optimiser: the dimensions that a
// supplier may choose become parameters, the rates that an engineer wants become
// wants. Rates are compared by their logarithms, so that a miss is a share of
// what is wanted and a ratio of rates is a difference.
package making

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// bridge computes the numbers of a part for the optimiser.
type bridge struct {
	file   *axlefile.PartFile
	free   []int // the dimensions that are chosen
	slots  []float64
	lifted []complex128
	values []float64
	slopes []complex128
}

func newBridge(file *axlefile.PartFile) *bridge {
	n, m := len(file.Dimensions), len(file.Part.Numbers)
	b := &bridge{file: file, slots: make([]float64, n), lifted: make([]complex128, n), values: make([]float64, m), slopes: make([]complex128, m)}
	for i := range file.Dimensions {
		d := &file.Dimensions[i]
		b.slots[i] = d.From * d.Field.Unit.Factor
		if d.Free() {
			b.free = append(b.free, i)
		}
	}
	return b
}

// at computes all numbers, in internal units, at the free dimensions x in written
// units. What it returns belongs to the bridge.
func (b *bridge) at(x []float64) []float64 {
	for k, i := range b.free {
		b.slots[i] = x[k] * b.file.Dimensions[i].Field.Unit.Factor
	}
	b.file.Part.Values(b.slots, b.file.Choice, b.values)
	return b.values
}

// whole returns every dimension, in written units, where the free ones are x;
// without x the free ones stand on their lower limits.
func (b *bridge) whole(x []float64) []float64 {
	all := make([]float64, len(b.file.Dimensions))
	for i := range all {
		all[i] = b.file.Dimensions[i].From
	}
	for k, v := range x {
		all[b.free[k]] = v
	}
	return all
}

// evaluate is the optimize.Evaluator of the part: natural logarithms of its
// numbers. A number that is nothing is not a number.
func (b *bridge) evaluate(x, values []float64, jacobian *mat.Dense) error {
	for k, v := range b.at(x) {
		values[k] = math.Log(v)
		if v <= 0 {
			values[k] = math.NaN()
		}
	}
	if jacobian == nil {
		return nil
	}
	for i, s := range b.slots {
		b.lifted[i] = complex(s, 0)
	}
	for k, i := range b.free {
		b.lifted[i] = exact.Seed(b.slots[i])
		b.file.Part.Lifted(b.lifted, b.file.Choice, b.slopes)
		b.lifted[i] = complex(b.slots[i], 0)
		gain := b.file.Dimensions[i].Field.Unit.Factor
		for row, slope := range b.slopes {
			jacobian.Set(row, k, exact.Derivative(slope)/b.values[row]*gain)
		}
	}
	return nil
}

// parameters are the free dimensions for the optimiser, in written units, by
// ratios where they cannot become nothing. They start at x, or in the middle.
func (b *bridge) parameters(x []float64) []optimize.Parameter {
	all := make([]optimize.Parameter, len(b.free))
	for k, i := range b.free {
		d := &b.file.Dimensions[i]
		q := optimize.Parameter{Name: d.Field.Name, Lower: d.From, Upper: d.To, Start: (d.From + d.To) / 2}
		if d.From > 0 {
			q.Scale, q.Start = optimize.Log, math.Sqrt(d.From*d.To)
		}
		if x != nil {
			q.Start = x[k]
		}
		all[k] = q
	}
	return all
}

// unit is the written unit of a number.
func (b *bridge) unit(number int) quantity.Unit { return b.file.Part.Numbers[number].Unit }

// wants states what the file wants. With limits each target also must lie within
// what it may be off.
func (b *bridge) wants(limits bool) []optimize.Want {
	var all []optimize.Want
	for _, w := range b.file.Wanted {
		inside := w.Value * b.unit(w.Number).Factor
		scale := w.Within / w.Value
		want := optimize.Want{Name: b.file.Part.Numbers[w.Number].Name, Number: w.Number, Kind: w.Goal, Value: math.Log(inside), Scale: scale}
		if w.Goal != optimize.Target {
			want.Scale = limitScale
		}
		all = append(all, want)
		if limits && w.Goal == optimize.Target {
			low, high := want, want
			low.Kind, low.Value = optimize.AtLeast, math.Log(inside*(1-scale))
			high.Kind, high.Value = optimize.AtMost, math.Log(inside*(1+scale))
			all = append(all, low, high)
		}
	}
	return all
}

// limitScale is the share of a limit that weighs as much as a target that is off
// by what it may be.
const limitScale = 0.02
