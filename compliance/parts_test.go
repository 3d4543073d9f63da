package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/exact"
)

// unloaded is the axle with everything, nothing of it loaded at rest.
func unloaded(t testing.TB) *Axle {
	axle := everything(t)
	axle.Static = nil
	for i := range axle.Elements {
		e := &axle.Elements[i]
		for _, name := range []string{"load", "gas_load", "preload.x", "preload.y", "preload.z", "tightened_at"} {
			if j := e.Kind.FieldIndex(name); j >= 0 {
				e.Slots[j] = 0
			}
		}
	}
	return axle
}

// lineRates are the slots that are the rate of one line alone: slot name → line.
var lineRates = map[*Kind]map[string]int{
	Bush:       {"soft": 0, "axial": 1, "stiff": 2, "cone_soft": 3, "torsion": 4, "cone_stiff": 5},
	Spring:     {"rate": 0},
	BumpStop:   {"rate": 0},
	TorsionBar: {"rate": 0},
}

// The part of a rate in a number is −∂number/∂ln rate, for every rate that is a
// slot, with nothing loaded at rest.
func TestPartIsLogarithmicDerivative(t *testing.T) {
	rng := rand.New(rand.NewPCG(91, 92))
	axle := unloaded(t)
	for i := range axle.Elements { // behind a bracket a slot is not the rate of its line
		if j := axle.Elements[i].Kind.FieldIndex("bracket"); j >= 0 {
			axle.Elements[i].Slots[j] = 0
		}
	}
	s := newSolver(t, axle)
	if s.Loaded() {
		t.Fatal("loaded at rest")
	}
	pair := randomPair(s, rng)
	parts := make([]float64, len(s.PartList()))
	ea, ef := make([]float64, s.Lines()), make([]float64, s.Lines())
	s.Strains(pair.A, ea)
	s.Strains(pair.F, ef)
	s.Parts(pair.A, pair.F, ea, ef, parts)
	found := 0
	for n, p := range s.PartList() {
		if p.Kind != LinePart {
			continue
		}
		e := &s.axle.Elements[p.Element]
		for name, line := range lineRates[e.Kind] {
			slot := Slot{p.Element, e.Kind.FieldIndex(name)}
			if line != p.Line || s.Rate(p.Element, line) == 0 {
				continue
			}
			out := [][]float64{make([]float64, 1)}
			s.Derivatives([]Pair{pair}, []Slot{slot}, out)
			if want := -out[0][0] * s.axle.Value(slot); !near(parts[n], want, rounding, math.Abs(want)) {
				t.Errorf("%s %s: part %.12g, −∂/∂ln %.12g", e.Label(), name, parts[n], want)
			}
			found++
		}
	}
	if found < 30 {
		t.Errorf("only %d rates compared", found)
	}
}

// Energy is work: Σ k·e² = fᵀ·C·f without hubs, and each line carries k·e.
func TestEnergyIsWork(t *testing.T) {
	rng := rand.New(rand.NewPCG(93, 94))
	axle := unloaded(t)
	for i := range axle.Wheels {
		axle.Wheels[i].Slots[slotHubCamber], axle.Wheels[i].Slots[slotHubToe] = 0, 0
	}
	s := newSolver(t, axle)
	for range 5 {
		f := randomPair(s, rng).F
		u, strains := make([]float64, s.Freedoms()), make([]float64, s.Lines())
		s.Displacement(f, u)
		s.Strains(f, strains)
		energy := 0.0
		for i := range axle.Elements {
			var load, strain [maxLines]float64
			s.LineLoads(i, u, &load, &strain)
			for l := range s.LineCount(i) {
				energy += load[l] * strain[l]
				if e := strains[s.FirstLine(i)+l]; !near(e, strain[l], rounding, math.Abs(strain[l])+1e-6) {
					t.Errorf("%s line %d: strain %g from the ports, %g from the bodies", axle.Elements[i].Label(), l, e, strain[l])
				}
				if load[l] != s.Rate(i, l)*strain[l] {
					t.Errorf("%s line %d carries %g, rate × strain is %g", axle.Elements[i].Label(), l, load[l], s.Rate(i, l)*strain[l])
				}
			}
		}
		q := s.Motion(f)
		if work := f.Dot(&q); !near(energy, work, rounding, work) {
			t.Errorf("energy %.12g, work %.12g", energy, work)
		}
	}
}

// What the elements put on the vehicle balances the loads on the wheels.
func TestReactionsBalance(t *testing.T) {
	rng := rand.New(rand.NewPCG(95, 96))
	axle := unloaded(t)
	s := newSolver(t, axle)
	for range 5 {
		f := randomPair(s, rng).F
		u := make([]float64, s.Freedoms())
		s.Displacement(f, u)
		var sum exact.Wrench[float64]
		size := 0.0
		for wheel := range 2 {
			w := exact.Wrench[float64](f[6*wheel : 6*wheel+6])
			g := exact.Force(linear(&w), s.wheelCentre(wheel))
			for r := range 6 {
				sum[r] += g[r]
				if r >= 3 {
					sum[r] += w[r]
				}
				size = max(size, math.Abs(g[r]))
			}
		}
		for i := range axle.Elements {
			if e := &axle.Elements[i]; e.From == Vehicle {
				reaction := endWrench(s, i, u, vec{})
				for r := range 6 {
					sum[r] -= reaction[r]
				}
			}
		}
		for r, v := range sum {
			if !near(v, 0, rounding, size) {
				t.Errorf("component %d is out of balance by %g", r, v)
			}
		}
	}
}

// Displacement gives the motion of the bodies under the ports; at the wheel
// centres, with what the hubs yield, that is C·f. Loads superpose.
func TestDisplacementAndMotionAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(97, 98))
	for name, axle := range changing(t) {
		s := newSolver(t, axle)
		pair := randomPair(s, rng)
		q := s.Motion(pair.F)
		for wheel, w := range axle.Wheels {
			turn := bodyRotation(pair.UF, w.Body)
			slide := vec(pair.UF[6*w.Body : 6*w.Body+3]).Add(turn.Cross(s.wheelCentre(wheel)))
			g := s.hubs[wheel].turned(turn, momentAt(pair.F, wheel))
			want := [6]float64{slide[0], slide[1], slide[2], turn[0] + g[0], turn[1], turn[2] + g[1]}
			for i := range 6 {
				scale := math.Sqrt(s.Compliance()[(6*wheel+i)*(Ports+1)]) * 10
				if !near(q[6*wheel+i], want[i], rounding, math.Abs(want[i])+scale) {
					t.Errorf("%s: %s is %.10g, of the body %.10g", name, PortNames[6*wheel+i], q[6*wheel+i], want[i])
				}
			}
		}
		var both Port
		for i := range both {
			both[i] = 2*pair.A[i] - 3*pair.F[i]
		}
		sum, qa := s.Motion(&both), s.Motion(pair.A)
		for i := range sum {
			if want := 2*qa[i] - 3*q[i]; !near(sum[i], want, rounding, math.Abs(2*qa[i])+math.Abs(3*q[i])) {
				t.Errorf("%s: superposition at %s: %g, want %g", name, PortNames[i], sum[i], want)
			}
		}
	}
}

// Condition of a body on a bush at the axle's centre: rates, with rotations over
// 300 mm squared, largest over smallest.
func TestConditionOfOneBush(t *testing.T) {
	f := newStructure(t, vec{100, 0, 200})
	f.holds(0, [6]float64{500, 700, 3000, 9e7, 2e7, 6e7})
	if got, want := f.solver().Condition(), 3000/(2e7/9e4); !near(got, want, rounding, want) {
		t.Errorf("condition %g, want %g", got, want)
	}
}
