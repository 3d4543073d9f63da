package compliance

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"

	"bushtune/bushing/quantity"
)

const (
	balanced      = 1e-9     // residual over the size of the loads at which an equilibrium counts as found
	designBalance = 1e-8     // the same for the design position, whose loads come from another solve
	heightRate    = 100      // N/mm by which a missed pad height is judged
	still         = 1e-10    // mm of a Newton step that is rounding: stiffer axles than 1e-9 of their loads can tell
	iterations    = 20       // Newton steps in one load step
	shortest      = 1.0 / 64 // of a Newton step in the line search
	smallestStep  = 1.0 / 512
	leap          = 4.0   // movement in one load step over what the tangent foretold: more is a jump
	leapFloor     = 1.0   // mm of movement that is never a jump
	placeRounding = 5e-13 // mm: what double precision leaves of places a metre away, and so of the load of whatever is stiff
)

// LostBalance is the error of a load that the axle cannot hold, or that it can
// hold only after a jump.
type LostBalance struct {
	Fraction  float64 // of the way from the last equilibrium asked for to the demand
	Jump      bool    // an equilibrium exists beyond, but not next to the last one
	Unstable  bool    // the equilibrium found is not stable
	Solid     string  // the spring whose coils touch there; empty: none
	Body      string  // where the residual is largest
	Direction string  // how that moves, in words: "turns about x, the fore-aft axis"
	Residual  float64 // in Unit
	Unit      string  // N, N·m, of warping N·mm², of a pad's height mm
}

// Error says at which share of the load balance was lost, where and by how much.
func (e *LostBalance) Error() string {
	return fmt.Sprintf("at %.1f %% of the way %s", 100*e.Fraction, e.Reason())
}

// Reason says in words what happens where balance is lost.
func (e *LostBalance) Reason() string {
	switch {
	case e.Solid != "":
		return e.Solid + " is pressed to its solid length; a bump stop has to act before that"
	case e.Jump:
		return fmt.Sprintf("the axle would snap through to a distant position: %s %s", e.Body, e.Direction)
	case e.Unstable:
		return "the axle is no longer stable"
	}
	return fmt.Sprintf("no equilibrium was found: %s %s, out of balance by %.4g %s", e.Body, e.Direction, math.Abs(e.Residual), e.Unit)
}

// Solve moves from the present equilibrium to a demand. It goes in one load step
// if it can and in smaller ones if it must; a switch of a pad between held and
// floating is made first, at the present height. On a *LostBalance the Mover
// stands at the last equilibrium on the way.
func (m *Mover) Solve(d *Demand) error {
	start := m.held
	m.matchPads(&start, d)
	done, share := 0.0, 1.0
	for done < 1 {
		share = min(share, 1-done)
		target := between(&start, d, done+share)
		lost := m.advance(&target)
		if lost == nil {
			done += share
			share *= 2
			continue
		}
		share /= 2
		if share < smallestStep {
			lost.Fraction = done
			m.settle()
			return lost
		}
	}
	return nil
}

// Step is Solve in one load step or not at all; on an error the Mover stands where it
// stood, with Fraction 0.
func (m *Mover) Step(d *Demand) error {
	start := m.held
	m.matchPads(&start, d)
	lost := m.advance(d)
	if lost == nil {
		return nil
	}
	m.settle()
	return lost
}

// settle makes everything current at the last equilibrium.
func (m *Mover) settle() {
	m.evaluate(&m.now, &m.held)
	m.factorize()
}

// Keep returns the way back to the present equilibrium, from wherever the Mover has
// gone since.
func (m *Mover) Keep() (back func()) {
	held, at := m.held, m.now.clone()
	return func() {
		m.held = held
		m.now.copyFrom(&at)
		m.settle()
	}
}

// matchPads turns the pads of the present demand into those of the next without
// a change: a pad that becomes held starts at the height where the wheel is, one
// that is let go keeps its force as a force at the patch of the start.
func (m *Mover) matchPads(start, d *Demand) {
	for i := range start.Pads {
		now, next := &start.Pads[i], d.Pads[i]
		switch {
		case next.Held && !now.Held:
			m.factored = false
			*now = Pad{Held: true, Height: m.padHeight(i), Tyre: next.Tyre}
		case !next.Held && now.Held:
			m.factored = false
			start.Wheels[i].AtPatch[2] += m.now.pads[i]
			m.now.pads[i] = 0
			*now = Pad{}
		case now.Tyre != next.Tyre:
			m.factored = false
			now.Tyre = next.Tyre
		}
	}
	m.held = *start
}

// padHeight is how far a contact point has risen, in mm, with what the hub gives
// under the present forces.
func (m *Mover) padHeight(wheel int) float64 {
	w := &m.wheels[wheel]
	body := m.now.body(w.body)
	_, height := wheelPull(w, &body, &m.held.Wheels[wheel], m.now.pads[wheel])
	return height
}

// advance makes one load step by Newton's method. The step is refused, and
// undone, if it does not converge, leaps or ends unstable.
func (m *Mover) advance(d *Demand) *LostBalance {
	m.trial.copyFrom(&m.now)
	limit := balanced * m.scale(d)
	m.balance(&m.trial, d) // the tangent there is that of the last equilibrium
	if !m.factored {
		m.evaluate(&m.trial, d)
		if !m.factorize() {
			return m.worst()
		}
	}
	foretold := 0.0
	for n := 0; !m.within(limit); n++ {
		if n == iterations {
			return m.worst()
		}
		m.newtonStep()
		if n > 0 && m.lengthOf(m.step) <= still {
			break
		}
		if n == 0 {
			foretold = m.reachOfStep()
		}
		if !m.search(d, limit) || !m.factorize() {
			m.factored = false
			return m.worst()
		}
	}
	if !m.within(largestResidual * m.scale(d)) {
		m.factored = false
		return m.worst()
	}
	if lost := m.refused(foretold); lost != nil {
		m.factored = false
		return lost
	}
	m.now.copyFrom(&m.trial)
	m.held = *d
	for wheel := range m.wheels {
		m.settleHub(wheel, &m.now, d)
	}
	return nil
}

// refused tells whether a load step has left the path of stable equilibria that
// it started on. The tangents at both ends foretell a movement; one much larger
// than either is a jump, which a tangent that has lost most of its stiffness
// would hide at one end alone. Where the way back is out of reach of the line
// search the axle is about to give way.
func (m *Mover) refused(foretold float64) *LostBalance {
	if solid := m.solidCoil(); solid != "" {
		return &LostBalance{Solid: solid}
	}
	distance := m.distance()
	m.balance(&m.trial, &m.held)
	m.newtonStep()
	back := m.reachOfStep()
	switch {
	case distance > leap*min(foretold, back)+leapFloor:
		lost := m.worst()
		lost.Jump = true
		return lost
	case back > distance/shortest+leapFloor, m.determinantPositive() != m.positive, !m.stable():
		return &LostBalance{Unstable: true}
	}
	return nil
}

// newtonStep solves tangent·step = −residual.
func (m *Mover) newtonStep() {
	for i, r := range m.residual {
		m.step[i] = -r
	}
	m.solveFactored(blas.NoTrans, m.step)
}

// search takes the Newton step, shortened until the next simplified step, with
// the same tangent, is smaller: the natural monotonicity test (Deuflhard, Newton
// Methods for Nonlinear Problems, 2004, ch. 3). The residual itself may grow on
// the way, where a turn bends into a stiff direction. False if no step helps.
func (m *Mover) search(d *Demand, limit float64) bool {
	size := m.lengthOf(m.step)
	m.before.copyFrom(&m.trial)
	for factor := 1.0; factor >= shortest; factor /= 2 {
		m.trial.move(m.step, factor)
		m.balance(&m.trial, d)
		copy(m.room, m.residual)
		m.solveFactored(blas.NoTrans, m.room)
		if m.within(limit) || m.lengthOf(m.room) <= (1-factor/4)*size {
			m.differentiate(&m.trial, d)
			return true
		}
		m.trial.copyFrom(&m.before)
	}
	return false
}

// lengthOf is the root mean square of a step in mm: rotations at rotationLength,
// pad forces at heightRate.
func (m *Mover) lengthOf(step []float64) float64 {
	sum := 0.0
	for i, x := range step {
		if i < m.solver.size {
			x *= m.solver.freedomLength(i)
		} else {
			x /= heightRate
		}
		sum += x * x
	}
	return math.Sqrt(sum / float64(m.size))
}

// weightOf turns residual i into N.
func (m *Mover) weightOf(i int) float64 {
	switch {
	case i >= m.size-2:
		if m.held.Pads[i-m.size+2].Held {
			return heightRate
		}
		return 1
	}
	return 1 / m.solver.freedomLength(i)
}

// roundingOf is what rounding leaves of residual i, in its own unit.
func (m *Mover) roundingOf(i int) float64 {
	if i >= m.solver.size {
		return 0
	}
	return placeRounding / m.solver.freedomLength(i) * math.Abs(m.tangent.Data[i*m.size+i])
}

// within tells whether every residual is within a limit in N, or rounding.
func (m *Mover) within(limit float64) bool {
	for i, r := range m.residual {
		if !((math.Abs(r)-m.roundingOf(i))*m.weightOf(i) <= limit) {
			return false
		}
	}
	return true
}

// sameResidual is the share by which residuals of a lost balance count as one: its
// iterations magnify rounding, and which of two mirror images is named must not hang on that.
const sameResidual = 1e-3

// worst names the largest residual, the first of those that are as large.
func (m *Mover) worst() *LostBalance {
	at, size := 0, -1.0
	for i, r := range m.residual {
		if w := math.Abs(r) * m.weightOf(i); w-size > sameResidual*w || math.IsNaN(w) {
			at, size = i, w
		}
	}
	lost := &LostBalance{Residual: m.residual[at]}
	switch bodies := 6 * len(m.now.shifts); {
	case at >= m.size-2:
		lost.Body, lost.Direction = "the "+Side(1+at-m.size+2).String()+" wheel", "leaves the height of its pad"
		lost.Unit = "mm"
	case at >= bodies:
		lost.Body, lost.Direction, lost.Unit = "a chain of beams", "warps", "N·mm²"
	default:
		lost.Body = m.solver.axle.Bodies[at/6].Label()
		lost.Direction = [6]string{
			"slides along x, fore and aft", "slides along y, sideways", "slides along z, up or down",
			"turns about x, the fore-aft axis", "turns about y, the lateral axis", "turns about z, the vertical axis",
		}[at%6]
		lost.Unit = quantity.Newton.Name
		if at%6 >= 3 {
			lost.Unit, lost.Residual = quantity.NewtonMetre.Name, quantity.NewtonMetre.Written(lost.Residual)
		}
	}
	return lost
}

// reachOfStep is the largest movement in a step over the freedoms, in mm, with
// rotations at rotationLength.
func (m *Mover) reachOfStep() float64 {
	far := 0.0
	for i := range 6 * len(m.now.shifts) {
		far = max(far, math.Abs(m.step[i])*m.solver.freedomLength(i))
	}
	return far
}

// distance is the largest movement from the last equilibrium to the trial.
func (m *Mover) distance() float64 {
	far := 0.0
	for b := range m.now.shifts {
		far = max(far, m.trial.shifts[b].Sub(m.now.shifts[b]).Norm())
		a, c := quaternionMatrix(m.now.turns[b]), quaternionMatrix(m.trial.turns[b])
		relative := transposedOf(&a).Mul(c)
		v := turnVector(&relative)
		far = max(far, rotationLength*v.Norm())
	}
	return far
}
