package compliance

import (
	"math"
	"testing"

	"bushtune/bushing/exact"
)

// rod is a rod along −y, from +half to −half, with the material curvature
// κ₀ + s·κ₁, stretch and slide, and a rate of twist that is a function of s; its
// frame is integrated in small turns.
type rod struct {
	half         float64                 // mm
	kappa, slope vec                     // 1/mm and 1/mm², square to the rod
	slide        vec                     // γ + ε·along
	twist        func(s float64) float64 // 1/mm
	foot         vec                     // of the rod at s = 0
}

// rodAxis is the direction of the rod.
var rodAxis = vec{0, -1, 0}

// end is the pose of the body at s = ±half; its point at the axle's centre.
func (r *rod) end(sign float64) pose[float64] {
	const steps = 4000
	frame, place := exact.Mat3[float64]{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, vec{}
	ds := sign * r.half / steps
	for i := range steps {
		s := (float64(i) + 0.5) * ds
		omega := r.kappa.Add(r.slope.Scale(s)).Add(rodAxis.Scale(r.twist(s)))
		middle := frame.Mul(turnOf(omega.Scale(ds / 2)))
		place = place.Add(middle.Apply(rodAxis.Add(r.slide)).Scale(ds))
		frame = frame.Mul(turnOf(omega.Scale(ds)))
	}
	at := r.foot.Add(rodAxis.Scale(sign * r.half))
	return pose[float64]{turn: frame, shift: r.foot.Add(place).Sub(frame.Apply(at))}
}

// windingCase is a beam to be held against a rod.
type windingCase struct {
	ends    [2]Warping
	section Section[float64]
}

// windingCases have every end condition, a piece of a chain and one whose warping
// constant changes on the way.
func windingCases() map[string]windingCase {
	section := Section[float64]{Area: 1000, Forward: 2e6, Up: 7e5, Mixed: 3e5, Torsion: 2e5, ShearForward: 1 / 300.0, ShearUp: 1 / 500.0, ShearMixed: 2e-4,
		Warping: 2e8, SecondWarping: 3e8, Centroid: [2]float64{5, 12}, ShearCentre: [2]float64{-20, 40}}
	return map[string]windingCase{
		"free": {[2]Warping{Free, Free}, section}, "held": {[2]Warping{Primary, Primary}, section},
		"one end": {[2]Warping{Free, Primary}, section}, "other end": {[2]Warping{BuiltIn, Free}, section},
		"unlike": {[2]Warping{BuiltIn, Primary}, section}, "piece": {[2]Warping{Continuous, Continuous}, section},
		"last piece": {[2]Warping{Continuous, BuiltIn}, section},
	}
}

// A rod that is bent, sheared, stretched and twisted at once (Simo & Vu-Quoc's
// strains; Love, Treatise on the mathematical theory of elasticity, without
// shear) stores ½∫(E·I·κ² + G·As·γ² + EA·ε² + G·J·τ² + E·Iw·τ'²), with the rate of
// twist of Vlasov's solution. The beam's strains are right to second order, so its
// energy at the rod's ends is off by the fourth power of the amplitude; without
// the strains of the second order, or without those of one line, by the third.
func TestSecondOrderAgainstIntegratedRod(t *testing.T) {
	const amplitude = 0.004
	for name, c := range windingCases() {
		s := windingSolver(c)
		whole := s.lines[0].Second
		for line := -2; line <= twistLine; line++ {
			s.lines[0].Second = nil
			for _, term := range whole {
				if line != term.line && line != -1 {
					s.lines[0].Second = append(s.lines[0].Second, term)
				}
			}
			want := 3.0
			if line == -2 {
				want = 4
			}
			big, small := rodMiss(s, c, amplitude), rodMiss(s, c, amplitude/2)
			if power := math.Log2(big / small); math.Abs(power-want) > 0.3 {
				t.Errorf("%s, without line %d: energy off by %g, at half the amplitude by %g: power %.2f of the amplitude, want %g", name, line, big, small, power, want)
			}
		}
	}
}

// How the twist spreads, and what it takes, against finite differences of the
// equation of Vlasov: for twist, and where warping passes on for the rates at the
// ends too.
func TestSpreadOfTwist(t *testing.T) {
	const digits = 2e-6 // of 4000 cells
	for name, c := range windingCases() {
		for _, state := range [][3]float64{{0.3, 0, 0}, {0.3, 4e-4, 0}, {-0.1, 3e-4, -7e-4}} {
			for end, w := range c.ends {
				if w != Continuous {
					state[1+end] = 0
				}
			}
			var lines Lines[float64]
			e := windingElement(c)
			gj := rodYoung / 2.6 * c.section.Torsion
			w := twistLines(&e, vec{0, 1, 0}, 2*rodHalf, gj, rodYoung, &c.section, &lines)
			var strain [maxTwist]float64
			energy := 0.0
			for l := range lines.Count {
				strain[l] = -lines.Wrench[l][4]*state[0] + lines.Warp[l][0]*state[1] + lines.Warp[l][1]*state[2]
				energy += 0.5 * lines.Rate[l] * strain[l] * strain[l]
			}
			rates, want := vlasovRate(c, state[0], state[1], state[2])
			compareSpread(t, name, &w, &strain, rates, digits)
			if !near(energy, want, digits, want) {
				t.Errorf("%s %v: twist stores %.9g N·mm, finite differences %.9g", name, state, energy, want)
			}
		}
	}
}

// compareSpread integrates over the rates of twist at places along the beam.
func compareSpread(t *testing.T, name string, w *twistSpread[float64], strain *[maxTwist]float64, rates []float64, digits float64) {
	t.Helper()
	cells := len(rates) - 1
	ds := 2 * rodHalf / float64(cells)
	whole := 0.0
	for i := range cells {
		whole += ds * (rates[i] + rates[i+1]) / 2
	}
	var want, got [5]float64 // ∫ϑ, ∫xϑ, ∫x²ϑ, ∫τ², ∫xτ²
	angle := -whole / 2
	for i := range cells {
		x, rate := -rodHalf+(float64(i)+0.5)*ds, (rates[i]+rates[i+1])/2
		middle := angle + ds*(3*rates[i]+rates[i+1])/8
		angle += ds * rate
		for n, v := range [5]float64{middle, x * middle, x * x * middle, rate * rate, x * rate * rate} {
			want[n] += ds * v
		}
	}
	for a, e := range strain {
		for n := range 3 {
			got[n] += w.moment[n][a] * e
		}
		for b, f := range strain {
			got[3] += w.square[0][a][b] * e * f
			got[4] += w.square[1][a][b] * e * f
		}
	}
	rate := math.Sqrt(want[3] / (2 * rodHalf))
	for n, size := range [5]float64{rate * rodHalf * rodHalf, rate * math.Pow(rodHalf, 3), rate * math.Pow(rodHalf, 4), want[3], want[3] * rodHalf} {
		if !near(got[n], want[n], digits, size) {
			t.Errorf("%s: integral %d of the twist is %.9g, finite differences %.9g", name, n, got[n], want[n])
		}
	}
}

const (
	rodHalf  = 500.0
	rodYoung = 2.1e5
)

func windingSolver(c windingCase) *Solver {
	slots := make([]float64, beamSlots)
	slots[3], slots[10], slots[11], slots[12] = rodHalf, 0.4, rodYoung, 0.3
	s := &Solver{lines: make([]Lines[float64], 1), preload: make([][maxLines]float64, 1)}
	e := windingElement(c)
	beamLines(&e, slots, &c.section, vec{}, &s.lines[0])
	return s
}

// windingElement is a beam; a piece lies between a primary and a built-in end,
// the first nearer to two fifths of it.
func windingElement(c windingCase) Element {
	e := Element{Kind: Beam, Choice: Choice{Ends: c.ends}}
	e.outer = outerEnds{ends: [2]Warping{Primary, BuiltIn}, share: 0.4}
	return e
}

// vlasovRate is the rate of twist of a beam with unit twist and rates from and to
// at its ends where those pass on, by finite differences of G·J·τ − (E·Iw·τ')' =
// const: τ at 2·cells + 1 places, and the energy that it stores.
func vlasovRate(c windingCase, twist, from, to float64) (rates []float64, energy float64) {
	const cells = 4000
	gj, ds := rodYoung/2.6*c.section.Torsion, 2*rodHalf/cells
	constant := func(i int) float64 { // of the cell
		near := c.ends
		change := cells / 2
		if c.ends[0] == Continuous || c.ends[1] == Continuous {
			near, change = [2]Warping{Primary, BuiltIn}, cells*2/5
		}
		end := near[0]
		if near[0] == Free || i >= change && near[1] != Free {
			end = near[1]
		}
		if end == BuiltIn {
			return rodYoung * (c.section.Warping + c.section.SecondWarping)
		}
		return rodYoung * c.section.Warping
	}
	if c.ends == [2]Warping{} {
		constant = func(int) float64 { return 0 }
	}
	// unknown τ at the nodes for a torque; τ = particular by superposition:
	// solve K·τ = torque·weights with the end values given, twice
	solve := func(torque, first, last float64) []float64 {
		n := cells + 1
		diagonal, beside, right := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range cells {
			k := constant(i) / ds
			for _, j := range [2]int{i, i + 1} {
				diagonal[j] += k + gj*ds/3
				right[j] += torque * ds / 2
			}
			beside[i] += gj*ds/6 - k
		}
		hold := func(j int, value float64) {
			if j > 0 {
				right[j-1] -= beside[j-1] * value
				beside[j-1] = 0
			}
			if j < cells {
				right[j+1] -= beside[j] * value
				beside[j] = 0
			}
			diagonal[j], right[j] = 1, value
		}
		for end, j := range [2]int{0, cells} {
			if c.ends[end] != Free {
				hold(j, [2]float64{first, last}[end])
			}
		}
		for j := 1; j < n; j++ {
			f := beside[j-1] / diagonal[j-1]
			diagonal[j] -= f * beside[j-1]
			right[j] -= f * right[j-1]
		}
		rate := make([]float64, n)
		for j := n - 1; j >= 0; j-- {
			rate[j] = right[j]
			if j < cells {
				rate[j] -= beside[j] * rate[j+1]
			}
			rate[j] /= diagonal[j]
		}
		return rate
	}
	total := func(rate []float64) (sum float64) {
		for i := range cells {
			sum += ds * (rate[i] + rate[i+1]) / 2
		}
		return sum
	}
	given, torque := solve(0, from, to), solve(1, 0, 0)
	factor := (twist - total(given)) / total(torque)
	rates = given
	for j := range rates {
		rates[j] += factor * torque[j]
	}
	for i := range cells {
		a, b := rates[i], rates[i+1]
		energy += gj*ds*(a*a+a*b+b*b)/6 + constant(i)*(b-a)*(b-a)/(2*ds)
	}
	return rates, energy
}

// rodMiss is by how much the energy of a beam misses that of a rod, in N·mm.
func rodMiss(s *Solver, c windingCase, amplitude float64) float64 {
	length := 2 * rodHalf
	var passed [2]float64
	for end, w := range c.ends {
		if w == Continuous {
			passed[end] = amplitude / length * [2]float64{0.4, 1.7}[end]
		}
	}
	rates, torsion := vlasovRate(c, amplitude, passed[0], passed[1])
	cells := len(rates) - 1
	lines := &s.lines[0]
	slots := make([]float64, beamSlots)
	slots[3], slots[10] = rodHalf, 0.4
	b := newBeamAxis(slots, vec{})
	r := rod{half: rodHalf, kappa: vec{0.7, 0, -0.9}.Scale(amplitude / length), foot: lines.Anchor.From,
		slope: vec{0.8, 0, 0.5}.Scale(amplitude * 12 / (length * length)),
		twist: func(s float64) float64 {
			x := (s + rodHalf) / length * float64(cells)
			i := min(int(x), cells-1)
			return rates[i] + (x-float64(i))*(rates[i+1]-rates[i])
		}}
	// γ belongs to the shear force that bends by slope
	inertia := tensor[float64]{c.section.Forward, c.section.Mixed, c.section.Up}
	section := func(t tensor[float64], v vec) vec { // a tensor of the section on a vector across
		f, u := v.Dot(b.forward), v.Dot(b.up)
		return b.direction(t.a*f+t.b*u, t.b*f+t.c*u)
	}
	toward := rodAxis.Cross(r.slope) // the curvature's change toward which the rod bends: t×κ₁
	force := section(inertia.scale(rodYoung), toward)
	shear := rodYoung / 2.6
	flexible := tensor[float64]{c.section.ShearForward, c.section.ShearMixed, c.section.ShearUp}.scale(1 / shear)
	gamma := section(flexible, force)
	stretch := 0.3 * amplitude / 10
	bent := rodAxis.Cross(r.kappa)
	offset := b.direction(c.section.Centroid[0]-c.section.ShearCentre[0], c.section.Centroid[1]-c.section.ShearCentre[1])
	r.slide = gamma.Add(rodAxis.Scale(stretch - offset.Dot(bent))) // at the shear centre
	want := torsion + 0.5*rodYoung*c.section.Area*length*stretch*stretch + 0.5*length*force.Dot(gamma) +
		0.5*length*bent.Dot(section(inertia.scale(rodYoung), bent)) + 0.5*math.Pow(length, 3)/12*toward.Dot(force)
	at := ends{from: r.end(-1), to: r.end(1), warp: passed}
	whole := lines.Second
	// the helix strain of the fibres is no part of this rod
	kept := lines.Second[:0:0]
	for _, term := range lines.Second {
		if term.line == 0 && term.a >= twistLine && term.b >= twistLine {
			continue
		}
		kept = append(kept, term)
	}
	lines.Second = kept
	got := storedEnergy(s, 0, &at)
	lines.Second = whole
	return math.Abs(got - want)
}
