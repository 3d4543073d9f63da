package compliance

import (
	"math"
	"strings"
	"testing"
)

// closedForm is what rounding leaves of a formula evaluated in two ways.
const closedForm = 1e-12

// cantilever is SCI P385, Design of Steel Beams in Torsion, 2011, Fig. 2.7:
// 6 m, J 2.01e-7 m⁴, Iw 1.26e-7 m⁶, 1 kN·m at the free end; E 210 GPa, ν 0.3.
var cantilever = values{"area": 5e3, "inertia_forward": 2e7, "inertia_up": 4e7, "torsion_constant": 2.01e5, "warping_constant": 1.26e11}

const (
	cantileverLength = 6000.0
	cantileverTorque = 1e6
	cantileverEnd    = 0.290956 // rad, T/(G·J)·(L − a·tanh(L/a))
	cantileverGJ     = 210000 / 2.6 * 2.01e5
	cantileverEI     = 210000 * 1.26e11
)

// The whole length as one beam, and warping left free for contrast.
func TestCantileverTwist(t *testing.T) {
	for end, want := range map[Warping]float64{Primary: cantileverEnd, BuiltIn: cantileverEnd, Free: 0.369581} {
		f := newStructure(t, vec{0, cantileverLength, 0})
		f.beam(f.ground(vec{}), 0, cantilever, end, Free)
		got := f.solver().Motion(&Port{4: cantileverTorque})[4]
		if math.Abs(got-want) > 0.51e-6 {
			t.Errorf("warping %s: %.7f rad, closed form %.6f", WarpingNames[end], got, want)
		}
	}
}

// A chain of ten pieces: twist at the end, and from the warping freedoms and
// their loads the table of St Venant torque and bimoment, within its last digit.
// A second cantilever on the other side of the support makes the warping at the
// support a freedom that symmetry holds at zero, so that its load can be read.
func TestCantileverChainGivesTorqueAndBimoment(t *testing.T) {
	torque := []float64{0, .375, .609, .756, .847, .904, .939, .961, .973, .980, .982}
	bimoment := []float64{1.2764, .7977, .4984, .3112, .1941, .1206, .0743, .0447, .0252, .0113, 0}
	const pieces = 10
	f := newStructure(t)
	for i := range 2*pieces + 1 {
		f.node(vec{0, cantileverLength * float64(i-pieces) / pieces, 0})
	}
	for i := range 2 * pieces {
		from, to := Continuous, Continuous
		if i == 0 {
			from = Free
		}
		if i == 2*pieces-1 {
			to = Free
		}
		f.beam(i, i+1, cantilever, from, to)
	}
	f.support(pieces, [6]float64{held, held, held, heldTurn, heldTurn, heldTurn})
	f.wheels = [2]int{2 * pieces, 0}
	s := f.solver()
	u := make([]float64, s.Freedoms())
	s.Displacement(&Port{4: cantileverTorque, 10: cantileverTorque}, u)
	if got := f.motion(s, u, 2*pieces)[4]; math.Abs(got-cantileverEnd) > 0.51e-6 {
		t.Errorf("end twist %.7f rad, closed form %.6f", got, cantileverEnd)
	}
	for i := range pieces + 1 {
		if i < pieces {
			rate := u[s.warp[f.bodies[pieces+i]]]
			if got := cantileverGJ * rate / cantileverTorque; math.Abs(got-torque[i]) > 0.6e-3 {
				t.Errorf("x/L %.1f: St Venant torque %.4f kN·m, printed %.3f", float64(i)/pieces, got, torque[i])
			}
			got := warpingLoad(s, pieces+i, 0, u) / 1e9
			if math.Abs(math.Abs(got)-bimoment[i]) > 0.6e-4*1.2764/0.7 {
				t.Errorf("x/L %.1f: bimoment %.5f kN·m², printed %.4f", float64(i)/pieces, got, bimoment[i])
			}
		}
	}
}

// warpingLoad is the load that an element puts on the warping freedom at its
// end (0 from, 1 to) under u: a bimoment in N·mm².
func warpingLoad(s *Solver, e, end int, u []float64) float64 {
	var load, strain [maxLines]float64
	s.LineLoads(e, u, &load, &strain)
	sum := 0.0
	for l := range s.LineCount(e) {
		sum += load[l] * s.lines[e].Warp[l][end]
	}
	return sum
}

// twistRate is the rate of the twist line of a beam 1000 mm long with
// G·J/L = 1 and the given length over a = √(E·Iw/(G·J)).
func twistRate(t *testing.T, slender, second float64, ends ...Warping) float64 {
	const length, torsion = 1000.0, 2.6e3 / 210000
	a := length / slender
	constant := a * a * torsion / 2.6
	f := newStructure(t, vec{0, length, 0})
	f.beam(f.ground(vec{}), 0, values{"area": 1e3, "inertia_forward": 1e6, "inertia_up": 1e6, "torsion_constant": torsion,
		"warping_constant": constant, "second_warping_constant": second * constant}, ends...)
	return 1 / f.solver().Compliance()[4*Ports+4]
}

// Stiffening by held ends, rate·L/(G·J) against L/a: 1/(1 − 2·tanh(t/2)/t) with
// both held, 1/(1 − tanh(t)/t) with one (Vlasov, Thin-Walled Elastic Beams,
// 1961), evaluated to eight digits.
func TestStiffeningByHeldWarping(t *testing.T) {
	const digits = 0.51e-6
	both := map[float64]float64{0.5: 49.199644, 1: 13.198587, 2: 4.194528}
	one := map[float64]float64{0.5: 13.198587, 1: 4.194528, 2: 1.930553, 4: 1.333035, 8: 1.142857}
	for slender, want := range both {
		if got := twistRate(t, slender, 0, Primary, Primary); math.Abs(got-want) > digits {
			t.Errorf("both ends held, L/a %g: %.7f, want %.6f", slender, got, want)
		}
	}
	for slender, want := range one {
		for _, ends := range [][]Warping{{Primary, Free}, {Free, Primary}} {
			if got := twistRate(t, slender, 0, ends...); math.Abs(got-want) > digits {
				t.Errorf("one end held, L/a %g: %.7f, want %.6f", slender, got, want)
			}
		}
	}
	if got := twistRate(t, 3, 0, Free, Free); !near(got, 1, closedForm, 1) {
		t.Errorf("free ends: %.15g, want 1", got)
	}
	// a needle: a is so small that the ends lose nothing, and nothing overflows
	if got := twistRate(t, 1e6, 0, Primary, Primary); !near(got, 1/(1-2e-6), 1e-9, 1) {
		t.Errorf("needle: %.12g", got)
	}
}

// A built-in end holds the warping through the thickness too: the same as a
// primary end of a section whose constant is the sum. One end of each kind: see
// TestSpreadOfTwist.
func TestBuiltInEnds(t *testing.T) {
	const slender, second = 2.5, 0.4
	sum := slender / math.Sqrt(1+second)
	for _, ends := range [][2]Warping{{BuiltIn, BuiltIn}, {BuiltIn, Free}, {Free, BuiltIn}} {
		primary := ends
		for i := range primary {
			if primary[i] == BuiltIn {
				primary[i] = Primary
			}
		}
		got, want := twistRate(t, slender, second, ends[:]...), twistRate(t, sum, 0, primary[:]...)
		if !near(got, want, closedForm, want) {
			t.Errorf("%v: %.12g, want %.12g", ends, got, want)
		}
	}
}

// offCentre is a beam whose every constant matters.
var offCentre = with(testBeam, values{"ends_y": 0, "at.x": 0, "at.z": 0, "tilt": 25})

// A chain of continuous pieces is one beam, for every condition of its outer
// ends, whichever way the pieces are written: the 6×6 compliance of its free end.
func TestChainOfPiecesIsOneBeam(t *testing.T) {
	line := vec{0.2, 1, 0.1}.Unit()
	many := make([]float64, 32)
	for i := range many {
		many[i] = 1100.0 / 32
	}
	section := with(offCentre, values{"second_warping_constant": 2e7})
	for first := Free; first <= BuiltIn; first++ {
		for last := Free; last <= BuiltIn; last++ {
			ends := [2]Warping{first, last}
			whole := chainCompliance(t, section, line, ends, 1100)
			for _, cut := range [][]float64{{550, 550}, {400, 700}, {100, 300, 500, 200}, many} {
				chain := chainCompliance(t, section, line, ends, cut...)
				for i := range 36 {
					scale := math.Sqrt(whole[i/6*7] * whole[i%6*7])
					if !near(chain[i], whole[i], rounding, scale) {
						t.Errorf("ends %v, %d pieces: C[%d][%d] = %.12g, one beam %.12g", ends, len(cut), i/6, i%6, chain[i], whole[i])
					}
				}
			}
		}
	}
}

// chainCompliance is the compliance at the end of a chain of pieces held at its start.
func chainCompliance(t *testing.T, section values, line vec, ends [2]Warping, lengths ...float64) (c [36]float64) {
	f := newStructure(t)
	last := f.ground(vec{10, 20, 30})
	for i, length := range lengths {
		next := f.node(f.points[last].Add(line.Scale(length)))
		piece := [2]Warping{Continuous, Continuous}
		if i == 0 {
			piece[0] = ends[0]
		}
		if i == len(lengths)-1 {
			piece[1] = ends[1]
		}
		f.beam(last, next, section, piece[:]...)
		last = next
	}
	f.wheels = [2]int{last, last}
	all := f.solver().Compliance()
	for i := range 36 {
		c[i] = all[i/6*Ports+i%6]
	}
	return c
}

// The cross-member written as a left half with its mirror image, both
// continuous at a part in the middle, is the cross-member written once; so is a
// half that runs from the middle outward, whose section is then seen from behind
// (forward, axis from end to start and up are right-handed).
func TestMirroredHalvesAreOneCrossMember(t *testing.T) {
	whole := twistBeam(t)
	whole.Elements[len(whole.Elements)-1].Choice.Ends = [2]Warping{Primary, Primary}
	want := newSolver(t, whole).Compliance()
	section := with(testBeam, values{"ends_y": 0})
	at := vec{testBeam["at.x"], 0, testBeam["at.z"]}
	inward := with(with(section, point("start", at.Add(vec{0, testBeam["ends_y"], 0}))), point("end", at))
	outward := with(with(section, point("start", at)), point("end", at.Add(vec{0, testBeam["ends_y"], 0})))
	for _, name := range []string{"inertia_mixed", "shear_mixed", "centroid.f", "shear_centre.f"} {
		outward[name] = -section[name]
	}
	for _, right := range []struct {
		name     string
		from, to int
		values   values
	}{{"mirror image", 1, 2, inward}, {"mirror image from the middle", 2, 1, outward}} {
		axle := twistBeam(t)
		axle.Bodies = append(axle.Bodies, Body{Name: "joint"})
		halves := []Element{
			element(t, Beam, "half", Left, 0, 2, inward),
			element(t, Beam, "half", Right, right.from, right.to, right.values),
		}
		halves[0].Choice.Ends = [2]Warping{Primary, Continuous}
		halves[1].Choice.Ends = [2]Warping{Primary, Continuous}
		if right.from == 2 {
			halves[1].Choice.Ends = [2]Warping{Continuous, Primary}
		}
		axle.Elements = append(axle.Elements[:len(axle.Elements)-1], halves...)
		got := newSolver(t, axle).Compliance()
		for i := range want {
			scale := math.Sqrt(want[i/Ports*(Ports+1)] * want[i%Ports*(Ports+1)])
			if !near(got[i], want[i], rounding, scale) {
				t.Fatalf("%s: C[%d][%d] = %.9g, one beam %.9g", right.name, i/Ports, i%Ports, got[i], want[i])
			}
		}
	}
}

// A continuous end needs a partner on its body, and a section that warps.
func TestContinuousEndsRefused(t *testing.T) {
	lone := newStructure(t, vec{0, 500, 0}, vec{0, 1000, 0})
	lone.beam(lone.ground(vec{}), 0, offCentre, Primary, Continuous)
	lone.beam(0, 1, offCentre, Free, Free)
	vehicle := newStructure(t, vec{0, 500, 0}, vec{0, 1000, 0})
	vehicle.beam(vehicle.ground(vec{}), 0, offCentre, Continuous, Continuous)
	vehicle.beam(0, 1, offCentre, Continuous, Free)
	rigid := newStructure(t, vec{0, 500, 0}, vec{0, 1000, 0})
	flat := with(offCentre, values{"warping_constant": 0})
	rigid.beam(rigid.ground(vec{}), 0, flat, Primary, Continuous)
	rigid.beam(0, 1, flat, Continuous, Free)
	fork := newStructure(t, vec{0, 500, 0}, vec{0, 1000, 0}, vec{0, 1000, 300})
	fork.beam(fork.ground(vec{}), 0, offCentre, Primary, Continuous)
	fork.beam(0, 1, offCentre, Continuous, Free)
	fork.beam(0, 2, offCentre, Continuous, Free)
	for name, c := range map[string]struct {
		*structure
		says string
		ends int
	}{
		"alone": {lone, "no other beam goes on", 1}, "on the vehicle": {vehicle, "on the vehicle", 1}, "a fork": {fork, "one of 3", 3},
		"without a warping constant": {rigid, "warping constant", 0},
	} {
		for i := range c.axle.Wheels {
			c.axle.Wheels[i] = wheelOn(t, 0, testWheel)
		}
		if _, err := NewSolver(&c.axle); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want one that says %q", name, err, c.says)
		}
		if broken := c.axle.BrokenChains(); len(broken) != c.ends {
			t.Errorf("%s: %d broken ends, want %d", name, len(broken), c.ends)
		}
	}
}
