package compliance

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// supplied is a measured curve, not the same both ways, in N over mm.
var supplied = [][2]float64{{-4, -9000}, {-2, -1800}, {-1, -700}, {0, 0}, {1, 900}, {1.6, 1700}, {2.5, 5200}, {3.2, 11000}}

// twisting is a curve of torsion in N·mm over rad, the same both ways.
var twisting = [][2]float64{{0, 0}, {0.05, 4000}, {0.2, 26000}, {0.4, 90000}}

// curve makes a table in other units.
func curve(t testing.TB, points [][2]float64, deflection, load float64) *bushing.Table {
	t.Helper()
	var scaled [][2]float64
	for _, p := range points {
		scaled = append(scaled, [2]float64{p[0] * deflection, p[1] * load})
	}
	table, err := bushing.NewTable(scaled)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// suppliedCurves are curves of three directions, in units of length and force.
func suppliedCurves(t testing.TB, length, force float64) *bushing.Curves {
	return &bushing.Curves{Tables: [6]*bushing.Table{bushing.Soft: curve(t, supplied, length, force),
		bushing.Axial: curve(t, supplied, length, force), bushing.Torsion: curve(t, twisting, 1, force*length)}}
}

// stopped are voids that a load at rest of some kilonewtons closes.
var stopped = values{"soft_gap": 0.7, "stiff_gap": 0.2, "soft_snubber": 6000, "stiff_snubber": 9000, "snubber_run": 0.8}

// curvedBeam is a loaded twist beam, not symmetric, whose bushes have closed
// voids along an ellipse, one with a bracket, and another pair by curves.
func curvedBeam(t testing.TB) *Axle {
	axle := twistBeam(t)
	axle.Static = &Static{WheelLoad: [2]float64{3600, 3100}, Unsprung: [2]float64{0.04, 0.045}}
	left := element(t, Bush, "pivot", Left, Vehicle, 0, with(with(testBush, stopped), values{"plan": 20, "clock": 25, "axial_gap": 1, "axial_gap_back": 0.2, "axial_snubber": 5000, "preload.x": 1500, "preload.y": -900, "preload.z": 1900}))
	left.Choice = Choice{Curves: &bushing.Curves{Elliptical: true}}
	right := element(t, Bush, "pivot", Right, 1, Vehicle, with(with(testBush, stopped), values{"bracket": 15000, "elastic_plan": 6, "preload.x": -1700, "preload.z": 1600}))
	right.Choice = Choice{Curves: &bushing.Curves{Elliptical: true}, OuterIsFrom: true}
	axle.Elements[0], axle.Elements[1] = left, right
	byCurve := with(testBush, values{"soft": 0, "axial": 0, "torsion": 0, "tightened_at": 6, "preload.x": 800, "preload.y": 300, "at.x": 350})
	for side, outerIsFrom := range []bool{false, true} {
		stay := element(t, Bush, "stay", Side(1+side), Vehicle, side, with(byCurve, values{"bracket": 9000 * float64(side)}))
		stay.Choice = Choice{OuterIsFrom: outerIsFrom, HoldsMoments: outerIsFrom, Curves: suppliedCurves(t, 1, 1)}
		axle.Elements = append(axle.Elements, stay)
	}
	return axle
}

// byCurve tells whether a curve stands in for a slot that holds a rate.
func byCurve(e *Element, name string) bool {
	if e.Choice.Curves == nil {
		return false
	}
	for d, table := range e.Choice.Curves.Tables {
		if table != nil && bushing.DirectionNames[d] == name {
			return true
		}
	}
	return false
}

// At rest each law carries the load at its operating deflection, and the
// tangents there are the rates; the ellipses are really left by the load.
func TestOperatingPoint(t *testing.T) {
	s := newSolver(t, curvedBeam(t))
	closed := false
	for i := range s.lines {
		lines := &s.lines[i]
		if !lines.Curved {
			continue
		}
		strain := [maxLines]float64{}
		load := lines.carry(&s.preload[i], &strain)
		for l := range lines.Count {
			if !near(load[l], s.StaticLoad(i, l), rounding, 1+math.Abs(load[l])) {
				t.Errorf("%s line %d: law carries %.12g at %.12g, at rest %.12g", s.axle.Elements[i].Label(), l, load[l], s.Operating(i, l), s.StaticLoad(i, l))
			}
			const h = 1e-5
			strain[l] = h
			more := lines.carry(&s.preload[i], &strain)
			strain[l] = -h
			less := lines.carry(&s.preload[i], &strain)
			strain[l] = 0
			if got, want := s.Rate(i, l), (more[l]-less[l])/(2*h); !near(got, want, 1e-5, want+1) {
				t.Errorf("%s line %d: rate %.9g, differences of the law %.9g", s.axle.Elements[i].Label(), l, got, want)
			}
		}
		closed = closed || lines.Cross != 0
	}
	if !closed {
		t.Error("no ellipse is closed by the load at rest: the test is empty")
	}
	if got := s.Operating(2, 0); !near(got, s.StaticLoad(2, 0)/s.Rate(2, 0), rounding, 1) {
		t.Errorf("operating deflection of a plain spring %g", got)
	}
}

// Without a load at rest the axle stands at zero deflection, whatever it was
// before: one solver loaded and unloaded again answers as a new one.
func TestOperatingPointGoesWithItsLoad(t *testing.T) {
	axle := twistBeam(t)
	for i := range 2 {
		axle.Elements[i].Slots = slotsOf(t, bushing.Fields, with(testBush, stopped))
	}
	plain := newSolver(t, axle)
	s := newSolver(t, axle)
	slot := Slot{0, Bush.FieldIndex("preload.x")}
	for _, v := range []float64{4000, 0} {
		s.Set(slot, v)
		if err := s.Update(); err != nil {
			t.Fatal(err)
		}
		if moved := s.Operating(0, 0) != 0; moved != (v != 0) {
			t.Errorf("preload %g N: operating deflection %g mm", v, s.Operating(0, 0))
		}
	}
	sameCompliance(t, "unloaded again", s, plain)
}

// Straight curves and voids that stay open change nothing, loads at rest included.
func TestStraightCurvesChangeNothing(t *testing.T) {
	axle := twistBeam(t)
	axle.Static = &Static{WheelLoad: [2]float64{3500, 3500}, Unsprung: [2]float64{0.04, 0.04}}
	want := newSolver(t, axle)
	b := bushing.New(axle.Elements[0].Slots)
	curved := axle.Clone()
	curves := &bushing.Curves{}
	for d, rate := range b.Rates() {
		curves.Tables[d] = curve(t, [][2]float64{{0.5, 0.5}, {1, 1}}, 1, rate)
	}
	open := with(testBush, values{"soft_gap": 500, "soft_snubber": 8000, "axial_gap_back": 700, "axial_snubber": 900, "stiff_gap": 300, "stiff_snubber": 10})
	for name, change := range map[string]func(e *Element){
		"straight curves": func(e *Element) {
			for _, d := range bushing.DirectionNames {
				e.Slots[Bush.FieldIndex(d)] = 0
			}
			e.Choice.Curves = curves
		},
		"open voids": func(e *Element) { e.Slots = slotsOf(t, bushing.Fields, open) },
		"open ellipse": func(e *Element) {
			e.Slots = slotsOf(t, bushing.Fields, open)
			e.Choice.Curves = &bushing.Curves{Elliptical: true}
		},
	} {
		for i := range 2 {
			curved.Elements[i].Slots, curved.Elements[i].Choice = append([]float64(nil), axle.Elements[i].Slots...), Choice{}
			change(&curved.Elements[i])
		}
		s := newSolver(t, curved)
		sameCompliance(t, name, s, want)
		for l := range 6 {
			if got := s.StaticLoad(0, l); !near(got, want.StaticLoad(0, l), rounding, 1e3) {
				t.Errorf("%s: load at rest %g, plain %g", name, got, want.StaticLoad(0, l))
			}
		}
	}
}

// One-sided voids are told for the inner sleeve: on whichever end it sits, and
// whichever way the element is written, the same axle answers.
func TestLawsOfTheInnerSleeve(t *testing.T) {
	v := with(testBush, values{"axial_gap": 3, "axial_gap_back": 0.4, "axial_snubber": 7000, "soft": 0, "tightened_at": 4})
	curves := &bushing.Curves{Tables: [6]*bushing.Table{bushing.Soft: curve(t, supplied, 1, 1)}}
	solve := func(reversed, outerOnArm bool) *Solver {
		axle := twistBeam(t)
		axle.Static = &Static{WheelLoad: [2]float64{3500, 3500}, Unsprung: [2]float64{0.04, 0.04}}
		for side := range 2 {
			from, to := Vehicle, side
			if reversed {
				from, to = to, from
			}
			e := element(t, Bush, "pivot", Side(1+side), from, to, with(v, values{"preload.x": 900, "preload.y": 700}))
			e.Choice = Choice{Curves: curves, OuterIsFrom: outerOnArm == reversed}
			axle.Elements[side] = e
		}
		return newSolver(t, axle)
	}
	for _, outerOnArm := range []bool{false, true} {
		sameCompliance(t, "written from the other end", solve(true, outerOnArm), solve(false, outerOnArm))
	}
	// arm pushed outboard against the vehicle: with its inner sleeve on the arm
	// the far stop is ahead, with its outer sleeve the near one
	for _, c := range []struct {
		outerOnArm bool
		gap        float64
	}{{false, 3}, {true, 0.4}} {
		law := solve(false, c.outerOnArm).lines[0].Law[bushing.Axial]
		if ahead := exact.Real(law.GapPlus); ahead != c.gap {
			t.Errorf("outer sleeve on the arm %v: %g mm to the stop outboard, want %g", c.outerOnArm, ahead, c.gap)
		}
	}
}

// A load at rest that a law never reaches is an error that names it.
func TestLoadBeyondALaw(t *testing.T) {
	flat := curve(t, [][2]float64{{0, 0}, {1, 100}, {2, 100}, {3, 100}}, 1, 1)
	axle := trailingArm(t, values{"stiff": 0}, nil)
	for i := range 4 {
		axle.Elements[i].Choice.Curves = &bushing.Curves{Tables: [6]*bushing.Table{bushing.Stiff: flat}}
	}
	if _, err := NewSolver(axle); err == nil || !strings.Contains(err.Error(), "bush.inner.left: stiff carries") {
		t.Errorf("error %v", err)
	}
}

// A table knows where it ends.
func TestOutsideOfATable(t *testing.T) {
	s := newSolver(t, curvedBeam(t))
	stay := len(s.lines) - 2
	for deflection, want := range map[float64]bool{-3.3: true, -3: false, 0: false, 3.9: false, 4.1: true} { // outer sleeve on To: turned round
		if s.Outside(stay, int(bushing.Soft), deflection) != want {
			t.Errorf("outside at %g mm: %v", deflection, !want)
		}
	}
	if s.Outside(stay, int(bushing.Stiff), 1e6) {
		t.Error("a rate has no end")
	}
}

// A solver whose curved axle has been changed and derived allocates nothing but
// what it needs once.
func TestCurvedUpdateDoesNotAllocate(t *testing.T) {
	s := newSolver(t, curvedBeam(t))
	slot := Slot{0, Bush.FieldIndex("soft")}
	value := s.Axle().Value(slot)
	if n := testing.AllocsPerRun(20, func() {
		value *= 1.001
		s.Set(slot, value)
		if err := s.Update(); err != nil {
			t.Fatal(err)
		}
	}); n > 0 {
		t.Errorf("%g allocations in an update", n)
	}
}

// Exact derivatives under curves at unequal loads against differences, several
// random numbers: laws move with their own load at rest on each side.
func TestCurvedDerivatives(t *testing.T) {
	rng := rand.New(rand.NewPCG(81, 82))
	s := newSolver(t, curvedBeam(t))
	slots := allSlots(s)
	out := [][]float64{make([]float64, len(slots))}
	for range 3 {
		pair := randomPair(s, rng)
		s.Derivatives([]Pair{pair}, slots, out)
		q := s.Motion(pair.F)
		number := math.Abs(pair.A.Dot(&q))
		for j, slot := range slots {
			value := s.Axle().Value(slot)
			want := differences(t, s, &pair, slot)
			if !near(out[0][j], want, 1e-6, math.Abs(want)+number/max(1, math.Abs(value))) {
				t.Errorf("%s of %d: derivative %.10g, differences %.10g", s.Axle().Field(slot).Name, slot.Element, out[0][j], want)
			}
		}
	}
}
