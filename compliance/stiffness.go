package compliance

import (
	"fmt"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/bushing/exact"
)

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
