package crosscheck

import (
	"strings"
	"testing"
)

// printed is what the solver prints for two steps.
const printed = `
 displacements (vx,vy,vz) for set POSE and time  0.1000000E+01

         1  1.000000E+00  2.000000E+00  3.000000E+00
         2 -1.000000E-03 -2.000000E-03 -3.000000E-03
        11  4.000000E+00  5.000000E+00  6.000000E+00
        12 -4.000000E-03 -5.000000E-03 -6.000000E-03

 displacements (vx,vy,vz) for set POSE and time  0.2000000E+01

         1  7.000000E+00  8.000000E+00  9.000000E+00
`

func TestParsePoses(t *testing.T) {
	steps, err := parsePoses([]byte(printed))
	if err != nil {
		t.Fatal(err)
	}
	want := [][2]Pose{
		{{1, 2, 3, -1e-3, -2e-3, -3e-3}, {4, 5, 6, -4e-3, -5e-3, -6e-3}},
		{{7, 8, 9}},
	}
	if len(steps) != 2 || steps[0] != want[0] || steps[1] != want[1] {
		t.Errorf("got %v, want %v", steps, want)
	}
}

func TestParsePosesRefuses(t *testing.T) {
	for name, row := range map[string]string{
		"unexpected node": " 3 1.0 1.0 1.0",
		"no such side":    " 21 1.0 1.0 1.0",
		"not a node":      " x 1.0 1.0 1.0",
		"not a number":    " 1 1.0 ***** 1.0",
	} {
		text := strings.SplitAfter(printed, "E+01\n")[0] + row + "\n"
		if _, err := parsePoses([]byte(text)); err == nil {
			t.Errorf("%s: accepted %q", name, row)
		}
	}
}
