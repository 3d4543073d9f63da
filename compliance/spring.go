package compliance

import (
	"fmt"

	"bushtune/bushing"
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// seat returns the two points of a part that works along the line between them.
func seat() []quantity.Field {
	return append(quantity.Point("upper", "end on the from side"), quantity.Point("lower", "end on the to side")...)
}

// Spring is a coil spring along the line between its seats.
var Spring = &Kind{
	Table: "spring", Meaning: "a coil spring along the line between two seats",
	Fields: append(seat(), stiffness("rate", "spring rate"),
		quantity.Field{Name: "load", Unit: quantity.Newton, Min: 0, Max: 1e6,
			Meaning: "installed compressive load at design height; absent: whatever balances the wheel loads"},
		quantity.Field{Name: "solid_length", Unit: quantity.Millimetre, Above: true, Max: 1000,
			Meaning: "length between the seats at which the coils touch: a movement goes no further; absent: not known, and not watched"}),
	Lines:  []string{"along"},
	values: springLines[float64], exact: springLines[complex128], check: checkSpring,
}

// The slots of the installed load and of the solid length.
const (
	springLoad  = 7
	springSolid = 8
)

// checkSpring wants the coil to have room at design height.
func checkSpring(e *Element) error {
	if err := checkTwoPoints(e); err != nil {
		return err
	}
	if length := springLength(e); e.Slots[springSolid] >= length {
		return fmt.Errorf("solid_length is %.4g mm, but the seats are only %.4g mm apart at design height: the coil would be solid at rest", e.Slots[springSolid], length)
	}
	return nil
}

// springLength is the distance of the seats at design height, in mm.
func springLength(e *Element) float64 {
	s := e.Slots
	return vec{s[3], s[4], s[5]}.Sub(vec{s[0], s[1], s[2]}).Norm()
}

func springLines[T exact.Number](_ *Element, s []T, centre exact.Vec[T], out *Lines[T]) {
	along(s, centre, out, s[6], -s[springLoad])
}

// BumpStop is a stop that works after a gap. In the linear answer it is either
// in contact at design height, with its rate, or absent; in a movement it pushes
// once the gap is closed, and never pulls.
var BumpStop = &Kind{
	Table: "stop", Meaning: "a bump stop; in the linear answer its rate counts only if the gap at design height is zero",
	Fields: append(seat(), stiffness("rate", "rate once in contact"),
		quantity.Field{Name: "gap", Unit: quantity.Millimetre, Min: 0, Max: 1000, Required: true, Meaning: "free travel before contact; 0: in contact at design height"},
		quantity.Field{Name: "load", Unit: quantity.Newton, Min: 0, Max: 1e6, Meaning: "compressive load at design height, if in contact"},
		quantity.Field{Name: "run", Unit: quantity.Millimetre, Above: true, Max: 1000, Default: 10, Meaning: "way after a gap over which the stop gains its rate; absent: 10"}),
	Lines:  []string{"along"},
	values: stopLines[float64], exact: stopLines[complex128], check: checkTwoPoints,
}

// stopLines: a closing gap shortens the line, so that it lies on the side of
// negative strain.
func stopLines[T exact.Number](_ *Element, s []T, centre exact.Vec[T], out *Lines[T]) {
	if exact.Real(s[7]) == 0 {
		along(s, centre, out, s[6], -s[8])
		return
	}
	along(s, centre, out, 0, 0)
	out.Law[0] = bushing.Law[T]{GapMinus: s[7], Snubber: s[6], Run: s[9]}
	out.Curved = true
}

// SpringLength is the distance of the seats of a spring in mm at the present
// equilibrium, and at design height.
func (m *Mover) SpringLength(element int) (now, design float64) {
	design = springLength(&m.solver.axle.Elements[element])
	return design + m.states[element].strain[0], design
}

// solidCoil names a spring that is pressed beyond its solid length; empty if none is.
// Past it steel stands on steel, which no rate of the model tells.
func (m *Mover) solidCoil() string {
	for i := range m.solver.axle.Elements {
		e := &m.solver.axle.Elements[i]
		if e.Kind != Spring || e.Slots[springSolid] == 0 {
			continue
		}
		if now, _ := m.SpringLength(i); now < e.Slots[springSolid] {
			return e.Label()
		}
	}
	return ""
}

// Damper carries only its gas load at rest: a slow load sees no damper rate.
var Damper = &Kind{
	Table: "damper", Meaning: "a damper: at rest only its gas load acts",
	Fields: append(seat(), quantity.Field{Name: "gas_load", Unit: quantity.Newton, Min: 0, Max: 1e5, Meaning: "push of the gas along the damper at design height"}),
	Lines:  []string{"along"},
	values: damperLines[float64], exact: damperLines[complex128], check: checkTwoPoints,
}

func damperLines[T exact.Number](_ *Element, s []T, centre exact.Vec[T], out *Lines[T]) {
	along(s, centre, out, 0, -s[6])
}
