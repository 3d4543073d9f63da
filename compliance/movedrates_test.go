package compliance

import (
	"math"
	"testing"
)

// loadedDemand is a corner with braking on floating wheels and on held pads.
func loadedDemand(held bool) Demand {
	d := Demand{Wheels: [2]WheelForce{{AtPatch: vec{0, 1500, 0}, Locked: vec{-400, 0, 0}, Moment: -3e4}, {AtPatch: vec{-300, 2200, 0}, AtCentre: vec{-200, 0, 0}, Moment: -4e4}}}
	for i := range d.Pads {
		if held {
			d.Pads[i] = Pad{Held: true, Height: 25 - 40*float64(i)}
		} else {
			d.Wheels[i].AtPatch[2] = 300 - 500*float64(i)
		}
	}
	return d
}

// The work of lines, of the loads they carry and of the wheels is uᵀ·K·u of the
// assembled tangent, element by element in another way.
func TestWorkSumsToTheTangent(t *testing.T) {
	for name, axle := range testAxles(t) {
		for _, held := range []bool{false, true} {
			m := newMover(t, axle)
			d := loadedDemand(held)
			if err := m.Solve(&d); err != nil {
				t.Fatal(name, err)
			}
			u := m.NewIncrement()
			push := Demand{Wheels: [2]WheelForce{{AtPatch: vec{-1, 2, 0.5}, Locked: vec{2, -1, 0}}, {AtCentre: vec{1, 1, 0}, Moment: 300}}}
			m.Advance(&push, &u)
			want, n := 0.0, m.size
			m.evaluate(&m.now, &m.held)
			for i := range m.solver.size {
				for j := range m.solver.size {
					want += u.unknowns[i] * m.tangent.Data[i*n+j] * u.unknowns[j]
				}
			}
			got, size := 0.0, 0.0
			for i := range m.lines {
				work := m.Work(i, &u)
				got += work.Levers
				for _, v := range work.Lines {
					got += v
					size += math.Abs(v)
				}
			}
			for w := range m.wheels {
				got += m.WheelWork(w, &u)
			}
			if !near(got, want, 1e-9, size) {
				t.Errorf("%s, held %v: work %.10g, uᵀ·K·u %.10g", name, held, got, want)
			}
		}
	}
}

// Twist is how the wheel centre and its carrier move: held against differences of two
// equilibria a small load apart.
func TestTwistIsTheSlopeOfTheMotion(t *testing.T) {
	m := newMover(t, twistBeam(t))
	d := loadedDemand(true)
	push := Demand{Wheels: [2]WheelForce{{AtPatch: vec{0, 1, 0}}, {AtPatch: vec{0, 1, 0}}}}
	at := func(by float64) ([2]WheelMotion, [2]pose[float64]) {
		e := d
		for i := range e.Wheels {
			e.Wheels[i].AtPatch[1] += by
		}
		if err := m.Solve(&e); err != nil {
			t.Fatal(err)
		}
		return [2]WheelMotion{m.Wheel(0), m.Wheel(1)}, [2]pose[float64]{m.now.body(0), m.now.body(1)}
	}
	const h = 2.0
	after, turned := at(h)
	before, was := at(-h)
	at(0)
	u := m.NewIncrement()
	m.Advance(&push, &u)
	for w := range after {
		twist := m.Twist(w, &u)
		relative := turned[w].turn.Mul(transposed(was[w].turn))
		spin := turnVector(&relative).Scale(1 / (2 * h))
		for r := range 3 {
			if slope := (after[w].Centre[r] - before[w].Centre[r]) / (2 * h); !near(twist[r], slope, 1e-5, 1e-3) {
				t.Errorf("wheel %d moves by %.9g along %d, differences %.9g", w, twist[r], r, slope)
			}
			if !near(twist[3+r], spin[r], 1e-5, 1e-5) {
				t.Errorf("wheel %d turns by %.9g about %d, differences %.9g", w, twist[3+r], r, spin[r])
			}
		}
	}
}

// The rate of a line of a curved bush is the slope of its load by its strain.
func TestLineRateIsTheSlopeOfTheLaw(t *testing.T) {
	m := newMover(t, curvedBeam(t))
	checked := 0
	at := func(force float64) {
		if err := m.Solve(&Demand{Wheels: [2]WheelForce{{AtCentre: vec{-force, 0, 0}}, {AtCentre: vec{-force, 0, 0}}}}); err != nil {
			t.Fatal(err)
		}
	}
	for i := range m.lines {
		if !m.Curved(i) || m.solver.lines[i].Radial.Coupled() {
			continue
		}
		for l := range m.lines[i].Count {
			at(3000.5)
			e1, n1 := m.Line(i, l)
			at(2999.5)
			e0, n0 := m.Line(i, l)
			at(3000)
			if math.Abs(e1-e0) < 1e-6 {
				continue
			}
			checked++
			if got, want := m.LineRate(i, l), (n1-n0)/(e1-e0); !near(got, want, 1e-4, want) {
				t.Errorf("element %d, line %d: rate %.8g, differences %.8g", i, l, got, want)
			}
		}
	}
	if checked == 0 {
		t.Fatal("no line moved")
	}
}
