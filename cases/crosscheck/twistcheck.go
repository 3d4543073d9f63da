package crosscheck

import (
	"fmt"
	"math"
	"path/filepath"

	"bushtune/bushing/finiteelement"
	"bushtune/compliance"
	"bushtune/compliance/section"
)

// Twisted is a cross-member to be twisted at size.
type Twisted struct {
	Name    string
	Member  Member
	Bending Bending
	Braced  bool // its sections keep their shape
}

// TwistedMembers are a V of two walls and a U, plain and braced, ends held and
// free in bending.
func TwistedMembers() []Twisted {
	var list []Twisted
	for _, s := range []struct {
		name    string
		profile section.Profile[float64]
		braced  bool
	}{
		{"v-6", pressed(80, 80, 25, 35, 6, section.Down, 0), false},
		{"v-3", pressed(80, 80, 25, 35, 3, section.Down, 0), false},
		{"u-5", pressed(70, 70, 40, 0, 5, section.Down, 0), false},
		{"u-5-braced", pressed(70, 70, 40, 0, 5, section.Down, 0), true},
	} {
		for _, bending := range []Bending{HeldInBending, FreeInBending} {
			list = append(list, Twisted{s.name, Member{Profile: s.profile, HalfSpan: 550}, bending, s.braced})
		}
	}
	return list
}

// twistAngles in deg; the first is small enough to be linear.
var twistAngles = []float64{1, 7, 14, 21, 28}

// TwistAnswer is what a twist takes.
type TwistAnswer struct {
	Angle  float64 `json:"angle_deg"`
	Torque float64 `json:"torque_nmm"` // about the line through the shear centre
	Draw   float64 `json:"draw_mm"`    // the ends come together, mean of the nodes of the end plane
}

// TwistReference holds one twisted member.
type TwistReference struct {
	Solver  string        `json:"solver"`
	Member  string        `json:"member"`
	Bending Bending       `json:"ends_in_bending"`
	Density Density       `json:"density"`
	Angles  []TwistAnswer `json:"angles"`
}

// NewTwistReference runs the solver.
func NewTwistReference(w Twisted, d Density) (*TwistReference, error) {
	version, err := finiteelement.Version()
	if err != nil {
		return nil, err
	}
	pole, err := w.Member.pole()
	if err != nil {
		return nil, err
	}
	angles := make([]float64, len(twistAngles))
	for i, a := range twistAngles {
		angles[i] = a * degree
	}
	text, err := finiteelement.Run(TwistDeck(w, pole, d, angles))
	if err != nil {
		return nil, err
	}
	r := &TwistReference{Solver: version, Member: w.Name, Bending: w.Bending, Density: d}
	r.Angles, err = parseTwist(text, newMesh(w.Member, BuiltIn, d).ends[1], Point{pole.F, 0, pole.U})
	return r, err
}

// pole is the shear centre.
func (m Member) pole() (section.Point[float64], error) {
	c, err := m.Profile.Constants()
	return c.ShearCentre, err
}

// parseTwist sums the moments of the forces on the turned end about the axis.
func parseTwist(text []byte, ties []endTie, axis Point) ([]TwistAnswer, error) {
	tables, err := finiteelement.Tables(text)
	if err != nil {
		return nil, err
	}
	if len(tables) != 2*len(twistAngles) {
		return nil, fmt.Errorf("crosscheck: %d of %d angles solved", len(tables)/2, len(twistAngles))
	}
	var answers []TwistAnswer
	for i, angle := range twistAngles {
		answer := TwistAnswer{Angle: angle}
		for _, tie := range ties {
			moved, force := vectorOf(tables[2*i].Rows, tie.nodes[0]), vectorOf(tables[2*i+1].Rows, tie.nodes[0])
			x, z := tie.at[0]+moved[0]-axis[0], tie.at[2]+moved[2]-axis[2]
			answer.Torque += z*force[0] - x*force[2]
			answer.Draw += moved[1] / float64(len(ties))
		}
		answers = append(answers, answer)
	}
	return answers, nil
}

// Twist turns the right end of the member's model about the line through its
// shear centre. Each end is a body on a joint at the shear centre: rigid across
// the beam, free or rigid in bending, the left one rigid about the beam too. The
// right wheel is a lever whose end is moved up or down; the joint's reaction
// passes through the axis.
func (w Twisted) Twist() ([]TwistAnswer, error) {
	axle, lever, err := w.rig()
	if err != nil {
		return nil, err
	}
	solver, err := compliance.NewSolver(axle)
	if err != nil {
		return nil, err
	}
	mover, err := compliance.NewMover(solver)
	if err != nil {
		return nil, err
	}
	var answers []TwistAnswer
	for _, angle := range twistAngles {
		var d compliance.Demand
		d.Pads[1] = compliance.Pad{Held: true, Height: -lever * math.Sin(angle*degree)}
		if err := mover.Solve(&d); err != nil {
			return nil, err
		}
		right := mover.Wheel(1)
		answers = append(answers, TwistAnswer{
			Angle: right.WindUp / degree, Torque: -right.Pad * (lever + right.Centre[0]), Draw: right.Centre[1],
		})
	}
	return answers, nil
}

// rig is the member between two jointed bodies and the length of the lever.
func (w Twisted) rig() (axle *compliance.Axle, lever float64, err error) {
	const rigid, long = 1e7, 1000 // N/mm; mm
	beam, err := w.Member.beam(BuiltIn)
	if err != nil {
		return nil, 0, err
	}
	pole, err := w.Member.pole()
	if err != nil {
		return nil, 0, err
	}
	at := Point{pole.F, w.Member.HalfSpan, pole.U}
	axle = &compliance.Axle{Title: "twisted cross-member", Elements: []compliance.Element{beam}}
	for body, side := range []compliance.Side{compliance.Left, compliance.Right} {
		joint := element(compliance.Bush, "joint", side, compliance.Vehicle, body)
		joint.point("at", at)
		joint.Choice.OuterIsFrom = true
		joint.set("soft", rigid)
		joint.set("stiff", rigid)
		if w.Bending == HeldInBending {
			joint.set("cone_soft", rigid*long*long)
			joint.set("cone_stiff", rigid*long*long)
		}
		if side == compliance.Left {
			joint.set("axial", rigid)
			joint.set("torsion", rigid*long*long)
		}
		axle.Bodies = append(axle.Bodies, compliance.Body{Name: "end", Side: side})
		axle.Elements = append(axle.Elements, joint.Element)
		axle.Wheels[body] = wheel(body, Point{at[0] + long, at[1], at[2]}, contactAtCentre)
	}
	return axle, long, nil
}

// TwistDistances are the largest differences of torque and of draw over the
// angles, each over its largest value.
func TwistDistances(got, want []TwistAnswer) (torque, draw float64) {
	var mostTorque, mostDraw float64
	for i := range want {
		torque = math.Max(torque, math.Abs(got[i].Torque-want[i].Torque))
		draw = math.Max(draw, math.Abs(got[i].Draw-want[i].Draw))
		mostTorque, mostDraw = math.Max(mostTorque, math.Abs(want[i].Torque)), math.Max(mostDraw, math.Abs(want[i].Draw))
	}
	return torque / mostTorque, draw / mostDraw
}

// ReadTwist reads committed numbers from a directory.
func ReadTwist(directory string, w Twisted) (*TwistReference, error) {
	r := &TwistReference{}
	return r, readJSON(twistFile(directory, w), r)
}

// Write keeps the numbers in a directory.
func (r *TwistReference) Write(directory string, w Twisted) error {
	return writeJSON(twistFile(directory, w), r)
}

func twistFile(directory string, w Twisted) string {
	return filepath.Join(directory, fmt.Sprintf("twist-%s.%s-in-bending.json", w.Name, w.Bending))
}
