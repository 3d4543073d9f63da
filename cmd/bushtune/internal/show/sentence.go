package show

import (
	"math"
	"strconv"
	"strings"

	"bushtune/cmd/bushtune/internal/swapping"
)

// sentence says a change so that a tuner knows what will be felt. Where both turns
// are alike nothing is said of sides.
func (v *view) sentence(ch *swapping.Change, alike bool) string {
	if math.IsInf(ch.Steps, 0) {
		return v.lostSentence(ch)
	}
	e := v.effectOf(ch.Index, alike)
	does, means := e.does(v.signed(ch))
	s := v.situation(ch.Index) + " " + e.subject + " " + does
	if means != "" {
		s += ": " + means
	}
	n := &v.numbers[ch.Index]
	inside := n.Unit.Factor
	after := v.between(ch.Index, ch.Low*inside, ch.High*inside)
	s += " (" + strings.TrimSpace(v.written(ch.Index, ch.Before)+" → "+after+" "+n.Unit.Name) + ", " + inSteps(ch)
	if ch.Want != "" {
		s += "; want " + ch.Want
	}
	return s + ")."
}

// lostSentence says that the axle reaches a state no longer, or only now.
func (v *view) lostSentence(ch *swapping.Change) string {
	factor := v.numbers[ch.Index].Unit.Factor
	text := v.caption(ch.Index) + ", " + v.titles[v.numbers[ch.Index].Case] + ": " + v.written(ch.Index, ch.Before) + " → " + v.between(ch.Index, ch.Low*factor, ch.High*factor)
	if math.IsNaN(ch.Before) {
		return sentence(text + " (only now the axle holds this state)")
	}
	return sentence(text + " (" + cannotHold + ")")
}

// between writes a value, or the two ends of a range.
func (v *view) between(index int, low, high float64) string {
	a, b := v.text(index, low), v.text(index, high)
	if a == b {
		return a
	}
	return a + " to " + b
}

// inSteps counts a change in just-noticeable steps.
func inSteps(ch *swapping.Change) string {
	switch {
	case ch.Steps < 1:
		return "less than a step"
	case ch.Low != ch.High:
		return "up to " + steps(ch.Steps)
	}
	return steps(ch.Steps)
}

// move is a change with the signs as they are printed.
type move struct {
	before, low, high float64
	sign              [3]int // of before, low, high as printed: −1, 0, 1
	signless          bool   // the number has no words for its signs
	small             bool   // before is less than a step, so that a share of it tells nothing
}

func (v *view) signed(ch *swapping.Change) move {
	n := &v.numbers[ch.Index]
	m := move{before: ch.Before, low: ch.Low, high: ch.High, signless: n.Signs.Plus == "", small: math.Abs(ch.Before) < n.Step}
	for i, x := range [3]float64{ch.Before, ch.Low, ch.High} {
		switch text := v.text(ch.Index, x*n.Unit.Factor); {
		case isZero(text):
		case x > 0:
			m.sign[i] = 1
		default:
			m.sign[i] = -1
		}
	}
	return m
}

// does says what the subject does now, and what that means.
func (e *effect) does(m move) (does, means string) {
	before, low, high := m.sign[0], m.sign[1], m.sign[2]
	switch {
	case m.signless:
		return rises(m), e.meaning(0, m)
	case before == low && before == high && before != 0:
		return e.verb(before) + " " + shareOf(m), e.meaning(hand(before), m)
	case before == 0 && low == 0 && high == 0:
		return "as before, to the digits that are printed", ""
	case low == 0 && high == 0:
		return "no longer " + e.verb(before), ""
	case low == high && before == 0:
		return "now " + e.verb(low), ""
	case low == high:
		return "now " + e.verb(low) + ", the other way round", e.turned[hand(low)]
	}
	return e.ended(low) + " at one end of the range, " + e.ended(high) + " at the other", ""
}

func hand(sign int) int {
	if sign < 0 {
		return 1
	}
	return 0
}

// verb is what the subject does by a sign.
func (e *effect) verb(sign int) string {
	if sign < 0 {
		return e.minus
	}
	return e.plus
}

// ended is a verb at one end of a range.
func (e *effect) ended(sign int) string {
	if sign == 0 {
		return "stands still"
	}
	return e.verb(sign)
}

// meaning is what more or less of a sign means; nothing where the range holds both.
func (e *effect) meaning(hand int, m move) string {
	low, high := math.Abs(m.low)-math.Abs(m.before), math.Abs(m.high)-math.Abs(m.before)
	switch {
	case low >= 0 && high >= 0:
		return e.more[hand]
	case low <= 0 && high <= 0:
		return e.less[hand]
	}
	return ""
}

// shareOf compares with before: "30 % less", "10 to 35 % more", "2.4 times as much";
// "more" alone where there was next to nothing before.
func shareOf(m move) string { return compared(m, "more", "less", "times as much") }

// rises says the same of what has no sign.
func rises(m move) string { return "is " + compared(m, "higher", "lower", "times as high") }

// manifold is the ratio from which it is told instead of a percentage.
const manifold = 2

func compared(m move, more, less, times string) string {
	a, b := m.low/m.before, m.high/m.before
	a, b = min(a, b), max(a, b)
	percentage := func(r float64) string { return strconv.FormatFloat(math.Abs(100*(r-1)), 'f', 0, 64) }
	word := func(r float64) string {
		if r < 1 {
			return less
		}
		return more
	}
	switch {
	case m.small && word(a) == word(b):
		return word(a)
	case m.small:
		return less + " or " + more
	case a >= manifold && significant(a, 2) == significant(b, 2):
		return significant(a, 2) + " " + times
	case a >= manifold:
		return significant(a, 2) + " to " + significant(b, 2) + " " + times
	case word(a) != word(b) && b < manifold:
		return percentage(a) + " % " + less + " to " + percentage(b) + " % " + more
	case b >= manifold:
		return percentage(a) + " % " + word(a) + " to " + significant(b, 2) + " " + times
	case percentage(a) == percentage(b):
		return percentage(a) + " % " + word(a)
	case b < 1:
		return percentage(b) + " to " + percentage(a) + " % " + less
	}
	return percentage(a) + " to " + percentage(b) + " % " + more
}
