package cases

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/compliance"
)

// randomAxle is a twist beam with parts of random place, rate and angle, with or
// without toe links and a bar, its halves alike or not.
func randomAxle(t *testing.T, rng *rand.Rand) *compliance.Axle {
	t.Helper()
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	wheel := values{"centre.y": between(650, 800), "centre.z": between(270, 340), "loaded_radius": between(260, 320),
		"toe": between(-0.5, 0.5), "camber": between(-2, 1), "hub_camber": between(0, 0.05), "hub_toe": between(0, 0.05)}
	bush := values{"at.x": between(300, 500), "at.y": between(450, 650), "at.z": between(200, 400), "soft": between(200, 2000),
		"axial": between(200, 2000), "stiff": between(1000, 5000), "cone_soft": between(0, 15), "torsion": between(0.5, 4), "cone_stiff": between(0, 15),
		"plan": between(-45, 45), "lift": between(-20, 20), "clock": between(-90, 90)}
	spring := values{"upper.x": between(-60, 60), "upper.y": between(400, 550), "upper.z": between(500, 700),
		"lower.x": between(-60, 60), "lower.y": between(400, 550), "lower.z": between(250, 350), "rate": between(15, 60)}
	beam := with(beamValues, values{"at.x": between(50, 350), "at.z": between(250, 350), "tilt": between(-60, 60), "shear_centre.u": between(-60, 60)})
	axle := beamAxle(t, wheel, bush, spring, beam)
	if rng.IntN(2) == 0 {
		axle.Elements = append(axle.Elements, bothSides(t, compliance.Link, "toe", values{"inner.x": between(-100, 300), "inner.y": between(150, 350), "inner.z": between(200, 300),
			"outer.x": between(-100, 300), "outer.y": between(450, 600), "outer.z": between(200, 300), "inner_rate": between(500, 8000), "outer_rate": between(500, 8000)})...)
	}
	if rng.IntN(2) == 0 {
		axle.Elements = append(axle.Elements, element(t, compliance.TorsionBar, "bar", compliance.Centre, 0, 1, values{"axis.y": 1, "rate": between(5, 50)}))
	}
	if rng.IntN(2) == 0 {
		axle.Elements[1].Slots[14] *= between(0.5, 1.5)
	}
	return axle
}

// randomSeed makes the axles below the same in every run.
const randomSeed = 20

// On any axle: one wheel from both, contact points held, parts that sum up, roll
// centres that agree if the halves do, and figures that are numbers.
func TestRandomAxles(t *testing.T) {
	rng := rand.New(rand.NewPCG(randomSeed, 1))
	symmetric := 0
	for n := range 40 {
		vehicle := vehicleWith(t, carValues)
		vehicle.StaticLoad, vehicle.TyreInSeries = n%3 == 0, n%4 == 0
		s := studyOf(t, randomAxle(t, rng), vehicle)
		parallel, opposed, single := s.loadOf("cornering", 0), s.loadOf("cornering_opposed", 0), s.loadOf("cornering_single", 0)
		for i, got := range single.motion {
			check(t, compliance.PortNames[i]+" under one wheel", got, (parallel.motion[i]-opposed.motion[i])/2, 1e-10*(smallMotion+math.Abs(parallel.motion[i])))
		}
		for w := range 2 {
			check(t, "height of a contact point", s.rig.read(w, patchZ, &parallel.motion), -s.rig.tyre*parallel.pads[w], 1e-10)
		}
		if s.Symmetric() && s.rig.tyre == 0 {
			symmetric++
			force := valueOf(t, s, "roll_centre_force", "", "")
			check(t, "roll centre from movement", valueOf(t, s, "roll_centre_kinematic", "", ""), force, 1e-7*(1+math.Abs(force)))
		}
		for i, number := range s.Numbers() {
			if f := s.Figure(i); math.IsNaN(f.Value) || math.IsInf(f.Value, 0) || f.Text == "" {
				t.Errorf("axle %d: %s in %s is %v", n, number.Name, number.Case, f)
			}
			if parts := s.Parts(i); parts != nil {
				sum := 0.0
				for _, p := range parts {
					sum += p.Value
				}
				check(t, "sum of the parts of "+number.Name+" in "+number.Case, sum, s.Value(i), 1e-10*grossOf(s, i))
			}
		}
	}
	if symmetric < 5 {
		t.Errorf("only %d axles had two halves alike", symmetric)
	}
}

// On any axle the exact gradient in a random direction is the difference quotient.
func TestRandomDirections(t *testing.T) {
	rng := rand.New(rand.NewPCG(randomSeed, 2))
	for n := range 15 {
		vehicle := vehicleWith(t, carValues)
		vehicle.StaticLoad, vehicle.TyreInSeries = n%2 == 0, n%3 == 0
		s := studyOf(t, randomAxle(t, rng), vehicle)
		slots := movable(s)
		direction, at := make([]float64, len(slots)), make([]float64, len(slots))
		for j, slot := range slots {
			at[j] = s.Solver().Axle().Value(slot)
			direction[j] = (rng.Float64() - 0.5) * 1e-3 * math.Abs(at[j])
		}
		indices := linear(s)
		out := make([][]float64, len(indices))
		for k := range indices {
			out[k] = make([]float64, len(slots))
		}
		s.Gradient(indices, slots, out)
		want := alongDirection(t, s, slots, at, direction)
		for k, i := range indices {
			got, size := 0.0, 0.0
			for j, d := range direction {
				got += out[k][j] * d
				size += math.Abs(out[k][j] * d)
			}
			check(t, s.numbers[i].Name+" in "+s.numbers[i].Case, got, want[k], gradientTolerance*size+differenceRounding*grossOf(s, i))
		}
	}
}

// alongDirection is the derivative of all numbers along a direction, by Richardson.
func alongDirection(t *testing.T, s *Study, slots []compliance.Slot, at, direction []float64) []float64 {
	return extrapolated(1, func(x float64) []float64 {
		for j, slot := range slots {
			s.Set(slot, at[j]+x*direction[j])
		}
		return allValues(t, s)
	})
}

// Soft but sound axles are no cause for alarm: joints of almost no torsion, springs
// that hardly hold. Their parts sum but for rounding.
func TestSoftAxlesRaiseNoAlarm(t *testing.T) {
	rng := rand.New(rand.NewPCG(randomSeed, 3))
	for n := range 200 {
		axle := randomAxle(t, rng)
		for i := range axle.Elements {
			e := &axle.Elements[i]
			for _, name := range []string{"torsion", "cone_soft", "cone_stiff"} {
				if e.Kind == compliance.Bush {
					e.Slots[e.Kind.FieldIndex(name)] *= math.Pow(10, -4*rng.Float64())
				}
			}
			if e.Kind == compliance.Spring {
				e.Slots[e.Kind.FieldIndex("rate")] *= math.Pow(10, -6*rng.Float64())
			}
		}
		if _, err := NewStudy(axle, vehicleWith(t, carValues), nil, nil); err != nil {
			t.Errorf("axle %d: %v", n, err)
		}
	}
}

// A compliance that is not that of the elements is noticed by the parts.
func TestPartsThatMissTheirSum(t *testing.T) {
	s := studyOf(t, linkedBeam(t), vehicleWith(t, carValues))
	if err := s.CheckParts(); err != nil {
		t.Fatal(err)
	}
	c := s.Solver().Compliance()
	c[2*compliance.Ports+2] *= 1 + 1e-6
	s.rig.measure()
	for _, l := range s.loads {
		l.solve(&s.rig)
	}
	var missing *PartsMissing
	if err := s.CheckParts(); !errors.As(err, &missing) || missing.Missing < 1e-8 {
		t.Errorf("want missing parts, got %v", err)
	}
}
