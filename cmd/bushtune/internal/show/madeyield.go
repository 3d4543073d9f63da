package show

import (
	"fmt"
	"math"

	"bushtune/bushing/rubber"
)

// partsThatMeet says how many of the parts that are made to one drawing meet every want.
func (m *Made) partsThatMeet(p *Page) {
	p.Prose("  ", fmt.Sprintf("Of 100 parts made to these dimensions %s every want: %s. Errors of the formulas, and of compounds that differ at one hardness, move all parts together and come on top.",
		meet(m.Yield.All), m.scatterWords()))
}

// meet words a share of parts as the subject of a sentence.
func meet(share float64) string {
	text := ofHundred(share)
	switch text {
	case "0":
		return "none meets"
	case "<1":
		return "fewer than 1 meets"
	case "1":
		return "1 meets"
	case "100":
		return "all meet"
	case ">99":
		return "more than 99 meet"
	}
	return text + " meet"
}

// ofHundred is a share of parts in whole parts of a hundred; none and all are said only
// where they are.
func ofHundred(share float64) string {
	const none = 1e-9 // rounding of a sum
	switch n := math.Round(100 * share); {
	case share < none:
		return "0"
	case share > 1-none:
		return "100"
	case n < 1:
		return "<1"
	case n > 99:
		return ">99"
	default:
		return fmt.Sprintf("%.0f", n)
	}
}

// scatterWords say what differs from part to part.
func (m *Made) scatterWords() string {
	s := m.Yield.Scatter
	what := ""
	if m.part().Choice.Compound == rubber.Given {
		what = ", 3.8 % of the moduli a point"
	}
	return fmt.Sprintf("hardness ±%s%s (--hardness-tolerance), sizes that the mould makes to ISO 3302-1 class %s (--mould), evenly spread and each by itself; what metal makes as drawn",
		measure(s.Hardness), what, rubber.MouldClassNames[s.Mould])
}
