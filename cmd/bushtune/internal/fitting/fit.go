package fitting

import (
	"context"
	"errors"
	"math"

	"bushtune/bushing/quantity"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// Options steers Fit.
type Options struct {
	Priors bool // tolerances of the parameters count as knowledge
	AtSize bool // readings under loads of full size instead of the linear ones
	Seed   uint64
}

// Outcome is a finished fit.
type Outcome struct {
	*optimize.Fitted
	Options
	Before, After *cases.Study // the axle of the file, and as fitted
	Parameters    []axlefile.Parameter
	Written       []float64 // of each parameter as the new file holds it; After stands at these
	Rows          []axlefile.RigRow
	Start         []float64 // of each row: the reading of the axle of the file, internal unit
	Groups        []string  // of Fitted.Factors: a channel, or "" for rows with a standard deviation
	Channels      []ChannelFit
	Tests         []Test // what to measure next
	LeftOut       []LeftOut
	Offsets       []Offset // of the readings, estimated with the parameters; Residuals are without them
	Zeros         int      // readings of nothing at no load, which tell nothing: not among Rows
	Unloaded      int      // readings at no load that tell an offset: among Rows

	group []int // of each row
}

// ChannelFit sums up what one channel has left over, in written units.
type ChannelFit struct {
	cases.Channel
	Rows          int
	Before, After float64 // root mean square of the residuals, of the file's axle and as fitted
	Bias          float64 // mean of the residuals as fitted: model less measured
	Worst         int     // the row with the largest residual
}

// ErrOnlyZeros says that no reading is left that tells anything.
var ErrOnlyZeros = errors.New("every reading is 0 at load 0: readings under load are needed")

// Fit estimates the parameters of a file from rig data for it. The error is an axle
// that cannot be solved or cannot hold a load.
func Fit(ctx context.Context, file *axlefile.File, rows []axlefile.RigRow, options Options) (*Outcome, error) {
	o := &Outcome{Options: options, Parameters: file.Search}
	for _, study := range []**cases.Study{&o.Before, &o.After} {
		var err error
		if *study, err = Study(file); err != nil {
			return nil, err
		}
	}
	o.Rows, o.Zeros, o.Unloaded = withoutZeros(rows, o.Before)
	if len(o.Rows) == 0 {
		return nil, ErrOnlyZeros
	}
	rows = o.Rows
	b, err := newBridge(o.After, file.Search, rows, options.AtSize)
	if err != nil {
		return nil, err
	}
	if o.Start, err = startOf(b, file.Search, len(rows)); err != nil {
		return nil, err
	}
	if err := o.fit(ctx, file, b); err != nil {
		return nil, err
	}
	for j := range file.Search {
		o.Written = append(o.Written, file.Search[j].Round(o.Estimates[j].Value))
	}
	o.Channels = o.channels()
	if err := o.suggest(file, b.offsets); err != nil {
		return nil, err
	}
	o.separate(b)
	return o, b.readings.Move(o.Written)
}

// fit solves the problem. At full size, where a reading is a solve of its own, it
// starts where the linear readings end, and there alone.
func (o *Outcome) fit(ctx context.Context, file *axlefile.File, b *bridge) (err error) {
	options := optimize.FitOptions{Seed: o.Seed}
	if o.AtSize {
		linear := o.Options
		linear.AtSize = false
		near, err := Fit(ctx, file, o.Rows, linear)
		if err != nil {
			return err
		}
		options.Starts, options.From = -1, nil
		for _, e := range near.Estimates {
			options.From = append(options.From, e.Value)
		}
	}
	p, groups := b.problem(file.Search, o.Rows, o.Priors)
	o.Groups = groups
	for _, observation := range p.Observations {
		o.group = append(o.group, observation.Group)
	}
	return o.withOffsets(ctx, b, func() *optimize.FitProblem {
		p, _ := b.problem(file.Search, o.Rows, o.Priors)
		return p
	}, options)
}

// startOf reads the axle of the file.
func startOf(b *bridge, parameters []axlefile.Parameter, rows int) ([]float64, error) {
	x := make([]float64, len(parameters))
	for j := range parameters {
		x[j] = parameters[j].Start
	}
	values := make([]float64, rows)
	return values, b.evaluate(x, values, nil)
}

// Deviation is the standard deviation of a row that the fit has found, internal unit.
func (o *Outcome) Deviation(row int) float64 {
	given := o.Rows[row].Deviation
	if given == 0 {
		given = usualDeviation(channelOf(o.Rows[row].Channel))
	}
	return given * o.Factors[o.group[row]]
}

// channels sums up the residuals of every channel, in the order of the rig's own.
func (o *Outcome) channels() []ChannelFit {
	var all []ChannelFit
	for _, c := range cases.Channels() {
		fit := ChannelFit{Channel: c, Worst: -1}
		for i, r := range o.Rows {
			if r.Channel != c.Name {
				continue
			}
			residual := o.Residuals[i].Difference
			fit.Rows++
			fit.Before += math.Pow(o.Start[i]-r.Value, 2)
			fit.After += residual * residual
			fit.Bias += residual
			if fit.Worst < 0 || math.Abs(residual) > math.Abs(o.Residuals[fit.Worst].Difference) {
				fit.Worst = i
			}
		}
		if fit.Rows > 0 {
			n, unit := float64(fit.Rows), c.Unit
			fit.Before, fit.After = unit.Written(math.Sqrt(fit.Before/n)), unit.Written(math.Sqrt(fit.After/n))
			fit.Bias = unit.Written(fit.Bias / n)
			all = append(all, fit)
		}
	}
	return all
}

// Outliers lists the rows that do not fit the rest, the worst first.
func (o *Outcome) Outliers() []int {
	var all []int
	for i := range o.Residuals {
		if o.Residuals[i].Outlier {
			all = append(all, i)
		}
	}
	quantity.GreatestFirst(all, func(i int) float64 { return math.Abs(o.Residuals[i].Studentised) })
	return all
}

// LeftOut is a reading that a fit has been made without.
type LeftOut struct {
	axlefile.RigRow
	Studentised float64 // at the fit that named it
}

// mostLeftOut is the share of the readings that may be left out: if more do not
// fit the rest, it is not they that are wrong.
const mostLeftOut = 0.1

// FitWithoutOutliers fits, leaves the worst outlier out and fits anew until none is
// left or too many are out: one after the other, since one outlier may hide another
// or make a good reading look false.
func FitWithoutOutliers(ctx context.Context, file *axlefile.File, rows []axlefile.RigRow, options Options) (*Outcome, error) {
	var out []LeftOut
	for most := int(mostLeftOut * float64(len(rows))); ; {
		o, err := Fit(ctx, file, rows, options)
		if err != nil {
			return nil, err
		}
		worst := o.Outliers()
		if o.LeftOut = out; len(worst) == 0 || len(out) >= most || ctx.Err() != nil {
			return o, nil
		}
		i := worst[0]
		out = append(out, LeftOut{rows[i], math.Abs(o.Residuals[i].Studentised)})
		rows = append(append([]axlefile.RigRow(nil), rows[:i]...), rows[i+1:]...)
	}
}
