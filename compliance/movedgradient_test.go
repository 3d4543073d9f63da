package compliance

import (
	"math"
	"testing"
)

// Slopes at a moved equilibrium, for every slot of every element and wheel,
// against Richardson differences of the whole way: solve, load at rest, move.
func TestSlopesAgreeWithDifferences(t *testing.T) {
	for name, axle := range testAxles(t) {
		s := newSolver(t, axle)
		m, err := NewMover(s)
		if err != nil {
			t.Fatal(err)
		}
		demand := Demand{Wheels: [2]WheelForce{{AtPatch: vec{0, 2500, 0}, Locked: vec{-1200, 300, 0}, Moment: 3e4}, {AtPatch: vec{-800, 2000, 0}, AtCentre: vec{0, 0, 300}}},
			Pads: [2]Pad{{Held: true, Height: 15}, {Held: true, Height: -10, Tyre: 200}}}
		y := Reading{{Toe: 1000, Centre: vec{0.3, 0.7, 0}, Locked: vec{0.6, 0.3, 0}, Pad: 1e-3}, {Camber: 700, WindUp: 200, Contact: vec{0.5, 0.4, 0.2}}}
		value := func() float64 {
			if err := m.Reset(); err != nil {
				t.Fatal(name, err)
			}
			if err := m.Solve(&demand); err != nil {
				t.Fatal(name, err)
			}
			polish(m, &demand)
			sum := 0.0
			for i := range y {
				w := m.Wheel(i)
				sum += y[i].Toe*w.Toe + y[i].Camber*w.Camber + y[i].WindUp*w.WindUp + y[i].Pad*w.Pad + y[i].Centre.Dot(w.Centre) + y[i].Contact.Dot(w.Contact) + y[i].Locked.Dot(w.Locked)
			}
			return sum
		}
		value()
		size := 0.0 // of the terms, whose rounding the differences carry
		for i := range y {
			w := m.Wheel(i)
			size += math.Abs(y[i].Toe*w.Toe) + math.Abs(y[i].Camber*w.Camber) + math.Abs(y[i].WindUp*w.WindUp) + math.Abs(y[i].Pad*w.Pad)
			for k := range 3 {
				size += math.Abs(y[i].Centre[k]*w.Centre[k]) + math.Abs(y[i].Contact[k]*w.Contact[k]) + math.Abs(y[i].Locked[k]*w.Locked[k])
			}
		}
		slots := allSlots(s)
		out := [][]float64{make([]float64, len(slots))}
		m.Slopes([]Reading{y}, slots, out)
		for j, slot := range slots {
			x := s.Axle().Value(slot)
			step := 1e-3 * max(1, math.Abs(x))
			if f := s.Axle().Field(slot); f.Unit.Factor < 1 && f.Unit.Name == "deg" {
				step = 1e-3
			} else if f.Unit.Factor < 1e-6 { // compliance of a hub
				step = 0.01 * f.Unit.Factor
			}
			want := richardson(func(v float64) float64 {
				s.Set(slot, v)
				if err := s.Update(); err != nil {
					t.Fatalf("%s of element %d at %g: %v", s.Axle().Field(slot).Name, slot.Element, v, err)
				}
				return value()
			}, x, step)
			s.Set(slot, x)
			if !near(out[0][j], want, 1e-6, math.Abs(want)+1e-3*size/step*1e-3) {
				t.Errorf("%s: %s of element %d: slope %.10g, differences %.10g", name, s.Axle().Field(slot).Name, slot.Element, out[0][j], want)
			}
		}
	}
}

// polish takes an equilibrium down to rounding, so that differences of it are sharp.
func polish(m *Mover, d *Demand) {
	m.trial.copyFrom(&m.now)
	m.evaluate(&m.trial, d)
	m.factorize()
	m.newtonStep()
	m.trial.move(m.step, 1)
	m.now.copyFrom(&m.trial)
	m.evaluate(&m.now, d)
	m.factorize()
}
