package cases

import (
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
)

// percent is the unit of a strain.
const percent = "%"

// Strains compares every indicator of strain of a bush given by its dimensions
// with its published limit, the deflection at rest included; none for a bush
// given by its rates, whose dimensions nobody knows, nor for rubber that is not
// bonded, which slides.
func (s *Study) Strains(b *BushLoad) []Usage {
	e := &s.rig.solver.Axle().Elements[b.element]
	dimensions, is := e.Rubber()
	if !is || e.Choice.Rubber.Free {
		return nil
	}
	total := s.atRest(b)
	for i := range total {
		total[i] += b.Travel[i]
	}
	var all []Usage
	for _, strain := range rubber.Strains(&dimensions, total) {
		all = append(all, Usage{What: strain.What, Unit: percent, Value: 100 * strain.Value, Limit: 100 * strain.Limit})
	}
	return all
}

// WorstStrains are the greatest compression and the greatest shear of those, each
// under the name of its indicator; none for a bush given by its rates.
func (s *Study) WorstStrains(b *BushLoad) []Usage {
	all := s.Strains(b)
	if all == nil {
		return nil
	}
	var worst [2]Usage
	for _, u := range all {
		w := &worst[0]
		if strings.HasPrefix(u.What, "shear") {
			w = &worst[1]
		}
		if w.What == "" || quantity.Exceeds(u.Value, w.Value) {
			*w = u
		}
	}
	return worst[:]
}

// roundWarnings tell of each bush given by its dimensions which radius the corners of
// its voids are taken to have, where the file gives none; both sides once if they agree.
func (s *Study) roundWarnings() []string {
	axle := s.rig.solver.Axle()
	var all []string
	for _, b := range s.bushes {
		e := &axle.Elements[b.element]
		dimensions, is := e.Rubber()
		if !is {
			continue
		}
		if assumed := dimensions.RoundAssumed(e.Choice.Rubber); assumed != "" {
			if text := "bush." + e.Name + ".rubber: " + assumed; !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	return all
}

// atRest is the deflection of the rubber at rest from the shape without load, in
// mm and rad in the order of bushing.Direction.
func (s *Study) atRest(b *BushLoad) (deflection [6]float64) {
	solver := s.rig.solver
	e := &solver.Axle().Elements[b.element]
	bush, _ := e.Bush()
	for d := range deflection {
		deflection[d] = e.Choice.InnerSense() * solver.Operating(b.element, d)
		if d <= int(bushing.Stiff) && bush.Bracket != 0 {
			deflection[d] -= b.Rest[d] / bush.Bracket
		}
	}
	return deflection
}
