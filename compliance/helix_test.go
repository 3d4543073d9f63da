package compliance

import (
	"math"
	"testing"

	"bushtune/bushing/exact"
)

// rod is an inextensible rod along −y, from +half to −half, with the material
// curvature κ₀ + s·κ₁ and even twist; its frame is integrated in small turns.
type rod struct {
	half         float64 // mm
	kappa, slope vec     // 1/mm and 1/mm², square to the rod
	twist        float64 // 1/mm
}

// end is the pose of the body at s = ±half.
func (r *rod) end(sign float64) pose[float64] {
	const steps = 4000
	along := vec{0, -1, 0}
	frame, place := exact.Mat3[float64]{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, vec{}
	ds := sign * r.half / steps
	for i := range steps {
		s := (float64(i) + 0.5) * ds
		omega := r.kappa.Add(r.slope.Scale(s)).Add(along.Scale(r.twist))
		middle := frame.Mul(turnOf(omega.Scale(ds / 2)))
		place = place.Add(middle.Apply(along).Scale(ds))
		frame = frame.Mul(turnOf(omega.Scale(ds)))
	}
	return pose[float64]{turn: frame, shift: place.Sub(frame.Apply(along.Scale(sign * r.half)))}
}

// A rod that is bent, sheared and twisted at once (Kirchhoff; Love, Treatise on
// the mathematical theory of elasticity) stores ½∫(E·I·κ² + G·J·τ²). The beam's
// strains are right to second order, so its energy at the rod's ends is off by
// the fourth power of the amplitude; without winding by the third.
func TestWindingAgainstIntegratedRod(t *testing.T) {
	const half, young, amplitude = 500.0, 2.1e5, 0.02
	slots := make([]float64, beamSlots)
	slots[3], slots[10], slots[11], slots[12] = half, 0.4, young, 0.3
	section := Section[float64]{Area: 1000, Forward: 2e6, Up: 7e5, Mixed: 3e5, Torsion: 5e5}
	s := &Solver{lines: make([]Lines[float64], 1), preload: make([][maxLines]float64, 1)}
	lines := &s.lines[0]
	beamLines(&Element{}, slots, &section, vec{}, lines)
	whole := lines.Anchor.winding
	for name, c := range map[string]struct {
		winding winding[float64]
		power   float64
	}{
		"whole":    {whole, 4},
		"none":     {winding[float64]{}, 3},
		"no coil":  {winding[float64]{Slew: whole.Slew, Wring: whole.Wring}, 3},
		"no slew":  {winding[float64]{Coil: whole.Coil, Wring: whole.Wring}, 3},
		"no wring": {winding[float64]{Coil: whole.Coil, Slew: whole.Slew}, 3},
	} {
		lines.Anchor.winding = c.winding
		big, small := rodMiss(s, half, amplitude), rodMiss(s, half, amplitude/2)
		if power := math.Log2(big / small); math.Abs(power-c.power) > 0.2 {
			t.Errorf("%s: energy off by %g, at half the amplitude by %g: power %.2f of the amplitude, want %g", name, big, small, power, c.power)
		}
	}
}

// rodMiss is by how much the energy of a beam misses that of a rod, in N·mm.
func rodMiss(s *Solver, half, amplitude float64) float64 {
	length, along := 2*half, vec{0, -1, 0}
	r := rod{half: half, kappa: vec{0.7, 0, -0.9}.Scale(amplitude / length),
		slope: vec{0.8, 0, 0.5}.Scale(amplitude * 12 / (length * length)), twist: amplitude / length}
	at := ends{from: r.end(-1), to: r.end(1)}
	lines := &s.lines[0]
	arm := armsOf(lines)
	offset := r.slope.Cross(along).Scale(-length * length * length / 12)
	want := 0.5 * lines.Rate[twistLine] * amplitude * amplitude
	for n := range 2 {
		shear, bending := arm.force[shearLine+n].Dot(offset), arm.moment[bendingLine+n].Dot(r.kappa.Scale(length))
		want += 0.5 * (lines.Rate[shearLine+n]*shear*shear + lines.Rate[bendingLine+n]*bending*bending)
	}
	return math.Abs(storedEnergy(s, 0, &at) - want)
}
