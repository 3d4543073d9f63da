package compliance

import (
	"slices"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// block is the upper triangle of Σ k·G·Gᵀ over some lines of an element.
type block [6][6]float64

// writeLines evaluates one element and adds up its lines.
func (s *Solver) writeLines(i int) {
	e, out := &s.axle.Elements[i], &s.lines[i]
	if partner := s.mirrored(i); partner >= 0 {
		out.copyFrom(&s.lines[partner])
		out.mirror()
		s.addLines(i)
		return
	}
	out.reset()
	e.Kind.values(e, e.Slots, s.leftCentre(e.Side), out)
	if e.Side == Right {
		out.mirror()
	}
	s.addLines(i)
}

// findPartners finds for each right element the left one of the same name.
func (s *Solver) findPartners() {
	s.partner = make([]int, len(s.axle.Elements))
	for i := range s.partner {
		s.partner[i] = -1
		e := &s.axle.Elements[i]
		for j := range i {
			other := &s.axle.Elements[j]
			if e.Side == Right && other.Side == Left && e.Kind == other.Kind && e.Name == other.Name && e.Choice == other.Choice && e.outer == other.outer {
				s.partner[i] = j
			}
		}
	}
}

// mirrored returns the left element that element i is the mirror image of at
// present, or −1. Left elements come first, so their lines are up to date.
func (s *Solver) mirrored(i int) int {
	partner := s.partner[i]
	if partner < 0 || s.centre[1] != 0 || !slices.Equal(s.axle.Elements[i].Slots, s.axle.Elements[partner].Slots) {
		return -1
	}
	return partner
}

// addLines adds up the blocks of one element, at zero deflection.
func (s *Solver) addLines(i int) {
	e, out := &s.axle.Elements[i], &s.lines[i]
	s.blocks[i] = [2]block{}
	for l := range out.Count {
		n := 0
		if e.atRest(l) == 0 {
			n = 1
		}
		s.blocks[i][n].addLine(out.AtZero[l], &out.Wrench[l])
	}
}

// leftCentre is the axle's centre as seen by left-hand values.
func (s *Solver) leftCentre(side Side) exact.Vec[float64] {
	c := s.centre
	if side == Right {
		c[1] = -c[1]
	}
	return c
}

// assemble adds up K = Σ k·G·Gᵀ, with a static load without the lines that it
// releases: solveStatic adds those once the loads at rest are known.
func (s *Solver) assemble() {
	clear(s.stiffness)
	for i := range s.lines {
		e, lines := &s.axle.Elements[i], &s.lines[i]
		s.scatter(s.stiffness, e.From, e.To, &s.blocks[i][0], 1)
		for l := range lines.Count {
			s.addWarping(e, lines, l, lines.Rate[l])
		}
		if !s.loaded {
			s.addReleased(i)
		}
	}
}

// assembleLines adds up K = Σ k·G·Gᵀ of every line with its present rate, whatever
// the static load.
func (s *Solver) assembleLines() {
	for i := range s.lines {
		e, lines := &s.axle.Elements[i], &s.lines[i]
		var b block
		for l := range lines.Count {
			b.addLine(lines.Rate[l], &lines.Wrench[l])
			s.addWarping(e, lines, l, lines.Rate[l])
		}
		if lines.Cross != 0 {
			b.addPair(lines.Cross, &lines.Wrench[bushing.Soft], &lines.Wrench[bushing.Stiff])
		}
		s.scatter(s.stiffness, e.From, e.To, &b, 1)
	}
}

// addReleased adds the lines of an element that the static solve let go.
func (s *Solver) addReleased(i int) {
	e := &s.axle.Elements[i]
	if len(e.Kind.Released) > 0 {
		s.scatter(s.stiffness, e.From, e.To, &s.blocks[i][1], 1)
	}
}

// addLine adds k·G·Gᵀ.
func (b *block) addLine(rate float64, g *exact.Wrench[float64]) {
	for r := range 6 {
		kg := rate * g[r]
		row := &b[r]
		for c := r; c < 6; c++ {
			row[c] += kg * g[c]
		}
	}
}

// scatter adds a symmetric block times a factor at both bodies, and its negative
// between them, to the upper triangle k.
func (s *Solver) scatter(k []float64, from, to int, b *block, factor float64) {
	for _, body := range [2]int{from, to} {
		if body == Vehicle {
			continue
		}
		for r := range 6 {
			row := k[(6*body+r)*s.size+6*body:]
			for c := r; c < 6; c++ {
				row[c] += factor * b[r][c]
			}
		}
	}
	if from == Vehicle || to == Vehicle {
		return
	}
	low, high := min(from, to), max(from, to)
	for r := range 6 {
		row := k[(6*low+r)*s.size+6*high : (6*low+r)*s.size+6*high+6]
		for c := range row {
			row[c] -= factor * b[min(r, c)][max(r, c)]
		}
	}
}

// addWarping adds what a beam line has on the warping freedoms of its ends.
func (s *Solver) addWarping(e *Element, lines *Lines[float64], l int, rate float64) {
	warp := lines.Warp[l]
	if warp == ([2]float64{}) {
		return
	}
	for end, body := range [2]int{e.From, e.To} {
		w := s.warping(body, warp[end])
		if w < 0 {
			continue
		}
		for other, b := range [2]int{e.From, e.To} {
			if b == Vehicle {
				continue
			}
			sign := float64(2*other - 1)
			for r := range 6 {
				s.stiffness[(6*b+r)*s.size+w] += sign * rate * lines.Wrench[l][r] * warp[end]
			}
			if v := s.warping(b, warp[other]); v >= w {
				s.stiffness[w*s.size+v] += rate * warp[end] * warp[other]
			}
		}
	}
}

// warping is the warping freedom of a body, or −1 if the line has none there.
func (s *Solver) warping(body int, share float64) int {
	if body == Vehicle || share == 0 {
		return -1
	}
	return s.warp[body]
}
