package crosscheck

import (
	"fmt"
	"math"

	"bushtune/cases"
	"bushtune/compliance"
)

// Predict is the compliance model's answer to a case: the movement of both
// wheel centres under the loads and, on level pads, under the vertical forces
// that hold the patches' height.
func Predict(s *compliance.Solver, c cases.Case) [2]Pose {
	var loads compliance.Port
	for side, load := range c.Wheels {
		copy(loads[6*side:], load.Force[:])
		loads[6*side+5] = load.Moment
		if load.At == cases.AtPatch {
			radius := s.Axle().Wheels[side].Slots[3] // moment of (0, 0, −radius) × force
			loads[6*side+3] = radius * load.Force[1]
			loads[6*side+4] = -radius * load.Force[0]
		}
	}
	if c.Pads == cases.Level {
		holdHeight(s, &loads)
	}
	motion := s.Motion(&loads)
	return [2]Pose{Pose(motion[:6]), Pose(motion[6:])}
}

// holdHeight adds the two vertical forces under which the patches, straight
// below the wheel centres, keep their height.
func holdHeight(s *compliance.Solver, loads *compliance.Port) {
	const left, right = 2, 8 // vertical ports
	motion, c := s.Motion(loads), s.Compliance()
	at := func(i, j int) float64 { return c[i*compliance.Ports+j] }
	determinant := at(left, left)*at(right, right) - at(left, right)*at(right, left)
	loads[left] -= (at(right, right)*motion[left] - at(left, right)*motion[right]) / determinant
	loads[right] -= (at(left, left)*motion[right] - at(right, left)*motion[left]) / determinant
}

// How near beam and finite elements must be: to the figure itself, or to the
// largest like figure of the case. Thin-walled beam theory leaves out the free
// edges' loss of torsional stiffness, the flexibility of warping in shear and the
// restraint of lateral contraction at the ends, each one to two percent of a
// cross-member of these proportions.
const (
	relativeTolerance = 0.03
	caseTolerance     = 0.005
)

// Miss is a figure that does not agree.
type Miss struct {
	Case, Pads, Figure string
	Got, Want          float64
	Largest            float64 // of the like figures of the case
}

func (m Miss) String() string {
	return fmt.Sprintf("%s, %s pads: %s: %.5g, finite elements %.5g: off by %.2f %% of it, %.2f %% of the largest of the case",
		m.Case, m.Pads, m.Figure, m.Got, m.Want, 100*(m.Got-m.Want)/m.Want, 100*(m.Got-m.Want)/m.Largest)
}

// kind is a group of like figures of one answer.
type kind struct {
	names  []string
	values []float64
}

// kinds groups the figures of an answer: displacements, rotations, and toe with
// camber.
func (a *Answer) kinds() []kind {
	groups := []kind{
		{names: []string{"left x", "left y", "left z", "right x", "right y", "right z"}},
		{names: []string{"left rx", "left ry", "left rz", "right rx", "right ry", "right rz"}},
		{names: []string{"left toe", "right toe", "left camber", "right camber"}},
	}
	for _, pose := range a.Poses {
		groups[0].values = append(groups[0].values, pose[:3]...)
		groups[1].values = append(groups[1].values, pose[3:]...)
	}
	groups[2].values = append(append(groups[2].values, a.ToeIn[:]...), a.Camber[:]...)
	return groups
}

// Compare lists the figures of an answer that are off by more than a share
// relative of themselves and a share ofCase of the largest like figure.
func Compare(got, want Answer, relative, ofCase float64) []Miss {
	var misses []Miss
	wanted := want.kinds()
	for g, group := range got.kinds() {
		largest := 0.0
		for _, w := range wanted[g].values {
			largest = math.Max(largest, math.Abs(w))
		}
		for i, value := range group.values {
			w := wanted[g].values[i]
			if math.Abs(value-w) > math.Max(relative*math.Abs(w), ofCase*largest) {
				misses = append(misses, Miss{want.Case, want.Pads, group.names[i], value, w, largest})
			}
		}
	}
	return misses
}
