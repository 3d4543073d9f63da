package show

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/fitting"
	"bushtune/optimize"
)

// Fitted is the answer to fit: an axle as rig data have it.
type Fitted struct {
	Noted
	Title, Source string
	Rig           string // where the readings come from
	*fitting.Outcome
	Wrote, Residual string // the files that were written; empty if none
}

// Text writes the answer for a person.
func (f *Fitted) Text(p *Page) {
	v := newView(f.After, nil)
	v.head(p, f.Title, f.Source)
	p.Prose("", fmt.Sprintf("readings from %s · %s · %s", f.Rig, plural(len(f.Rows), "reading"), f.kind()))
	p.blank()
	p.Prose("", f.summary())
	f.estimateTable(p)
	f.offsetTable(p)
	f.tangles(p)
	f.testTable(p)
	f.channelTable(p)
	f.outlierTable(p)
	f.sureOfFit(p)
	footnotes(p, f.fitNotes())
	f.wroteFitted(p)
	foot(p)
}

// kind says which readings were computed.
func (f *Fitted) kind() string {
	if f.AtSize {
		return "computed under loads of full size"
	}
	return "computed for the linear axle"
}

// summary is the outcome in one sentence.
func (f *Fitted) summary() string {
	told := 0
	for i := range f.Estimates {
		if f.Estimates[i].Standing == optimize.Estimated {
			told++
		}
	}
	s := fmt.Sprintf("FITTED: the readings tell %d of %s", told, plural(len(f.Estimates), "value"))
	if f.Status != optimize.FitConverged {
		s = strings.ToUpper(f.Status.String()) + s[len("FITTED"):]
	}
	if n := len(f.Outliers()); n > 0 {
		s += "; " + plural(n, "reading") + map[bool]string{true: " does", false: " do"}[n == 1] + " not fit the rest"
	}
	if n := len(f.LeftOut); n > 0 {
		s += "; " + plural(n, "reading") + map[bool]string{true: " is", false: " are"}[n == 1] + " left out"
	}
	return s + f.offsetSummary() + "."
}

// rounding is an error in any unit that is none of a rig: readings without scatter
// leave it.
const rounding = 1e-9

// certain writes a value to the second digit of its standard error.
func certain(value, err float64) string {
	switch {
	case !(err > 0) || math.IsInf(err, 0):
		return measure(value)
	case err < rounding && math.Abs(value) < rounding:
		return "0"
	case err < rounding:
		return significant(value, 7)
	}
	return strconv.FormatFloat(value, 'f', max(0, 1-int(math.Floor(math.Log10(err)))), 64)
}

// The probabilities of intervals: one and two standard deviations of a normal
// distribution.
const (
	likely     = 0.68
	nearlySure = 0.95
)

// estimateTable lists the parameters with how sure they are.
func (f *Fitted) estimateTable(p *Page) {
	p.blank()
	p.Heading("VALUES")
	g := grid{columns: []column{{}, {align: point}, {align: point}, {}, {align: point}, {}, {}, {gives: true}}}
	g.add("", "in file", "fitted", "", "std. error", "68 % interval", "95 % interval", "")
	for i := range f.Parameters {
		q, e := &f.Parameters[i], &f.Estimates[i]
		cells := []string{"  " + q.Path, measure(q.Start), measure(f.Written[i]), q.Unit.Name, "", f.standing(i), "", ""}
		if e.HasInterval() {
			cells = append(cells[:2], certain(e.Value, e.Error), q.Unit.Name, certain(e.Error, e.Error),
				f.interval(i, likely), f.interval(i, nearlySure), f.standing(i))
		}
		g.add(cells...)
		if e.HasInterval() && f.cutAtBound(i) {
			g.add("    "+endsAtBound, "", "", "", "", "", "", "")
		}
		for _, tied := range q.Tied {
			g.add("    with "+tied, "", "", "", "", "", "", "")
		}
	}
	g.write(p)
}

// endsAtBound says of an interval that a bound cuts it.
const endsAtBound = "interval ends at a bound"

// interval holds a parameter with a probability.
func (f *Fitted) interval(i int, probability float64) string {
	e := &f.Estimates[i]
	var all []string
	for _, s := range e.Spans(probability) {
		all = append(all, certain(s.Low, e.Error)+" to "+certain(s.High, e.Error))
	}
	return strings.Join(all, " or ")
}

// standing says what an estimate is worth where it is not the usual.
func (f *Fitted) standing(i int) string {
	e := &f.Estimates[i]
	switch e.Standing {
	case optimize.NotSeen:
		return "not seen"
	case optimize.Tangled:
		return "not told apart"
	case optimize.FromPrior:
		return "by its tolerance"
	case optimize.Estimated:
		if !e.HasInterval() {
			return "error not known"
		}
		return ""
	}
	return e.Standing.String()
}

// testTable says what to measure next.
func (f *Fitted) testTable(p *Page) {
	p.blank()
	p.Heading("WHAT TO MEASURE NEXT")
	if len(f.Tests) == 0 {
		p.Prose("  ", "No reading of a built-in case would tell more.")
		return
	}
	g := grid{columns: []column{{align: right}, {gives: true}, {}, {align: point}, {}, {align: point}, {}}}
	g.add("", "reading", "tells most of", "std. error now", "", "with it", "")
	for k, t := range f.Tests {
		q := &f.Parameters[t.Shrinks]
		before, after := t.Before[t.Shrinks], t.After[t.Shrinks]
		g.add(fmt.Sprintf("  %d", k+1), f.testWords(&t), q.Path, certain(before, before), "", certain(after, after), q.Unit.Name)
	}
	g.write(p)
	p.Prose("  ", "Each with those above it done. That a value lies within its bounds counts as knowledge here, so an error may be smaller than in VALUES.")
}

// testWords names a reading that could be made.
func (f *Fitted) testWords(t *fitting.Test) string {
	s := fmt.Sprintf("%s at %s %s: %s, %s wheel", t.Case, measure(t.Load), t.Unit.Name, t.Channel, t.Side)
	if t.Measured {
		s += " (again)"
	}
	return s
}

// channelTable sums up what is left over in every channel.
func (f *Fitted) channelTable(p *Page) {
	p.blank()
	p.Heading("WHAT IS LEFT OVER, model less measured")
	g := grid{columns: []column{{}, {align: right}, {align: point}, {align: point}, {align: point}, {align: point}, {}, {gives: true}}}
	g.add("", "readings", "rms in file", "rms fitted", "mean", "largest", "", "where")
	for i := range f.Channels {
		c := &f.Channels[i]
		worst := c.Unit.Written(f.Residuals[c.Worst].Difference)
		text := func(x float64) string { return certain(x, c.After) }
		g.add("  "+c.Name, strconv.Itoa(c.Rows), text(c.Before), text(c.After), text(c.Bias), text(worst), c.Unit.Name,
			fmt.Sprintf("line %d, %s", f.Rows[c.Worst].Line, f.rowWords(c.Worst)))
	}
	g.write(p)
	p.Prose("  ", f.positive())
}

// positive says what the sign of each channel means.
func (f *Fitted) positive() string {
	var all []string
	for i := range f.Channels {
		all = append(all, f.Channels[i].Signs.Plus+" ("+f.Channels[i].Name+")")
	}
	return "+ means " + strings.Join(all, ", ") + "."
}

// rowWords names the case, load and wheel of a reading.
func (f *Fitted) rowWords(i int) string { return f.readingWords(&f.Rows[i]) }

func (f *Fitted) readingWords(r *axlefile.RigRow) string {
	unit := f.After.SizeUnit(r.Number)
	return fmt.Sprintf("%s %s %s, %s", r.Case, measure(unit.Written(r.Size)), unit.Name, r.Side)
}

// unitOf is the written unit of what a reading measures.
func (f *Fitted) unitOf(i int) quantity.Unit {
	for j := range f.Channels {
		if f.Channels[j].Name == f.Rows[i].Channel {
			return f.Channels[j].Unit
		}
	}
	return quantity.None
}

// outlierTable names the readings that do not fit the rest.
func (f *Fitted) outlierTable(p *Page) {
	for _, l := range f.LeftOut {
		if l == f.LeftOut[0] {
			p.blank()
			p.Heading("LEFT OUT, since they do not fit the rest")
		}
		p.Prose("  ", fmt.Sprintf("Line %d, %s, %s: %.1f standard errors off.", l.Line, l.Channel, f.readingWords(&l.RigRow), l.Studentised))
	}
	worst := f.Outliers()
	if len(worst) == 0 {
		return
	}
	p.blank()
	p.Heading("READINGS THAT DO NOT FIT THE REST")
	for _, i := range worst {
		p.Prose("  ", f.outlier(i))
	}
	text := "Look at them on the rig. A # before the line leaves one out"
	if len(f.LeftOut) == 0 {
		text += "; --without-outliers leaves out up to a tenth of the readings, the worst first"
	}
	p.Prose("  ", text+".")
}

// outlier words one of them.
func (f *Fitted) outlier(i int) string {
	r, row, unit := &f.Residuals[i], &f.Rows[i], f.unitOf(i)
	sd := unit.Written(f.Deviation(i))
	s := fmt.Sprintf("Line %d, %s, %s: measured %s, fitted %s %s, %.1f standard errors off", row.Line, row.Channel, f.rowWords(i),
		certain(unit.Written(row.Value), sd), certain(unit.Written(r.Value), sd), unit.Name, math.Abs(r.Studentised))
	if j := mostMoved(r.Moves); r.Moves[j] != 0 {
		s += fmt.Sprintf("; without it %s would be %s", f.Parameters[j].Path, f.moved(j, r.Moves[j]))
	}
	return s + "."
}

func mostMoved(moves []float64) int {
	best := 0
	for j := range moves {
		if math.Abs(moves[j]) > math.Abs(moves[best]) {
			best = j
		}
	}
	return best
}

// moved is a parameter that has moved by standard errors, to first order.
func (f *Fitted) moved(j int, errors float64) string {
	e, q := &f.Estimates[j], &f.Parameters[j]
	value := e.Value + errors*e.Error
	if q.Log {
		value = e.Value * math.Exp(errors*e.Error/e.Value)
	}
	return strings.TrimSpace(certain(value, e.Error) + " " + q.Unit.Name)
}

// wroteFitted says what became of the files.
func (f *Fitted) wroteFitted(p *Page) {
	p.blank()
	p.Heading("WROTE")
	if f.Wrote == "" {
		p.Prose("  ", "no axle file: --out FILE writes it with the fitted values, your comments kept.")
	} else {
		p.Prose("  ", f.Wrote+": the axle file with the fitted values to six digits; comments, order and spacing kept; "+f.Source+" is untouched.")
	}
	if f.Residual == "" {
		p.Prose("  ", "no table of residuals: --residuals FILE writes it, one line for each reading.")
	} else {
		p.Prose("  ", f.Residual+": every reading with what is left over.")
	}
}
