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
// 2011). gj = G·J in N·mm². It returns how the twist is spread over the beam.
//
// The warping through the thickness counts where the nearer end that holds
// warping is built-in: in a chain that of the chain, so that it does not matter
// how a beam is cut.
func twistLines[T exact.Number](e *Element, axis exact.Vec[T], length, gj, young T, c *Section[T], out *Lines[T]) twistSpread[T] {
	toward := axis.Scale(-1)
	parts, held := stretchesOf(e.nearEnds(), length, gj, young, c)
	if parts.count == 0 {
		out.add(gj/length, exact.Moment(toward))
		return evenTwist(length)
	}
	k, local := parts.join(gj)
	var all [maxTwist]int
	order := all[:1]
	whole := [maxTwist][maxTwist]T{{1}} // (twist, rates at the ends) of the freedoms kept
	for end, w := range e.Choice.Ends {
		switch {
		case w == Continuous:
			whole[1+end][1+end] = 1
			order = append(order, 1+end)
		case !held[end]:
			for i := range maxTwist {
				whole[1+end][i] = -k[1+end][i] / k[1+end][1+end]
			}
			whole[1+end][1+end] = 0
			k = condense(k, 1+end)
		}
	}
	freedoms := splitWarping(k, order, toward, out)
	shares := times(&whole, &freedoms)
	return parts.spread(&local, &shares, len(order))
}

// stretch is a part of a beam with one warping constant.
type stretch[T exact.Number] struct {
	length, middle T // mm: its middle from that of the beam, + toward the to end
	a              T // mm: √(E·Iw/(G·J))
}

// stretches are the stretches of a beam.
type stretches[T exact.Number] struct {
	parts [2]stretch[T]
	count int
}

// stretchesOf divides a beam between the ends that hold its warping and tells
// which of its own ends do. None if nothing holds it.
func stretchesOf[T exact.Number](near outerEnds, length, gj, young T, c *Section[T]) (b stretches[T], held [2]bool) {
	var constant [2]T
	for end, w := range near.ends {
		constant[end] = c.Warping
		if w == BuiltIn {
			constant[end] += c.SecondWarping
		}
		held[end] = w != Free && exact.Real(constant[end]) > 0
	}
	if !held[0] && !held[1] && !near.chain {
		return b, held
	}
	add := func(length, middle, constant T) {
		b.parts[b.count] = stretch[T]{length, middle, exact.Sqrt(young * constant / gj)}
		b.count++
	}
	share := exact.Lift[T](near.share)
	switch {
	case held[0] && (!held[1] || near.share == 1 || near.ends[0] == near.ends[1]):
		add(length, 0, constant[0])
	case !held[0], near.share == 0:
		add(length, 0, constant[1])
	default:
		add(length*share, -length*(1-share)/2, constant[0])
		add(length*(1-share), length*share/2, constant[1])
	}
	return b, held
}

// join is the stiffness of the whole beam on (twist, rates at its ends) and the
// same three of each stretch by those of the whole. Where two meet, the rate
// and the bimoment pass on.
func (b *stretches[T]) join(gj T) (k [maxTwist][maxTwist]T, local [2][maxTwist][maxTwist]T) {
	local[0] = [maxTwist][maxTwist]T{{1}, {0, 1}, {0, 0, 1}}
	k = warpingStiffness(gj, b.parts[0].a, b.parts[0].length/b.parts[0].a)
	if b.count == 1 {
		return k, local
	}
	other := warpingStiffness(gj, b.parts[1].a, b.parts[1].length/b.parts[1].a)
	// the whole, then the twist of the first stretch and the rate between
	first := [maxTwist][5]T{{3: 1}, {1: 1}, {4: 1}}
	second := [maxTwist][5]T{{0: 1, 3: -1}, {4: 1}, {2: 1}}
	var all [5][5]T
	for r := range 5 {
		for c := range 5 {
			for i := range maxTwist {
				for j := range maxTwist {
					all[r][c] += first[i][r]*k[i][j]*first[j][c] + second[i][r]*other[i][j]*second[j][c]
				}
			}
		}
	}
	inner := [5][maxTwist]T{{1}, {0, 1}, {0, 0, 1}}
	det := all[3][3]*all[4][4] - all[3][4]*all[3][4]
	for c := range maxTwist {
		inner[3][c] = (all[3][4]*all[4][c] - all[4][4]*all[3][c]) / det
		inner[4][c] = (all[3][4]*all[3][c] - all[3][3]*all[4][c]) / det
	}
	var joined [maxTwist][maxTwist]T
	for r := range maxTwist {
		for c := range maxTwist {
			joined[r][c] = all[r][c] + all[r][3]*inner[3][c] + all[r][4]*inner[4][c]
			local[0][r][c], local[1][r][c] = 0, 0
			for i := range 5 {
				local[0][r][c] += first[r][i] * inner[i][c]
				local[1][r][c] += second[r][i] * inner[i][c]
			}
		}
	}
	return joined, local
}

func times[T exact.Number](a, b *[maxTwist][maxTwist]T) (c [maxTwist][maxTwist]T) {
	for i := range a {
		for j := range b {
			for k := range b {
				c[i][j] += a[i][k] * b[k][j]
			}
		}
	}
	return c
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
// A held end's freedom is left out of order: its twist rate is zero. It returns
// the freedoms by the strains of these lines.
func splitWarping[T exact.Number](k [3][3]T, order []int, toward exact.Vec[T], out *Lines[T]) (freedoms [maxTwist][maxTwist]T) {
	var by [maxTwist][3]T
	for n, i := range order {
		u := &by[n]
		for _, r := range order[n:] {
			u[r] = k[r][i] / k[i][i]
		}
		line := out.add(k[i][i], exact.Moment(toward.Scale(u[0])))
		out.Warp[line] = [2]T{u[1], u[2]}
		k = condense(k, i)
	}
	for n := len(order) - 1; n >= 0; n-- { // strain n = freedom + Σ u·later freedoms
		i := order[n]
		freedoms[i][n] = 1
		for _, r := range order[n+1:] {
			for m := range freedoms[i] {
				freedoms[i][m] -= by[n][r] * freedoms[r][m]
			}
		}
	}
	return freedoms
}
