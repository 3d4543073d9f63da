package compliance

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing"
)

// randomAxle is a model without any plan: two to five bodies, each on a bush of
// its own, wheels anywhere, and up to ten elements of any kind, side and order
// between anything. Sometimes loaded at rest.
func randomAxle(t testing.TB, rng *rand.Rand) *Axle {
	axle := &Axle{}
	count := 2 + rng.IntN(4)
	for range count {
		axle.Bodies = append(axle.Bodies, Body{Name: "b", Side: Side(rng.IntN(3))})
	}
	for b := range count {
		axle.Elements = append(axle.Elements, randomElement(t, rng, Bush, Vehicle, b))
	}
	kinds := []*Kind{Bush, BushMatrix, BushRubber, Link, Spring, BumpStop, Damper, TorsionBar, Beam, Beam, Beam}
	for range rng.IntN(11) {
		from, to := rng.IntN(count+1)-1, rng.IntN(count+1)-1
		if from != to {
			axle.Elements = append(axle.Elements, randomElement(t, rng, kinds[rng.IntN(len(kinds))], from, to))
		}
	}
	dropLoneContinuousEnds(axle)
	for i := range axle.Wheels {
		axle.Wheels[i] = wheelOn(t, rng.IntN(count), values{"centre.x": spread(rng, 50), "centre.y": 700 + spread(rng, 50), "centre.z": 300 + spread(rng, 50),
			"loaded_radius": 290 + spread(rng, 20), "toe": spread(rng, 3), "camber": spread(rng, 4), "hub_toe": 0.1 * rng.Float64(), "hub_camber": 0.1 * rng.Float64()})
	}
	if rng.IntN(2) == 0 {
		axle.Static = &Static{WheelLoad: [2]float64{3000 * rng.Float64(), 3000 * rng.Float64()}, Unsprung: [2]float64{0.05 * rng.Float64(), 0.05 * rng.Float64()}}
	}
	return axle
}

// spread is a number between −size and size.
func spread(rng *rand.Rand, size float64) float64 { return 2 * size * (rng.Float64() - 0.5) }

// randomElement fills every slot of a kind by what its name and unit ask.
func randomElement(t testing.TB, rng *rand.Rand, kind *Kind, from, to int) Element {
	v := values{}
	if kind == BushMatrix {
		v = matrixValues()
	}
	stop := map[string]float64{} // voids stay open for ever
	if rng.IntN(2) == 0 {
		stop = map[string]float64{"mm": 1, "N/mm": 5000}
	}
	for _, f := range kind.Fields {
		switch name := f.Name; {
		case strings.HasPrefix(name, rubberPrefix):
			v[name] = testRubber[name] * (0.97 + 0.06*rng.Float64()) // still a bush that can be made
		case strings.HasPrefix(name, "matrix.") || strings.HasPrefix(name, "max_") || name == "ends_y" || name == "poissons_ratio" || name == "youngs_modulus":
		case strings.HasSuffix(name, ".x") && f.Unit.Name != "N":
			v[name] = spread(rng, 400)
		case strings.HasSuffix(name, ".y") && f.Unit.Name != "N":
			v[name] = spread(rng, 600)
		case strings.HasSuffix(name, ".z") && f.Unit.Name != "N":
			v[name] = 300 + spread(rng, 300)
		case strings.Contains(name, "_gap") || strings.HasSuffix(name, "_snubber"):
			v[name] = stop[f.Unit.Name] * (0.1 + rng.Float64())
		case name == "snubber_run":
			v[name] = 0.5 + rng.Float64()
		case name == "gap":
			v[name] = 10 * float64(rng.IntN(2))
		case f.Unit.Name == "deg":
			v[name] = spread(rng, 40)
		case f.Unit.Name == "N":
			v[name] = 500 * rng.Float64()
		case f.Unit.Name == "N/mm":
			v[name] = 200 + 4000*rng.Float64()
		case f.Unit.Name == "N·m/deg":
			v[name] = 20 + 50*rng.Float64()
		default:
			v[name] = testBeam[name] * (0.5 + rng.Float64())
		}
	}
	e := element(t, kind, string(rune('a'+rng.IntN(4))), Side(rng.IntN(3)), from, to, v)
	e.Choice = Choice{OuterIsFrom: rng.IntN(2) == 0, HoldsMoments: kind == Bush && from == Vehicle, Base: bushing.Base(rng.IntN(4))}
	if kind == Beam {
		e.Choice = Choice{Ends: [2]Warping{Warping(rng.IntN(4)), Warping(rng.IntN(4))}}
	}
	return e
}

// dropLoneContinuousEnds makes ends free that have no partner or too many.
func dropLoneContinuousEnds(axle *Axle) {
	ends := map[int]int{}
	each := func(do func(body int, w *Warping)) {
		for i := range axle.Elements {
			e := &axle.Elements[i]
			for end, body := range [2]int{e.From, e.To} {
				if e.Kind == Beam && e.Choice.Ends[end] == Continuous {
					do(body, &e.Choice.Ends[end])
				}
			}
		}
	}
	each(func(body int, _ *Warping) { ends[body]++ })
	each(func(body int, w *Warping) {
		if body == Vehicle || ends[body] != 2 {
			*w = Free
		}
	})
}

// forRandomAxles runs a check on axles that a load at rest does not overturn.
func forRandomAxles(t *testing.T, count int, check func(t *testing.T, rng *rand.Rand, s *Solver)) {
	solved := 0
	for seed := range uint64(count) {
		rng := rand.New(rand.NewPCG(seed, 101))
		axle := randomAxle(t, rng)
		s, err := NewSolver(axle)
		var free *FreeMotion
		if errors.As(err, &free) && free.Unstable {
			continue
		}
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		solved++
		check(t, rng, s)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if solved < count/2 {
		t.Errorf("only %d of %d axles could carry their load", solved, count)
	}
}

const randomAxles = 40

// C is symmetric and positive semi-definite; parts sum to the number.
func TestRandomAxlesAnswer(t *testing.T) {
	forRandomAxles(t, randomAxles, func(t *testing.T, rng *rand.Rand, s *Solver) {
		c := mat.NewSymDense(Ports, nil)
		size := make([]float64, Ports)
		for i := range Ports {
			size[i] = math.Sqrt(s.Compliance()[i*(Ports+1)])
		}
		for i := range Ports {
			for j := i; j < Ports; j++ {
				c.SetSym(i, j, s.Compliance()[i*Ports+j]/(size[i]*size[j]))
			}
		}
		var eigen mat.EigenSym
		eigen.Factorize(c, false)
		if least := eigen.Values(nil)[0]; least < -closedForm {
			t.Errorf("C has the eigenvalue %g", least)
		}
		pair := randomPair(s, rng)
		parts, ea, ef := make([]float64, len(s.PartList())), make([]float64, s.Lines()), make([]float64, s.Lines())
		s.Strains(pair.A, ea)
		s.Strains(pair.F, ef)
		s.Parts(pair.A, pair.F, ea, ef, parts)
		q := s.Motion(pair.F)
		sum, scale := 0.0, 0.0
		for _, p := range parts {
			sum += p
			scale += math.Abs(p)
		}
		if number := pair.A.Dot(&q); !near(sum, number, 1e-10, scale) {
			t.Errorf("parts sum to %.12g, the number is %.12g", sum, number)
		}
	})
}

// Derivatives by every slot against differences of the whole solve.
func TestRandomAxlesDerivatives(t *testing.T) {
	forRandomAxles(t, randomAxles, func(t *testing.T, rng *rand.Rand, s *Solver) {
		if atAnEdge(s) {
			return
		}
		checkDerivatives(t, s, rng, 1e-6)
	})
}

// atAnEdge tells whether a stop begins, or is fully in, within the steps of
// differences around its load at rest: the tangent has a kink there, and a
// derivative of its own on each side.
func atAnEdge(s *Solver) bool {
	const reach = 0.03 // mm
	for i := range s.lines {
		for l := range s.lines[i].Count {
			if !s.lines[i].Curved {
				break
			}
			law := s.lines[i].Law[l]
			law.Bracket = 0
			x := math.Abs(law.Deflection(s.StaticLoad(i, l)))
			for _, edge := range [4]float64{law.GapPlus, law.GapPlus + law.Run, law.GapMinus, law.GapMinus + law.Run} {
				if !law.Linear() && math.Abs(x-edge) < reach {
					return true
				}
			}
		}
	}
	return false
}
