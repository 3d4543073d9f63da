package swapping

import (
	"math"
	"slices"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/compliance"
)

// Sized is a wanted number under a load of full size, in internal units: over a range
// the least and the largest value where the axle holds that load, not a number if
// nowhere. It is zero of a want for small loads.
type Sized struct {
	Low, High float64
	Lost      bool // somewhere in the range the axle cannot hold the load
}

// add takes in the value at one place of a range; first tells the first place.
func (s *Sized) add(value float64, first bool) {
	s.Lost = s.Lost || math.IsNaN(value)
	switch {
	case first || math.IsNaN(s.Low):
		s.Low, s.High = value, value
	case !math.IsNaN(value):
		s.Low, s.High = min(s.Low, value), max(s.High, value)
	}
}

// readAtSize reads what the axle file wants under loads of full size: of the axle as
// it is, and of every set from the stiff end of its range, where its study stands,
// back to the soft one.
func (c *Comparison) readAtSize(axles [][]*compliance.Axle) error {
	c.AtSize = make([]Sized, len(c.Asked))
	addSized(c.AtSize, c.Asked, c.Base, true)
	for i := range c.Columns {
		column, at := &c.Columns[i], axles[i]
		column.AtSize = make([]Sized, len(c.Asked))
		addSized(column.AtSize, c.Asked, column.study, true)
		for k := len(at) - 1; k > 0 && c.wantsSize(); k-- {
			move(column.study, at[k], at[k-1])
			if err := column.study.Update(); err != nil {
				return err
			}
			addSized(column.AtSize, c.Asked, column.study, false)
		}
	}
	return nil
}

// addSized takes in what is wanted at full size as a study stands.
func addSized(all []Sized, asked []tuning.Asked, study *cases.Study, first bool) {
	for k := range asked {
		if a := &asked[k]; a.Goal.Size != 0 {
			all[k].add(a.Value(study), first)
		}
	}
}

// wantsSize tells whether anything is wanted under a load of full size.
func (c *Comparison) wantsSize() bool {
	return slices.ContainsFunc(c.Asked, func(a tuning.Asked) bool { return a.Goal.Size != 0 })
}

// changesAtSize lists what a set changes in wanted numbers under loads of full size by a
// step or across a limit; whether the axle holds the load counts as any number of steps.
func (c *Comparison) changesAtSize(column int) (all []Change) {
	for k := range c.Asked {
		a := &c.Asked[k]
		if a.Goal.Size == 0 {
			continue
		}
		before, after := &c.AtSize[k], &c.Columns[column].AtSize[k]
		ch := Change{Index: a.Index, Asked: k, AtSize: true, Want: a.Name, Lost: after.Lost,
			Before: a.Unit.Written(before.Low), Low: a.Unit.Written(after.Low), High: a.Unit.Written(after.High)}
		ch.Verdict = byWant(a, &ch)
		switch never := math.IsNaN(ch.Low); {
		case before.Lost != never || ch.Lost && !before.Lost:
			ch.Steps = math.Inf(1)
		case !never:
			ch.Steps = max(math.Abs(ch.Low-ch.Before), math.Abs(ch.High-ch.Before)) / c.Base.Numbers()[a.Index].Step
		}
		if ch.Steps >= 1 || crosses(a, &ch) {
			all = append(all, ch)
		}
	}
	return all
}
