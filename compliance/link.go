package compliance

import (
	"fmt"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Link is a two-force rod: the radial rates of its two end bushes and the rod
// itself in series, along the line between two points.
var Link = &Kind{
	Table: "link", Meaning: "a two-force rod with a bush at each end; a toe-control link is one",
	Fields: append(append(quantity.Point("inner", "end on the from side"), quantity.Point("outer", "end on the to side")...),
		stiffness("inner_rate", "radial rate of the bush at the inner end"),
		stiffness("outer_rate", "radial rate of the bush at the outer end"),
		seriesRate("rod_rate", "rate of the rod along its length; absent: rigid")),
	Lines:  []string{"along"},
	values: linkLines[float64], exact: linkLines[complex128], check: checkTwoPoints,
}

// stiffness is the field of a required rate above zero.
func stiffness(name, meaning string) quantity.Field {
	return quantity.Field{Name: name, Unit: quantity.NewtonPerMillimetre, Above: true, Max: 1e9, Required: true, Meaning: meaning}
}

// seriesRate is the field of a rate in series that is rigid when absent.
func seriesRate(name, meaning string) quantity.Field {
	return quantity.Field{Name: name, Unit: quantity.NewtonPerMillimetre, Above: true, Max: 1e9, Meaning: meaning}
}

// linkLines: 1/k = 1/inner + 1/outer + 1/rod.
func linkLines[T exact.Number](_ *Element, s []T, centre exact.Vec[T], out *Lines[T]) {
	compliance := 1/s[6] + 1/s[7]
	if exact.Real(s[8]) != 0 {
		compliance += 1 / s[8]
	}
	along(s, centre, out, 1/compliance, 0)
}

// along writes the one line from the point in slots 0–2 to the point in slots
// 3–5, with a rate in N/mm and an installed tension in N.
func along[T exact.Number](s []T, centre exact.Vec[T], out *Lines[T], rate, tension T) {
	from := exact.Vec[T]{s[0], s[1], s[2]}.Sub(centre)
	to := exact.Vec[T]{s[3], s[4], s[5]}.Sub(centre)
	line := to.Sub(from)
	slender := 1 / line.Norm()
	i := out.add(rate, exact.Force(line.Scale(slender), from))
	out.Load[i] = tension
	out.Anchor = Anchor[T]{From: from, To: to, TwoPoint: true, Slender: slender}
}

// checkTwoPoints refuses a line of zero length.
func checkTwoPoints(e *Element) error {
	if e.Slots[0] == e.Slots[3] && e.Slots[1] == e.Slots[4] && e.Slots[2] == e.Slots[5] {
		return fmt.Errorf("both ends lie at %v: the length is zero", e.Slots[:3])
	}
	return nil
}
