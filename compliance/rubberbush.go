package compliance

import (
	"errors"
	"slices"

	"bushtune/bushing"
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
)

// BushRubber is a rubber bush given by its dimensions and its compound: the six
// rates and the stops of its voids and collars follow, then it is a bush as any
// other. Its own slots are named "rubber.length" and so on.
var BushRubber = &Kind{
	Table: Bush.Table, Variant: "rubber", Meaning: "a rubber bush by its dimensions and hardness, from which its rates follow",
	Fields: append(sharedFields(), rubberFields()...), Lines: Bush.Lines, Released: Bush.Released,
	values: rubberLines[float64], exact: rubberLines[complex128], check: checkRubber,
	bush: func(e *Element) bushing.Bush[float64] { return rubberBush(e.Choice.Rubber, e.Slots) },
}

// byRubber are the slots of a bush that its dimensions decide.
var byRubber = []string{
	"soft", "axial", "stiff", "cone_soft", "torsion", "cone_stiff",
	"soft_gap", "soft_gap_back", "soft_snubber", "axial_gap", "axial_gap_back", "axial_snubber",
}

// shared lists the slots of a plain bush that one given by dimensions has too,
// in its own order.
var shared = sharedSlots()

func sharedSlots() []int {
	var slots []int
	for i, f := range bushing.Fields {
		if !slices.Contains(byRubber, f.Name) {
			slots = append(slots, i)
		}
	}
	return slots
}

func sharedFields() []quantity.Field {
	var fields []quantity.Field
	for _, i := range shared {
		fields = append(fields, bushing.Fields[i])
	}
	return fields
}

// rubberPrefix marks the slots that package rubber knows.
const rubberPrefix = "rubber."

func rubberFields() []quantity.Field {
	fields := slices.Clone(rubber.Fields)
	for i := range fields {
		fields[i].Name = rubberPrefix + fields[i].Name
	}
	return fields
}

// bushSlots is room for the slots of a plain bush.
type bushSlots[T exact.Number] [48]T

// rubberBush is the bush that follows from slots in the order of
// BushRubber.Fields. Its voids are the same both ways along the soft radial, its
// collars at both ends.
func rubberBush[T exact.Number](choice rubber.Choice, slots []T) bushing.Bush[T] {
	var room bushSlots[T]
	full := room[:len(bushing.Fields)]
	for i, at := range shared {
		full[at] = slots[i]
	}
	b := bushing.New(full)
	d := dimensions(slots)
	r := d.Rates(choice)
	b.Soft, b.Axial, b.Stiff = r.Soft, r.Axial, r.Stiff
	b.ConeSoft, b.Torsion, b.ConeStiff = r.ConeSoft, r.Torsion, r.ConeStiff
	b.Gap[bushing.Soft], b.Snubber[bushing.Soft] = r.VoidGap, r.VoidSnubber
	b.Gap[bushing.Axial], b.Snubber[bushing.Axial] = r.EndGap, r.EndSnubber
	return b
}

// dimensions are those of a bush with slots in the order of BushRubber.Fields.
func dimensions[T exact.Number](slots []T) rubber.Bush[T] { return rubber.New(slots[len(shared):]) }

// rubberLines leaves its lines empty where no such bush can be made, which
// checkRubber tells.
func rubberLines[T exact.Number](e *Element, slots []T, centre exact.Vec[T], out *Lines[T]) {
	if d := dimensions(slots); d.Check(e.Choice.Rubber) != nil {
		return
	}
	b := rubberBush(e.Choice.Rubber, slots)
	bushLines(e, &b, centre, out)
}

// Rubber is the rubber of a bush given by its dimensions; false for any other
// element.
func (e *Element) Rubber() (rubber.Bush[float64], bool) {
	if e.Kind != BushRubber {
		return rubber.Bush[float64]{}, false
	}
	return dimensions(e.Slots), true
}

// ByRates is a bush given by its dimensions, written as one given by its rates,
// which behaves the same; any other element is returned as it is.
func (e *Element) ByRates() Element {
	if e.Kind != BushRubber {
		return *e
	}
	plain := *e
	plain.Kind, plain.Choice.Rubber = Bush, rubber.Choice{}
	plain.Slots = make([]float64, len(bushing.Fields))
	for i, at := range shared {
		plain.Slots[at] = e.Slots[i]
	}
	b := rubberBush(e.Choice.Rubber, e.Slots)
	for name, value := range map[string]float64{
		"soft": b.Soft, "axial": b.Axial, "stiff": b.Stiff, "cone_soft": b.ConeSoft, "torsion": b.Torsion, "cone_stiff": b.ConeStiff,
		"soft_gap": b.Gap[bushing.Soft], "soft_snubber": b.Snubber[bushing.Soft],
		"axial_gap": b.Gap[bushing.Axial], "axial_snubber": b.Snubber[bushing.Axial],
	} {
		plain.Slots[Bush.FieldIndex(name)] = value
	}
	return plain
}

// Check tells what of an element cannot be, as NewSolver does: dimensions that
// nobody can make, a shape that cannot be drawn.
func (e *Element) Check() error { return e.Kind.check(e) }

// checkRubber wants a bush that can be made, inside the range of every formula.
// The error joins a *bushing.SlotError for each slot that is wrong.
func checkRubber(e *Element) error {
	d := dimensions(e.Slots)
	err := d.Check(e.Choice.Rubber)
	if err == nil {
		return checkMount(e)
	}
	var all []error
	for _, one := range joined(err) {
		var wrong *rubber.SlotError
		if errors.As(one, &wrong) {
			one = &bushing.SlotError{Slot: rubberPrefix + wrong.Slot, Reason: wrong.Reason}
		}
		all = append(all, one)
	}
	return errors.Join(all...)
}

// joined lists the errors that errors.Join put together.
func joined(err error) []error {
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		return several.Unwrap()
	}
	return []error{err}
}
