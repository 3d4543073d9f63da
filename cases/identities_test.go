package cases

import (
	"math"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/exact"
	"bushtune/compliance"
)

// rounding is what double precision leaves of identities on axles with a
// condition number around 1e6.
const rounding = 1e-9

// smallMotion is a motion (mm, rad) that counts beside the few mm and mrad of a
// load case: below it a motion that vanishes by symmetry is rounding.
const smallMotion = 1e-4

// studies are a plain axle, one whose halves differ, each without and with a
// load at rest, and one with the tyre in series.
func studies(t testing.TB) map[string]*Study {
	car := vehicleWith(t, carValues)
	loaded, sprung, given := car, car, car
	loaded.StaticLoad = true
	sprung.TyreInSeries = true
	given.RearRollShare = 0.45
	return map[string]*Study{
		"plain":             studyOf(t, twistBeam(t), car),
		"plain, loaded":     studyOf(t, twistBeam(t), loaded),
		"linked":            studyOf(t, linkedBeam(t), given),
		"linked, loaded":    studyOf(t, linkedBeam(t), loaded),
		"linked, tyre":      studyOf(t, linkedBeam(t), sprung),
		"moulded":           studyOf(t, rubberAxle(t, nil), car),
		"rigid on two bush": studyOf(t, rigidBody(t, 3000, 600, 600, 25, 300), car),
	}
}

// One wheel is half of both in parallel less half of both opposed, for motions
// and pad forces; a case on level pads leaves the contact points at their height.
func TestSuperposition(t *testing.T) {
	for name, s := range studies(t) {
		parallel, opposed, single := s.loadOf("cornering", 0), s.loadOf("cornering_opposed", 0), s.loadOf("cornering_single", 0)
		for i := range single.motion {
			want := (parallel.motion[i] - opposed.motion[i]) / 2
			if !near(single.motion[i], want, rounding, smallMotion+math.Abs(parallel.motion[i])+math.Abs(opposed.motion[i])) {
				t.Errorf("%s: %s under one wheel %.12g, from both %.12g", name, compliance.PortNames[i], single.motion[i], want)
			}
		}
		for w := range 2 {
			want := (parallel.pads[w] - opposed.pads[w]) / 2
			if !near(single.pads[w], want, rounding, unitForce) {
				t.Errorf("%s: pad %s %.12g, from both %.12g", name, WheelNames[w], single.pads[w], want)
			}
		}
	}
}

// Level pads hold the contact points: rigid ones at zero, the tyre by its rate.
func TestLevelPadsHoldTheContactPoints(t *testing.T) {
	for name, s := range studies(t) {
		for _, l := range s.loads {
			for w := range 2 {
				z := s.rig.read(w, patchZ, &l.motion)
				if l.Pads == Floating {
					if l.pads[w] != 0 {
						t.Errorf("%s, %s: a floating pad changes its force by %g N", name, l.Name, l.pads[w])
					}
					continue
				}
				if want := -s.rig.tyre * l.pads[w]; !near(z, want, rounding, 1) {
					t.Errorf("%s, %s: contact point %s moves by %g mm, want %g", name, l.Name, WheelNames[w], z, want)
				}
			}
		}
	}
}

// The work of the loads is twice the energy in the elements, ½·load·strain each
// (Clapeyron's theorem): without a load at rest nothing else stores energy.
func TestEnergyIsWork(t *testing.T) {
	for _, name := range []string{"plain", "linked, tyre", "rigid on two bush"} {
		s := studies(t)[name]
		for _, l := range s.loads {
			l.update(&s.rig, s.generation)
			l.move(&s.rig, s.generation)
			work := l.full.Dot(&l.motion)
			for w := range 2 {
				work += s.rig.tyre * l.pads[w] * l.pads[w]
			}
			energy := s.rig.tyre * (l.pads[0]*l.pads[0] + l.pads[1]*l.pads[1])
			for i, e := range s.Solver().Axle().Elements {
				var load, strain [8]float64
				s.Solver().LineLoads(i, l.movement, &load, &strain)
				for k := range e.Kind.Lines {
					energy += load[k] * strain[k]
				}
			}
			for w, wheel := range s.Solver().Axle().Wheels {
				hubCamber, hubToe := wheel.Slots[6], wheel.Slots[7]
				energy += hubCamber*l.full[6*w+3]*l.full[6*w+3] + hubToe*l.full[6*w+5]*l.full[6*w+5]
			}
			if !near(work, energy, rounding, max(energy, 1e-20)) { // a load that moves nothing leaves rounding alone
				t.Errorf("%s, %s: work %.12g, energy %.12g N·mm", name, l.Name, work, energy)
			}
		}
	}
}

// What bushes and springs put into the vehicle is what the loads and the pads
// put into the wheels, force and moment.
func TestReactionsBalance(t *testing.T) {
	s := studyOf(t, twistBeam(t), vehicleWith(t, carValues))
	axle := s.Solver().Axle()
	for _, l := range s.loads {
		l.update(&s.rig, s.generation)
		l.move(&s.rig, s.generation)
		var balance exact.Wrench[float64]
		add := func(f exact.Wrench[float64], factor float64) {
			for i := range f {
				balance[i] += factor * f[i]
			}
		}
		for w, wheel := range axle.Wheels {
			centre := exact.Vec[float64](wheel.Slots[:3])
			if w == RightWheel {
				centre[1] = -centre[1]
			}
			on := exact.Wrench[float64](l.full[6*w : 6*w+6])
			add(exact.Force(exact.Vec[float64](on[:3]), centre), 1)
			add(exact.Moment(exact.Vec[float64](on[3:])), 1)
		}
		for i := range axle.Elements {
			e := &axle.Elements[i]
			if e.From != compliance.Vehicle {
				continue
			}
			var load, strain [8]float64
			s.Solver().LineLoads(i, l.movement, &load, &strain)
			wrench := onVehicle(e, &load)
			if e.Side == compliance.Right {
				wrench = compliance.Mirror(wrench)
			}
			add(wrench, -1)
		}
		for i, v := range balance {
			if math.Abs(v) > rounding*unitForce*1000 { // levers of up to a metre
				t.Errorf("%s: component %d is out of balance by %g", l.Name, i, v)
			}
		}
	}
}

// onVehicle is the left-hand wrench about the origin that a bush or spring puts
// into the vehicle.
func onVehicle(e *compliance.Element, load *[8]float64) exact.Wrench[float64] {
	var sum exact.Wrench[float64]
	add := func(f exact.Wrench[float64], factor float64) {
		for i := range f {
			sum[i] += factor * f[i]
		}
	}
	if e.Kind == compliance.Spring {
		upper, lower := exact.Vec[float64](e.Slots[:3]), exact.Vec[float64](e.Slots[3:6])
		add(exact.Force(lower.Sub(upper).Unit(), upper), load[0])
		return sum
	}
	b := bushing.New(e.Slots)
	sleeve, elastic := b.Axes(e.Choice.Base)
	for i := range 3 {
		add(exact.Force(elastic[i], b.At), load[i])
		add(exact.Moment(sleeve[i]), load[3+i])
	}
	return sum
}

// Kinematic and force-based roll centre are the same coupling of C read from
// both ends (reciprocity of Maxwell and Betti), on rigid pads and a symmetric axle.
func TestRollCentresAgree(t *testing.T) {
	for _, name := range []string{"plain", "plain, loaded", "rigid on two bush"} {
		s := studies(t)[name]
		kinematic, force := valueOf(t, s, "roll_centre_kinematic", "", ""), valueOf(t, s, "roll_centre_force", "", "")
		if !near(kinematic, force, rounding, math.Abs(force)) {
			t.Errorf("%s: roll centre %.12g mm from movement, %.12g mm from forces", name, kinematic, force)
		}
	}
}

// The parts of a number sum to it, for every number that has them.
func TestPartsSumToNumber(t *testing.T) {
	const tolerance = 1e-10 // of what the number is summed from
	for name, s := range studies(t) {
		split := 0
		for i, n := range s.Numbers() {
			parts := s.Parts(i)
			if (parts == nil) != (n.NoParts != "") && !n.Generic && s.Value(i) != 0 {
				t.Errorf("%s: %s in %s: %d parts, but NoParts is %q", name, n.Name, n.Case, len(parts), n.NoParts)
			}
			if parts == nil {
				continue
			}
			split++
			value := s.Value(i)
			sum, size := 0.0, grossOf(s, i)
			for _, p := range parts {
				sum += p.Value
				size = max(size, math.Abs(p.Value))
			}
			if !near(sum, value, tolerance, size) {
				t.Errorf("%s: parts of %s in %s sum to %.15g, the number is %.15g", name, n.Name, n.Case, sum, value)
			}
		}
		if split < 300 {
			t.Errorf("%s: only %d numbers were split", name, split)
		}
	}
}

// Without a load at rest each part of a plain reading is −∂number/∂ln rate.
func TestPartsAreSlopes(t *testing.T) {
	s := studyOf(t, linkedBeam(t), vehicleWith(t, with(carValues, values{"rear_roll_share": 0.45})))
	spring := compliance.Slot{Element: 2, Index: compliance.Spring.FieldIndex("rate")}
	soft := compliance.Slot{Element: 0, Index: compliance.Bush.FieldIndex("soft")}
	axial := compliance.Slot{Element: 1, Index: compliance.Bush.FieldIndex("axial")}
	checks := []struct {
		slot          compliance.Slot
		element, line string
	}{
		{spring, "spring.coil.left", "along"}, {soft, "bush.pivot.left", "soft"}, {axial, "bush.pivot.right", "axial"},
	}
	for i, n := range s.Numbers() {
		if n.NoParts != "" || s.numbers[i].count > 1 {
			continue
		}
		parts := s.Parts(i)
		for _, c := range checks {
			slope := [][]float64{{0}}
			s.Gradient([]int{i}, []compliance.Slot{c.slot}, slope)
			want := -slope[0][0] * s.Solver().Axle().Value(c.slot)
			got := 0.0
			for _, p := range parts {
				if p.Element == c.element && p.Line == c.line {
					got += p.Value
				}
			}
			if !near(got, want, rounding, math.Abs(want)+math.Abs(s.Value(i))*1e-3) {
				t.Errorf("%s in %s: part of %s %s is %.12g, −slope %.12g", n.Name, n.Case, c.element, c.line, got, want)
			}
		}
	}
}
