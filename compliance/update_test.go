package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing"
)

// mirroredChain is a symmetric loaded axle whose cross-member is written as a
// left half and mirrored, continuous at a joint in the middle, on a subframe.
func mirroredChain(t testing.TB) *Axle {
	axle := twistBeam(t)
	axle.Bodies = append(axle.Bodies, Body{Name: "joint"})
	axle.Static = &Static{WheelLoad: [2]float64{3500, 3500}, Unsprung: [2]float64{0.04, 0.04}}
	half := with(testBeam, values{"ends_y": 0, "at.x": 0, "at.z": 0, "tilt": 12, "start.x": 270, "start.y": 550, "start.z": 310, "end.x": 262, "end.y": 15, "end.z": 318})
	axle.Elements = axle.Elements[:4]
	for side := range 2 {
		e := element(t, Beam, "half", Side(1+side), side, 2, half)
		e.Choice.Ends = [2]Warping{BuiltIn, Continuous}
		axle.Elements = append(axle.Elements, e)
		full := element(t, BushMatrix, "stay", Side(1+side), 2, side, with(matrixValues(), values{"at.y": 300}))
		full.Choice.Base = bushing.Vertical
		axle.Elements = append(axle.Elements, full)
	}
	return axle
}

// changing is every test axle and the mirrored chain.
func changing(t testing.TB) map[string]*Axle {
	axles := testAxles(t)
	axles["mirrored chain"] = mirroredChain(t)
	gas := twistBeam(t) // gas pushes the wheels down, the springs are drawn
	gas.Elements = append(gas.Elements, bothSides(t, Damper, "gas", values{"upper.x": -80, "upper.y": 520, "upper.z": 700,
		"lower.x": -60, "lower.y": 560, "lower.z": 280, "gas_load": 400})...)
	axles["only gas"] = gas
	return axles
}

// nudged is a value near v that a slot may have.
func nudged(s *Solver, slot Slot) float64 {
	v := s.Axle().Value(slot)
	if isHub(s, slot) {
		return v + 0.01*s.Axle().Field(slot).Unit.Factor
	}
	return v*1.01 + 1e-3
}

// isHub tells whether a slot is the compliance of a hub, rad per N·mm.
func isHub(s *Solver, slot Slot) bool { return slot.Element < 0 && slot.Index >= slotHubCamber }

// sameCompliance compares C, and the strains of a load that acts on every port.
func sameCompliance(t *testing.T, what string, got, want *Solver) {
	t.Helper()
	sameStrains(t, what, got, want)
	for i, c := range got.Compliance() {
		w := want.Compliance()
		scale := math.Sqrt(w[i/Ports*(Ports+1)] * w[i%Ports*(Ports+1)])
		if !near(c, w[i], rounding, scale) {
			t.Errorf("%s: C[%d][%d] = %.12g, a new solver gives %.12g", what, i/Ports, i%Ports, c, w[i])
			return
		}
	}
}

func sameStrains(t *testing.T, what string, got, want *Solver) {
	t.Helper()
	p := Port{1000, 700, -500, 1e5, 2e5, 3e5, -300, 900, 800, 3e5, -1e5, 2e5}
	e, w := make([]float64, got.Lines()), make([]float64, want.Lines())
	got.Strains(&p, e)
	want.Strains(&p, w)
	if len(e) != len(w) {
		t.Fatalf("%s: %d strains, a new solver has %d", what, len(e), len(w))
	}
	sum, other := 0.0, 0.0 // the order of elements may differ
	for l := range e {
		sum += e[l] * e[l]
		other += w[l] * w[l]
	}
	if !near(sum, other, rounding, other) {
		t.Errorf("%s: strains of size %.12g, a new solver has %.12g", what, math.Sqrt(sum), math.Sqrt(other))
	}
}

// Whatever slot is set, alone and then with what was set before, a solver
// answers as a new one for the same axle.
func TestUpdateIsANewSolver(t *testing.T) {
	for name, axle := range changing(t) {
		s := newSolver(t, axle)
		for n, slot := range allSlots(s) {
			old := s.Axle().Value(slot)
			s.Set(slot, nudged(s, slot))
			if err := s.Update(); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			sameCompliance(t, name+" after "+s.Axle().Field(slot).Name, s, newSolver(t, s.Axle()))
			if n%3 > 0 {
				s.Set(slot, old)
			}
		}
	}
}

// The same for derivatives, taken by the solver that has seen changes, one side
// at a time so that mirror images come and go.
func TestDerivativesAfterChanges(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 72))
	for name, axle := range changing(t) {
		s := newSolver(t, axle)
		slots := allSlots(s)
		out, want := [][]float64{make([]float64, len(slots))}, [][]float64{make([]float64, len(slots))}
		for range 3 {
			pair := randomPair(s, rng)
			s.Derivatives([]Pair{pair}, slots, out)
			fresh := newSolver(t, s.Axle())
			fresh.Displacement(pair.A, pair.UA)
			fresh.Displacement(pair.F, pair.UF)
			fresh.Derivatives([]Pair{pair}, slots, want)
			for j, slot := range slots {
				if !near(out[0][j], want[0][j], 1e-7, math.Abs(want[0][j])+1e-9) {
					t.Errorf("%s: derivative by %s of element %d is %.9g, a new solver gives %.9g", name, s.Axle().Field(slot).Name, slot.Element, out[0][j], want[0][j])
				}
			}
			for range 3 {
				slot := slots[rng.IntN(len(slots))]
				s.Set(slot, nudged(s, slot))
			}
			if err := s.Update(); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// Derivatives of an axle of mirror images against differences: each side alone,
// where the tangent of one is the mirror image of the other's.
func TestDerivativesOfMirrorImages(t *testing.T) {
	checkDerivatives(t, newSolver(t, mirroredChain(t)), rand.New(rand.NewPCG(73, 74)), 1e-7)
}

// checkDerivatives compares the derivatives of one random number by every slot
// with differences, to a share of the derivative and of the number over the slot.
func checkDerivatives(t *testing.T, s *Solver, rng *rand.Rand, tolerance float64) {
	t.Helper()
	pair := randomPair(s, rng)
	slots := allSlots(s)
	out := [][]float64{make([]float64, len(slots))}
	s.Derivatives([]Pair{pair}, slots, out)
	q := s.Motion(pair.F)
	number, terms := math.Abs(pair.A.Dot(&q)), 0.0
	for i := range q {
		terms += math.Abs(pair.A[i] * q[i])
	}
	for j, slot := range slots {
		value := s.Axle().Value(slot)
		want := differences(t, s, &pair, slot)
		room := tolerance*(math.Abs(want)+number/max(1, math.Abs(value))) + solveRounding*terms/stepOf(s, slot)
		if !near(out[0][j], want, 1, room) {
			t.Errorf("%s of element %d: derivative %.12g, differences %.12g", s.Axle().Field(slot).Name, slot.Element, out[0][j], want)
		}
	}
}

// solveRounding is what double precision leaves of the terms of a number in one
// solve; differences carry it over their step.
const solveRounding = 1e-12

// stepOf is the step of differences by a slot.
func stepOf(s *Solver, slot Slot) float64 {
	switch {
	case s.Axle().Field(slot).Unit.Name == "deg":
		return 1e-3
	case isHub(s, slot):
		return 0.01 * s.Axle().Field(slot).Unit.Factor
	}
	return 1e-3 * max(1, math.Abs(s.Axle().Value(slot)))
}

// differences is the derivative of a pair's number by a slot, by differences of
// the whole solve. The solver is left as it was, but for an Update.
func differences(t *testing.T, s *Solver, pair *Pair, slot Slot) float64 {
	t.Helper()
	value, step := s.Axle().Value(slot), stepOf(s, slot)
	slope := richardson(func(x float64) float64 {
		s.Set(slot, x)
		if err := s.Update(); err != nil {
			t.Fatalf("%s of element %d at %g: %v", s.Axle().Field(slot).Name, slot.Element, x, err)
		}
		m := s.Motion(pair.F)
		return pair.A.Dot(&m)
	}, value, step)
	s.Set(slot, value)
	return slope
}

// A symmetric axle: a slot on the right does to mirrored loads what the same
// slot on the left does to the loads.
func TestDerivativesOfBothSidesMirror(t *testing.T) {
	rng := rand.New(rand.NewPCG(75, 76))
	s := newSolver(t, mirroredChain(t))
	pair := randomPair(s, rng)
	other := Pair{A: mirroredPort(pair.A), F: mirroredPort(pair.F), UA: make([]float64, s.Freedoms()), UF: make([]float64, s.Freedoms())}
	s.Displacement(other.A, other.UA)
	s.Displacement(other.F, other.UF)
	for i := range s.axle.Elements {
		if s.axle.Elements[i].Side != Left {
			continue
		}
		right := 0
		for j := range s.axle.Elements {
			if s.axle.Elements[j].Side == Right && s.axle.Elements[j].Name == s.axle.Elements[i].Name {
				right = j
			}
		}
		for index := range s.axle.Elements[i].Slots {
			out := [][]float64{make([]float64, 2), make([]float64, 2)}
			s.Derivatives([]Pair{pair, other}, []Slot{{i, index}, {right, index}}, out)
			if !near(out[0][0], out[1][1], 1e-8, math.Abs(out[0][0])+1e-9) || !near(out[0][1], out[1][0], 1e-8, math.Abs(out[0][1])+1e-9) {
				t.Errorf("%s of %s: %g and %g, mirrored %g and %g", s.axle.Elements[i].Kind.Fields[index].Name, s.axle.Elements[i].Label(), out[0][0], out[0][1], out[1][1], out[1][0])
			}
		}
	}
}

// mirroredPort exchanges the wheels and mirrors each.
func mirroredPort(p *Port) *Port {
	q := new(Port)
	for i := range 6 {
		q[i], q[6+i] = mirrorSigns[i]*p[6+i], mirrorSigns[i]*p[i]
	}
	return q
}

// Loads at rest that are taken away leave nothing behind.
func TestLoadsAtRestGoAway(t *testing.T) {
	s := newSolver(t, changing(t)["only gas"])
	if !s.Loaded() || math.Abs(s.StaticLoad(2, 0)) < 100 {
		t.Fatalf("gas loads do not count as a load at rest: the spring carries %g N", s.StaticLoad(2, 0))
	}
	for i := range s.axle.Elements {
		if s.axle.Elements[i].Kind == Damper {
			s.Set(Slot{i, Damper.FieldIndex("gas_load")}, 0)
		}
	}
	if err := s.Update(); err != nil {
		t.Fatal(err)
	}
	if s.Loaded() {
		t.Error("still loaded")
	}
	for i := range s.axle.Elements {
		for l := range s.LineCount(i) {
			if s.StaticLoad(i, l) != 0 {
				t.Errorf("%s line %d still carries %g", s.axle.Elements[i].Label(), l, s.StaticLoad(i, l))
			}
		}
	}
	pair := randomPair(s, rand.New(rand.NewPCG(77, 78)))
	slots := allSlots(s)
	out, want := [][]float64{make([]float64, len(slots))}, [][]float64{make([]float64, len(slots))}
	s.Derivatives([]Pair{pair}, slots, out)
	newSolver(t, s.Axle()).Derivatives([]Pair{pair}, slots, want)
	for j, slot := range slots {
		if !near(out[0][j], want[0][j], rounding, math.Abs(want[0][j])+1e-9) {
			t.Errorf("derivative by %s of element %d is %g, a new solver gives %g", s.axle.Field(slot).Name, slot.Element, out[0][j], want[0][j])
		}
	}
}
