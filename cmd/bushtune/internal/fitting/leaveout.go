package fitting

import (
	"context"
	"math"

	"bushtune/cmd/bushtune/internal/axlefile"
)

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
