package crosscheck

import (
	"fmt"
	"path/filepath"

	"bushtune/bushing/finiteelement"
	"bushtune/cases"
)

// Fineness is the density of the committed numbers. The live check uses a coarser
// one and finds the same figures to 0.12 %; quarter elements around and twice as
// many along the span moved the V section by 0.01 %.
var Fineness = Density{Around: 20, Turn: 30, Along: 30, Grading: 0.7}

// Reference holds what the finite-element solver says about one axle.
type Reference struct {
	Solver  string  `json:"solver"`
	Axle    string  `json:"axle"`
	Ends    Ends    `json:"ends"`
	Density Density `json:"density"`
	// Member is the flexibility of the cross-member alone by rows: movement of
	// the right end at the profile's origin, left end fixed, from force and
	// moment there; mm and rad per N and N·mm.
	Member  [6][6]float64 `json:"member_flexibility"`
	Answers []Answer      `json:"answers"`
}

// Answer holds the movement of both wheels in one built-in case.
type Answer struct {
	Case   string     `json:"case"`
	Pads   string     `json:"pads"`
	Poses  [2]Pose    `json:"poses_mm_rad"`   // of the wheel centres, left, right
	ToeIn  [2]float64 `json:"toe_in_deg"`     // left, right, + toe-in
	Camber [2]float64 `json:"camber_out_deg"` // left, right, + top outward
}

// toeSign relates a rotation to toe-in and to camber (top outward) of a wheel that
// stands straight ahead: −θ_z and −θ_x on the left, the opposite on the right.
var toeSign = [2]float64{-1, 1}

// newAnswer reads toe and camber off the poses.
func newAnswer(c cases.Case, poses [2]Pose) Answer {
	answer := Answer{Case: c.Name, Pads: c.Pads.String(), Poses: poses}
	for side, sign := range toeSign {
		answer.ToeIn[side] = sign * poses[side][5] / degree
		answer.Camber[side] = sign * poses[side][3] / degree
	}
	return answer
}

// NewReference runs the solver: the cross-member alone, then the whole axle with
// level and with floating pads.
func NewReference(a Axle, e Ends, d Density) (*Reference, error) {
	version, err := finiteelement.Version()
	if err != nil {
		return nil, err
	}
	r := &Reference{Solver: version, Axle: a.Name, Ends: e, Density: d}
	if r.Member, err = memberFlexibility(a.Member, e, d); err != nil {
		return nil, err
	}
	poses := map[cases.Pads][][2]Pose{}
	for _, pads := range []cases.Pads{cases.Level, cases.Floating} {
		if poses[pads], err = Solve(AxleDeck(a, e, d, cases.BuiltIn(), pads)); err != nil {
			return nil, err
		}
	}
	for _, c := range cases.BuiltIn() {
		r.Answers = append(r.Answers, newAnswer(c, poses[c.Pads][0]))
		poses[c.Pads] = poses[c.Pads][1:]
	}
	return r, nil
}

// memberFlexibility solves the cross-member alone.
func memberFlexibility(m Member, e Ends, d Density) (flexibility [6][6]float64, err error) {
	steps, err := Solve(MemberDeck(m, e, d))
	if err != nil {
		return flexibility, err
	}
	for column, step := range steps {
		for row, movement := range step[1] {
			flexibility[row][column] = movement / memberLoads[column]
		}
	}
	return flexibility, nil
}

// referenceFile is where the numbers of one axle and end condition are kept.
func referenceFile(directory string, a Axle, e Ends) string {
	return filepath.Join(directory, fmt.Sprintf("%s.%s.json", a.Name, e))
}

// ReadReference reads committed numbers from a directory.
func ReadReference(directory string, a Axle, e Ends) (*Reference, error) {
	r := &Reference{}
	return r, readJSON(referenceFile(directory, a, e), r)
}

// Write keeps the numbers in a directory.
func (r *Reference) Write(directory string, a Axle) error {
	return writeJSON(referenceFile(directory, a, r.Ends), r)
}
