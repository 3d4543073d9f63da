package tuning

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/compliance"
	"bushtune/optimize"
)

// Outcome is a finished tune: the axle before and after, and what the optimiser
// says about it. Where dimensions of rubber were put on workshop steps, its own
// Status, Reason and Wants tell of these, and Result of full digits.
type Outcome struct {
	*optimize.Result
	Before, After *cases.Study
	Asked         []Asked // in the order of Wants
	Parameters    []axlefile.Parameter
	Written       []float64 // of each parameter as the new file holds it; After stands at these
	Numbers       []int     // index in the study of each value of Result.Before and After

	Status   optimize.Status
	Reason   string
	Wants    []optimize.WantOutcome
	Rounding Rounding
	Conflict *optimize.Conflict // wants that cannot be met together, by their place in Asked; nil: none known
}

// Tune searches the parameters of a file for what it wants. The error is an
// axle that cannot be solved, or a file without [search] or [want].
func Tune(ctx context.Context, file *axlefile.File, options optimize.Options) (*Outcome, error) {
	before, err := searched(file)
	if err != nil {
		return nil, err
	}
	asked, err := Ask(before, file.Wants)
	if err != nil {
		return nil, err
	}
	after, err := searched(file)
	if err != nil {
		return nil, err
	}
	b, err := newBridge(after, file.Search, asked)
	if err != nil {
		return nil, err
	}
	result, err := solve(ctx, b.problem(asked), options)
	if err != nil {
		return nil, b.whereLost(err)
	}
	o := &Outcome{Result: result, Before: before, After: after, Asked: asked, Parameters: file.Search, Numbers: b.numbers,
		Status: result.Status, Reason: result.Reason, Wants: result.Wants}
	o.Conflict = result.Conflict(ctx, b.problem(asked), options)
	for i := range file.Search {
		o.Written = append(o.Written, file.Search[i].Round(result.X[i]))
	}
	if err := o.toWorkshop(ctx, b); err != nil {
		return nil, err
	}
	if err := b.move(o.Written); err != nil {
		return nil, err
	}
	return o, after.CheckParts()
}

// Study makes the study of a file.
func Study(file *axlefile.File) (*cases.Study, error) {
	return cases.NewStudy(file.Axle, file.Vehicle, file.Cases, file.States)
}

// searched makes the study of a file for its search: in both turns if the search
// can make the halves differ, so that what one side gains in a turn to the left
// is not lost unseen in a turn to the right.
func searched(file *axlefile.File) (*cases.Study, error) {
	study, err := Study(file)
	if err != nil || !study.Symmetric() || staysEven(file) {
		return study, err
	}
	return cases.NewStudyBothTurns(file.Axle, file.Vehicle, file.Cases, file.States)
}

// unevenStep is how far every parameter is moved to see whether the halves come
// to differ, as a share of its range: far above the rounding by which a study
// judges that, so small that the axle can hardly come free.
const unevenStep = 0.01

// staysEven tells whether the halves stay mirror images when every parameter is
// moved, each by a step of its own, toward its farther bound.
func staysEven(file *axlefile.File) bool {
	axle := file.Axle.Clone()
	for i := range file.Search {
		q := &file.Search[i]
		step := unevenStep * (1 + float64(i)/float64(len(file.Search)))
		x := q.Start + step*(q.To-q.Start)
		if q.Start-q.From > q.To-q.Start {
			x = q.Start + step*(q.From-q.Start)
		}
		q.Apply(axle, x)
	}
	moved, err := cases.NewStudy(axle, file.Vehicle, nil, nil)
	return err == nil && moved.Symmetric()
}

// bridge evaluates a study for the optimiser.
type bridge struct {
	study      *cases.Study
	parameters []axlefile.Parameter
	full       *cases.FullSize // nil unless a number is wanted under a load of full size
	goals      []cases.Goal    // of each value
	numbers    []int           // study index of each value
	units      []quantity.Unit // of each value

	slots  []compliance.Slot // every slot that moves
	owner  []int             // parameter of each slot
	gain   []float64         // ∂slot/∂parameter of each slot: internal per written unit
	slopes [][]float64       // value × slot, internal units
}

// newBridge lists the numbers that are wanted, each once, and the slots that
// move, and points the wants at the numbers.
func newBridge(study *cases.Study, parameters []axlefile.Parameter, asked []Asked) (*bridge, error) {
	b := &bridge{study: study, parameters: parameters}
	for i := range asked {
		asked[i].Want.Number = b.add(asked[i].Goal, asked[i].Unit)
	}
	return b, b.prepare()
}

// add returns the place of a goal among the values, made if it is new.
func (b *bridge) add(goal cases.Goal, unit quantity.Unit) int {
	at := slices.Index(b.goals, goal)
	if at < 0 {
		at = len(b.goals)
		b.goals = append(b.goals, goal)
		b.numbers = append(b.numbers, goal.Number)
		b.units = append(b.units, unit)
	}
	return at
}

// prepare lists the slots that move and makes room.
func (b *bridge) prepare() (err error) {
	for i := range b.parameters {
		for _, m := range b.parameters[i].Moves {
			b.slots = append(b.slots, m.Slot)
			b.owner = append(b.owner, i)
			b.gain = append(b.gain, m.Gain)
		}
	}
	for range b.goals {
		b.slopes = append(b.slopes, make([]float64, len(b.slots)))
	}
	if slices.ContainsFunc(b.goals, b.study.AtSize) {
		b.full, err = cases.NewFullSize(b.study)
	}
	return err
}

// problem states the search for the optimiser, in written units.
func (b *bridge) problem(asked []Asked) *optimize.Problem {
	p := &optimize.Problem{Numbers: len(b.goals), Evaluate: b.evaluate}
	if b.full != nil {
		p.Sketch = b.sketch
	}
	for i := range b.parameters {
		q := &b.parameters[i]
		scale := optimize.Linear
		if q.Log {
			scale = optimize.Log
		}
		p.Parameters = append(p.Parameters, optimize.Parameter{Name: q.Path, Lower: q.From, Upper: q.To, Start: q.Start, Scale: scale})
	}
	for i := range asked {
		p.Wants = append(p.Wants, asked[i].Want)
	}
	return p
}

// move sets every parameter and solves the axle. The error is a *FreeMotion.
func (b *bridge) move(x []float64) error {
	for i := range b.parameters {
		for _, m := range b.parameters[i].Moves {
			b.study.Set(m.Slot, m.At(x[i]))
		}
	}
	return b.study.Update()
}

// whereLost adds to the error of a search that cannot start how far the axle as it
// stands comes under a load that it cannot hold.
func (b *bridge) whereLost(err error) error {
	var lost *cases.LostWay
	if !errors.As(err, &lost) {
		return err
	}
	for _, g := range b.goals {
		if far := b.full.HowFar(g); far != nil {
			return fmt.Errorf("nothing can be tuned while the axle as it stands cannot hold a load that is wanted: %w", far)
		}
	}
	return err
}

// evaluate is the optimize.Evaluator of the study: the derivative by a parameter
// is the sum over the slots that it moves. The error is an axle with a free
// motion, or one that cannot hold a load.
func (b *bridge) evaluate(x, values []float64, jacobian *mat.Dense) error {
	if err := b.move(x); err != nil {
		return err
	}
	slopes := b.slopes
	if jacobian == nil {
		slopes = nil
	}
	if err := b.read(values, slopes); err != nil {
		return err
	}
	for k := range values {
		values[k] = b.units[k].Written(values[k])
	}
	if jacobian == nil {
		return nil
	}
	jacobian.Zero()
	for k, row := range b.slopes {
		out := jacobian.RawRowView(k)
		for j, slope := range row {
			out[b.owner[j]] += b.units[k].Written(slope * b.gain[j])
		}
	}
	return nil
}

// sketch is evaluate with the states as the axle begins to move towards them.
func (b *bridge) sketch(x, values []float64, _ *mat.Dense) error {
	if err := b.move(x); err != nil {
		return err
	}
	if err := b.full.Foretell(b.goals, values); err != nil {
		return err
	}
	for k := range values {
		values[k] = b.units[k].Written(values[k])
	}
	return nil
}

// read writes values, and slopes unless they are nil, in internal units.
func (b *bridge) read(values []float64, slopes [][]float64) error {
	if b.full != nil {
		return b.full.Goals(b.goals, values, b.slots, slopes)
	}
	for k, index := range b.numbers {
		values[k] = b.study.Value(index)
	}
	if slopes != nil {
		b.study.Gradient(b.numbers, b.slots, slopes)
	}
	return nil
}
