package compliance

import (
	"bushtune/bushing"
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Kind is one kind of element: its fields, the words for its lines and the
// formula that turns slots into lines, held once for values and once for exact
// derivatives.
type Kind struct {
	Table   string // table in the axle file: "bush"
	Variant string // what is written differently: "matrix", "rubber", a profile shape; empty for the plain kind
	Meaning string
	Fields  []quantity.Field
	Lines   []string // words for the lines, in order
	// Released tells which lines carry no static load unless the element holds moments.
	Released []bool
	// RateSlots holds for each line the slot that moves its rate and load and
	// nothing else; nil if the kind has none.
	RateSlots []int

	values func(e *Element, slots []float64, centre exact.Vec[float64], out *Lines[float64])
	exact  func(e *Element, slots []complex128, centre exact.Vec[complex128], out *Lines[complex128])
	check  func(e *Element) error
	bush   func(e *Element) bushing.Bush[float64] // nil for what is no bush along six directions
}

// Kinds lists every kind of element, in the order of tables and documents.
func Kinds() []*Kind {
	kinds := []*Kind{Bush, BushMatrix, BushRubber, Link, Spring, BumpStop, Damper, TorsionBar, Beam}
	return append(kinds, ProfileBeams...)
}

// FieldIndex returns the slot number of the field with that name, or −1.
func (k *Kind) FieldIndex(name string) int { return fieldIndex(k.Fields, name) }

func fieldIndex(fields []quantity.Field, name string) int {
	for i, f := range fields {
		if f.Name == name {
			return i
		}
	}
	return -1
}

// Defaults returns a slot list with every default, in internal units.
func (k *Kind) Defaults() []float64 { return defaults(k.Fields) }

func defaults(fields []quantity.Field) []float64 {
	slots := make([]float64, len(fields))
	for i, f := range fields {
		slots[i] = f.Default * f.Unit.Factor
	}
	return slots
}

// strut is how many times stiffer a spring without a given load stands in the
// static solve: as a strut that keeps its length, it takes whatever load holds
// the axle at its design height. As a spring it would sag and strain every link
// and bush on the way.
const strut = 1000

// atRest is the share of its rate that line i has in the static solve: none if
// it is released.
func (e *Element) atRest(i int) float64 {
	switch {
	case !e.Choice.HoldsMoments && i < len(e.Kind.Released) && e.Kind.Released[i]:
		return 0
	case e.balances():
		return strut
	}
	return 1
}

// balances tells whether the element is a spring that carries whatever balances
// the loads at rest.
func (e *Element) balances() bool { return e.Kind == Spring && e.Slots[springLoad] == 0 }
