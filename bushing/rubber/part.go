package rubber

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Part is one kind of rubber part that is known by its dimensions: its slots, the
// numbers it answers and the formula between them, once for values and once for
// exact derivatives. Slots and numbers are in internal units.
type Part struct {
	Name, Meaning string
	Fields        []quantity.Field // slots: dimensions, then those of the compound, the same in every part
	Numbers       []quantity.Field // what it answers, in order; a range has no meaning here

	Values   func(slots []float64, c Choice, into []float64)
	Lifted   func(slots []complex128, c Choice, into []complex128) // the same formula
	Check    func(slots []float64, c Choice) error                 // joined *SlotError
	Bands    func(slots []float64, c Choice, class Class) [][]Band // of each number; none where no error is known
	Limits   func(slots []float64, c Choice) []Between             // of each number; zero where none
	Warnings func(slots []float64, c Choice) []string              // what is allowed and yet unwise
}

// Parts lists every kind of part, in the order of documents.
func Parts() []*Part {
	return []*Part{BushPart, BlockPart, DiscPart, RingPart, StripPart, InclinedPairPart}
}

// compoundFields are the slots of the compound, as a bush has them.
var compoundFields = append([]quantity.Field{Fields[3]}, Fields[12:]...)

// newCompound reads the slots of the compound alone: a bush without dimensions.
func newCompound[T exact.Number](s []T) Bush[T] {
	return Bush[T]{
		Hardness: s[0], ShearModulus: s[1], BulkModulus: s[2], RangeShare: s[3],
		TemperatureFactor: s[4], AgeingFactor: s[5],
	}
}

func number(name string, unit quantity.Unit, meaning string) quantity.Field {
	return quantity.Field{Name: name, Unit: unit, Meaning: meaning}
}

// partOf puts dimensions before the slots of the compound.
func partOf(dimensions ...quantity.Field) []quantity.Field {
	return append(dimensions, compoundFields...)
}
