package compliance

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// drawnAxle is an axle on a grid of whole millimetres, whose supports can be counted
// exactly.
type drawnAxle struct {
	t    testing.TB
	rng  *rand.Rand
	axle Axle
	soft bool // joints of almost no torsion beside stiff ones
}

// drawAxle draws one to three bodies on so many parts that they are held, and
// takes parts away again in every other axle until something moves.
func drawAxle(t testing.TB, seed uint64) (*drawnAxle, int) {
	d := &drawnAxle{t: t, rng: rand.New(rand.NewPCG(seed, 17))}
	d.soft = d.rng.IntN(3) == 0
	bodies := 1 + d.rng.IntN(3)
	for b := range bodies {
		d.axle.Bodies = append(d.axle.Bodies, Body{Name: string(rune('a' + b))})
	}
	for wheel := range d.axle.Wheels {
		d.axle.Wheels[wheel] = wheelOn(t, d.rng.IntN(bodies), testWheel)
	}
	for b := range bodies {
		d.add(Vehicle, b)
	}
	for d.free(false) > 0 {
		from, to := d.rng.IntN(bodies+1)-1, d.rng.IntN(bodies)
		if from != to {
			d.add(from, to)
		}
	}
	if d.rng.IntN(2) == 0 {
		for d.free(false) == 0 {
			at := d.rng.IntN(len(d.axle.Elements))
			d.axle.Elements = append(d.axle.Elements[:at], d.axle.Elements[at+1:]...)
		}
	}
	return d, d.free(false)
}

// point draws a place on the grid.
func (d *drawnAxle) point(name string) values {
	return values{name + ".x": float64(d.rng.IntN(1000) - 500), name + ".y": float64(d.rng.IntN(1400) - 700), name + ".z": float64(100 + d.rng.IntN(500))}
}

// rate draws one between two, evenly by ratio.
func (d *drawnAxle) rate(low, high float64) float64 {
	return low * math.Pow(high/low, d.rng.Float64())
}

// add draws a link, spring, bush, bar or, between two bodies, a beam.
func (d *drawnAxle) add(from, to int) {
	kind := []*Kind{Link, Link, Bush, Bush, Spring, TorsionBar, Beam}[d.rng.IntN(7)]
	var v values
	switch {
	case kind == Link:
		v = with(with(d.point("inner"), d.point("outer")), values{"inner_rate": d.rate(500, 9000), "outer_rate": d.rate(500, 9000)})
	case kind == Spring:
		v = with(with(d.point("upper"), d.point("lower")), values{"rate": d.rate(10, 200)})
	case kind == TorsionBar:
		v = values{"axis.x": float64(d.rng.IntN(3) - 1), "axis.y": 1, "axis.z": float64(d.rng.IntN(3) - 1), "rate": d.rate(1, 100)}
	case kind == Beam && from != Vehicle:
		v = with(testBeam, values{"torsion_constant": d.rate(2000, 2e5)})
	default:
		kind, v = Bush, d.point("at")
		for _, name := range []string{"soft", "axial", "stiff"} {
			v[name] = d.rate(200, 5000) * float64(min(1, d.rng.IntN(6)))
		}
		for _, name := range []string{"cone_soft", "torsion", "cone_stiff"} {
			v[name] = d.rate(1, 50) * float64(d.rng.IntN(2))
			if d.soft && d.rng.IntN(2) == 0 {
				v[name] = math.Pow(10, -4+2*d.rng.Float64()) // N·m/deg
			}
		}
	}
	d.axle.Elements = append(d.axle.Elements, element(d.t, kind, fmt.Sprint(len(d.axle.Elements)), Centre, from, to, v))
}

// supports are the lines of an element that have a rate, not normalised, so that
// they are whole numbers, about the vehicle's origin.
func supports(e *Element, atRest bool) (lines [][6]int64) {
	at := func(i int) (p [3]int64) { return [3]int64{int64(e.Slots[i]), int64(e.Slots[i+1]), int64(e.Slots[i+2])} }
	force := func(p, n [3]int64) {
		lines = append(lines, [6]int64{n[0], n[1], n[2], p[1]*n[2] - p[2]*n[1], p[2]*n[0] - p[0]*n[2], p[0]*n[1] - p[1]*n[0]})
	}
	switch e.Kind {
	case Link, Spring:
		p, q := at(0), at(3)
		force(p, [3]int64{q[0] - p[0], q[1] - p[1], q[2] - p[2]})
	case TorsionBar:
		a := at(0)
		lines = append(lines, [6]int64{3: a[0], 4: a[1], 5: a[2]})
	case Beam:
		for i := range 6 {
			var line [6]int64
			line[i] = 1
			lines = append(lines, line)
		}
	case Bush:
		for i, name := range []string{"soft", "axial", "stiff", "cone_soft", "torsion", "cone_stiff"} {
			var axis [3]int64
			axis[i%3] = 1
			switch rate := e.Slots[Bush.FieldIndex(name)]; {
			case rate == 0:
			case i < 3:
				force(at(Bush.FieldIndex("at.x")), axis)
			case !atRest:
				lines = append(lines, [6]int64{3: axis[0], 4: axis[1], 5: axis[2]})
			}
		}
	}
	return lines
}

// free counts the motions that no support resists: the freedoms less the rank of
// all supports, in exact arithmetic (Bareiss's elimination without fractions).
func (d *drawnAxle) free(atRest bool) int {
	n := 6 * len(d.axle.Bodies)
	var rows [][]*big.Int
	for i := range d.axle.Elements {
		e := &d.axle.Elements[i]
		for _, line := range supports(e, atRest) {
			row := make([]*big.Int, n)
			for k := range row {
				row[k] = new(big.Int)
			}
			for k, v := range line {
				row[6*e.To+k].SetInt64(v)
				if e.From != Vehicle {
					row[6*e.From+k].SetInt64(-v)
				}
			}
			rows = append(rows, row)
		}
	}
	rank, last := 0, big.NewInt(1)
	for column := range n {
		at := rank
		for at < len(rows) && rows[at][column].Sign() == 0 {
			at++
		}
		if at == len(rows) {
			continue
		}
		rows[rank], rows[at] = rows[at], rows[rank]
		pivot := rows[rank][column]
		for _, row := range rows[rank+1:] {
			factor := new(big.Int).Set(row[column])
			for k := range row {
				a, b := new(big.Int).Mul(row[k], pivot), new(big.Int).Mul(rows[rank][k], factor)
				row[k].Quo(a.Sub(a, b), last)
			}
		}
		last = pivot
		rank++
	}
	return n - rank
}

// A thousand axles: what exact arithmetic calls a mechanism is never solved, with
// every motion counted; what it calls held is solved, unless 200 bits say that its
// least eigenvalue is below the limit too, as where joints of almost no torsion are
// all that holds a chain of bodies. What is solved agrees with 200 bits.
func TestThousandAxles(t *testing.T) {
	if testing.Short() {
		t.Skip("a thousand solves with 200 bits")
	}
	mechanisms, held, soft, doubtful, hardly, worst, least := 0, 0, 0, 0, 0, 0.0, 1.0
	for seed := range uint64(1000) {
		d, motions := drawAxle(t, seed)
		s, err := NewSolver(&d.axle)
		var free *FreeMotion
		refused := errors.As(err, &free)
		switch {
		case motions > 0:
			mechanisms++
			if !refused || len(free.Motions) != motions || free.Unstable || free.WhileStatic {
				t.Errorf("seed %d: %d motions by exact arithmetic, told %v", seed, motions, err)
			}
			continue
		case err != nil && !refused:
			t.Errorf("seed %d: held by exact arithmetic, told %v", seed, err)
			continue
		}
		w := newWideAxle(s)
		exact := w.least()
		if refused {
			hardly++
			if exact > 0.99*freeEnergy {
				t.Errorf("seed %d: refused at λ = %.3g by 200 bits: %v", seed, exact, err)
			}
			continue
		}
		held++
		if d.soft {
			soft++
		}
		least = min(least, exact)
		if exact < 1.01*freeEnergy {
			t.Errorf("seed %d: solved at λ = %.3g", seed, exact)
		}
		if !certainly(s.triangle, s.diagonal, s.room) {
			doubtful++
		} else if exact < certain(s.size) {
			t.Errorf("seed %d: λ is %g, and the bound says that it is above %g", seed, exact, certain(s.size))
		}
		off := w.off(&s.compliance)
		worst = max(worst, off)
		if off > largestResidual {
			t.Errorf("seed %d: off by %.2g, λ = %.2g", seed, off, exact)
		}
	}
	t.Logf("%d mechanisms, %d held (%d of them soft, %d in doubt), off by %.2g at most, least eigenvalue %.2g; %d hardly held", mechanisms, held, soft, doubtful, worst, least, hardly)
	if mechanisms < 400 || held < 400 || soft < 100 || doubtful < 10 || hardly > 10 {
		t.Errorf("the sample is lopsided")
	}
}

// The same with a load at rest: then torsion and cones of bushes do not hold, and
// what only they hold is told apart from what nothing holds, and from what holds but
// is unstable.
func TestDrawnAxlesUnderLoad(t *testing.T) {
	count := map[string]int{}
	for seed := range uint64(500) {
		d, motions := drawAxle(t, seed)
		if _, err := NewSolver(&d.axle); err != nil && motions == 0 {
			continue // hardly held
		}
		d.axle.Static = &Static{WheelLoad: [2]float64{300, 300}}
		atRest := d.free(true)
		_, err := NewSolver(&d.axle)
		var free *FreeMotion
		errors.As(err, &free)
		switch {
		case motions > 0:
			count["mechanism"]++
			if free == nil || len(free.Motions) != motions || free.Unstable || free.WhileStatic {
				t.Errorf("seed %d: %d motions by exact arithmetic, told %v", seed, motions, err)
			}
		case atRest > 0:
			count["not while static"]++
			if free == nil || len(free.Motions) != atRest || free.Unstable || !free.WhileStatic {
				t.Errorf("seed %d: %d motions at rest by exact arithmetic, told %v", seed, atRest, err)
			}
		case free == nil:
			count["held"]++
			if err != nil {
				t.Errorf("seed %d: held by exact arithmetic, told %v", seed, err)
			}
		default:
			count["unstable"]++
			if !free.Unstable || free.WhileStatic {
				t.Errorf("seed %d: held by exact arithmetic, told %v", seed, err)
			}
		}
	}
	t.Log(count)
	for _, name := range []string{"mechanism", "not while static", "held", "unstable"} {
		if count[name] < 15 {
			t.Errorf("%v: too few of %q", count, name)
		}
	}
}

// An answer that leaves more than a ten-thousandth of the load over is none: here
// the factor, or the movement at rest, is spoilt by a thousandth.
func TestAnswerThatDoesNotFitItsLoads(t *testing.T) {
	axle := twistBeam(t)
	axle.Static = &Static{WheelLoad: [2]float64{3500, 3500}}
	s := newSolver(t, axle)
	if err := s.doubt(s.stiffness, true, false); err != nil {
		t.Fatalf("the sound answer: %v", err)
	}
	var inexact *InexactAnswer
	s.moved = false
	s.triangle.Data[4*s.size+4] *= 1.001
	if err := s.doubt(s.stiffness, true, false); !errors.As(err, &inexact) || inexact.Residual < 1e-4 || inexact.WhileStatic {
		t.Errorf("the spoilt factor: %v", err)
	}
	s = newSolver(t, axle)
	braced := make([]float64, len(s.stiffness))
	s.assemble()
	s.braced(braced)
	s.keepDiagonal(braced)
	if err := s.doubt(braced, true, true); err != nil {
		t.Fatalf("the sound loads at rest: %v", err)
	}
	s.rest[2] *= 1.001
	if err := s.doubt(braced, true, true); !errors.As(err, &inexact) || inexact.Residual < 1e-4 || !inexact.WhileStatic {
		t.Errorf("the spoilt loads at rest: %v", err)
	}
}

// wide is a number of 200 bits.
func wide(x float64) *big.Float { return new(big.Float).SetPrec(200).SetFloat64(x) }

// wideAxle is an axle assembled and factored, K = LDLᵀ, with 200 bits.
type wideAxle struct {
	diagonal []*big.Float   // of K
	factor   [][]*big.Float // L below the diagonal, D on it
	ports    [][]*big.Float // L⁻¹·B
}

func newWideAxle(s *Solver) *wideAxle {
	n := s.size
	k := make([][]*big.Float, n)
	for i := range k {
		k[i] = make([]*big.Float, n)
		for j := range k[i] {
			k[i][j] = wide(0)
		}
	}
	for i := range s.lines {
		e := &s.axle.Elements[i]
		var rates []float64
		for _, rate := range s.lines[i].Rate[:s.lines[i].Count] {
			if rate != 0 {
				rates = append(rates, rate)
			}
		}
		for l, g := range wideWrenches(s, i) {
			for x, bx := range [2]int{e.From, e.To} {
				for y, by := range [2]int{e.From, e.To} {
					if bx == Vehicle || by == Vehicle {
						continue
					}
					rate := wide(rates[l])
					if x != y {
						rate.Neg(rate)
					}
					for r := range 6 {
						for c := range 6 {
							at := k[6*bx+r][6*by+c]
							at.Add(at, wide(0).Mul(rate, wide(0).Mul(g[r], g[c])))
						}
					}
				}
			}
		}
	}
	b := s.portLoads(make([]float64, n*Ports))
	w := &wideAxle{factor: k}
	for i := range n {
		w.diagonal = append(w.diagonal, wide(0).Set(k[i][i]))
		var row []*big.Float
		for _, v := range b[i*Ports : i*Ports+Ports] {
			row = append(row, wide(v))
		}
		w.ports = append(w.ports, row)
	}
	for p := range n {
		for i := p + 1; i < n; i++ {
			share := wide(0).Quo(k[i][p], k[p][p])
			for j := p + 1; j < n; j++ {
				k[i][j].Sub(k[i][j], wide(0).Mul(share, k[p][j]))
			}
			k[i][p] = share
			for j := range w.ports[i] {
				w.ports[i][j].Sub(w.ports[i][j], wide(0).Mul(share, w.ports[p][j]))
			}
		}
	}
	return w
}

// least is the least eigenvalue of D^-½·K·D^-½, by inverse iteration.
func (w *wideAxle) least() float64 {
	n := len(w.factor)
	x := make([]*big.Float, n)
	for i := range x {
		x[i] = wide(1 / float64(i+1))
	}
	value := 0.0
	for range 40 {
		for i := range x { // D^½, L⁻¹
			x[i].Mul(x[i], wide(0).Sqrt(w.diagonal[i]))
			for j := range i {
				x[i].Sub(x[i], wide(0).Mul(w.factor[i][j], x[j]))
			}
		}
		for i := n - 1; i >= 0; i-- { // D⁻¹, L⁻ᵀ
			x[i].Quo(x[i], w.factor[i][i])
			for j := i + 1; j < n; j++ {
				x[i].Sub(x[i], wide(0).Mul(w.factor[j][i], x[j]))
			}
		}
		square := wide(0)
		for i := range x {
			x[i].Mul(x[i], wide(0).Sqrt(w.diagonal[i]))
			square.Add(square, wide(0).Mul(x[i], x[i]))
		}
		size := wide(0).Sqrt(square)
		value, _ = wide(0).Quo(wide(1), size).Float64()
		for i := range x {
			x[i].Quo(x[i], size)
		}
	}
	return value
}

// off is the largest difference of C from that with 200 bits, as a share of the
// diagonal entries of its row and column.
func (w *wideAxle) off(c *[Ports * Ports]float64) float64 {
	var exact [Ports * Ports]float64
	for i := range Ports {
		for j := range Ports {
			sum := wide(0)
			for p, row := range w.ports {
				sum.Add(sum, wide(0).Quo(wide(0).Mul(row[i], row[j]), w.factor[p][p]))
			}
			exact[i*Ports+j], _ = sum.Float64()
		}
	}
	worst := 0.0
	for i := range Ports {
		for j := range Ports {
			worst = max(worst, math.Abs(c[i*Ports+j]-exact[i*Ports+j])/math.Sqrt(exact[i*(Ports+1)]*exact[j*(Ports+1)]))
		}
	}
	return worst
}

// wideWrenches are the unit wrenches of the lines with a rate about the axle's
// centre, from the supports in whole numbers; those of a beam, which lie in no
// simple direction, are taken as they are.
func wideWrenches(s *Solver, i int) (wrenches [][6]*big.Float) {
	e := &s.axle.Elements[i]
	if e.Kind == Beam {
		for l := range s.lines[i].Count {
			var g [6]*big.Float
			for r, v := range s.lines[i].Wrench[l] {
				g[r] = wide(v)
			}
			wrenches = append(wrenches, g)
		}
		return wrenches
	}
	c := [3]int64{int64(s.centre[0]), int64(s.centre[1]), int64(s.centre[2])}
	for _, v := range supports(e, false) {
		v[3], v[4], v[5] = v[3]-c[1]*v[2]+c[2]*v[1], v[4]-c[2]*v[0]+c[0]*v[2], v[5]-c[0]*v[1]+c[1]*v[0]
		square := v[0]*v[0] + v[1]*v[1] + v[2]*v[2]
		if square == 0 {
			square = v[3]*v[3] + v[4]*v[4] + v[5]*v[5]
		}
		length := wide(0).Sqrt(wide(float64(square)))
		var g [6]*big.Float
		for r := range g {
			g[r] = wide(0).Quo(wide(float64(v[r])), length)
		}
		wrenches = append(wrenches, g)
	}
	return wrenches
}

// A tangent that has lost its last bit of stiffness along one motion is not stable,
// though rounding leaves every pivot positive: nine tenths of it, all but 1e-14 of
// it, all of it taken away.
func TestTangentThatIsNearlyFree(t *testing.T) {
	m := newMover(t, twistBeam(t))
	n, size := m.solver.size, m.size
	whole := append([]float64(nil), m.tangent.Data...)
	v := make([]float64, n)
	kv, vkv := make([]float64, n), 0.0
	for i := range v {
		v[i] = float64(1+i%5) / m.solver.freedomLength(i)
	}
	for i := range n {
		for j := range n {
			kv[i] += whole[i*size+j] * v[j]
		}
		vkv += v[i] * kv[i]
	}
	for share, stable := range map[float64]bool{0: true, 0.9: true, 1 - 1e-7: true, 1 - 1e-14: false, 1: false, 1 + 1e-7: false} {
		for i := range n {
			for j := range n {
				m.tangent.Data[i*size+j] = whole[i*size+j] - share*kv[i]*kv[j]/vkv
			}
		}
		if m.stable() != stable {
			t.Errorf("%.15g of the stiffness taken away: stable %t, want %t", share, !stable, stable)
		}
	}
}
