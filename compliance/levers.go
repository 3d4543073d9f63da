package compliance

import "bushtune/bushing/exact"

// What a static load does to the stiffness.
//
// The load N of a line works through the second-order part of its strain. For
// lines at one point r whose axes turn with φ = (1−lean)·θ_from + lean·θ_to, and
// Δ = (u + θ×r)_to − (u + θ×r)_from,
//
//	δ₂ = ½θ×(θ×r)|_to − ½θ×(θ×r)|_from − φ×Δ        ψ₂ = −½·θ_from×θ_to
//
// and a line with force a and moment m about r strains by a·δ₂ + m·ψ₂. For a
// two-point line the second order is that of its length,
// n·(½θ×(θ×r)|_to − ½θ×(θ×r)|_from) + |Δ across n|²/(2·length).
// Everything here is used as a symmetric form of two motions.

type vec = exact.Vec[float64]

// reach is what the loads of an element's lines are multiplied by: N·(G·through
// + across), with G about the axle's centre.
type reach struct {
	through exact.Wrench[float64]
	across  float64 // two-point: (Δp·Δq − (n·Δp)(n·Δq))/length
}

// reachOf evaluates the form for two motions of an element's bodies.
func reachOf(lines *Lines[float64], p, q *endMotion) reach {
	an := &lines.Anchor
	bent := turnTwice(rotation(&p.to), rotation(&q.to), an.To).Sub(turnTwice(rotation(&p.from), rotation(&q.from), an.From))
	dp, dq := slide(an, p), slide(an, q)
	if an.TwoPoint {
		n := linear(&lines.Wrench[0])
		across := an.Slender * (dp.Dot(dq) - n.Dot(dp)*n.Dot(dq))
		return reach{exact.Wrench[float64]{bent[0], bent[1], bent[2]}, across}
	}
	onForce := bent.Sub(frame(an, p).Cross(dq).Add(frame(an, q).Cross(dp)))
	onMoment := rotation(&p.from).Cross(rotation(&q.to)).Add(rotation(&q.from).Cross(rotation(&p.to))).Scale(-0.5)
	onForce = onForce.Sub(onMoment.Cross(an.To)) // G has its moment about the axle's centre, ψ₂ wants it about r
	return reach{through: exact.Wrench[float64]{onForce[0], onForce[1], onForce[2], onMoment[0], onMoment[1], onMoment[2]}}
}

// of is the factor of the load of line l, without a beam's strains of the second
// order.
func (r *reach) of(lines *Lines[float64], l int) float64 {
	return lines.Wrench[l].Dot(&r.through) + r.across
}

// linear is the force of a wrench, or the displacement of a motion.
func linear(w *exact.Wrench[float64]) vec { return vec{w[0], w[1], w[2]} }

// rotation is the rotation of a motion, or the moment of a wrench.
func rotation(w *exact.Wrench[float64]) vec { return vec{w[3], w[4], w[5]} }

// slide is Δ, the relative displacement of the points held, in mm.
func slide(an *Anchor[float64], m *endMotion) vec {
	to := linear(&m.to).Add(rotation(&m.to).Cross(an.To))
	return to.Sub(linear(&m.from)).Sub(rotation(&m.from).Cross(an.From))
}

// frame is φ, the rotation of the force axes.
func frame(an *Anchor[float64], m *endMotion) vec {
	return rotation(&m.from).Scale(1 - an.Lean).Add(rotation(&m.to).Scale(an.Lean))
}

// staticForm is the load stiffness of element i between two motions: Σ N·reach,
// and of a beam what its loads do through strains of the second order.
func (s *Solver) staticForm(i int, p, q *endMotion) float64 {
	lines := &s.lines[i]
	r := reachOf(lines, p, q)
	sum := 0.0
	for l := range lines.Count {
		sum += s.preload[i][l] * r.of(lines, l)
	}
	if len(lines.Second) > 0 {
		second := secondForms(lines, p, q)
		for l, form := range second {
			sum += s.preload[i][l] * form
		}
	}
	return sum
}

// secondForms is what one newton, or N·mm, on each line of a beam adds between two
// motions: the second derivative of the line's strain of the second order.
func secondForms(lines *Lines[float64], p, q *endMotion) (forms [maxLines]float64) {
	var ep, eq [maxLines]float64
	for l := range lines.Count {
		ep[l], eq[l] = p.strain(lines, l), q.strain(lines, l)
	}
	for _, t := range lines.Second {
		forms[t.line] += t.by * (ep[t.a]*eq[t.b] + ep[t.b]*eq[t.a])
	}
	return forms
}

// staticWrench sums the static loads of an element, about the axle's centre.
func (s *Solver) staticWrench(i int) exact.Wrench[float64] {
	var total exact.Wrench[float64]
	for l := range s.lines[i].Count {
		for r, g := range s.lines[i].Wrench[l] {
			total[r] += s.preload[i][l] * g
		}
	}
	return total
}

// addLoadStiffness adds the form of element i to the stiffness, block by block.
func (s *Solver) addLoadStiffness(i int) {
	e, lines := &s.axle.Elements[i], &s.lines[i]
	an := &lines.Anchor
	total := s.staticWrench(i)
	f := linear(&total)
	if an.TwoPoint {
		s.addAcross(i, f)
	} else {
		s.addTurning(i, f, rotation(&total).Sub(an.To.Cross(f)))
	}
	s.addTwice(e.To, f, an.To)
	s.addTwice(e.From, f.Scale(-1), an.From)
	if len(lines.Second) > 0 {
		s.addSecondOrder(i)
	}
}

// addTwice adds the form f·(½θ×(θ×r)) of one body: ½(f·rᵀ + r·fᵀ) − (f·r)·1 on
// its rotation.
func (s *Solver) addTwice(body int, f, r vec) {
	if body == Vehicle {
		return
	}
	fr := f.Dot(r)
	for a := range 3 {
		row := s.stiffness[(6*body+3+a)*s.size+6*body+3:]
		for b := a; b < 3; b++ {
			row[b] += 0.5 * (f[a]*r[b] + r[a]*f[b])
		}
		row[a] -= fr
	}
}

// addTurning adds −f·(φ×Δ) and −½·m·(θ_from×θ_to): the axes of a force turn with
// φ, the moment m is about the point held.
func (s *Solver) addTurning(i int, f, m vec) {
	e, an := &s.axle.Elements[i], &s.lines[i].Anchor
	weight := [2]float64{1 - an.Lean, an.Lean}
	skewF := skew(f)
	onRotation := skewF.Mul(skew(an.To)) // −[f][r], with the sign of Δ taken below
	for x, bx := range [2]int{e.From, e.To} {
		for y, by := range [2]int{e.From, e.To} {
			sign := float64(2*y-1) * weight[x]
			if bx == Vehicle || by == Vehicle || sign == 0 {
				continue
			}
			s.addSymmetric(bx, 3, by, 0, &skewF, sign)
			s.addSymmetric(bx, 3, by, 3, &onRotation, -sign)
		}
	}
	if e.From != Vehicle && e.To != Vehicle {
		skewM := skew(m)
		s.addSymmetric(e.From, 3, e.To, 3, &skewM, 0.5)
	}
}

// addSymmetric adds scale·(pᵀ·m·q) as a symmetric form, with p at a body's
// displacement (0) or rotation (3) and q at another's: m in one block, mᵀ in its
// mirror, so the second derivative of the product.
func (s *Solver) addSymmetric(bodyP, offsetP, bodyQ, offsetQ int, m *exact.Mat3[float64], scale float64) {
	p, q := 6*bodyP+offsetP, 6*bodyQ+offsetQ
	for a := range 3 {
		for b := range 3 {
			s.addUpper(p+a, q+b, scale*m[a][b])
		}
	}
}

// addUpper adds a value to the pair (i, j) and (j, i); a diagonal entry counts twice.
func (s *Solver) addUpper(i, j int, v float64) {
	if i == j {
		v *= 2
	}
	s.stiffness[min(i, j)*s.size+max(i, j)] += v
}

// addAcross adds T/length·|Δ across n|²/2 for a two-point line with total force
// f = T·n. With m = T/length·(1 − n·nᵀ) and Δ = Σ ±(u + θ×r) the blocks of two
// bodies are m, [r]·m, m·[r]ᵀ and [r]·m·[r]ᵀ.
func (s *Solver) addAcross(i int, f vec) {
	e, lines := &s.axle.Elements[i], &s.lines[i]
	an := &lines.Anchor
	n := linear(&lines.Wrench[0])
	rate := f.Dot(n) * an.Slender
	var m exact.Mat3[float64]
	for a := range 3 {
		m[a] = n.Scale(-rate * n[a])
		m[a][a] += rate
	}
	s.addPoint(e.From, an.From, &m)
	s.addPoint(e.To, an.To, &m)
	if e.From != Vehicle && e.To != Vehicle {
		s.addBetweenPoints(e, an, &m)
	}
}

// addPoint adds the block of one body for a stiffness m at its point r.
func (s *Solver) addPoint(body int, r vec, m *exact.Mat3[float64]) {
	if body == Vehicle {
		return
	}
	lever := leverBlock(m, r, r)
	for a := range 6 {
		row := s.stiffness[(6*body+a)*s.size+6*body : (6*body+a)*s.size+6*body+6]
		for b := a; b < 6; b++ {
			row[b] += lever[a][b]
		}
	}
}

// addBetweenPoints subtracts the block between both bodies.
func (s *Solver) addBetweenPoints(e *Element, an *Anchor[float64], m *exact.Mat3[float64]) {
	low, high, first, second := e.From, e.To, an.From, an.To
	if high < low {
		low, high, first, second = high, low, second, first
	}
	lever := leverBlock(m, first, second)
	for a := range 6 {
		row := s.stiffness[(6*low+a)*s.size+6*high : (6*low+a)*s.size+6*high+6]
		for b := range row {
			row[b] -= lever[a][b]
		}
	}
}

// leverBlock is the 6×6 of a symmetric 3×3 stiffness m between a body that holds
// it at p and one that holds it at q: [1; [p]]·m·[1, [q]ᵀ].
func leverBlock(m *exact.Mat3[float64], p, q vec) (b [6][6]float64) {
	for k := range 3 {
		mq := q.Cross(vec(m[k])) // row k of m·[q]ᵀ, m being symmetric
		copy(b[k][:3], m[k][:])
		copy(b[k][3:], mq[:])
	}
	for k := range 6 {
		column := p.Cross(vec{b[0][k], b[1][k], b[2][k]})
		b[3][k], b[4][k], b[5][k] = column[0], column[1], column[2]
	}
	return b
}

// skew is the matrix of v× .
func skew(v vec) exact.Mat3[float64] {
	return exact.Mat3[float64]{{0, -v[2], v[1]}, {v[2], 0, -v[0]}, {-v[1], v[0], 0}}
}

func transposed(m exact.Mat3[float64]) exact.Mat3[float64] {
	return exact.Mat3[float64]{m.Column(0), m.Column(1), m.Column(2)}
}

// restStiffness is what the loads at rest of a beam do between the strains of its
// lines: Σ N·∂²q/∂e².
func (s *Solver) restStiffness(i int) (k [maxLines][maxLines]float64) {
	for _, t := range s.lines[i].Second {
		rate := s.preload[i][t.line] * t.by
		k[t.a][t.b] += rate
		k[t.b][t.a] += rate
	}
	return k
}

// addSecondOrder adds Σ G·k·Gᵀ of a beam's loads at rest, over its bodies and the
// warping at its ends.
func (s *Solver) addSecondOrder(i int) {
	e, lines := &s.axle.Elements[i], &s.lines[i]
	k := s.restStiffness(i)
	var b block
	var onWarp [2][6]float64 // between the warping of each end and the relative motion
	var warps [2][2]float64
	for l := range lines.Count {
		var pull [6]float64
		var warp [2]float64
		for m := range lines.Count {
			rate := k[l][m]
			if rate == 0 {
				continue
			}
			for r, g := range lines.Wrench[m] {
				pull[r] += rate * g
			}
			warp[0] += rate * lines.Warp[m][0]
			warp[1] += rate * lines.Warp[m][1]
		}
		for r, g := range lines.Wrench[l] {
			for c := r; c < 6; c++ {
				b[r][c] += g * pull[c]
			}
		}
		for end, share := range lines.Warp[l] {
			for r := range pull {
				onWarp[end][r] += share * pull[r]
			}
			warps[end][0] += share * warp[0]
			warps[end][1] += share * warp[1]
		}
	}
	s.scatter(s.stiffness, e.From, e.To, &b, 1)
	s.scatterWarping(e, &onWarp, &warps)
}

// scatterWarping adds what an element has between the warping at its ends and the
// relative motion of its bodies, and between its ends.
func (s *Solver) scatterWarping(e *Element, onWarp *[2][6]float64, warps *[2][2]float64) {
	bodies := [2]int{e.From, e.To}
	for end, body := range bodies {
		if e.Choice.Ends[end] != Continuous {
			continue
		}
		w := s.warp[body]
		for other, b := range bodies {
			if b == Vehicle {
				continue
			}
			for r, v := range onWarp[end] {
				s.stiffness[(6*b+r)*s.size+w] += float64(2*other-1) * v
			}
			if v := s.warp[b]; e.Choice.Ends[other] == Continuous && v >= w {
				s.stiffness[w*s.size+v] += warps[end][other]
			}
		}
	}
}

func unit(axis int) (v vec) {
	v[axis] = 1
	return v
}
