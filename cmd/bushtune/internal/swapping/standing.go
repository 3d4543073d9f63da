package swapping

import (
	"math"
	"slices"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
)

// Standing is an axle as far as it is asked what got worse: its numbers, its limits
// under every load case, and the same over its travel.
type Standing struct {
	study   *cases.Study     // names and units; it may have been moved on
	values  []float64        // of every number, in internal units
	sized   []float64        // of every want under a load of full size, likewise
	uses    []cases.LimitUse // of every bush, with or without a limit
	travels []*cases.OverTravel
	pulls   []cases.Pull
}

// Stand looks at an axle as its study stands.
func Stand(study *cases.Study, asked []tuning.Asked) (*Standing, error) {
	s := &Standing{study: study, uses: study.Uses(), pulls: study.Pulls(), sized: make([]float64, len(asked))}
	for i := range study.Numbers() {
		s.values = append(s.values, study.Value(i))
	}
	for i := range asked {
		if asked[i].Goal.Size != 0 {
			s.sized[i] = asked[i].Value(study)
		}
	}
	var err error
	s.travels, err = study.OverTravels()
	return s, err
}

// bothTurns tells whether the halves of the axle may differ.
func (s *Standing) bothTurns() bool { return s.pulls != nil }

// carried are the largest uses of all limits by load cases, then the largest bush loads,
// travels and strains of each motion; of a pair that is alike the one that uses more,
// under the name without its side.
func (s *Standing) carried() [][]cases.LimitUse {
	all := [][]cases.LimitUse{s.uses}
	for _, t := range s.travels {
		all = append(all, t.Uses())
	}
	for k := range all {
		all[k] = slices.Clone(all[k])
		for i := range all[k] {
			if u := &all[k][i]; !s.bothTurns() {
				u.Element, _ = Sideless(u.Element)
			}
		}
		all[k] = cases.LargestUses(all[k])
	}
	return all
}

// reached is how far a motion could be followed, in mm.
func reached(t *cases.OverTravel) (from, to float64) {
	from, to = t.From, t.To
	for _, lost := range t.Lost {
		if lost.Place < 0 {
			from = max(from, lost.Place)
		} else {
			to = min(to, lost.Place)
		}
	}
	return from, to
}

// valueAt is a curve at a place by the straight line between its points; not a number
// beyond them.
func valueAt(s *cases.Series, x float64) float64 {
	for i := range s.Points {
		b := s.Points[i]
		switch {
		case b.X == x:
			return b.Value
		case b.X > x && i > 0:
			a := s.Points[i-1]
			return a.Value + (x-a.X)/(b.X-a.X)*(b.Value-a.Value)
		}
	}
	return math.NaN()
}
