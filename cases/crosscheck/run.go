package crosscheck

import (
	"bytes"
	"fmt"

	"bushtune/bushing/finiteelement"
)

// Pose is a small movement of a rigid body: the displacement of its reference
// point (mm) and its rotation (rad), in vehicle axes.
type Pose [6]float64

// Solve runs a deck in a directory of its own and returns the poses of the left
// and the right body after each step.
func Solve(input []byte) (steps [][2]Pose, err error) {
	text, err := finiteelement.Run(input)
	if err != nil {
		return nil, err
	}
	steps, err = parsePoses(text)
	if want := bytes.Count(input, []byte("*END STEP")); err == nil && len(steps) != want {
		err = fmt.Errorf("crosscheck: %d of %d steps solved", len(steps), want)
	}
	return steps, err
}

// parsePoses reads the printed displacements: a block a step, in it the
// displacements of the reference and the rotation node of each body.
func parsePoses(text []byte) (steps [][2]Pose, err error) {
	tables, err := finiteelement.Tables(text)
	for _, t := range tables {
		if t.Quantity != "displacements" {
			continue
		}
		var step [2]Pose
		for _, r := range t.Rows {
			side, first := r.Node/rightSide, 3*(r.Node%rightSide-centreNode)
			if side > 1 || (first != 0 && first != 3) {
				return nil, fmt.Errorf("crosscheck: unexpected printed node %d", r.Node)
			}
			copy(step[side][first:], r.Value[:])
		}
		steps = append(steps, step)
	}
	return steps, err
}
