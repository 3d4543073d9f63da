package compliance

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/exact"
)

// rotationLength is the length in mm by which rotations are scaled when motions
// and condition numbers are judged: a radian counts as this much displacement.
const rotationLength = 300.0

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
	count, can, holds := "1 unconstrained motion", "can", "nothing holds "
	if n := len(f.Motions); n != 1 {
		count = strconv.Itoa(n) + " unconstrained motions"
	}
	switch {
	case f.WhileStatic:
		b.WriteString("the axle cannot carry its static load: torsion and cones of bushes do not count at rest, their bolts are tightened at design height (a bush with holds_moments = true carries moments too); " + count)
	case f.Unstable:
		can, holds = "would", ""
		b.WriteString("the load at rest makes the axle unstable: it would leave design height by itself; give it stiffer parts or less load")
	default:
		b.WriteString("the axle can move without load: " + count + "; add a part that resists, or give one a rate")
	}
	for _, m := range f.Motions {
		b.WriteString("\n  " + m.words(holds, can))
	}
	return b.String()
}

// String describes the motion of every body that takes part.
func (m Motion) String() string { return m.words("", "can") }

// words says what is not held and how it can move.
func (m Motion) words(holds, can string) string {
	if len(m.Bodies) == 1 && holds != "" {
		return holds + "the body " + m.Bodies[0].Body + ": it " + can + " " + m.Bodies[0].String()
	}
	words := make([]string, len(m.Bodies))
	for i, s := range m.Bodies {
		words[i] = s.Body + " " + can + " " + s.String()
	}
	if holds != "" {
		holds += "these bodies, which move together: "
	}
	return holds + strings.Join(words, "; ")
}

// What a screw is called by its pitch in mm/rad: below some 0.1 mm a degree a turn,
// beyond some 50 mm a degree a slide.
const (
	nearlyTurn  = 6
	nearlySlide = 3000
)

// String says how the body can move, in plain words and, in brackets, as a screw.
func (s Screw) String() string {
	way, along := wayOf(s.Direction), written(s.Direction, 3)
	if !s.Turns {
		return "slide " + way + " (along " + along + ")"
	}
	words := "turn about an axis " + way
	switch pitch := math.Abs(s.Pitch); {
	case pitch > nearlySlide:
		words = fmt.Sprintf("slide %s, turning 1 deg in %s mm", way, decimal(pitch*math.Pi/180, 1))
	case pitch > nearlyTurn:
		words += fmt.Sprintf(", sliding %s mm along it in each degree", decimal(pitch*math.Pi/180, 2))
	}
	return fmt.Sprintf("%s (axis through %s mm along %s, pitch %s mm/rad)", words, written(s.Point, 1), along, decimal(s.Pitch, 2))
}

// wayOf is a direction in plain words, good to some 15 deg.
func wayOf(d vec) string {
	for i, word := range [3]string{"fore and aft", "across the car", "up and down"} {
		if math.Abs(d[i]) > 0.966 {
			return word
		}
	}
	return "at an angle"
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

// freeMotion names the motions that cost no energy, or less than none, in the
// stiffness k that the axle has while it is loaded at rest or afterwards. Where its
// lines alone already leave it free, that is what is told.
func (s *Solver) freeMotion(k []float64, whileStatic bool) error {
	if err := s.checkStiffness(); err != nil {
		return err
	}
	err := &FreeMotion{WhileStatic: whileStatic, Unstable: s.loaded && !whileStatic}
	basis := s.softest(k, freeEnergy)
	if s.loaded {
		if whileStatic {
			s.unload()
		}
		kept := s.stiffness
		s.stiffness = make([]float64, len(kept))
		s.assembleLines()
		s.keepDiagonal(s.stiffness)
		if alone := s.softest(s.stiffness, freeEnergy); len(alone) > 0 {
			basis, err.WhileStatic, err.Unstable = alone, false, false
		}
		s.stiffness = kept
	}
	if len(basis) == 0 {
		return &InexactAnswer{Residual: 1, WhileStatic: whileStatic}
	}
	separate(basis)
	for _, v := range basis {
		err.Motions = append(err.Motions, s.describe(v))
	}
	return err
}

// softest are the motions with an eigenvalue of D^-½·K·D^-½ below a limit, with
// rotations as displacements at rotationLength, the largest of each 1.
func (s *Solver) softest(k []float64, below float64) (basis [][]float64) {
	var eigen mat.EigenSym
	eigen.Factorize(unitDiagonal(k, s.diagonal), true)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	for at, value := range eigen.Values(nil) {
		if value >= below {
			break
		}
		v, largest := mat.Col(nil, at, &vectors), 0.0
		for i := range v {
			if s.diagonal[i] > 0 {
				v[i] /= math.Sqrt(s.diagonal[i])
			}
			v[i] *= s.freedomLength(i)
			largest = max(largest, math.Abs(v[i]))
		}
		for i := range v {
			v[i] /= largest
		}
		basis = append(basis, v)
	}
	return basis
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
