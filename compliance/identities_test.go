package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/compliance/section"
)

// rounding is what double precision leaves of identities on stiffness matrices
// with a condition number around 1e6.
const rounding = 1e-9

func testAxles(t testing.TB) map[string]*Axle {
	loaded := twistBeam(t)
	loaded.Static = &Static{WheelLoad: [2]float64{3500, 3500}, Unsprung: [2]float64{0.04, 0.04}}
	pressed := twistBeam(t)
	shape := ProfileBeams[1]
	beam := element(t, shape, "cross", Centre, 0, 1, values{"at.x": 270, "at.z": 310, "ends_y": 550, "tilt": 35,
		"profile.leg_front": 80, "profile.leg_rear": 60, "profile.radius": 30, "profile.half_angle": 30, "profile.wall": 5})
	beam.Choice = Choice{Ends: [2]Warping{BuiltIn, BuiltIn}, Opens: section.Rearward}
	pressed.Elements[len(pressed.Elements)-1] = beam
	return map[string]*Axle{"twist beam": twistBeam(t), "loaded twist beam": loaded, "everything": everything(t), "pressed V": pressed, "curved": curvedBeam(t), "rubber": openRubber(t)}
}

func TestComplianceIsSymmetricAndPositive(t *testing.T) {
	for name, axle := range testAxles(t) {
		c := newSolver(t, axle).Compliance()
		sym := mat.NewSymDense(Ports, nil)
		for i := range Ports {
			for j := range Ports {
				sym.SetSym(i, j, c[i*Ports+j])
				if c[i*Ports+j] != c[j*Ports+i] {
					t.Errorf("%s: C is not symmetric at %d, %d", name, i, j)
				}
			}
		}
		var eigen mat.EigenSym
		eigen.Factorize(sym, false)
		if least := eigen.Values(nil)[0]; least <= 0 {
			t.Errorf("%s: C has the eigenvalue %g; the wheels are on different bodies, so it must be positive", name, least)
		}
	}
}

// Left is written, right is its mirror: mirrored loads give mirrored motions.
func TestSymmetricAxleAnswersMirrored(t *testing.T) {
	for _, name := range []string{"twist beam", "loaded twist beam"} {
		axle := testAxles(t)[name]
		for i := range axle.Elements {
			if e := &axle.Elements[i]; e.Kind == Beam {
				e.Choice.Ends = [2]Warping{BuiltIn, BuiltIn} // ends that are unlike have no mirror image
			}
		}
		c := newSolver(t, axle).Compliance()
		sign := mirrorSigns
		for i := range 6 {
			for j := range 6 {
				own, other := c[i*Ports+j], c[i*Ports+6+j]
				mirroredOwn := sign[i] * sign[j] * c[(6+i)*Ports+6+j]
				mirroredOther := sign[i] * sign[j] * c[(6+i)*Ports+j]
				scale := math.Sqrt(c[i*Ports+i] * c[j*Ports+j])
				if !near(own, mirroredOwn, rounding, scale) || !near(other, mirroredOther, rounding, scale) {
					t.Errorf("%s: entry %d, %d: %g against %g, %g against %g", name, i, j, own, mirroredOwn, other, mirroredOther)
				}
			}
		}
	}
}

// Parts sum to the number: unit-load method, for random pairs of loads.
func TestPartsSumToNumber(t *testing.T) {
	for name, axle := range testAxles(t) {
		rng := rand.New(rand.NewPCG(1, 2)) // for each axle: a map has no order
		s := newSolver(t, axle)
		parts := make([]float64, len(s.PartList()))
		ea, ef := make([]float64, s.Lines()), make([]float64, s.Lines())
		for range 20 {
			pair := randomPair(s, rng)
			q := s.Motion(pair.F)
			number := pair.A.Dot(&q)
			s.Strains(pair.A, ea)
			s.Strains(pair.F, ef)
			s.Parts(pair.A, pair.F, ea, ef, parts)
			sum, size := 0.0, math.Abs(number)
			for _, p := range parts {
				sum += p
				size = max(size, math.Abs(p))
			}
			if !near(sum, number, 1e-10, size) {
				t.Errorf("%s: parts sum to %.15g, number %.15g", name, sum, number)
			}
		}
	}
}

func randomPair(s *Solver, rng *rand.Rand) Pair {
	a, f := new(Port), new(Port)
	for i := range a {
		scale := 1.0
		if i%6 >= 3 {
			scale = 300
		}
		a[i], f[i] = scale*(rng.Float64()-0.5), scale*(rng.Float64()-0.5)
	}
	pair := Pair{A: a, F: f, UA: make([]float64, s.Freedoms()), UF: make([]float64, s.Freedoms())}
	s.Displacement(a, pair.UA)
	s.Displacement(f, pair.UF)
	return pair
}

// The static loads balance on every body (1e-9 of the wheel load).
func TestStaticLoadsBalance(t *testing.T) {
	for name, axle := range testAxles(t) {
		s := newSolver(t, axle)
		if axle.Static == nil {
			if s.Loaded() {
				t.Errorf("%s: loaded without a static load", name)
			}
			continue
		}
		// the residual has moments in N·mm among its entries: levers are below a metre
		if r := s.StaticResidual(); r > 1e-9*axle.Static.WheelLoad[0]*1000 {
			t.Errorf("%s: static residual %g", name, r)
		}
	}
}

// Every slot of every element and wheel: exact derivatives against Richardson
// differences of the whole solve.
func TestDerivativesAgreeWithDifferences(t *testing.T) {
	for name, axle := range testAxles(t) {
		rng := rand.New(rand.NewPCG(5, 6)) // for each axle: a map has no order
		t.Run(name, func(t *testing.T) { checkDerivatives(t, newSolver(t, axle), rng, 1e-8) })
	}
}

// absentAtZero are the slots for which zero stands for an absent part or load:
// there the model itself changes, so there is no derivative to compare.
var absentAtZero = map[string]bool{"bracket": true, "rod_rate": true, "ends_y": true, "gap": true,
	"preload.x": true, "preload.y": true, "preload.z": true, "tightened_at": true, "load": true,
	"soft_gap": true, "axial_gap": true, "stiff_gap": true, "soft_gap_back": true, "axial_gap_back": true, "stiff_gap_back": true,
	"rubber.void_arc": true, "rubber.void_depth": true, "rubber.void_radius": true, "rubber.sleeve_diameter": true, "rubber.sleeve_wall": true,
	"rubber.stop_gap": true, "rubber.stop_diameter": true, "rubber.stop_thickness": true,
	"rubber.shear_modulus": true, "rubber.bulk_modulus": true, "rubber.range_share": true}

// allSlots lists every slot that is not absent.
func allSlots(s *Solver) []Slot {
	var slots []Slot
	for i := range s.axle.Elements {
		e := &s.axle.Elements[i]
		for j, f := range e.Kind.Fields {
			if (e.Slots[j] != 0 || !absentAtZero[f.Name]) && !byCurve(e, f.Name) {
				slots = append(slots, Slot{i, j})
			}
		}
	}
	for wheel := range s.axle.Wheels {
		for j := range WheelFields {
			slots = append(slots, Slot{-1 - wheel, j})
		}
	}
	return slots
}

// richardson is the derivative of f at x by central differences extrapolated
// three times: error of order step⁸.
func richardson(f func(float64) float64, x, step float64) float64 {
	var d [4]float64
	for i := range d {
		h := step / float64(int(1)<<i)
		d[i] = (f(x+h) - f(x-h)) / (2 * h)
	}
	for order := 1; order < len(d); order++ {
		p := math.Pow(4, float64(order))
		for i := len(d) - 1; i >= order; i-- {
			d[i] = (p*d[i] - d[i-1]) / (p - 1)
		}
	}
	return d[len(d)-1]
}
