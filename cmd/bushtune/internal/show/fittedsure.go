package show

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// sureOfFit says how far the answer can be relied on.
func (f *Fitted) sureOfFit(p *Page) {
	p.blank()
	p.Heading("HOW SURE")
	s := fmt.Sprintf("The fit %s; %d of %s ended at the same sum of squares.",
		map[optimize.FitStatus]string{optimize.FitConverged: "has converged", optimize.FitStalled: "has stalled: rounding hides all progress", optimize.FitStopped: "stopped early"}[f.Status],
		f.Agree, plural(f.Starts, "start"))
	p.Prose("  ", s)
	if freedom := f.freedom(); freedom == "" {
		p.Prose("  ", "There is no interval: nothing is left over that would tell how the readings scatter. Measure more.")
	} else {
		p.Prose("  ", "Intervals are by Student's t with "+freedom+" of freedom, from the slopes at the fitted values; on a log scale they are ratios. "+
			"They hold if the model is right and readings scatter independently.")
		for _, text := range f.intervalWords() {
			p.Prose("  ", text)
		}
	}
	for g, name := range f.Groups {
		if name == "" {
			p.Prose("  ", fmt.Sprintf("The readings with sd scatter %s times as much as their sd says; the errors count what they do.", significant(f.Factors[g], 2)))
		}
	}
}

// cutAtBound tells whether the interval of a parameter ends at a bound, and not because
// the data exclude what is beyond.
func (f *Fitted) cutAtBound(i int) bool {
	return slices.ContainsFunc(f.Estimates[i].Spans(nearlySure), func(s optimize.Span) bool { return s.LowBound || s.HighBound })
}

// intervalWords tell of intervals that are not of the usual kind.
func (f *Fitted) intervalWords() (all []string) {
	named := func(is func(i int) bool) string {
		var names []string
		for i := range f.Estimates {
			if is(i) {
				names = append(names, f.Parameters[i].Path)
			}
		}
		return strings.Join(names, ", ")
	}
	if names := named(func(i int) bool { return f.Estimates[i].Profiled() }); names != "" {
		all = append(all, "Where the slopes change inside the interval it is found by keeping the value there and fitting the others anew, "+
			"until the sum of squares has risen as far as chance explains (profile likelihood): "+names+".")
	}
	if names := named(func(i int) bool { return len(f.Estimates[i].Spans(nearlySure)) > 1 }); names != "" {
		all = append(all, "Two intervals fit, what lies between does not: "+names+". Another reading has to tell which.")
	}
	bound := named(func(i int) bool {
		e := &f.Estimates[i]
		return f.cutAtBound(i) || e.Standing == optimize.OnLowerBound || e.Standing == optimize.OnUpperBound
	})
	if bound != "" {
		all = append(all, "At a bound an interval holds the truth more or less often than it says: "+bound+". Widen the bounds if the part may lie beyond.")
	}
	return all
}

// freedom is the number of degrees of freedom of the intervals, the least and the
// largest where channels that scatter differently tell the values; empty if there is
// no interval.
func (f *Fitted) freedom() string {
	least, largest := math.Inf(1), 0.0
	for i := range f.Estimates {
		if e := &f.Estimates[i]; e.HasInterval() {
			least, largest = min(least, e.Freedom), max(largest, e.Freedom)
		}
	}
	if largest == 0 {
		return ""
	}
	low, high := freedomWords(least), freedomWords(largest)
	switch {
	case low != high:
		return low + " to " + high + " degrees"
	case low == "1":
		return "1 degree"
	}
	return low + " degrees"
}

func freedomWords(freedom float64) string {
	if freedom > 1e4 { // a tolerance that alone decides
		return "any number of"
	}
	return strconv.FormatFloat(freedom, 'f', 0, 64)
}

// noScatter is the share of the largest reading of a channel below which its scatter
// is no more than rounding.
const noScatter = 1e-6

// scatters tells whether the readings scatter at all, as those of every rig do.
func (f *Fitted) scatters() bool {
	largest, scatter := map[string]float64{}, map[string]float64{}
	for i := range f.Rows {
		name := f.Rows[i].Channel
		largest[name], scatter[name] = max(largest[name], math.Abs(f.Rows[i].Value)), max(scatter[name], f.Deviation(i))
	}
	for name := range scatter {
		if scatter[name] > noScatter*largest[name] {
			return true
		}
	}
	return false
}

// The least and the largest factor on a given standard deviation that is worth no
// note.
const (
	fewerThanSaid = 0.5
	moreThanSaid  = 2
)

// fitNotes are remarks on the fit.
func (f *Fitted) fitNotes() []string {
	var notes []string
	if !f.AtSize {
		notes = append(notes, "the readings are those of the linear axle: stops, voids and curves of bushes count with their tangent at rest; --at-size follows them")
	}
	notes = append(notes, f.zeroNotes()...)
	for g, name := range f.Groups {
		switch factor := f.Factors[g]; {
		case name == "" && factor > moreThanSaid:
			notes = append(notes, "the readings scatter more than their sd: the model misses something, or the sd is that of the gauge alone")
		case name == "" && factor < fewerThanSaid:
			notes = append(notes, "the readings scatter less than their sd: the sd may be that of single readings where means are given")
		}
	}
	if !f.scatters() {
		notes = append(notes, "the readings do not scatter: they are computed, or one reading written several times; the errors tell nothing of a rig")
	}
	if n := f.copies(); n > 0 {
		notes = append(notes, plural(n, "reading")+map[bool]string{true: " is", false: " are"}[n == 1]+
			" the same as another to the last digit: if the lines are copies and no repeats, the errors are too small")
	}
	if len(f.LeftOut) > 0 {
		notes = append(notes, "readings were left out by what they show, so the intervals are somewhat too narrow")
	}
	return notes
}

// copies counts readings that say what one before says; at no load all look alike.
func (f *Fitted) copies() (count int) {
	seen := map[axlefile.RigRow]bool{}
	for _, r := range f.Rows {
		r.Line = 0
		if seen[r] && r.Size != 0 {
			count++
		}
		seen[r] = true
	}
	return count
}
