package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Intervals by profile likelihood (Venzon & Moolgavkar, Applied Statistics 37, 1988,
// 87–94; Bates & Watts, Nonlinear Regression Analysis and Its Applications, 1988,
// section 6.1). With one coordinate kept at θ and the others fitted anew, the sum of
// squares in deviations found rises from its least value S by
//
//	τ²(θ) = S(θ) − S,
//
// and the interval holds every θ with |τ| up to the quantile of Student's t: a rise of
// F(1, ν)·s², where s² is one in deviations found. What holds:
//
//  1. In a linear model τ = (θ − θ̂)/(standard error), so the interval is that of Wald.
//  2. It does not depend on how a parameter is written: of ln θ it is the logarithm.
//  3. The factors of the groups stay as they are found at the estimate, and ν is that of
//     the standard error, so that linear models have the same intervals either way.
//  4. The values that are allowed may lie in pieces. Each holds a local minimum, and the
//     starts look for these; a piece whose minimum no start finds is missed.
//
// Near a bound neither τ nor Wald's ratio has Student's distribution, so the coverage
// is not nominal (Self & Liang, Journal of the American Statistical Association 82,
// 1987, 605–610); a span says where it ends at one.

const (
	// curvedShare is how far, as a share of the way to the end of the 95 % interval, τ
	// may differ there from the straight line: less is not worth the fits.
	curvedShare = 0.02
	// profiledTo is the probability up to which profiles are followed; they are met there
	// and at halfTo and someTo, and interpolated between.
	profiledTo, halfTo, someTo = 0.95, 0.68, 0.3
	// otherEnd is from how many standard errors apart two ends count as two.
	otherEnd = 0.1
	// worthTrying is up to what multiple of the least sum of squares, before the groups
	// are weighed, another end is looked at again.
	worthTrying = 3
)

// Span is one piece of an interval, in the parameter's unit. LowBound and HighBound
// tell that it ends there because values beyond are not allowed or cannot be evaluated,
// and not because the data exclude them.
type Span struct {
	Low, High           float64
	LowBound, HighBound bool
}

// piece is the profile about one local minimum: coordinates that rise, with the signed
// root of the rise above the minimum.
type piece struct {
	y, root []float64
	least   float64 // the minimum above the least of all
	cut     [2]bool // the profile ends at the bound below, above: it cannot be followed further
}

// span is the piece at a rise of the sum of squares; false if it does not reach down to it.
func (p *piece) span(rise float64) (low, high float64, cut [2]bool, ok bool) {
	if p.least > rise {
		return 0, 0, cut, false
	}
	reach, last := math.Sqrt(rise-p.least), len(p.y)-1
	cut = [2]bool{p.cut[0] && -p.root[0] < reach*(1-metShare), p.cut[1] && p.root[last] < reach*(1-metShare)}
	return p.at(-reach), p.at(reach), cut, true
}

// at interpolates the coordinate at a signed root; past the ends it is theirs.
func (p *piece) at(root float64) float64 {
	k, met := slices.BinarySearch(p.root, root)
	switch {
	case k == len(p.root):
		return p.y[k-1]
	case k == 0 || met:
		return p.y[k]
	}
	share := (root - p.root[k-1]) / (p.root[k] - p.root[k-1])
	return p.y[k-1] + share*(p.y[k]-p.y[k-1])
}

// profiler follows the profiles of a fit that is settled.
type profiler struct {
	*squares
	ctx    context.Context
	best   *fitDescent
	ends   []fitDescent // other local minima, in the same deviations
	better []float64    // where the sum of squares is less than the best, if that is met
}

const (
	// betterFall is by how much less a sum of squares must be to count as a better fit,
	// and mostBetter how often a fit is made anew for one.
	betterFall = 0.01
	mostBetter = 3
)

// profiles follows the profile of every estimate that has an interval and needs it. It
// returns where the sum of squares is less than at the estimate, if it comes upon that.
func (m *squares) profiles(ctx context.Context, f *Fitted, end *fitDescent, ends []fitDescent) []float64 {
	s := m.reduce(end.at, end.jacobian)
	free := s.influence(f.columns)
	spread := make([]float64, len(f.Estimates))
	for j := range f.Estimates {
		if spread[j] = f.Estimates[j].spread; math.IsNaN(spread[j]) {
			spread[j] = math.Inf(1)
		}
	}
	p := &profiler{squares: m, ctx: ctx, best: end, ends: m.others(ctx, end, ends, spread, defaultFitIterations)}
	basis := m.basis(end, free)
	for j := range f.Estimates {
		if e := &f.Estimates[j]; e.HasInterval() {
			p.profile(e, j, free, basis)
		}
		if p.better != nil {
			return p.better
		}
	}
	return nil
}

// basis is an orthonormal one of the columns of the Jacobian that are free.
func (m *squares) basis(end *fitDescent, f *influence) *mat.Dense {
	rows, _ := end.jacobian.Dims()
	b := mat.NewDense(rows, max(len(f.columns), 1), nil)
	for i := range rows {
		f.of(end.jacobian.RawRowView(i), b.RawRowView(i)[:len(f.columns)])
	}
	return b
}

// profile gives an estimate the pieces of its profile if the model curves where its
// interval ends, or another local minimum lies inside.
func (m *profiler) profile(e *Estimate, j int, f *influence, basis *mat.Dense) {
	reach := studentQuantile(0.5+profiledTo/2, e.Freedom)
	near := m.near(reach * reach)
	if len(near) == 0 && !m.curves(j, reach, f, basis) {
		return
	}
	e.pieces = []piece{m.piece(m.best, j, e.Freedom, 0)}
	for _, end := range near {
		e.pieces = append(e.pieces, m.piece(end, j, e.Freedom, math.Max(end.at.cost-m.best.at.cost, 0)))
	}
}

// near lists the other minima within a rise of the sum of squares.
func (m *profiler) near(rise float64) (all []*fitDescent) {
	for i := range m.ends {
		if m.ends[i].at.cost-m.best.at.cost <= rise {
			all = append(all, &m.ends[i])
		}
	}
	return all
}

// curves tells whether τ at the ends of Wald's interval differs from a straight line by
// more than a share: the others fitted anew by one step with the slopes of the estimate,
// which takes two evaluations without derivatives. basis is an orthonormal one of the
// columns of the Jacobian that are free.
func (m *profiler) curves(j int, reach float64, f *influence, basis *mat.Dense) bool {
	k := slices.Index(f.columns, j)
	alone := mat.Row(nil, k, f.toward) // of the basis: the direction square to all other columns
	spread := math.Sqrt(dot(alone, alone))
	step := make([]float64, len(f.columns))
	f.back(alone, step)
	for _, sign := range []float64{-1, 1} {
		way := reach
		if room := m.room(m.best.at.y, j, sign) / spread; room < reach {
			way = room
		}
		y := clone(m.best.at.y)
		for i, c := range f.columns {
			to := y[c] + sign*way*step[i]/spread
			y[c] = math.Min(math.Max(to, m.lower[c]), m.upper[c])
		}
		at, err := m.at(y)
		if err != nil {
			return true
		}
		var along mat.VecDense
		along.MulVec(basis.T(), mat.NewVecDense(len(at.residuals), at.residuals))
		w := along.RawVector().Data
		own := dot(w, alone) / spread
		rise := at.cost - (dot(w, w) - own*own) - m.best.at.cost
		if !(math.Abs(math.Sqrt(math.Max(rise, 0))-way) <= curvedShare*reach) {
			return true
		}
	}
	return false
}

// room is how far a coordinate may go.
func (m *squares) room(y []float64, j int, sign float64) float64 {
	if sign < 0 {
		return y[j] - m.lower[j]
	}
	return m.upper[j] - y[j]
}

// piece follows the profile of a coordinate from a minimum to both sides.
func (m *profiler) piece(end *fitDescent, j int, freedom, least float64) piece {
	p := piece{least: least}
	var targets []float64
	for _, probability := range [...]float64{someTo, halfTo, profiledTo} {
		if reach := studentQuantile(0.5+probability/2, freedom); reach*reach > least {
			targets = append(targets, math.Sqrt(reach*reach-least))
		}
	}
	below, cutBelow := m.walk(end, j, -1).meetAll(targets)
	above, cutAbove := m.walk(end, j, 1).meetAll(targets)
	p.cut = [2]bool{cutBelow, cutAbove}
	for _, s := range slices.Backward(below) {
		p.y, p.root = append(p.y, s.at.y[j]), append(p.root, -s.root)
	}
	p.y, p.root = append(p.y, end.at.y[j]), append(p.root, 0)
	for _, s := range above {
		p.y, p.root = append(p.y, s.at.y[j]), append(p.root, s.root)
	}
	return p
}

// spans joins the pieces at a rise of the sum of squares, in coordinates.
func spans(pieces []piece, rise float64) []Span {
	var all []Span
	for i := range pieces {
		if low, high, cut, ok := pieces[i].span(rise); ok {
			all = append(all, Span{low, high, cut[0], cut[1]})
		}
	}
	slices.SortStableFunc(all, func(a, b Span) int { return cmp.Compare(a.Low, b.Low) })
	var joined []Span
	for _, s := range all {
		last := len(joined) - 1
		if last < 0 || s.Low > joined[last].High {
			joined = append(joined, s)
		} else if s.High > joined[last].High {
			joined[last].High, joined[last].HighBound = s.High, s.HighBound
		}
	}
	return joined
}

// others goes down to the other local minima in the deviations that are found.
func (m *squares) others(ctx context.Context, best *fitDescent, ends []fitDescent, spread []float64, limit int) (all []fitDescent) {
	apart := func(a, b *fitDescent) bool {
		for j := range a.at.y {
			if math.Abs(a.at.y[j]-b.at.y[j]) > otherEnd*spread[j] {
				return true
			}
		}
		return false
	}
	known := []*fitDescent{best}
	isNew := func(e *fitDescent) bool {
		return !slices.ContainsFunc(known, func(k *fitDescent) bool { return !apart(e, k) })
	}
	for i := range ends {
		e := &ends[i]
		if e.err != nil || !isNew(e) {
			continue
		}
		again := m.descend(ctx, e.at.y, limit, offsetNear)
		if again.err == nil && again.status == FitConverged && isNew(&again) {
			all = append(all, again)
			known = append(known, &again)
		}
	}
	return all
}
