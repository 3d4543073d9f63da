package compliance

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/exact"
)

// rotationLength is the length in mm by which rotations are scaled when motions
// and condition numbers are judged: a radian counts as this much displacement.
const rotationLength = 300.0

// freeEnergy is the share of the largest scaled stiffness under which a motion
// counts as free: far below any real element, far above rounding.
const freeEnergy = 1e-11

// freeEigenvalue is what rounding leaves of an eigenvalue that is zero, per
// freedom, as a share of the largest: so that a soft motion beside a free one is
// not named too.
const freeEigenvalue = 1e-13

// FreeMotion is the error of an axle that can move without load.
type FreeMotion struct {
	Motions     []Motion // one for each independent motion
	WhileStatic bool     // only with bush torsion and cones released, as the static load asks
	Unstable    bool     // the load at rest pushes the axle away from design height
}

// Motion is one free motion: how each moving body turns and slides.
type Motion struct{ Bodies []Screw }

// Screw is the motion of one body: a turn about an axis with a slide along it,
// or a pure slide.
type Screw struct {
	Body      string
	Turns     bool
	Point     exact.Vec[float64] // on the axis, nearest to the vehicle's origin, mm; only if it turns
	Direction exact.Vec[float64] // unit
	Pitch     float64            // slide per turn in mm/rad; only if it turns
}

// Error names each motion on a line of its own.
func (f *FreeMotion) Error() string {
	var b strings.Builder
	switch {
	case f.WhileStatic:
		b.WriteString("the axle cannot carry its static load with bush torsion and cones released, as they are until bolts are tightened at design height;")
	case f.Unstable:
		b.WriteString("the load at rest makes the axle unstable: it would leave design height by itself;")
	default:
		b.WriteString("the axle can move without load: add a part that resists, or give one a rate;")
	}
	fmt.Fprintf(&b, " independent motions: %d", len(f.Motions))
	for _, m := range f.Motions {
		b.WriteString("\n  " + m.String())
	}
	return b.String()
}

// String describes the motion of every body that takes part.
func (m Motion) String() string {
	words := make([]string, len(m.Bodies))
	for i, s := range m.Bodies {
		words[i] = s.String()
	}
	return strings.Join(words, "; ")
}

// String says where the axis lies, which way it points, and the pitch.
func (s Screw) String() string {
	if !s.Turns {
		return fmt.Sprintf("%s slides along %s", s.Body, written(s.Direction, 3))
	}
	return fmt.Sprintf("%s turns about the axis through %s mm along %s, pitch %s mm/rad",
		s.Body, written(s.Point, 1), written(s.Direction, 3), decimal(s.Pitch, 2))
}

// written is a vector with so many decimals.
func written(v vec, decimals int) string {
	return "(" + decimal(v[0], decimals) + ", " + decimal(v[1], decimals) + ", " + decimal(v[2], decimals) + ")"
}

// decimal is a number with so many decimals; zero has no sign.
func decimal(x float64, decimals int) string {
	unit := math.Pow10(-decimals)
	return strconv.FormatFloat(math.Round(x/unit)*unit+0, 'f', decimals, 64)
}

// wellHeld compares each pivot of the factor with its diagonal: a pivot lost to
// rounding is a motion without energy.
func wellHeld(u blas64.Triangular, k []float64) bool {
	for i := range u.N {
		pivot := u.Data[i*u.Stride+i]
		if !(pivot*pivot > freeEnergy*k[i*u.N+i]) {
			return false
		}
	}
	return true
}

// scaledStiffness is K with rotations as displacements at rotationLength.
func (s *Solver) scaledStiffness() *mat.SymDense {
	k := mat.NewSymDense(s.size, nil)
	for i := range s.size {
		for j := i; j < s.size; j++ {
			k.SetSym(i, j, s.stiffness[i*s.size+j]/(s.freedomLength(i)*s.freedomLength(j)))
		}
	}
	return k
}

// freedomLength is the scale of freedom i: 1 for a displacement, rotationLength
// for a rotation, its square for a rate of twist (rad/mm).
func (s *Solver) freedomLength(i int) float64 {
	switch {
	case i >= 6*len(s.axle.Bodies):
		return rotationLength * rotationLength
	case i%6 >= 3:
		return rotationLength
	}
	return 1
}

// Condition is the ratio of the largest to the smallest eigenvalue of K with
// rotations scaled by 300 mm.
func (s *Solver) Condition() float64 {
	var eigen mat.EigenSym
	if !eigen.Factorize(s.scaledStiffness(), false) {
		return math.Inf(1)
	}
	values := eigen.Values(nil)
	return values[len(values)-1] / values[0]
}

// freeMotion names the motions that cost no energy. Where the axle could carry
// its load at rest, only that load can have made it unstable: then the motion of
// least stiffness is named.
func (s *Solver) freeMotion(whileStatic bool) error {
	if err := s.checkStiffness(); err != nil {
		return err
	}
	var eigen mat.EigenSym
	eigen.Factorize(s.scaledStiffness(), true)
	values := eigen.Values(nil)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	limit := freeEigenvalue * values[len(values)-1] * float64(s.size)
	var basis [][]float64
	for i, v := range values {
		if v <= limit || i == 0 {
			basis = append(basis, mat.Col(nil, i, &vectors))
		}
	}
	separate(basis)
	err := &FreeMotion{WhileStatic: whileStatic, Unstable: s.loaded && !whileStatic}
	for _, v := range basis {
		err.Motions = append(err.Motions, s.describe(v))
	}
	return err
}

// checkStiffness names the element, or else the freedom, at which the stiffness
// is not a finite number.
func (s *Solver) checkStiffness() error {
	for i, v := range s.stiffness {
		if finite(v) {
			continue
		}
		for j := range s.axle.Elements {
			e := &s.axle.Elements[j]
			if err := s.axle.validateElement(e); err != nil {
				return fmt.Errorf("%s: %w", e.Label(), err)
			}
		}
		return fmt.Errorf("the stiffness of freedom %d is not a finite number", i/s.size)
	}
	return nil
}

// separate reduces a basis of motions by row elimination with full pivoting, so
// that motions which concern different bodies come apart.
func separate(basis [][]float64) {
	used := make(map[int]bool)
	for i := range basis {
		pivot, at := 0.0, 0
		for j, v := range basis[i] {
			if !used[j] && math.Abs(v) > math.Abs(pivot)*(1+1e-9) {
				pivot, at = v, j
			}
		}
		if pivot == 0 {
			continue
		}
		used[at] = true
		for k := range basis {
			if k == i {
				continue
			}
			share := basis[k][at] / pivot
			for j := range basis[k] {
				basis[k][j] -= share * basis[i][j]
			}
		}
	}
}

// describe turns a scaled motion over the freedoms into the screws of the bodies
// that move by more than a millionth of the largest.
func (s *Solver) describe(v []float64) Motion {
	largest := 0.0
	for _, x := range v {
		largest = max(largest, math.Abs(x))
	}
	var m Motion
	for b, body := range s.axle.Bodies {
		slide := vec(v[6*b : 6*b+3])
		turn := vec(v[6*b+3 : 6*b+6])
		if max(slide.Norm(), turn.Norm()) < 1e-6*largest {
			continue
		}
		m.Bodies = append(m.Bodies, s.screw(body.Label(), slide, turn.Scale(1/rotationLength)))
	}
	m.face()
	return m
}

// face reverses a motion, which has no sense of its own, so that the direction of
// its first body faces its positive side. The senses of bodies against each other
// stay: arms that turn opposite ways have opposite directions.
func (m Motion) face() {
	if len(m.Bodies) == 0 {
		return
	}
	sense := sense(m.Bodies[0].Direction)
	for i := range m.Bodies {
		m.Bodies[i].Direction = m.Bodies[i].Direction.Scale(sense)
	}
}

// screw finds axis and pitch of a motion (Ball, A Treatise on the Theory of
// Screws, 1900): slide (of the axle's centre) in mm, turn in rad.
func (s *Solver) screw(body string, slide, turn vec) Screw {
	angle := turn.Norm()
	if angle*rotationLength < 1e-6*slide.Norm() {
		return Screw{Body: body, Direction: slide.Unit()}
	}
	pitch := turn.Dot(slide) / (angle * angle)
	onAxis := turn.Cross(slide).Scale(1 / (angle * angle)).Add(s.centre)
	axis := turn.Scale(1 / angle)
	onAxis = onAxis.Sub(axis.Scale(axis.Dot(onAxis)))
	return Screw{Body: body, Turns: true, Point: onAxis, Direction: axis, Pitch: pitch}
}

// sense is −1 if the largest component of a direction is negative, else 1.
func sense(d vec) float64 {
	largest := 0
	for i := range d {
		if math.Abs(d[i]) > math.Abs(d[largest])+1e-9 {
			largest = i
		}
	}
	return math.Copysign(1, d[largest])
}
