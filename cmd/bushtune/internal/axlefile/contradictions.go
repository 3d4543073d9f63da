package axlefile

import (
	"slices"
	"strings"

	"bushtune/cases"
	"bushtune/optimize"
)

// checkContradictions reports pairs of wants about one number, in one case and at one
// size of load, that no axle could meet together: each at its own line, naming the other.
func (r *reader) checkContradictions(present *cases.Study, wants []Want) {
	for i := range wants {
		for j := range i {
			a, b := &wants[j], &wants[i]
			if why := contradiction(a, b); why != "" && sameNumber(present, a, b) {
				for _, pair := range [][2]*Want{{a, b}, {b, a}} {
					r.wrong(pair[0].Line, wantSection+"."+pair[0].Name, "contradicts "+wantSection+"."+pair[1].Name+": one number cannot be "+why, "", "take one of the two out")
				}
			}
		}
	}
}

// contradiction says what two wants ask of one number if both cannot be had: a value
// from above one limit to below another, two values, or as much and as little as
// possible. Empty if they can.
func contradiction(a, b *Want) string {
	if rank(a) > rank(b) {
		a, b = b, a
	}
	apart := false
	switch {
	case a.Goal == optimize.AtLeast && b.Goal != optimize.AtLeast:
		apart = (b.Goal == optimize.AtMost || b.Goal == optimize.Target) && a.Value > b.Value
	case a.Goal == optimize.Target && b.Goal == optimize.AtMost:
		apart = a.Value > b.Value
	case a.Goal == optimize.Target && b.Goal == optimize.Target:
		apart = a.Value != b.Value
	case a.Goal == optimize.MakeLarge && b.Goal == optimize.MakeSmall:
		return "as large and as small as possible"
	}
	if !apart {
		return ""
	}
	return asks(a) + " and " + asks(b)
}

// asks words a want with a value.
func asks(w *Want) string {
	if w.Goal == optimize.Target {
		return "on target at " + decimal(w.Value)
	}
	return w.Goal.String() + " " + decimal(w.Value)
}

// rank orders wants so that what asks for more stands first.
func rank(w *Want) int {
	return slices.Index([]optimize.Kind{optimize.AtLeast, optimize.Target, optimize.AtMost, optimize.MakeLarge, optimize.MakeSmall}, w.Goal)
}

// sameNumber tells whether two wants ask for the same number at the same size of load,
// in any turn in which both are asked.
func sameNumber(present *cases.Study, a, b *Want) bool {
	if a.Size != b.Size || a.Straight != b.Straight {
		return false
	}
	of := numbersOf(present, b)
	return slices.ContainsFunc(numbersOf(present, a), func(index int) bool { return slices.Contains(of, index) })
}

// numbersOf are the numbers of a study that a want asks for: one, or one in each turn.
func numbersOf(present *cases.Study, w *Want) []int {
	index, err := present.Find(w.Number, w.Case, w.Where)
	if err != nil {
		return nil // told already
	}
	all := []int{index}
	if other, ok := present.OtherTurn(index); ok && !strings.HasSuffix(w.Case, cases.TurnRight) {
		all = append(all, other)
	}
	return all
}
