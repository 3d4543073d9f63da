package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/optimize"
)

// workshopSteps names the steps of a workshop.
func workshopSteps() string {
	step := func(u quantity.Unit) string { return measure(rubber.WorkshopStep(u)) }
	return "steps of " + step(quantity.Millimetre) + " mm, " + step(quantity.Degree) + " deg and " + step(quantity.Hardness) + " point of hardness"
}

// stepsSentence says that the dimensions of rubber stand on steps and what that
// costs, or why they do not; empty where no such dimension was moved.
func (s *sides) stepsSentence() string {
	r := &s.Rounding
	switch {
	case len(r.Stepped) == 0:
		return ""
	case r.Refused:
		return "Not rounded: beside these values no " + workshopSteps() + " keep every limit that is met here."
	}
	text := "In " + workshopSteps()
	if s.onOddBound() {
		text += " or on a bound"
	}
	text += ", which " + s.costOfSteps() + "."
	if r.Nearest > 0 {
		text += fmt.Sprintf(" Of these %d dimensions the %d that matter least were only put on the nearest step.", len(r.Stepped), r.Nearest)
	}
	return text
}

// onOddBound tells whether a dimension stands on a bound that is no step.
func (s *sides) onOddBound() bool {
	for _, i := range s.Rounding.Stepped {
		ratio := s.Written[i] / rubber.WorkshopStep(s.Parameters[i].Unit)
		if math.Abs(ratio-math.Round(ratio)) > little {
			return true
		}
	}
	return false
}

// costOfSteps compares what is aimed at as it stands with what it is in full
// digits.
func (s *sides) costOfSteps() string {
	var all []string
	for i := range s.Asked {
		if text := s.costOfWant(i); text != "" {
			all = append(all, text)
		}
	}
	if all == nil {
		return "costs nothing that can be seen"
	}
	return strings.Join(all, " and ")
}

// costOfWant says what steps cost or gain in one number that is aimed at; empty
// where that cannot be seen, and for limits, which hold.
func (s *sides) costOfWant(i int) string {
	a, full, now := &s.Asked[i], s.Result.Wants[i], s.Wants[i]
	cost := 0.0
	switch a.Want.Kind {
	case optimize.MakeLarge:
		cost = full.After - now.After
	case optimize.MakeSmall:
		cost = now.After - full.After
	case optimize.Target:
		cost = math.Abs(now.Miss) - math.Abs(full.Miss)
	}
	amount, caption := s.after.written(a.Index, math.Abs(cost)), s.after.captionOf(a)
	by := strings.TrimSpace(amount + " " + a.Unit.Name)
	switch {
	case isZero(amount):
		return ""
	case a.Want.Kind == optimize.Target && cost > 0:
		return "moves " + caption + " " + by + " away from its target"
	case a.Want.Kind == optimize.Target:
		return "moves " + caption + " " + by + " nearer to its target"
	case cost > 0:
		return "costs " + by + " of " + caption
	}
	return "gains " + by + " of " + caption
}

// inFullDigits says where the best stood before it was put on steps, to which prices
// belong; empty where that looks the same.
func (s *sides) inFullDigits() string {
	var all []string
	for i := range s.Parameters {
		if q := &s.Parameters[i]; s.Rounding.Done() && measure(s.X[i]) != measure(s.Written[i]) {
			all = append(all, strings.TrimSpace(q.Path+" "+measure(s.X[i])+" "+q.Unit.Name))
		}
	}
	if all == nil {
		return ""
	}
	return "Told of the best in full digits: " + strings.Join(all, ", ") + "."
}

// bestOnSteps says how sure a result on steps is whose limits all hold.
func (s *sides) bestOnSteps() string {
	text := "Every limit holds. In full digits no small change of the values does better"
	if s.Rounding.Tried > 1 {
		text += fmt.Sprintf("; of the %d combinations of steps beside them none does better than this one", s.Rounding.Tried)
	}
	return text + "."
}
