package crosscheck

import (
	"fmt"
	"math"

	"bushtune/cases"
)

// Predict is the compliance model's answer to a built-in case.
func Predict(s *cases.Study, c cases.Case) (Answer, error) {
	var poses [2]Pose
	for side, sign := range toeSign {
		for i, reading := range []struct {
			name string
			sign float64
		}{{"centre_x", 1}, {"centre_y", 1}, {"centre_z", 1}, {"wheel_camber", sign}, {"wheel_wind_up", 1}, {"wheel_toe", sign}} {
			number, err := s.Find(cases.WheelNames[side]+"_"+reading.name, c.Name, "")
			if err != nil {
				return Answer{}, err
			}
			poses[side][i] = reading.sign * s.Value(number) * unitLoad(c)
		}
	}
	return newAnswer(c, poses), nil
}

// unitLoad is the load to which the figures of a case refer, N or N·mm.
func unitLoad(c cases.Case) float64 {
	if c.Per == cases.Per100NewtonMetre {
		return 1e5
	}
	return 1e3
}

// How near beam and finite elements must be: to the figure itself, or to the
// largest like figure of the case. Thin-walled beam theory leaves out the
// flexibility of warping in shear, which also moves the point about which a deep
// U turns by a millimetre, and the restraint of lateral contraction at the ends:
// each about one percent of a cross-member of these proportions.
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

// kinds groups the figures of an answer: displacements, rotations, and toe by
// itself, so that a small toe is not measured by a large wind-up. Camber is a
// rotation too; by itself it would ask for hundred-thousandths of a degree.
func (a *Answer) kinds() []kind {
	groups := []kind{
		{names: []string{"left x", "left y", "left z", "right x", "right y", "right z"}},
		{names: []string{"left rx", "left ry", "left rz", "right rx", "right ry", "right rz"}},
		{names: []string{"left toe", "right toe"}, values: a.ToeIn[:]},
	}
	for _, pose := range a.Poses {
		groups[0].values = append(groups[0].values, pose[:3]...)
		groups[1].values = append(groups[1].values, pose[3:]...)
	}
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
			if !(math.Abs(value-w) <= math.Max(relative*math.Abs(w), ofCase*largest)) {
				misses = append(misses, Miss{want.Case, want.Pads, group.names[i], value, w, largest})
			}
		}
	}
	return misses
}
