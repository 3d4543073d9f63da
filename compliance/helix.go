package compliance

import "bushtune/bushing/exact"

// Strains of the second order of a beam: what bending, shear, twist and tension
// do to each other. They are all that the loads at rest of a beam work on besides
// its rigid kinematics (levers.go), and they let one beam stand for a chain of
// short ones at finite movements.
//
// A beam is a rod whose reference line joins the shear centres of its sections
// (Simo & Vu-Quoc, Int. J. Solids Structures 27, 1991: from memory; the algebra
// is this project's). Along it, x from −L/2 at From to L/2 at To, its frame turns
// by the curvature k₀ + x·k₁ and the rate of twist τ(x), while it stretches by ε
// and slides by γ. Vectors across the beam are (f, u), J = (−u, f), and a
// curvature k bends it towards k: the rotation of the frame is k×axis. With the
// angle ϑ(x) against the mean of both ends and mₙ = ∫xⁿϑdx, the Magnus series of
// the frame (Iserles et al., Acta Numerica 9, 2000: from memory) gives, to second
// order, how the strains b = L·k₀, σ = L³/12·k₁ + L·γ = σ_b + L·γ, φ = ∫τdx and
// L·ε follow from the displacement and rotation that the lines measure, marked *,
// in axes half way between both ends:
//
//	b   = b* − J(k₀·m₀ + k₁·m₁)
//	σ   = σ* − J(k₀·m₁ + k₁·m₂) − m₀·Jγ − ε·σ_b
//	φ   = φ* − (b × σ_b)/L
//	L·ε = L·ε* + (σ·σ_b − 0.4·σ_b²)/L − b²·L/12
//
// The last line is the bowing of a beam under tension (6/5L and L/12 per newton,
// Przemieniecki 1968, ch. 15), less the L/4 that the rigid halves draw apart at
// their tips. The axial line is that of the centroid, δ from the shear centre:
// L·ε + δ·b. Twist makes the fibres helices, which strain by ½τ²r² at the distance
// r from the shear centre (Wagner): in the mean by ½τ²·Ip/A, in bending by
// ½τ²·Monosymmetry, so that
//
//	axial gains ½·Ip/A·P₀      b gains ½β·P₀      σ gains ½β·P₁      Pₙ = ∫xⁿτ²dx
//
// and what is left of r² over the section, R, costs ⅛·E·R·P₀²/L: as if twist
// were even, towards which this very stiffening drives it. A moment M at
// rest so changes the rigidity of twist by M·β, which no cut can bring about;
// the terms before follow from cutting the beam into short ones. Left out: the
// work of a bimoment on ½τ²r², nothing for a section with a line of symmetry.
type helix[T exact.Number] struct {
	length  T
	section *Section[T]
	twist   *twistSpread[T]
	shear   [2]principalLine[T] // their rates are those of the lines
	bending [2]principalLine[T]
	bent    tensor[T] // mm/N: L³/12·(E·I)⁻¹
}

// lines of a beam
const (
	shearLine   = 1
	bendingLine = 3
	twistLine   = 5
	// maxTwist is the largest number of lines of twist and warping, maxSecond of
	// terms of the second order that a beam with as many has.
	maxTwist  = 3
	maxSecond = 112
)

// across is a vector across the beam.
type across[T exact.Number] struct{ forward, up T }

func (a across[T]) dot(b across[T]) T { return a.forward*b.forward + a.up*b.up }

// turned is J·a.
func (a across[T]) turned() across[T] { return across[T]{-a.up, a.forward} }

// cross is a × b about the beam, from From to To.
func (a across[T]) cross(b across[T]) T { return a.forward*b.up - a.up*b.forward }

func (a across[T]) less(b across[T]) across[T] {
	return across[T]{a.forward - b.forward, a.up - b.up}
}

// duals are the vectors that belong to unit strains of two lines: strain a of
// the first and b of the second is the vector a·duals[0] + b·duals[1].
func duals[T exact.Number](lines *[2]principalLine[T]) [2]across[T] {
	p, q := &lines[0], &lines[1]
	by := 1 / (p.forward*q.up - p.up*q.forward)
	return [2]across[T]{{by * q.up, -by * q.forward}, {-by * p.up, by * p.forward}}
}

// write sets the terms. The second order of a line along d is d times that of its
// vector.
func (h *helix[T]) write(young T, out *Lines[T]) {
	c := h.section
	slid, bow := duals(&h.shear), duals(&h.bending)
	var sway [2]across[T] // σ_b of each shear line
	for i, p := range h.shear {
		f, u := p.rate*p.forward, p.rate*p.up
		sway[i] = across[T]{h.bent.a*f + h.bent.b*u, h.bent.b*f + h.bent.c*u}
	}
	offset := across[T]{c.Centroid[0] - c.ShearCentre[0], c.Centroid[1] - c.ShearCentre[1]}
	skew := across[T]{c.Monosymmetry[0], c.Monosymmetry[1]}
	polar := (c.Forward+c.Up)/c.Area + offset.dot(offset)

	h.bend(0, offset, &sway, &bow, out)
	h.stretch(&slid, &sway, &bow, out)
	h.square(0, polar/2, &h.twist.square[0], out)
	for i := range 2 {
		d := across[T]{h.shear[i].forward, h.shear[i].up}
		h.slide(shearLine+i, d, offset, &slid, &sway, &bow, out)
		h.square(shearLine+i, d.dot(skew)/2, &h.twist.square[1], out)
		d = across[T]{h.bending[i].forward, h.bending[i].up}
		h.bend(bendingLine+i, d, &sway, &bow, out)
		h.square(bendingLine+i, d.dot(skew)/2, &h.twist.square[0], out)
		for j := range 2 {
			out.second(twistLine, shearLine+i, bendingLine+j, -bow[j].cross(sway[i])/h.length)
		}
	}
	left := c.Wagner - (c.Forward*skew.forward*skew.forward + 2*c.Mixed*skew.forward*skew.up + c.Up*skew.up*skew.up)
	out.Helix = young * left / (4 * h.length)
	for t := range h.twist.count {
		for s := t; s < h.twist.count; s++ {
			out.Wound = append(out.Wound, secondOrder[T]{0, twistLine + t, twistLine + s, squareTerm(&h.twist.square[0], t, s)})
		}
	}
}

// squareTerm is the factor of e_t·e_s in a form.
func squareTerm[T exact.Number](form *[maxTwist][maxTwist]T, t, s int) T {
	if t == s {
		return form[t][t]
	}
	return form[t][s] + form[s][t]
}

// second appends a term.
func (l *Lines[T]) second(line, a, b int, by T) {
	l.Second = append(l.Second, secondOrder[T]{line, a, b, by})
}

// stretch is (σ·σ_b − 0.4·σ_b²)/L − b²·L/12 in the axial line.
func (h *helix[T]) stretch(slid, sway, bow *[2]across[T], out *Lines[T]) {
	for i := range 2 {
		for j := i; j < 2; j++ {
			s := (slid[i].dot(sway[j]) + slid[j].dot(sway[i]) - 0.8*sway[i].dot(sway[j])) / h.length
			b := -bow[i].dot(bow[j]) * h.length / 6
			if i == j {
				s, b = s/2, b/2
			}
			out.second(0, shearLine+i, shearLine+j, s)
			out.second(0, bendingLine+i, bendingLine+j, b)
		}
	}
}

// bend is −J(k₀·m₀ + k₁·m₁) along d.
func (h *helix[T]) bend(line int, d across[T], sway, bow *[2]across[T], out *Lines[T]) {
	perCube := 12 / (h.length * h.length * h.length)
	for t := range h.twist.count {
		for j := range 2 {
			out.second(line, twistLine+t, bendingLine+j, -h.twist.moment[0][t]*d.dot(bow[j].turned())/h.length)
			out.second(line, twistLine+t, shearLine+j, -h.twist.moment[1][t]*d.dot(sway[j].turned())*perCube)
		}
	}
}

// slide is −J(k₀·m₁ + k₁·m₂) − m₀·Jγ − ε·σ_b along d.
func (h *helix[T]) slide(line int, d, offset across[T], slid, sway, bow *[2]across[T], out *Lines[T]) {
	perCube := 12 / (h.length * h.length * h.length)
	for t := range h.twist.count {
		for j := range 2 {
			shear := slid[j].less(sway[j]).turned()
			out.second(line, twistLine+t, bendingLine+j, -h.twist.moment[1][t]*d.dot(bow[j].turned())/h.length)
			out.second(line, twistLine+t, shearLine+j, -h.twist.moment[2][t]*d.dot(sway[j].turned())*perCube-h.twist.moment[0][t]*d.dot(shear)/h.length)
		}
	}
	for j := range 2 {
		out.second(line, 0, shearLine+j, -d.dot(sway[j])/h.length)
		for i := range 2 {
			out.second(line, bendingLine+i, shearLine+j, offset.dot(bow[i])*d.dot(sway[j])/h.length)
		}
	}
}

// square is by·τ² summed with the weights of a form.
func (h *helix[T]) square(line int, by T, form *[maxTwist][maxTwist]T, out *Lines[T]) {
	for t := range h.twist.count {
		for s := t; s < h.twist.count; s++ {
			out.second(line, twistLine+t, twistLine+s, by*squareTerm(form, t, s))
		}
	}
}
