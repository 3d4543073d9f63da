package swapping

import (
	"math"

	"bushtune/bushing/quantity"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// Verdict says whether a change is wanted.
type Verdict int

// The verdicts. Depends: better at one end of a range and worse at the other.
const (
	Open    Verdict = iota // nobody asks for it either way
	Better                 // somewhere in a range, and nowhere worse
	Kept                   // a limit that was met still is
	Depends                // on where in the range
	Worse                  // somewhere in a range, and nowhere better
)

// String is the word for the verdict.
func (v Verdict) String() string { return [...]string{"", "better", "kept", "depends", "worse"}[v] }

// Change is one number that a set changes by what can be noticed, or a limit that it
// no longer meets.
type Change struct {
	Index             int     // of the number in the study
	Before, Low, High float64 // in the written unit
	Steps             float64 // the largest change in just-noticeable steps
	Verdict           Verdict
	Want              string // of the axle file, that judges; empty: what is usual
	Asked             int    // which want it is, of a number under a load of full size
	AtSize            bool   // it is one: Before, Low and High may be no number, see Sized
	Lost              bool   // then: somewhere in the range the axle cannot hold the load
}

// Changes lists the noticeable changes of a set among the numbers that pass, and of what
// is wanted under loads of full size, the largest in steps first.
func (c *Comparison) Changes(column int, pass func(index int) bool) (all []Change) {
	numbers := c.Base.Numbers()
	for i := range numbers {
		if !pass(i) {
			continue
		}
		low, high := c.Columns[column].Between(i)
		n := &numbers[i]
		ch := Change{Index: i, Before: n.Unit.Written(c.Base.Value(i)), Low: n.Unit.Written(low), High: n.Unit.Written(high)}
		ch.Steps = ch.steps(n.Step)
		lost := c.judge(&ch, n.Name)
		if ch.Steps >= 1 || lost {
			all = append(all, ch)
		}
	}
	all = append(all, c.changesAtSize(column)...)
	quantity.GreatestFirst(all, func(c Change) float64 { return c.Steps })
	return all
}

// steps is the largest change in just-noticeable steps. A state that the axle reaches no
// longer, or only now, counts as any number of them.
func (ch *Change) steps(step float64) float64 {
	never, lost := math.IsNaN(ch.Before), math.IsNaN(ch.Low) || math.IsNaN(ch.High)
	switch {
	case never != lost:
		return math.Inf(1)
	case lost:
		return 0
	}
	return max(math.Abs(ch.Low-ch.Before), math.Abs(ch.High-ch.Before)) / step
}

// judge finds the verdict: by the wants of the axle file on this number, the
// strictest of them, else by what is usual. lost tells whether a limit was met and
// is no longer.
func (c *Comparison) judge(ch *Change, name string) (lost bool) {
	wanted := false
	for i := range c.Asked {
		a := &c.Asked[i]
		if a.Index != ch.Index || a.Goal.Size != 0 {
			continue
		}
		if v := byWant(a, ch); !wanted || v > ch.Verdict {
			ch.Verdict, ch.Want = v, a.Name
		}
		wanted = true
		lost = lost || crosses(a, ch)
	}
	if !wanted {
		ch.Verdict = verdict(cases.UsualCost(name), 0, ch)
	}
	return lost
}

// byWant is the verdict by one want.
func byWant(a *tuning.Asked, ch *Change) Verdict {
	cost := wantCost(a)
	v := verdict(cost, a.Want.Value, ch)
	if !openEnded(a) && cost(ch.Before) == 0 && v == Open {
		return Kept
	}
	return v
}

// crosses tells whether a want was met and is no longer.
func crosses(a *tuning.Asked, ch *Change) bool {
	cost, noticed := wantCost(a), optimize.MetShare*a.Want.Scale
	return !openEnded(a) && cost(ch.Before) <= noticed && max(cost(ch.Low), cost(ch.High)) > noticed
}

func openEnded(a *tuning.Asked) bool {
	return a.Want.Kind == optimize.MakeLarge || a.Want.Kind == optimize.MakeSmall
}

// verdict compares both ends of a change with where it starts, by a cost of which
// less is better. Between them the cost can only be less than at both where the range
// holds what is wanted best.
func verdict(cost cases.Cost, best float64, ch *Change) Verdict {
	if cost == nil {
		return Open
	}
	cost = orLost(cost)
	before, low, high := cost(ch.Before), cost(ch.Low), cost(ch.High)
	between := cost(min(max(best, ch.Low), ch.High))
	if ch.Lost {
		high = math.Inf(1)
	}
	better, worse := min(low, high, between) < before, max(low, high) > before
	switch {
	case better && worse:
		return Depends
	case worse:
		return Worse
	case better:
		return Better
	}
	return Open
}

// wantCost is how far a value misses a want, in the written unit: beyond all measure
// where the axle cannot hold the load.
func wantCost(a *tuning.Asked) cases.Cost {
	return orLost(missOf(a))
}

// orLost is a cost that is beyond all measure where there is no number.
func orLost(cost func(x float64) float64) func(x float64) float64 {
	return func(x float64) float64 {
		if math.IsNaN(x) {
			return math.Inf(1)
		}
		return cost(x)
	}
}

// missOf is the same of numbers.
func missOf(a *tuning.Asked) cases.Cost {
	wanted := a.Want.Value
	switch a.Want.Kind {
	case optimize.AtLeast:
		return func(x float64) float64 { return max(0, wanted-x) }
	case optimize.AtMost:
		return func(x float64) float64 { return max(0, x-wanted) }
	case optimize.MakeLarge:
		return cases.Higher
	case optimize.MakeSmall:
		return cases.Lower
	}
	return func(x float64) float64 { return math.Abs(x - wanted) }
}
