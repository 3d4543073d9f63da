package compliance

import (
	"fmt"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// TorsionBar couples the rotations of two bodies about a line: a bar inside or
// beside the cross-member. It carries no force, so only its direction counts.
var TorsionBar = &Kind{
	Table: "bar", Meaning: "a torsion bar between two bodies, inside or beside the cross-member",
	Fields: append(quantity.Point("axis", "direction of the bar's axis, any length"),
		quantity.Field{Name: "rate", Unit: quantity.NewtonMetrePerDegree, Above: true, Max: 1e9, Required: true,
			Meaning: "torque per relative rotation of its two ends"}),
	Lines:  []string{"twist"},
	values: barLines[float64], exact: barLines[complex128],
	check: func(e *Element) error {
		if e.Slots[0] == 0 && e.Slots[1] == 0 && e.Slots[2] == 0 {
			return fmt.Errorf("the axis has no direction: it is (0, 0, 0)")
		}
		return nil
	},
}

// barLines: one pure moment about the axis, which turns with the mean of both bodies.
func barLines[T exact.Number](_ *Element, s []T, _ exact.Vec[T], out *Lines[T]) {
	out.add(s[3], exact.Moment(exact.Vec[T]{s[0], s[1], s[2]}.Unit()))
	out.Anchor = Anchor[T]{Lean: 0.5}
}
