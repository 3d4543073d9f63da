package compliance

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// Ports is the number of rows of the wheel compliance matrix: three
// displacements and three rotations at each wheel centre, left wheel first.
const Ports = 12

// PortNames are the words for the rows and columns, in order: as a column a
// force (N) or moment (N·mm), as a row a displacement (mm) or rotation (rad),
// in vehicle axes at the wheel centre.
var PortNames = [Ports]string{
	"left x", "left y", "left z", "left rx", "left ry", "left rz",
	"right x", "right y", "right z", "right rx", "right ry", "right rz",
}

// Port is a vector over the ports: loads, or motions of the wheels.
type Port [Ports]float64

// Dot is the work of loads (N, N·mm) on motions (mm, rad), in N·mm.
func (p *Port) Dot(q *Port) float64 {
	sum := 0.0
	for i := range p {
		sum += p[i] * q[i]
	}
	return sum
}

// Solver answers one axle again and again while its slots change. It allocates
// only when it is made. A Solver is not safe for use by two goroutines.
type Solver struct {
	axle   *Axle
	centre exact.Vec[float64] // mm, where wrenches and body displacements refer to
	size   int                // freedoms: six a body, then one a continuous warping
	warp   []int              // body → its warping freedom, or −1

	lines       []Lines[float64]
	preload     [][maxLines]float64 // load of each line at rest, N, N·mm
	loaded      bool                // any static load
	stale       []bool              // elements whose slots changed
	blocks      [][2]block          // of each element: lines held at rest, lines released
	atRest      []staticWheel[float64]
	hubs        [2]hub[float64]
	partner     []int // element → the left element it mirrors, or −1
	wheelsStale bool

	stiffness []float64 // size×size, upper triangle, row-major
	diagonal  []float64 // the absolute terms that make up its diagonal
	room      []float64 // of length size
	factor    blas64.Symmetric
	triangle  blas64.Triangular
	released  blas64.Triangular // factor without bush torsion and cones
	rest      []float64         // displacement of the static solve, kept for derivatives
	ports     []float64         // size×12: U⁻ᵀ·B
	motion    []float64         // size×12: K⁻¹·B, when asked for
	moved     bool              // motion is current
	strain    []float64         // 12×lines: strain of every line under each port, when asked for
	rate      []float64         // rate of every line, with strain
	strained  bool              // strain and rate are current
	moves     [2][]float64      // displacements under both loads of Parts

	compliance [Ports * Ports]float64
	gradient   gradientRoom
}

// NewSolver checks the model, makes room and solves it once. The error is that
// of Validate or of Update.
func NewSolver(axle *Axle) (*Solver, error) {
	if err := axle.Validate(); err != nil {
		return nil, err
	}
	s := &Solver{axle: axle.Clone()}
	s.axle.findOuterEnds()
	left, right := axle.Wheels[0].Slots, axle.Wheels[1].Slots
	s.centre = exact.Vec[float64]{(left[0] + right[0]) / 2, (left[1] - right[1]) / 2, (left[2] + right[2]) / 2}
	if err := s.numberFreedoms(); err != nil {
		return nil, err
	}
	n := s.size
	s.lines = make([]Lines[float64], len(axle.Elements))
	s.preload = make([][maxLines]float64, len(axle.Elements))
	s.blocks = make([][2]block, len(axle.Elements))
	s.findPartners()
	s.atRest = make([]staticWheel[float64], 0, len(axle.Wheels))
	s.stale = make([]bool, len(axle.Elements))
	for i := range s.stale {
		s.stale[i] = true
	}
	s.wheelsStale = true
	s.stiffness = make([]float64, n*n)
	s.diagonal, s.room = make([]float64, n), make([]float64, n)
	s.factor = blas64.Symmetric{N: n, Stride: n, Data: make([]float64, n*n), Uplo: blas.Upper}
	s.released = blas64.Triangular{N: n, Stride: n, Data: make([]float64, n*n), Uplo: blas.Upper, Diag: blas.NonUnit}
	s.rest = make([]float64, n)
	s.ports = make([]float64, n*Ports)
	s.motion = make([]float64, n*Ports)
	s.moves = [2][]float64{make([]float64, n), make([]float64, n)}
	return s, s.Update()
}

// numberFreedoms gives each body six freedoms and one more to each body at
// which continuous beam ends meet.
func (s *Solver) numberFreedoms() error {
	joints, broken := s.axle.chains()
	if len(broken) > 0 {
		return broken[0]
	}
	s.size = 6 * len(s.axle.Bodies)
	s.warp = make([]int, len(s.axle.Bodies))
	for body, joined := range joints {
		s.warp[body] = -1
		if joined {
			s.warp[body] = s.size
			s.size++
		}
	}
	return nil
}

// Axle is the solver's own copy of the model. Change it through Set only.
func (s *Solver) Axle() *Axle { return s.axle }

// Set changes one slot, in internal units; Update makes it count.
func (s *Solver) Set(slot Slot, value float64) {
	values := s.axle.values(slot.Element)
	if values[slot.Index] == value {
		return
	}
	values[slot.Index] = value
	if slot.Element < 0 {
		s.wheelsStale = true
		return
	}
	s.stale[slot.Element] = true
}

// Update solves the axle for its present slots. The error is a *FreeMotion if
// the axle can move without load, or tells of a number or a shape that cannot
// be, or an *InexactAnswer; then nothing else is valid.
func (s *Solver) Update() error {
	for i := range s.lines {
		if s.stale[i] {
			s.writeLines(i)
			if s.lines[i].Count == 0 {
				return s.refused(i)
			}
			s.stale[i] = false
		}
	}
	if s.wheelsStale {
		if err := s.axle.checkWheels(); err != nil {
			return err
		}
		s.placeStaticWheels()
		if err := s.placeHubs(); err != nil {
			return err
		}
		s.wheelsStale = false
	}
	s.loaded = s.hasStaticLoad()
	s.assemble()
	if err := s.solveStatic(); err != nil {
		return err
	}
	copy(s.factor.Data, s.stiffness)
	triangle, factored := lapack64.Potrf(s.factor)
	if factored {
		s.triangle = triangle
		s.condensePorts()
	}
	if factored && certainly(triangle, s.diagonal, s.room) {
		return nil
	}
	return s.doubt(s.stiffness, factored, false)
}

// refused says why an element has no lines, as a shape that cannot be drawn.
func (s *Solver) refused(i int) error {
	e := &s.axle.Elements[i]
	return fmt.Errorf("%s: %w", e.Label(), e.Kind.check(e))
}

// block is the upper triangle of Σ k·G·Gᵀ over some lines of an element.
type block [6][6]float64

// writeLines evaluates one element and adds up its lines.
func (s *Solver) writeLines(i int) {
	e, out := &s.axle.Elements[i], &s.lines[i]
	if partner := s.mirrored(i); partner >= 0 {
		out.copyFrom(&s.lines[partner])
		out.mirror()
		s.addLines(i)
		return
	}
	out.reset()
	e.Kind.values(e, e.Slots, s.leftCentre(e.Side), out)
	if e.Side == Right {
		out.mirror()
	}
	s.addLines(i)
}

// findPartners finds for each right element the left one of the same name.
func (s *Solver) findPartners() {
	s.partner = make([]int, len(s.axle.Elements))
	for i := range s.partner {
		s.partner[i] = -1
		e := &s.axle.Elements[i]
		for j := range i {
			other := &s.axle.Elements[j]
			if e.Side == Right && other.Side == Left && e.Kind == other.Kind && e.Name == other.Name && e.Choice == other.Choice && e.outer == other.outer {
				s.partner[i] = j
			}
		}
	}
}

// mirrored returns the left element that element i is the mirror image of at
// present, or −1. Left elements come first, so their lines are up to date.
func (s *Solver) mirrored(i int) int {
	partner := s.partner[i]
	if partner < 0 || s.centre[1] != 0 || !slices.Equal(s.axle.Elements[i].Slots, s.axle.Elements[partner].Slots) {
		return -1
	}
	return partner
}

// addLines adds up the blocks of one element, at zero deflection.
func (s *Solver) addLines(i int) {
	e, out := &s.axle.Elements[i], &s.lines[i]
	s.blocks[i] = [2]block{}
	for l := range out.Count {
		n := 0
		if e.atRest(l) == 0 {
			n = 1
		}
		s.blocks[i][n].addLine(out.AtZero[l], &out.Wrench[l])
	}
}

// leftCentre is the axle's centre as seen by left-hand values.
func (s *Solver) leftCentre(side Side) exact.Vec[float64] {
	c := s.centre
	if side == Right {
		c[1] = -c[1]
	}
	return c
}

// assemble adds up K = Σ k·G·Gᵀ, with a static load without the lines that it
// releases: solveStatic adds those once the loads at rest are known.
func (s *Solver) assemble() {
	clear(s.stiffness)
	for i := range s.lines {
		e, lines := &s.axle.Elements[i], &s.lines[i]
		s.scatter(s.stiffness, e.From, e.To, &s.blocks[i][0], 1)
		for l := range lines.Count {
			s.addWarping(e, lines, l, lines.Rate[l])
		}
		if !s.loaded {
			s.addReleased(i)
		}
	}
}

// assembleLines adds up K = Σ k·G·Gᵀ of every line with its present rate, whatever
// the static load.
func (s *Solver) assembleLines() {
	for i := range s.lines {
		e, lines := &s.axle.Elements[i], &s.lines[i]
		var b block
		for l := range lines.Count {
			b.addLine(lines.Rate[l], &lines.Wrench[l])
			s.addWarping(e, lines, l, lines.Rate[l])
		}
		if lines.Cross != 0 {
			b.addPair(lines.Cross, &lines.Wrench[bushing.Soft], &lines.Wrench[bushing.Stiff])
		}
		s.scatter(s.stiffness, e.From, e.To, &b, 1)
	}
}

// addReleased adds the lines of an element that the static solve let go.
func (s *Solver) addReleased(i int) {
	e := &s.axle.Elements[i]
	if len(e.Kind.Released) > 0 {
		s.scatter(s.stiffness, e.From, e.To, &s.blocks[i][1], 1)
	}
}

// addLine adds k·G·Gᵀ.
func (b *block) addLine(rate float64, g *exact.Wrench[float64]) {
	for r := range 6 {
		kg := rate * g[r]
		row := &b[r]
		for c := r; c < 6; c++ {
			row[c] += kg * g[c]
		}
	}
}

// scatter adds a symmetric block times a factor at both bodies, and its negative
// between them, to the upper triangle k.
func (s *Solver) scatter(k []float64, from, to int, b *block, factor float64) {
	for _, body := range [2]int{from, to} {
		if body == Vehicle {
			continue
		}
		for r := range 6 {
			row := k[(6*body+r)*s.size+6*body:]
			for c := r; c < 6; c++ {
				row[c] += factor * b[r][c]
			}
		}
	}
	if from == Vehicle || to == Vehicle {
		return
	}
	low, high := min(from, to), max(from, to)
	for r := range 6 {
		row := k[(6*low+r)*s.size+6*high : (6*low+r)*s.size+6*high+6]
		for c := range row {
			row[c] -= factor * b[min(r, c)][max(r, c)]
		}
	}
}

// addWarping adds what a beam line has on the warping freedoms of its ends.
func (s *Solver) addWarping(e *Element, lines *Lines[float64], l int, rate float64) {
	warp := lines.Warp[l]
	if warp == ([2]float64{}) {
		return
	}
	for end, body := range [2]int{e.From, e.To} {
		w := s.warping(body, warp[end])
		if w < 0 {
			continue
		}
		for other, b := range [2]int{e.From, e.To} {
			if b == Vehicle {
				continue
			}
			sign := float64(2*other - 1)
			for r := range 6 {
				s.stiffness[(6*b+r)*s.size+w] += sign * rate * lines.Wrench[l][r] * warp[end]
			}
			if v := s.warping(b, warp[other]); v >= w {
				s.stiffness[w*s.size+v] += rate * warp[end] * warp[other]
			}
		}
	}
}

// warping is the warping freedom of a body, or −1 if the line has none there.
func (s *Solver) warping(body int, share float64) int {
	if body == Vehicle || share == 0 {
		return -1
	}
	return s.warp[body]
}

// condensePorts finds C = Bᵀ·K⁻¹·B + D, with D what the hubs give.
func (s *Solver) condensePorts() {
	s.moved, s.strained = false, false
	s.portLoads(s.ports)
	y := blas64.General{Rows: s.size, Cols: Ports, Stride: Ports, Data: s.ports}
	blas64.Trsm(blas.Left, blas.Trans, 1, s.triangle, y)
	gram(s.ports, s.size, &s.compliance)
	for wheel := range s.hubs {
		for i, row := range s.hubs[wheel].give {
			for j, give := range row {
				s.compliance[(6*wheel+3+hubAxes[i])*Ports+6*wheel+3+hubAxes[j]] += give
			}
		}
	}
}

// portLoads writes B, the wheel wrenches about the axle's centre as the hubs hand
// them on.
func (s *Solver) portLoads(b []float64) []float64 {
	clear(b)
	for wheel := range s.axle.Wheels {
		s.placePorts(wheel, b)
	}
	return b
}

// placePorts writes the six columns of one wheel: force and moment at the wheel
// centre as a wrench about the axle's centre, moments as its hub hands them on.
func (s *Solver) placePorts(wheel int, b []float64) {
	r := s.wheelCentre(wheel)
	row := func(i int) []float64 { return b[(6*s.axle.Wheels[wheel].Body+i)*Ports+6*wheel:] }
	for i := range 3 {
		row(i)[i] = 1
		for j, v := range s.hubs[wheel].onCarrier(unit(i)) {
			row(3 + j)[3+i] = v
		}
	}
	row(3)[1], row(3)[2] = -r[2], r[1]
	row(4)[0], row(4)[2] = r[2], -r[0]
	row(5)[0], row(5)[1] = -r[1], r[0]
}

// wheelCentre is the centre of a wheel from the axle's centre, in mm.
func (s *Solver) wheelCentre(wheel int) exact.Vec[float64] {
	w := s.axle.Wheels[wheel].Slots
	return sided(exact.Vec[float64]{w[0], w[1], w[2]}, wheel).Sub(s.centre)
}

// gram writes the symmetric product yᵀ·y of an n×12 matrix.
func gram(y []float64, n int, c *[Ports * Ports]float64) {
	clear(c[:])
	for k := range n {
		row := (*[Ports]float64)(y[k*Ports:])
		for i, a := range row {
			if a == 0 {
				continue
			}
			out := (*[Ports]float64)(c[i*Ports:])
			for j := i; j < Ports; j++ {
				out[j] += a * row[j]
			}
		}
	}
	for i := range Ports {
		for j := range i {
			c[i*Ports+j] = c[j*Ports+i]
		}
	}
}

// Compliance returns the 12×12 wheel compliance matrix C by rows, pads floating:
// motion of the wheels from loads on them, rows and columns as PortNames, in mm
// and rad per N and N·mm. Symmetric and positive semi-definite.
func (s *Solver) Compliance() *[Ports * Ports]float64 { return &s.compliance }

// Motion returns the motion of the wheels (mm, rad) under loads (N, N·mm), pads
// floating: C·p.
func (s *Solver) Motion(p *Port) Port {
	var q Port
	for j, load := range p {
		if load == 0 {
			continue
		}
		row := (*[Ports]float64)(s.compliance[j*Ports:]) // C is symmetric: row j is column j
		for i := range q {
			q[i] += load * row[i]
		}
	}
	return q
}
