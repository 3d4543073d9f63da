package fitting

import (
	"context"
	"math"
	"slices"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// Offset is the constant by which every reading of a gauge is shifted, in internal units:
// its zero was taken at another position than the one without test load.
type Offset struct {
	cases.Channel
	Side     string // of the wheel: left or right
	Rows     int    // readings of the gauge
	Estimate optimize.Estimate
	Chance   float64 // that so large an offset is found without one, of this gauge alone
}

// offsetRisk is the probability with which an offset is told where no gauge has one, all
// gauges together (Bonferroni).
const offsetRisk = 0.01

// fewestOfGauge is how many readings a gauge needs: with fewer an offset is not to be told
// from a false reading.
const fewestOfGauge = 3

// offsetReach bounds an offset by so many times the largest reading of its gauge.
const offsetReach = 10

// gauge reads one channel of one wheel.
type gauge struct {
	channel, side string
	rows          []int
	reach         float64 // bound of its offset
}

// gaugesOf lists the gauges of rig data that have enough readings, in order.
func gaugesOf(rows []axlefile.RigRow, study *cases.Study) []gauge {
	var all []gauge
	for i := range rows {
		side := sideOf(&rows[i], study)
		k := slices.IndexFunc(all, func(g gauge) bool { return g.channel == rows[i].Channel && g.side == side })
		if k < 0 {
			all, k = append(all, gauge{channel: rows[i].Channel, side: side}), len(all)
		}
		all[k].rows = append(all[k].rows, i)
		all[k].reach = max(all[k].reach, offsetReach*math.Abs(rows[i].Value))
	}
	return slices.DeleteFunc(all, func(g gauge) bool { return len(g.rows) < fewestOfGauge || g.reach == 0 })
}

// withOffsets fits with the offsets of the gauges whose readings have one: the nested
// model without is refused by its F test, one gauge after the other, the clearest first,
// and each stays only if it is as clear in the whole fit.
func (o *Outcome) withOffsets(ctx context.Context, b *bridge, problem func() *optimize.FitProblem, options optimize.FitOptions) (err error) {
	gauges := gaugesOf(o.Rows, o.After)
	risk := offsetRisk / float64(max(len(gauges), 1))
	parameters, near := len(o.Parameters), options.From
	for {
		if near != nil {
			options.From = append(slices.Clone(near), make([]float64, len(b.offsets))...)
		}
		if o.Fitted, err = optimize.Fit(ctx, problem(), options); err != nil || ctx.Err() != nil {
			break
		}
		if weak := unclear(o.Estimates[parameters:], risk); weak >= 0 {
			b.offsets = slices.Delete(b.offsets, weak, weak+1)
			continue
		}
		k := o.clearest(gauges, risk)
		if k < 0 {
			break
		}
		b.offsets = append(b.offsets, gauges[k])
		gauges = slices.Delete(gauges, k, k+1) // looked at once, so that this ends
	}
	return err
}

// unclear is the offset whose estimate is told least, -1 if all are clear.
func unclear(offsets []optimize.Estimate, risk float64) int {
	worst, chance := -1, risk
	for k := range offsets {
		c := offsets[k].Chance(0)
		if offsets[k].Standing != optimize.Estimated || math.IsNaN(c) {
			return k
		}
		if quantity.Exceeds(c, chance) {
			worst, chance = k, c
		}
	}
	return worst
}

// clearest is the gauge whose readings tell an offset most surely, -1 if none does.
func (o *Outcome) clearest(gauges []gauge, risk float64) int {
	best, least := -1, risk
	for k, g := range gauges {
		ones := make([]float64, len(o.Rows))
		for _, i := range g.rows {
			ones[i] = 1
		}
		a, ok := o.Added(ones)
		if ok && quantity.Exceeds(least, a.Chance) && !o.oneFalse(&g, a.Explains) {
			best, least = k, a.Chance
		}
	}
	return best
}

// oneFalse tells whether a reading of a gauge that does not fit the rest explains as much
// as an offset of all of them.
func (o *Outcome) oneFalse(g *gauge, explains float64) bool {
	return slices.ContainsFunc(g.rows, func(i int) bool { return o.Residuals[i].Outlier && o.Explains(i) >= explains })
}

// separate takes the offsets out of the estimates, where nobody else looks for them.
func (o *Outcome) separate(b *bridge) {
	n := len(o.Parameters)
	for k, g := range b.offsets {
		e := o.Estimates[n+k]
		o.Offsets = append(o.Offsets, Offset{Channel: channelOf(g.channel), Side: g.side, Rows: len(g.rows), Estimate: e, Chance: e.Chance(0)})
	}
	o.Estimates = o.Estimates[:n]
	for i := range o.Residuals {
		o.Residuals[i].Moves = o.Residuals[i].Moves[:n]
	}
}

// withoutZeros leaves out the readings at no load of every gauge that reads exactly
// nothing there: that its zero was taken there is what they say, and their scatter is none.
// Others tell the offset. It returns how many there are of either.
func withoutZeros(rows []axlefile.RigRow, study *cases.Study) (kept []axlefile.RigRow, zeros, unloaded int) {
	type wheel struct{ channel, side string }
	reads := map[wheel]bool{}
	of := func(r *axlefile.RigRow) wheel { return wheel{r.Channel, sideOf(r, study)} }
	for i := range rows {
		if r := &rows[i]; r.Size == 0 && r.Value != 0 {
			reads[of(r)] = true
		}
	}
	for i := range rows {
		switch r := &rows[i]; {
		case r.Size == 0 && !reads[of(r)]:
			zeros++
			continue
		case r.Size == 0:
			unloaded++
		}
		kept = append(kept, rows[i])
	}
	return kept, zeros, unloaded
}
