package compliance

import "bushtune/bushing/exact"

// Warping says what an end of a beam does to the warping of its section.
type Warping int

// The end conditions. Held at the midline is primary; a solid end plate holds
// the warping through the thickness too, built-in.
const (
	Free Warping = iota
	Primary
	BuiltIn
	Continuous // passes on to the next beam of a chain at the same body
)

// WarpingNames are the words for the end conditions in the axle file, in order.
var WarpingNames = []string{"free", "primary", "built-in", "continuous"}

// twistLines writes torsion with restrained warping. With a = √(E·Iw/(G·J)) and
// t = L/a the stiffness on (twist, twist rate at from, twist rate at to) is that
// of the exact solution φ = c0 + c1·x + c2·sinh(x/a) + c3·cosh(x/a) (Vlasov,
// Thin-Walled Elastic Beams, 1961; SCI P385, Design of Steel Beams in Torsion,
// 2011). gj = G·J in N·mm². A piece of a chain with a built-in end counts the
// warping through the thickness over its whole length: its effect fades within
// the length a from that end.
func twistLines[T exact.Number](ends [2]Warping, axis exact.Vec[T], length, gj, young T, c *Section[T], out *Lines[T]) {
	toward := axis.Scale(-1)
	if ends[0] != Continuous && ends[1] != Continuous {
		out.add(gj/twistLength(ends, length, gj, young, c), exact.Moment(toward))
		return
	}
	constant := c.Warping
	if ends[0] == BuiltIn || ends[1] == BuiltIn {
		constant += c.SecondWarping
	}
	a := exact.Sqrt(young * constant / gj)
	k := warpingStiffness(gj, a, length/a)
	order := []int{0}
	for end, w := range ends {
		switch w {
		case Free:
			k = condense(k, 1+end)
		case Continuous:
			order = append(order, 1+end)
		}
	}
	splitWarping(k, order, toward, out)
}

// twistLength is the length that G·J/length replaces: L less what each held end
// takes away. With both ends held the bimoment is zero at mid-span, so each half
// stands alone with the warping constant of its own end.
func twistLength[T exact.Number](ends [2]Warping, length, gj, young T, c *Section[T]) T {
	reach := length
	if ends[0] != Free && ends[1] != Free {
		reach = length / 2
	}
	lost := 0 * length
	for _, w := range ends {
		constant := c.Warping
		if w == BuiltIn {
			constant += c.SecondWarping
		}
		if w == Free || exact.Real(constant) <= 0 {
			continue
		}
		a := exact.Sqrt(young * constant / gj)
		lost += a * exact.Tanh(reach/a)
	}
	return length - lost
}

// twistSpread is L·∫φ'²dx/φ², one for even twist and at most 6/5: held ends keep
// the twist to the middle. It follows from the solution of twistLines, with
// φ' ∝ 1 − cosh(x/a)/cosh(r/a) over the reach r of each held end. A piece of a
// chain counts as evenly twisted.
func twistSpread[T exact.Number](ends [2]Warping, length, gj, young T, c *Section[T]) T {
	reach := length
	if ends[0] != Free && ends[1] != Free {
		reach = length / 2
	}
	first, square := length, length // ∫φ'dx and ∫φ'²dx
	for _, w := range ends {
		constant := c.Warping
		if w == BuiltIn {
			constant += c.SecondWarping
		}
		if w == Continuous {
			return length / length
		}
		if w == Free || exact.Real(constant) <= 0 {
			continue
		}
		f, s := heldTwist(reach / exact.Sqrt(young*constant/gj))
		first -= reach * (1 - f)
		square -= reach * (1 - s)
	}
	return length * square / (first * first)
}

// heldTwist are the means of 1 − cosh(x·ξ)/cosh(x) and of its square over ξ from
// 0 to 1.
func heldTwist[T exact.Number](x T) (first, square T) {
	const small = 0.03 // below, the closed form cancels
	if exact.Real(x) < small {
		x2 := x * x
		return x2 / 3 * (1 - x2*2/5), 2 * x2 * x2 / 15 * (1 - x2*17/21)
	}
	h := exact.Tanh(x)
	return 1 - h/x, 0.5 * (3 - h*h - 3*h/x)
}

// warpingStiffness is the symmetric 3×3 on (twist, twist rate at from, twist
// rate at to). With h = tanh(t/2), free of cancellation and overflow:
// k11 = G·J/(a·(t−2h)), k12 = −G·J·h/(t−2h), k22 ± k23 = G·J·a·(t·h/(t−2h), 1/h).
func warpingStiffness[T exact.Number](gj, a, t T) [3][3]T {
	h := exact.Tanh(t / 2)
	d := t - 2*h
	both, single := gj*a*t*h/d, gj*a/h
	k11, k12 := gj/(a*d), -gj*h/d
	k22, k23 := (both+single)/2, (both-single)/2
	return [3][3]T{{k11, k12, k12}, {k12, k22, k23}, {k12, k23, k22}}
}

// condense lets freedom i go: its load is zero.
func condense[T exact.Number](k [3][3]T, i int) [3][3]T {
	pivot := k[i]
	for r := range k {
		for c := range k {
			k[r][c] -= pivot[r] * pivot[c] / pivot[i]
		}
	}
	return k
}

// splitWarping writes one line for each freedom in order, K = L·D·Lᵀ, twist first.
// A held end's freedom is left out of order: its twist rate is zero.
func splitWarping[T exact.Number](k [3][3]T, order []int, toward exact.Vec[T], out *Lines[T]) {
	for n, i := range order {
		var u [3]T
		for _, r := range order[n:] {
			u[r] = k[r][i] / k[i][i]
		}
		line := out.add(k[i][i], exact.Moment(toward.Scale(u[0])))
		out.Warp[line] = [2]T{u[1], u[2]}
		k = condense(k, i)
	}
}
