package compliance

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bushtune/bushing"
)

const (
	// evaluationsPerPoint is the most residuals with tangents that a point of a
	// sweep may take.
	evaluationsPerPoint = 8
	// workShare is what eight Gauss points leave of the work along a smooth path.
	workShare = 1e-8
)

// hold is level pads at two heights.
func hold(left, right float64) [2]Pad {
	return [2]Pad{{Held: true, Height: left}, {Held: true, Height: right}}
}

// pushed is one force at each patch, on level pads.
func pushed(force vec) Demand {
	return Demand{Wheels: [2]WheelForce{{AtPatch: force}, {AtPatch: force}}, Pads: hold(0, 0)}
}

// sweeps are the demands of a rig: n steps to ±100 mm and to 5 kN.
func sweeps() map[string]func(share float64) Demand {
	return map[string]func(float64) Demand{
		"bump":     func(s float64) Demand { return Demand{Pads: hold(100*s, 100*s)} },
		"rebound":  func(s float64) Demand { return Demand{Pads: hold(-100*s, -100*s)} },
		"roll":     func(s float64) Demand { return Demand{Pads: hold(100*s, -100*s)} },
		"one side": func(s float64) Demand { return Demand{Pads: [2]Pad{{Held: true, Height: 100 * s, Tyre: 200}, {}}} },
		"lateral":  func(s float64) Demand { return pushed(vec{1: 5000 * s}) },
		"braking":  func(s float64) Demand { return pushed(vec{-4000 * s}) },
	}
}

// checkConverged wants a residual within 1e-9 of the loads, or what is left of
// the way to the equilibrium within 1e-9 of the way from the design position.
func checkConverged(t *testing.T, what string, m *Mover, d *Demand) {
	t.Helper()
	m.balance(&m.now, d)
	if m.within(balanced * m.scale(d)) {
		return
	}
	lost := m.worst()
	m.newtonStep()
	left := m.reachOfStep()
	m.trial.copyFrom(&m.now)
	design := newPosture(len(m.now.shifts), len(m.now.warp))
	m.now.copyFrom(&design)
	if way := m.distance(); left > balanced*way {
		t.Errorf("%s: %g mm of %g mm left, %v", what, left, way, lost)
	}
	m.now.copyFrom(&m.trial)
}

// Every point of a sweep is an equilibrium and takes at most eight evaluations;
// two movers give the same bits.
func TestSweepsConverge(t *testing.T) {
	const points = 20
	for name, axle := range testAxles(t) {
		for what, demand := range sweeps() {
			m, twin := newMover(t, axle), newMover(t, axle)
			most := 0
			for n := range points + 1 {
				d := demand(float64(n) / points)
				before := m.count
				if err := m.Solve(&d); err != nil {
					t.Errorf("%s, %s, point %d: %v", name, what, n, err)
					break
				}
				most = max(most, m.count-before)
				solve(t, twin, d)
				if m.Wheel(0) != twin.Wheel(0) || m.Wheel(1) != twin.Wheel(1) {
					t.Errorf("%s, %s: two movers differ at point %d", name, what, n)
				}
				checkConverged(t, fmt.Sprintf("%s, %s, point %d", name, what, n), m, &d)
			}
			if most > evaluationsPerPoint {
				t.Errorf("%s, %s: up to %d evaluations a point, want at most %d", name, what, most, evaluationsPerPoint)
			}
		}
	}
}

// The work of dead forces that grow in proportion, W = Σ F·(u(1) − ∫u dλ), by
// eight Gauss points a panel, is the energy stored in all elements and in the
// height of the loads at rest. Curved laws have knots on the way, at places that
// only the way knows: 64 panels leave little of them.
func TestWorkOfDeadForcesIsStored(t *testing.T) {
	nodes := [4]float64{0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363}
	weights := [4]float64{0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}
	force := [2]vec{{-400, 900, 500}, {300, 700, -400}}
	for name, axle := range testAxles(t) {
		m := newMover(t, axle)
		at := func(share float64) (work float64) {
			solve(t, m, Demand{Wheels: [2]WheelForce{{AtCentre: force[0].Scale(share)}, {AtCentre: force[1].Scale(share)}}})
			return force[0].Dot(m.Wheel(0).Centre) + force[1].Dot(m.Wheel(1).Centre)
		}
		rest := stored(m)
		work := 0.0
		const panels = 64
		for panel := range panels {
			middle := (float64(panel) + 0.5) / panels
			for i := range nodes {
				work -= weights[i] / (2 * panels) * (at(middle-nodes[i]/(2*panels)) + at(middle+nodes[i]/(2*panels)))
			}
		}
		work += at(1)
		if got := stored(m) - rest; !near(got, work, workShare, work) {
			t.Errorf("%s: %.12g N·mm stored, %.12g N·mm of work", name, got, work)
		}
	}
}

// stored is the energy of all elements and of the loads at rest, in N·mm.
func stored(m *Mover) float64 {
	sum := 0.0
	for i := range m.lines {
		from, to, warp := m.endsAt(&m.solver.axle.Elements[i], &m.now)
		sum += storedEnergy(m.solver, i, &ends{from, to, warp}) + curvedEnergy(m, i)
	}
	for i := range m.wheels {
		w := &m.wheels[i]
		body := m.now.body(w.body)
		_, height := wheelPull(w, &body, &WheelForce{}, 0) // of the lowest point under the load at rest
		sum += w.weight*body.point(w.centre)[2] - w.patch*height + hubEnergy(w, &body)
	}
	return sum
}

// hubEnergy is that of a hub under the load at rest alone: what it carries at the
// design position goes with its turn.
func hubEnergy(w *movingWheel[float64], body *pose[float64]) (sum float64) {
	none := pull[float64](&WheelForce{})
	turn := w.turnOnHub(body, &none, w.patch)
	g := vec{turn[0], 0, turn[1]}
	for i, axis := range hubAxes {
		if w.hub.yield[i] > 0 {
			sum += 0.5 * g[axis] * g[axis] / w.hub.yield[i]
		}
		if w.hub.rest != nil {
			sum += w.hub.rest.onWheel[axis] * g[axis]
		}
	}
	return sum
}

// curvedEnergy is the energy of an element's laws beyond that of its tangents at
// the operating point.
func curvedEnergy(m *Mover, i int) (sum float64) {
	lines, rest := &m.solver.lines[i], &m.solver.preload[i]
	if !lines.Curved {
		return 0
	}
	e, at := &m.states[i].strain, lines.settled(rest)
	for l := range lines.Count {
		sum -= 0.5 * lines.Rate[l] * e[l] * e[l]
		if lines.Radial.Coupled() && (l == int(bushing.Soft) || l == int(bushing.Stiff)) {
			continue
		}
		law := &lines.Law[l]
		sum += law.Energy(at[l]+e[l]) - law.Energy(at[l]) - law.Load(at[l])*e[l]
	}
	if lines.Radial.Coupled() {
		from := [2]float64{at[bushing.Soft], at[bushing.Stiff]}
		by := [2]float64{e[bushing.Soft], e[bushing.Stiff]}
		load := lines.Radial.Load(from)
		sum += lines.Radial.Energy([2]float64{from[0] + by[0], from[1] + by[1]}) - lines.Radial.Energy(from) - load[0]*by[0] - load[1]*by[1]
	}
	return sum
}

// A pad that is let go under the force it carried, and held again where it is,
// changes nothing.
func TestPadsSwitchWithoutJump(t *testing.T) {
	for name, axle := range testAxles(t) {
		m := newMover(t, axle)
		d := Demand{Wheels: [2]WheelForce{{AtPatch: vec{-300, 800, 0}}, {AtPatch: vec{0, 700, 0}}}, Pads: hold(30, -20)}
		solve(t, m, d)
		was := [2]WheelMotion{m.Wheel(0), m.Wheel(1)}
		free := d
		free.Pads = [2]Pad{}
		for i := range free.Wheels {
			free.Wheels[i].AtPatch[2] = was[i].Pad
		}
		solve(t, m, free)
		sameWheels(t, name+" let go", m, was, 0)
		again := free
		again.Pads = hold(30, -20)
		before := m.count
		solve(t, m, again)
		sameWheels(t, name+" held again", m, was, 0)
		if m.count-before > evaluationsPerPoint {
			t.Errorf("%s: %d evaluations to hold a pad where it is", name, m.count-before)
		}
		solve(t, m, d)
		sameWheels(t, name+" back", m, was, 1)
	}
}

// sameWheels wants both wheels where they were, and the share of the pads' forces
// that is still carried by the pads.
func sameWheels(t *testing.T, what string, m *Mover, was [2]WheelMotion, carried float64) {
	t.Helper()
	for i, w := range was {
		now := m.Wheel(i)
		if now.Centre.Sub(w.Centre).Norm() > 1e-6 || !near(now.Toe, w.Toe, 1e-9, 1) || !near(now.Pad, carried*w.Pad, 1e-5, math.Abs(w.Pad)+1) {
			t.Errorf("%s: wheel %d at %+v, was %+v", what, i, now, w)
		}
	}
}

// A tyre in series gives by the pad's force over its rate; the hub turns the
// wheel by the moment of the patch force, and in first order moves the body not at
// all: what moves it, a force at a contact centre that has moved, goes with the square.
func TestTyreAndHubGive(t *testing.T) {
	m := newMover(t, twistBeam(t))
	solve(t, m, Demand{Pads: [2]Pad{{Held: true, Height: 40, Tyre: 150}, {Held: true, Height: -10}}})
	w := m.Wheel(0)
	if got, want := w.Contact[2], 40-w.Pad/150; !near(got, want, 1e-7, 1) || w.Pad < 100 {
		t.Errorf("contact at %.9g mm on a tyre, want %.9g (pad %g N)", got, want, w.Pad)
	}
	soft := twistBeam(t)
	const camber, toe, force, moment = 2e-9, 3e-9, 3.0, 1e3
	soft.Wheels[0].Slots[slotHubCamber], soft.Wheels[0].Slots[slotHubToe] = camber, toe
	d := Demand{Wheels: [2]WheelForce{{AtPatch: vec{1: force}, Moment: moment}}}
	given, rigid := newMover(t, soft), newMover(t, twistBeam(t))
	solve(t, given, d)
	solve(t, rigid, d)
	a, b := given.Wheel(0), rigid.Wheel(0)
	if a.Centre.Sub(b.Centre).Norm() > 1e-7 {
		t.Errorf("the hub moves the body by %v", a.Centre.Sub(b.Centre))
	}
	// first order: turns of camber·300·F about x and −toe·M about z
	if got, want := a.Camber-b.Camber, -camber*300*force; !near(got, want, 1e-3, math.Abs(want)) {
		t.Errorf("hub camber %.6g rad, want %.6g", got, want)
	}
	if got, want := a.Toe-b.Toe, -toe*moment; !near(got, want, 1e-3, math.Abs(want)) {
		t.Errorf("hub toe %.6g rad, want %.6g", got, want)
	}
}

// Errors name the share of the way, the body and the direction.
func TestLostBalanceSaysWhere(t *testing.T) {
	v := truss{300, 20, 1e4}
	limit, _ := v.limit()
	m := v.mover(t)
	d := both(vec{2: -4 * limit}, 0)
	err := m.Solve(&d)
	if err == nil {
		t.Fatal("no error beyond the limit")
	}
	for _, word := range []string{fmt.Sprintf("%.1f %%", 100*err.(*LostBalance).Fraction), "way"} {
		if !strings.Contains(err.Error(), word) {
			t.Errorf("error %q does not say %q", err, word)
		}
	}
	lost := LostBalance{Fraction: 0.25, Body: "arm.left", Direction: "turns about y, the lateral axis", Residual: 12, Unit: "N·m"}
	texts := map[LostBalance]string{
		lost: "at 25.0 % of the way no equilibrium was found: arm.left turns about y, the lateral axis, out of balance by 12 N·m",
		{Fraction: 0.5, Jump: true, Body: "arm.left", Direction: "slides along z, up or down"}: "at 50.0 % of the way the axle would snap through to a distant position: arm.left slides along z, up or down",
		{Fraction: 0.5, Unstable: true}: "at 50.0 % of the way the axle is no longer stable",
	}
	for e, want := range texts {
		if got := e.Error(); got != want {
			t.Errorf("error %q, want %q", got, want)
		}
	}
}

// No load step allocates, and so no iteration does.
func TestSolveDoesNotAllocate(t *testing.T) {
	for name, axle := range testAxles(t) {
		m := newMover(t, axle)
		demands := [2]Demand{pushed(vec{-500, 1500, 0}), {Pads: hold(20, -15)}}
		n := 0
		allocated := testing.AllocsPerRun(20, func() {
			if err := m.Solve(&demands[n%2]); err != nil {
				t.Fatal(name, err)
			}
			n++
		})
		if allocated > 0 {
			t.Errorf("%s: %g allocations a solution", name, allocated)
		}
	}
}

// BenchmarkEvaluate is one residual with its tangent, to be laid beside
// BenchmarkUpdate and BenchmarkBaseline.
func BenchmarkEvaluate(b *testing.B) {
	for name, axle := range testAxles(b) {
		b.Run(name, func(b *testing.B) {
			m := newMover(b, axle)
			for b.Loop() {
				m.evaluate(&m.now, &m.held)
			}
		})
	}
}
