package show

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// holds lists what holds the result back, each with its price in plain words.
func (s *sides) holds(p *Page) {
	p.blank()
	p.Heading("WHAT HOLDS IT BACK")
	if text := s.inFullDigits(); text != "" {
		p.Prose("  ", text)
	}
	if len(s.Limits)+len(s.Bounds) == 0 {
		p.Prose("  ", "No limit and no bound is touched: the wants hold each other.")
		return
	}
	if !s.Prices.Given {
		p.Prose("  ", "No prices are given: "+s.Prices.Reason+".")
	}
	for _, l := range s.Limits {
		p.Prose("  ", s.limitPrice(l))
	}
	for _, b := range s.Bounds {
		p.Prose("  ", s.boundPrice(b))
	}
}

// limitPrice words the price of one limit.
func (s *sides) limitPrice(l optimize.ActiveLimit) string {
	a := &s.Asked[l.Want]
	text := s.after.captionOf(a) + ": " + s.after.wishUnit(a)
	if v := s.verdict(l.Want); v.tone == bad {
		return text + " is " + v.text + " and pulls against the rest."
	}
	text += " just holds."
	if !s.Prices.Given {
		return text
	}
	step, direction := s.after.numbers[a.Index].Step/10, "more"
	if a.Want.Kind == optimize.AtMost {
		step, direction = -step, "less"
	}
	asked := s.after.written(a.Index, math.Abs(step)) + " " + a.Unit.Name
	return text + " Each " + asked + " " + direction + " would cost " + s.worth(l.Price*step) + "."
}

// boundPrice words the price of one bound.
func (s *sides) boundPrice(b optimize.ActiveBound) string {
	q := &s.Parameters[b.Parameter]
	text := q.Path + ": on its " + boundName(b) + " bound " + s.bound(b)
	if !s.Prices.Given {
		return text + "."
	}
	step := roundStep(q.To - q.From)
	further := strings.TrimSpace(measure(step) + " " + q.Unit.Name)
	if !b.Upper {
		step = -step
	}
	return text + "; " + further + " further out would gain " + s.worth(b.Price*step) + "."
}

// roundStep is a power of ten near a hundredth of a range.
func roundStep(width float64) float64 {
	return math.Pow(10, math.Floor(math.Log10(width/20)))
}

// little is the share of a just-noticeable step that is worth no words.
const little = 1e-3

// worth words a price: a change of the one number that is asked for, or of
// everything that is wanted.
func (s *sides) worth(price float64) string {
	amount := math.Abs(price)
	a, factor := s.priced()
	if a == nil {
		if amount < little {
			return "next to nothing"
		}
		return significant(amount, 2) + " in the sum of what is wanted, counted in noticeable steps"
	}
	n := &s.after.numbers[a.Index]
	if amount *= factor; amount < little*n.Step {
		return "next to nothing"
	}
	return significant(amount, 2) + " " + n.Unit.Name + " of " + s.after.captionOf(a)
}

// priced returns the one want in whose number prices count, and what a price must be
// multiplied by. Where one target is missed and nothing is to be made large or
// small, aim = weight·(miss/scale)², so d(miss) = d(aim)·scale²/(2·weight·miss).
// It is nil if several things are wanted.
func (s *sides) priced() (only *tuning.Asked, factor float64) {
	for i := range s.Asked {
		a := &s.Asked[i]
		switch {
		case s.Prices.Number >= 0:
			if a.Want.Number == s.Prices.Number {
				return a, 1
			}
		case openEnded(a.Want.Kind):
			return nil, 1
		case a.Want.Kind != optimize.Target:
		case only != nil || s.Result.Wants[i].Met:
			return nil, 1
		default:
			only = a
			factor = a.Want.Scale * a.Want.Scale / (2 * a.Want.Weight * math.Abs(s.Result.Wants[i].Miss))
		}
	}
	return only, factor
}

// sure says how far the answer can be relied on.
func (s *sides) sure(p *Page) {
	a := &s.Agreement
	p.blank()
	p.Heading("HOW SURE")
	p.Prose("  ", s.reason())
	if s.Status == optimize.AtCorner {
		p.Prose("  ", "Near here only wider bounds, other parameters or smaller wants can help.")
	}
	text := fmt.Sprintf("%d of %d starts end with the same result", a.SameCost, a.Starts-a.Failed)
	if a.SameCost > a.SamePoint {
		text += fmt.Sprintf(", %d of them at these values", a.SamePoint)
	}
	if a.Failed > 0 {
		text += fmt.Sprintf("; %s could not be solved", plural(a.Failed, "start"))
	}
	p.Prose("  ", text+". Slope left over (first-order residual): "+s.residual()+".")
	s.otherEnds(p)
}

// reason says in plain words what the optimiser found.
func (s *sides) reason() string {
	switch {
	case s.Status == optimize.Converged && s.Rounding.Done() && s.Result.Status.Err() == nil:
		return s.bestOnSteps()
	case s.Status == optimize.Converged && s.Result.Status == optimize.Converged:
		return "Every limit holds, and no small change of these values does better."
	}
	return sentence(s.Reason)
}

// tinyResidual is where a residual is as good as none: a millionth of a step over
// the whole range of a parameter. What is smaller is noise of the last digits.
const tinyResidual = 1e-6

// residual is the residual of what was minimised last.
func (s *sides) residual() string {
	value, unit := s.AimResidual, "in cost per range of a parameter"
	if s.ViolationResidual > 0 {
		value, unit = s.ViolationResidual, "in steps missed per range of a parameter"
	}
	if value < tinyResidual {
		return fmt.Sprintf("below %.0e %s", tinyResidual, unit)
	}
	return fmt.Sprintf("%.0e %s", value, unit)
}

// ends is how many other ends are shown.
const ends = 3

// otherEnds lists where other starts ended.
func (s *sides) otherEnds(p *Page) {
	all := s.Agreement.Ends
	if len(all) < 2 {
		return
	}
	p.Prose("  ", "Other ends found, best first:")
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {align: point}, {align: point}}}
	shown := all[:min(ends+1, len(all))]
	addEnds := func(label, unit string, text func(k int, e *optimize.End) string) {
		cells := []string{"    " + label, unit}
		for k := range g.columns[len(cells):] {
			cell := ""
			if k < len(shown) {
				cell = text(k, &shown[k])
			}
			cells = append(cells, cell)
		}
		g.add(cells...)
	}
	addEnds("", "", func(k int, e *optimize.End) string {
		switch {
		case k == 0 && s.inFullDigits() != "":
			return "full digits"
		case k == 0:
			return "shown"
		}
		return fmt.Sprint("other ", k)
	})
	for i := range s.Parameters {
		addEnds(s.Parameters[i].Path, s.Parameters[i].Unit.Name, func(k int, e *optimize.End) string { return measure(e.X[i]) })
	}
	if slices.ContainsFunc(shown, missesLimits) {
		addEnds("limits missed by", "steps", func(k int, e *optimize.End) string { return significant(missedLimits(e), 3) })
	}
	if !s.unmet() {
		addEnds("worse by", "steps", func(k int, e *optimize.End) string {
			if missesLimits(*e) {
				return "" // its aim cannot be compared
			}
			return significant(worse(e.Aim, all[0].Aim), 2)
		})
	}
	addEnds("starts that end here", "", func(k int, e *optimize.End) string { return fmt.Sprint(e.Starts) })
	g.write(p)
	if len(all) > len(shown) {
		p.Prose("    ", fmt.Sprintf("and %d more", len(all)-len(shown)))
	}
}

// sameAim is the difference at which two costs count as one, in steps.
const sameAim = 1e-6

// worse is by how many steps a cost is above the best; nothing where they count
// as one.
func worse(aim, best float64) float64 {
	if aim-best < sameAim {
		return 0
	}
	return aim - best
}

// missedLimits is how far an end misses the limits together, in noticeable steps;
// 0 for what is worth no words.
func missedLimits(e *optimize.End) float64 {
	if missed := math.Sqrt(e.Violation); missed > little {
		return missed
	}
	return 0
}

func missesLimits(e optimize.End) bool { return missedLimits(&e) > 0 }

// sentence starts with a capital and ends with a full stop.
func sentence(s string) string {
	return strings.ToUpper(s[:1]) + s[1:] + "."
}
