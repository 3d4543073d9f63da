package cases

import (
	"bushtune/bushing/exact"
	"bushtune/compliance"
)

// gradientRoom is what Gradient works with; it grows to the largest call.
type gradientRoom struct {
	place   []int // answer → its pair, or −1
	wanted  []int // answers, in the order of pairs
	pairs   []compliance.Pair
	slopes  [][]float64  // pair × slot
	track   []float64    // slot: derivative of the track
	weights []weight     // of all numbers, one after another
	first   []int        // number → its first weight
	slots   []complex128 // of a wheel
	vectors wheelVectors[complex128]
}

// weight is the derivative of a number by an answer, or by the track if answer
// is byTrack.
type weight struct {
	answer int
	value  float64
}

// Gradient writes out[k][j] = ∂Value(indices[k])/∂slots[j] in internal units,
// exact: what a slot does to elements, loads at rest, readings, loads, pads and
// track is all in it. Numbers of states have those of the state at its size, not
// numbers if the axle cannot reach it.
func (s *Study) Gradient(indices []int, slots []compliance.Slot, out [][]float64) {
	s.weigh(indices)
	s.differentiate(slots)
	room := &s.room
	for k := range indices {
		row := out[k][:len(slots)]
		clear(row)
		room.addSlopes(room.weights[room.first[k]:room.first[k+1]], row)
	}
	for k, index := range indices {
		if n := &s.numbers[index]; n.state >= 0 {
			s.slopesInState(n, slots, out[k][:len(slots)])
		}
	}
}

// addSlopes adds the slopes of weighted answers to a row.
func (room *gradientRoom) addSlopes(weights []weight, row []float64) {
	for _, w := range weights {
		slopes := room.track
		if w.answer != byTrack {
			slopes = room.slopes[room.place[w.answer]]
		}
		for j := range row {
			row[j] += w.value * slopes[j]
		}
	}
}

// weigh finds the derivatives of the numbers by answers and track, and makes a
// pair for every answer that counts.
func (s *Study) weigh(indices []int) {
	s.clearWeights()
	room := &s.room
	for _, index := range indices {
		if n := &s.numbers[index]; n.state < 0 {
			s.weighNumber(n)
		}
		room.first = append(room.first, len(room.weights))
	}
}

func (s *Study) clearWeights() {
	room := &s.room
	if room.place == nil {
		room.place = make([]int, len(s.answers))
	}
	for i := range room.place {
		room.place[i] = -1
	}
	room.wanted, room.pairs = room.wanted[:0], room.pairs[:0]
	room.weights, room.first = room.weights[:0], append(room.first[:0], 0)
}

func (s *Study) weighNumber(n *number) {
	in := inputs[complex128]{track: complex(s.rig.track, 0), vehicle: &s.vehicle}
	for i, a := range n.answers[:n.count] {
		in.z[i] = complex(s.answers[a].value(&s.rig), 0)
	}
	for i, a := range n.answers[:n.count] {
		s.addWeight(a, n.formula.slope(in, i))
	}
	s.addWeight(byTrack, n.formula.slope(in, byTrack))
}

// addWeight keeps a weight and sees to it that its answer has a pair.
func (s *Study) addWeight(answer int, value float64) {
	if value == 0 {
		return
	}
	room := &s.room
	room.weights = append(room.weights, weight{answer, value})
	if answer == byTrack || room.place[answer] >= 0 {
		return
	}
	a := &s.answers[answer]
	s.respond(a)
	a.sensor.move(&s.rig, s.generation)
	a.load.move(&s.rig, s.generation)
	room.place[answer] = len(room.wanted)
	room.wanted = append(room.wanted, answer)
	room.pairs = append(room.pairs, compliance.Pair{
		A: &a.sensor.full, F: &a.load.full, UA: a.sensor.movement, UF: a.load.movement,
	})
}

// respond makes the port vectors of an answer current.
func (s *Study) respond(a *answerOf) {
	a.sensor.update(&s.rig, s.generation)
	a.load.update(&s.rig, s.generation)
}

// differentiate fills the slopes of every wanted answer, and of the track, by
// the slots.
func (s *Study) differentiate(slots []compliance.Slot) {
	room := &s.room
	for len(room.slopes) < len(room.pairs) {
		room.slopes = append(room.slopes, nil)
	}
	room.track = grown(room.track, len(slots))
	for k := range room.pairs {
		room.slopes[k] = grown(room.slopes[k], len(slots))
	}
	s.rig.solver.Derivatives(room.pairs, slots, room.slopes[:len(room.pairs)])
	for j, slot := range slots {
		room.track[j] = 0
		if slot.Element < 0 {
			s.moveWheel(slot, j)
		}
	}
	for k, answer := range room.wanted {
		scale := s.answers[answer].scale
		for j := range slots {
			room.slopes[k][j] *= scale
		}
	}
}

func grown(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	return v[:n]
}

// moveWheel adds what a slot of a wheel does to the vectors of loads, readings
// and pads, and to the track.
func (s *Study) moveWheel(slot compliance.Slot, j int) {
	room := &s.room
	wheel := -1 - slot.Element
	slots := s.rig.solver.Axle().Wheels[wheel].Slots
	room.slots = room.slots[:0]
	for _, v := range slots {
		room.slots = append(room.slots, complex(v, 0))
	}
	room.slots[slot.Index] = exact.Seed(slots[slot.Index])
	room.vectors = newWheelVectors(room.slots, wheel)
	room.track[j] = exact.Derivative(contactOutboard(room.slots))
	for k, answer := range room.wanted {
		a := &s.answers[answer]
		byLoad := s.rig.solver.Motion(&a.load.full)
		byReading := s.rig.solver.Motion(&a.sensor.full)
		room.slopes[k][j] += room.turned(a.sensor.terms, a.sensor.share, wheel, &byLoad) +
			room.turned(a.load.terms, a.load.pads, wheel, &byReading)
	}
}

// turned is the product of a motion with the derivative of a port vector made of
// terms and pads.
func (room *gradientRoom) turned(terms []term, pads [2]float64, wheel int, motion *compliance.Port) float64 {
	sum := pads[wheel] * room.slopeOf(patchZ, wheel, motion)
	for _, t := range terms {
		if t.wheel == wheel {
			sum += t.factor * room.slopeOf(t.direction, wheel, motion)
		}
	}
	return sum
}

func (room *gradientRoom) slopeOf(d direction, wheel int, motion *compliance.Port) float64 {
	sum := 0.0
	for i, v := range room.vectors[d] {
		sum += exact.Derivative(v) * motion[6*wheel+i]
	}
	return sum
}
