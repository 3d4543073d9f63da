package cases

import (
	"fmt"
	"slices"

	"bushtune/bushing"
	"bushtune/compliance"
)

// Unheld names each bush that nothing holds along its axis, with the reason, or with
// the way that is free before a stop holds it: mostly a rate that is forgotten, or
// rubber that is not bonded and has no collar.
func (s *Study) Unheld() []string { return unheld(s.rig.solver.Axle()) }

func unheld(axle *compliance.Axle) []string {
	sides := map[string]int{} // by the bush and the reason
	key := func(e *compliance.Element) string { return e.Kind.Table + "." + e.Name + freeAlong(e) }
	elements := axle.Elements
	for i := range elements {
		sides[key(&elements[i])]++
	}
	var all []string
	for i := range elements {
		e := &elements[i]
		label, why := e.Label(), freeAlong(e)
		if sides[key(e)] == 2 {
			label = e.Kind.Table + "." + e.Name
		}
		if text := "nothing holds " + label + " along its axis" + why; why != "" && !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return all
}

// withUnheld is the error of an axle that cannot be solved, with the bushes that may be
// why.
func withUnheld(err error, axle *compliance.Axle) error {
	for _, text := range unheld(axle) {
		err = fmt.Errorf("%w\n  %s", err, text)
	}
	return err
}

// freeAlong says why an element is a bush that nothing holds along its axis; empty if
// it is none, or something does.
func freeAlong(e *compliance.Element) string {
	b, is := e.Bush()
	if !is || b.Axial != 0 || e.Choice.Curves != nil && e.Choice.Curves.Tables[bushing.Axial] != nil {
		return ""
	}
	way := b.Gap[bushing.Axial]
	if way == 0 {
		way = b.GapBack[bushing.Axial]
	}
	stops := b.Snubber[bushing.Axial] != 0 && way > 0
	switch free := e.Choice.Rubber.Free; {
	case free && stops:
		return fmt.Sprintf(" until a collar is reached at %.3g mm: not bonded", way)
	case free:
		return ": not bonded, no collar"
	case stops:
		return fmt.Sprintf(" until its stop is reached at %.3g mm: its axial rate is 0", way)
	}
	return ": its axial rate is 0"
}
