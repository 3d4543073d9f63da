// Package tuning joins an axle file to the optimiser: its [search] becomes
// parameters, its [want] tables become wants on numbers of the study. The
// optimiser works in written units, the study in internal ones; the change
// between them is made here and nowhere else.
package tuning

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// Asked is one want on one number of the study. A want that names no turn is
// asked in both turns of an axle whose halves differ.
type Asked struct {
	Name  string        // of the want in the file
	Line  int           // of its table in the file
	Index int           // of the number in the study
	Unit  quantity.Unit // of the number
	Goal  cases.Goal    // the number, at what size of load
	Want  optimize.Want // in the written unit
}

// Ask finds the numbers that the wants of a file name. The error is that of
// cases.Study.Find or CheckGoal.
func Ask(study *cases.Study, wants []axlefile.Want) ([]Asked, error) {
	var all []Asked
	numbers := study.Numbers()
	for _, w := range wants {
		index, err := study.Find(w.Number, w.Case, w.Where)
		if err != nil {
			return nil, fmt.Errorf("want.%s: %w", w.Name, err)
		}
		goal := cases.Goal{Number: index, Size: w.Size * study.SizeUnit(index).Factor, Straight: w.Straight}
		if err := study.CheckGoal(goal); err != nil {
			return nil, fmt.Errorf("want.%s: %w", w.Name, err)
		}
		all = append(all, ask(w, numbers, goal))
		if other, ok := study.OtherTurn(index); ok && !strings.HasSuffix(w.Case, cases.TurnRight) {
			goal.Number = other
			all = append(all, ask(w, numbers, goal))
		}
	}
	return all, nil
}

// ask puts one want on one number. Its scale is the number's just-noticeable
// step unless the file gives another.
func ask(w axlefile.Want, numbers []cases.Number, goal cases.Goal) Asked {
	n := &numbers[goal.Number]
	scale := w.Per
	if scale == 0 {
		scale = n.Step
	}
	return Asked{
		Name: w.Name, Line: w.Line, Index: goal.Number, Unit: n.Unit, Goal: goal,
		Want: optimize.Want{Name: w.Name, Kind: w.Goal, Value: w.Value, Scale: scale, Weight: w.Weight},
	}
}

// Judge says how a want fares as the numbers stand in a study.
func (a *Asked) Judge(study *cases.Study) optimize.WantOutcome {
	now := a.Unit.Written(a.Value(study))
	return a.Want.Outcome(now, now)
}

// Value is the wanted number, at its size of load, as things stand in a study, in
// internal units; not a number if the axle cannot hold that load.
func (a *Asked) Value(study *cases.Study) float64 {
	if a.Goal.Size == 0 {
		return study.Value(a.Index)
	}
	full, err := cases.NewFullSize(study)
	if err != nil {
		return math.NaN()
	}
	var value [1]float64
	if err := full.Goals([]cases.Goal{a.Goal}, value[:], nil, nil); err != nil {
		return math.NaN()
	}
	return value[0]
}

// Inside is the wanted value in internal units.
func (a *Asked) Inside() float64 { return a.Want.Value * a.Unit.Factor }
