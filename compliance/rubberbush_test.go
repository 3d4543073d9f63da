package compliance

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
)

// turnedRubber is a bush by its dimensions on a turned mount behind a bracket.
var turnedRubber = with(testRubber, values{"plan": 23, "lift": -8, "clock": 31, "lean_forward": 12, "lean_outboard": -6,
	"axis.x": 1, "axis.y": 2, "axis.z": -0.5, "soft_axis.z": 1, "elastic_plan": 9, "elastic_lift": 4, "bracket": 9000})

// rubberBeam is the twist beam on bushes given by their dimensions, not the same
// left and right, with loads that close the left one's voids; collars with a gap
// and a stop along the stiff radial stand ready. The loads are such that no stop
// is about to begin or half in, where laws have kinks.
func rubberBeam(t testing.TB, static *Static) *Axle {
	t.Helper()
	small := values{"rubber.inner_diameter": 10, "rubber.outer_diameter": 22, "rubber.length": 21, "rubber.void_depth": 1.8,
		"rubber.stop_gap": 1, "rubber.stop_diameter": 20, "rubber.stop_thickness": 3}
	for _, load := range []float64{20000, 22000, 24000, 26000, 28000, 30000, 32000, 34000, 36000, 38000, 40000} {
		axle := twistBeam(t)
		axle.Static = static
		axle.Elements[0] = element(t, BushRubber, "pivot", Left, Vehicle, 0, with(with(turnedRubber, small),
			values{"bracket": 0, "elastic_plan": 0, "elastic_lift": 0, "preload.x": load, "snubber_run": 0.1, "tightened_at": 2}))
		axle.Elements[1] = element(t, BushRubber, "pivot", Right, 1, Vehicle, with(turnedRubber, values{"rubber.hardness": 48.2,
			"stiff_gap": 0.05, "stiff_snubber": 5000, "snubber_run": 0.1, "preload.x": -load, "preload.z": load / 3, "dynamic_ratio": 1.4, "dynamic_frequency": 15}))
		axle.Elements[1].Choice = Choice{OuterIsFrom: true, HoldsMoments: true}
		if s, err := NewSolver(axle); err == nil && stopsAre(s, 0, bushing.Soft) {
			return axle
		}
	}
	t.Fatal("no load closes the void and leaves other stops clear")
	return nil
}

// stopsAre tells whether one stop is fully in and all others are that or open,
// with 0.04 mm to spare.
func stopsAre(s *Solver, element int, closed bushing.Direction) bool {
	const spare = 0.04 // mm
	for i := range s.lines {
		for l := range s.lines[i].Count {
			law, at := &s.lines[i].Law[l], math.Abs(s.lines[i].Settled[l])
			if !s.lines[i].Curved || law.Snubber == 0 {
				continue
			}
			in := at > law.GapPlus+law.Run+spare
			if !in && at > law.GapPlus-spare || !in && i == element && l == int(closed) {
				return false
			}
		}
	}
	return true
}

// openRubber is a loaded twist beam on bushes given by their dimensions, not the
// same left and right, whose voids and collars stay open.
func openRubber(t testing.TB) *Axle {
	axle := twistBeam(t)
	axle.Static = rubberStatic
	axle.Elements[0] = element(t, BushRubber, "pivot", Left, Vehicle, 0, with(turnedRubber, values{"bracket": 0, "preload.y": 300}))
	axle.Elements[1] = element(t, BushRubber, "pivot", Right, 1, Vehicle, with(turnedRubber, values{"rubber.hardness": 63.1, "tightened_at": 2}))
	axle.Elements[1].Choice = Choice{OuterIsFrom: true, HoldsMoments: true}
	return axle
}

// solidRubber is the same without voids and stops, so that all its laws are straight.
func solidRubber(t testing.TB) *Axle {
	axle := rubberBeam(t, rubberStatic)
	for i := range 2 {
		for _, name := range []string{"rubber.void_arc", "rubber.void_depth", "rubber.stop_gap", "rubber.stop_diameter", "rubber.stop_thickness", "stiff_gap", "stiff_snubber"} {
			axle.Elements[i].Slots[BushRubber.FieldIndex(name)] = 0
		}
	}
	return axle
}

var rubberStatic = &Static{WheelLoad: [2]float64{3600, 3100}, Unsprung: [2]float64{0.04, 0.045}}

// byRates is an axle with every bush given by its rates.
func byRates(axle *Axle) *Axle {
	plain := axle.Clone()
	for i := range plain.Elements {
		plain.Elements[i] = plain.Elements[i].ByRates()
	}
	return plain
}

// A bush by its dimensions is the bush with the rates, gaps and stops that follow
// from them: with and without load at rest, and moved until voids close.
func TestRubberBushIsPlainBush(t *testing.T) {
	for name, static := range map[string]*Static{"bare": nil, "loaded": rubberStatic} {
		axle := rubberBeam(t, static)
		plain := byRates(axle)
		if plain.Elements[0].Kind != Bush || plain.Elements[1].Kind != Bush {
			t.Fatal("not written by rates")
		}
		comparePorts(t, name, complianceOf(t, axle), complianceOf(t, plain))
		got, want := newMover(t, axle), newMover(t, plain)
		for _, side := range []float64{1500, 6000} {
			demand := Demand{Wheels: [2]WheelForce{{AtPatch: vec{-side, side, 0}}, {AtPatch: vec{-side, side, 0}}}, Pads: [2]Pad{{Held: true}, {Held: true}}}
			for _, m := range []*Mover{got, want} {
				if err := m.Solve(&demand); err != nil {
					t.Fatal(err)
				}
			}
			for i := range 2 {
				if a, b := got.Wheel(i), want.Wheel(i); !near(a.Toe, b.Toe, 1e-9, 1) || !near(a.Camber, b.Camber, 1e-9, 1) {
					t.Errorf("%s, %g N, wheel %d: toe %.12g camber %.12g, by rates %.12g and %.12g", name, side, i, a.Toe, a.Camber, b.Toe, b.Camber)
				}
			}
		}
	}
}

// The bush of an element: the six rates, voids and collars of package rubber, and
// what the file gives besides. Elements that are no bush say so.
func TestBushOfAnElement(t *testing.T) {
	axle := rubberBeam(t, nil)
	e := &axle.Elements[1]
	dimensions, is := e.Rubber()
	if !is {
		t.Fatal("no rubber")
	}
	r := dimensions.Rates(rubber.Choice{})
	b, is := e.Bush()
	if want := [6]float64{r.Soft, r.Axial, r.Stiff, r.ConeSoft, r.Torsion, r.ConeStiff}; !is || [6]float64{b.Soft, b.Axial, b.Stiff, b.ConeSoft, b.Torsion, b.ConeStiff} != want {
		t.Errorf("rates %v of the bush, want %v", b, want)
	}
	if r.VoidGap == 0 || r.EndGap != 3 || b.Gap != [3]float64{r.VoidGap, r.EndGap, 0.05} || b.Snubber != [3]float64{r.VoidSnubber, r.EndSnubber, 5000} {
		t.Errorf("gaps %v, snubbers %v of %+v", b.Gap, b.Snubber, r)
	}
	if b.Bracket != 9000 || b.SnubberRun != 0.1 || b.DynamicRatio != 1.4 || b.DynamicFrequency != 15 {
		t.Errorf("bracket %g, run %g, dynamic %+v", b.Bracket, b.SnubberRun, b.Dynamic)
	}
	all := everything(t)
	for i := range all.Elements {
		e := &all.Elements[i]
		_, bush := e.Bush()
		_, rubber := e.Rubber()
		if bush != (e.Kind == Bush || e.Kind == BushRubber) || rubber != (e.Kind == BushRubber) {
			t.Errorf("%s %s: bush %v, rubber %v", e.Label(), e.Kind.Variant, bush, rubber)
		}
		if plain := e.ByRates(); rubber != (plain.Kind != e.Kind) {
			t.Errorf("%s %s is written by rates as %s", e.Label(), e.Kind.Variant, plain.Kind.Variant)
		}
	}
}

// Derivatives by every dimension against differences of the whole solve, with
// voids closed by the load at rest.
func TestRubberDerivatives(t *testing.T) {
	for _, static := range map[string]*Static{"bare": nil, "loaded": rubberStatic} {
		s := newSolver(t, rubberBeam(t, static))
		checkDerivatives(t, s, rand.New(rand.NewPCG(7, 8)), 1e-6)
	}
}

// Parts of a number are those of the six directions.
func TestRubberParts(t *testing.T) {
	s := newSolver(t, rubberBeam(t, nil))
	var words []string
	for _, p := range s.PartList() {
		if p.Element == 0 && p.Kind == LinePart {
			words = append(words, s.axle.Elements[0].LineWord(p.Line))
		}
	}
	if !slices.Equal(words, bushing.DirectionNames) {
		t.Errorf("parts are %v", words)
	}
}

// Dimensions that nobody can make are refused by key, on making a solver and when
// a slot moves there; put right, the axle is solved as before.
func TestRubberThatCannotBeMade(t *testing.T) {
	outer := Slot{0, BushRubber.FieldIndex("rubber.outer_diameter")}
	axle := rubberBeam(t, nil)
	s := newSolver(t, axle)
	good := axle.Value(outer)
	s.Set(outer, 8)
	var wrong *bushing.SlotError
	if err := s.Update(); err == nil || !errors.As(err, &wrong) || !strings.HasPrefix(wrong.Slot, rubberPrefix) || !strings.Contains(err.Error(), "bush.pivot.left") {
		t.Errorf("10 mm in 8 mm: %v", err)
	}
	s.Set(outer, good)
	if err := s.Update(); err != nil {
		t.Fatal(err)
	}
	sameCompliance(t, "put right", s, newSolver(t, axle))
	axle.Elements[0].Slots[outer.Index] = 8
	if _, err := NewSolver(axle); !errors.As(err, &wrong) {
		t.Errorf("10 mm in 8 mm: %v", err)
	}
}

// A bush by its dimensions has every slot of a plain one that they do not decide,
// and the plain one has all that they do.
func TestRubberFields(t *testing.T) {
	for _, f := range bushing.Fields {
		if decided := slices.Contains(byRubber, f.Name); decided == (BushRubber.FieldIndex(f.Name) >= 0) {
			t.Errorf("%s: decided by the rubber is %v", f.Name, decided)
		}
	}
	for _, name := range byRubber {
		if Bush.FieldIndex(name) < 0 {
			t.Errorf("%s is no slot of a bush", name)
		}
	}
	if room := len(bushSlots[float64]{}); room < len(bushing.Fields) {
		t.Errorf("room for %d slots, a bush has %d", room, len(bushing.Fields))
	}
}

// Solving again after a dimension changed allocates nothing.
func TestRubberUpdateAllocatesNothing(t *testing.T) {
	s := newSolver(t, rubberBeam(t, nil))
	slot, n := Slot{0, BushRubber.FieldIndex("rubber.hardness")}, 0
	if got := testing.AllocsPerRun(20, func() {
		n++
		s.Set(slot, 50+0.01*float64(n))
		if err := s.Update(); err != nil {
			t.Fatal(err)
		}
	}); got != 0 {
		t.Errorf("%g allocations", got)
	}
}

func BenchmarkRubberLines(b *testing.B) {
	e := element(b, BushRubber, "pivot", Left, Vehicle, 0, turnedRubber)
	var lines Lines[float64]
	b.ReportAllocs()
	for b.Loop() {
		lines.reset()
		e.Kind.values(&e, e.Slots, vec{}, &lines)
	}
}
