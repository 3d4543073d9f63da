package compliance

import "bushtune/bushing/exact"

// winding is what finite twist φ does to a beam, in strains of its lines: shear 1
// and 2, bending 3 and 4, twist 5.
//
// A rod whose material curvature is κ₀ + x·κ₁ and whose twist is even is near a
// helix. To second order, with the rotation of bending b = κ₀·L and the offset σ
// that κ₁ makes, the ends turn against each other by b + (φ/L)·σ across the beam
// and φ − b·σ/L about it, and are set off by σ − (L/12)·φ·b (Magnus series of the
// frame, Lie-group methods: Iserles et al., Acta Numerica 9, 2000: from memory;
// the algebra is this project's). And the fibres are helices of strain ½φ'²r²
// (Wagner).
type winding[T exact.Number] struct {
	Helix T       // N·mm per rad³: what of the fibres' strain no bending can undo
	Curl  [2]T    // what of it is linear over the section: bending strain is e + ½·curl·φ²
	Coil  [2][2]T // shear strain is e + φ·(coil · strains of bending)
	Slew  [2][2]T // bending strain is e − φ·(slew · strains of shear)
	Wring [2][2]T // twist strain is e + Σ strain of shear·(wring · strains of bending)
}

// lines of a beam
const (
	shearLine   = 1
	bendingLine = 3
	twistLine   = 5
)

// windings sets what follows from the directions of the lines; bent is the part of
// bending in the flexibility of the shear lines, L³/12·(E·I)⁻¹.
func (b *beamAxis[T]) windings(out *Lines[T], shear, bending *[2]principalLine[T], bent tensor[T]) {
	w := &out.Anchor.winding
	for l, d := range shear {
		pull := out.Rate[shearLine+l] / b.length
		f, u := bent.a*d.forward+bent.b*d.up, bent.b*d.forward+bent.c*d.up // mm per newton along d
		w.Coil[l] = split(bending, d.forward*b.length/12, d.up*b.length/12)
		w.Wring[l] = split(bending, f*pull, u*pull)
		for n, m := range bending {
			w.Slew[n][l] = (m.up*f - m.forward*u) * pull
		}
	}
}

// split writes a direction (f, u) as a sum of the directions about which the two
// bending lines turn: that of a line (f, u) points along (u, −f), being the beam's
// axis times it.
func split[T exact.Number](bending *[2]principalLine[T], f, u T) [2]T {
	p, q := &bending[0], &bending[1]
	by := 1 / (p.forward*q.up - p.up*q.forward)
	return [2]T{-by * (f*q.forward + u*q.up), by * (f*p.forward + u*p.up)}
}

// fibres sets what the helix strain does: see section.Constants. spread is
// L·∫φ'²dx/φ².
func (b *beamAxis[T]) fibres(anchor *Anchor[T], bending *[2]principalLine[T], c *Section[T], young, spread T) {
	f, u := c.Monosymmetry[0], c.Monosymmetry[1]
	for i, line := range bending {
		anchor.Curl[i] = (line.forward*f + line.up*u) * spread / b.length
	}
	left := c.Wagner - (c.Forward*f*f + 2*c.Mixed*f*u + c.Up*u*u)
	anchor.Helix = young * left * spread * spread / (2 * b.length * b.length * b.length)
}

// wind adds finite twist to the loads of a beam. Loads at rest do not work on it:
// the linear model leaves that out as well.
func (s *lineState[T]) wind(lines *Lines[T], rest *[maxLines]T) {
	w, e, twist := &lines.Anchor.winding, &s.strain, s.strain[twistLine]
	var lean, slew, load [maxLines]T // slopes of the strains by twist; loads on top of those at rest
	var wring T
	for n := range 2 {
		lean[n] = w.Coil[n][0]*e[bendingLine] + w.Coil[n][1]*e[bendingLine+1]
		slew[n] = w.Curl[n]*twist - w.Slew[n][0]*e[shearLine] - w.Slew[n][1]*e[shearLine+1]
		wring += e[shearLine+n] * (w.Wring[n][0]*e[bendingLine] + w.Wring[n][1]*e[bendingLine+1])
	}
	for n := range 2 {
		s.load[shearLine+n] += lines.Rate[shearLine+n] * lean[n] * twist
		s.load[bendingLine+n] += lines.Rate[bendingLine+n] * (slew[n] - 0.5*w.Curl[n]*twist) * twist
	}
	s.load[twistLine] += lines.Rate[twistLine] * wring
	for l := shearLine; l <= twistLine; l++ {
		load[l] = s.load[l] - rest[l]
	}
	s.load[twistLine] += w.Helix * twist * twist * twist
	for n := range 2 {
		shear, bending := load[shearLine+n], load[bendingLine+n]
		s.load[twistLine] += shear*lean[n] + bending*slew[n]
		s.load[shearLine+n] += load[twistLine] * (w.Wring[n][0]*e[bendingLine] + w.Wring[n][1]*e[bendingLine+1])
		for k := range 2 {
			s.load[bendingLine+k] += shear*twist*w.Coil[n][k] + load[twistLine]*e[shearLine+n]*w.Wring[n][k]
			s.load[shearLine+k] -= bending * twist * w.Slew[n][k]
		}
	}
}

// liftWinding turns a winding of plain numbers into one without derivatives.
func liftWinding(a *winding[float64]) (b winding[complex128]) {
	b.Helix = complex(a.Helix, 0)
	for n := range 2 {
		b.Curl[n] = complex(a.Curl[n], 0)
		for k := range 2 {
			b.Coil[n][k], b.Slew[n][k], b.Wring[n][k] = complex(a.Coil[n][k], 0), complex(a.Slew[n][k], 0), complex(a.Wring[n][k], 0)
		}
	}
	return b
}
